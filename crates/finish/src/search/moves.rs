//! Which moves are open on a surface: from what is wanted back to the step before it that nothing objects to.
//!
//! A wanted act that a rule objects to is not taken; what would put the objection right is looked at instead, and so on. Where only
//! one move is open it is taken at once, until there is something to choose or the wish is met: a [`Stretch`].

use crate::act::Act;
use crate::bench::Bench;
use crate::object::{at_end, object};
use crate::remedy::{Move, remedies};
use crate::rule::{Hits, RuleId};
use crate::search::perform::perform;
use crate::search::{Boldness, MOST_STEPS, Spent};
use crate::step::WaitKind;
use crate::surface::Surface;
use crate::wants::{Way, last_things, wants};

/// Steps before the step: how deep objections are followed.
const DEEPEST: u8 = 7;

/// Acts done one after another with no choice between them, and where they lead.
#[derive(Debug, Clone)]
pub(super) struct Stretch {
    pub(super) acts: Vec<Act>,
    /// Minutes by which the act before the stretch waits longer.
    pub(super) longer_min: u32,
    pub(super) spent: Spent,
    pub(super) steps: u16,
    pub(super) ends_on: Surface,
    pub(super) way: Way,
}

/// Finds the moves; keeps its lists from one surface to the next, and remembers what barred the way where it ended.
pub(super) struct Moves<'a, 'b> {
    bench: &'a Bench<'b>,
    boldness: Boldness,
    pub(super) barred: Hits,
    wanted: Vec<Act>,
    open: Vec<Move>,
    /// Acts already followed up on the surface in hand.
    tried: Vec<Act>,
}

impl<'a, 'b> Moves<'a, 'b> {
    pub(super) fn new(bench: &'a Bench<'b>, boldness: Boldness) -> Self {
        Self {
            bench,
            boldness,
            barred: Hits::default(),
            wanted: Vec::new(),
            open: Vec::new(),
            tried: Vec::new(),
        }
    }

    /// Every stretch that leads on from a surface.
    pub(super) fn stretches(&mut self, from: &Surface, way: Way) -> Vec<Stretch> {
        let first = self.open_on(from, way);
        first
            .into_iter()
            .filter_map(|next| self.stretch(next, from, way))
            .collect()
    }

    /// Takes one move, then every further move while it is the only one and no goal is reached.
    fn stretch(&mut self, first: Move, from: &Surface, way: Way) -> Option<Stretch> {
        let mut stretch = Stretch {
            acts: Vec::new(),
            longer_min: 0,
            spent: Spent::default(),
            steps: 0,
            ends_on: *from,
            way,
        };
        stretch.take(first, self.bench)?;
        loop {
            if stretch.steps > MOST_STEPS {
                return None;
            }
            if at_end(&stretch.ends_on, self.bench).serious().is_empty() {
                return Some(stretch);
            }
            let open = self.open_on(&stretch.ends_on, stretch.way);
            match open[..] {
                [only] => stretch.take(only, self.bench)?,
                [] => return None,
                _ => return Some(stretch),
            }
        }
    }

    fn open_on(&mut self, surface: &Surface, way: Way) -> Vec<Move> {
        let mut acts = std::mem::take(&mut self.wanted);
        acts.clear();
        wants(surface, way, self.bench, &mut acts);
        if acts.is_empty() {
            let missing = at_end(surface, self.bench).serious();
            acts.extend(missing.iter().find_map(|rule| last_things(rule, surface)));
        }
        let mut open = std::mem::take(&mut self.open);
        open.clear();
        self.tried.clear();
        for act in &acts {
            self.enable(act, surface, DEEPEST, &mut open);
        }
        let result = open.clone();
        self.wanted = acts;
        self.open = open;
        result
    }

    /// Adds the act if nothing objects, else what would remove the first objection.
    fn enable(&mut self, act: &Act, surface: &Surface, depth: u8, into: &mut Vec<Move>) {
        if self.tried.contains(act) {
            return;
        }
        self.tried.push(*act);
        let hits = object(surface, act, self.bench);
        let mut bars = hits.serious();
        bars.add_if(
            self.boldness == Boldness::Sure && hits.has(RuleId::TryAPatchFirst),
            RuleId::TryAPatchFirst,
        );
        if bars.is_empty() {
            let next = Move::Do(*act);
            if !into.contains(&next) {
                into.push(next);
            }
            return;
        }
        if depth == 0 {
            return;
        }
        let mut ways = Vec::with_capacity(4);
        remedies(act, bars, surface, self.bench, &mut ways);
        let before = into.len();
        for way in ways.iter().copied() {
            match way {
                Move::Do(first) if first != *act => self.enable(&first, surface, depth - 1, into),
                Move::Do(_) => {}
                Move::WaitUntil(_) => {
                    if !into.contains(&way) && !surface.keyed {
                        into.push(way);
                    }
                }
            }
        }
        if into.len() == before && ways.is_empty() {
            self.barred = self.barred.union(bars);
        }
    }
}

impl Stretch {
    /// Goes one move further; `None` where it changes nothing.
    fn take(&mut self, next: Move, bench: &Bench<'_>) -> Option<()> {
        match next {
            Move::Do(act) => {
                let (after, done, took) = perform(&self.ends_on, act, bench);
                if after == self.ends_on {
                    return None;
                }
                self.ends_on = after;
                self.acts.push(done);
                self.steps += 1;
                self.spent.add(&took);
                if self.way != Way::Keep && !after.has_found_layers() {
                    self.way = Way::Keep;
                }
            }
            Move::WaitUntil(until_min) => {
                let longer_min = until_min.saturating_sub(self.ends_on.top_age_min);
                let cures = self
                    .ends_on
                    .planned_top()
                    .is_some_and(|top| until_min >= bench.figures(top.class).light_min);
                match self.acts.last_mut() {
                    Some(act) => {
                        act.wait_min += longer_min;
                        if cures {
                            act.wait_kind = WaitKind::Cure;
                        }
                    }
                    None => self.longer_min += longer_min,
                }
                self.ends_on.pass(longer_min);
                self.spent.elapsed_min += longer_min;
            }
        }
        Some(())
    }
}
