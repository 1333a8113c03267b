//! The search: a label-setting shortest path in several measures over surface states.
//!
//! A label is a state reached, with what it took in money, hands, time and breath. Labels are taken in lexicographic order, so
//! that none taken is dominated later; a label that another at the same state beats in every measure is dropped, and nothing else is:
//! **every nondominated schedule is found**, to the minute and the thousandth. Wear is a matter of the last state alone and joins the
//! comparison there.
//!
//! What leads on from a state (a [`Stretch`](moves::Stretch)) is worked out once for the state and reused by every label that comes to it.

mod hash;
mod moves;
mod path;
mod perform;
mod spent;

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::act::Act;
use crate::bench::Bench;
use crate::object::at_end;
use crate::rule::Hits;
use crate::search::hash::StateMap;
use crate::search::moves::{Moves, Stretch};
use crate::step::WaitKind;
use crate::surface::{Key, Surface};
use crate::wants::Way;

pub(crate) use path::Path;
pub(crate) use perform::perform;
pub(crate) use spent::Spent;

/// Labels after which the search stops and takes what it has; twelve times what the worst of a thousand random zones needs.
const MOST_LABELS: usize = 60_000;
/// Steps of one schedule.
const MOST_STEPS: u16 = 60;

/// How bold the search may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Boldness {
    /// Only what the tables are sure of.
    Sure,
    /// Also what a test patch must decide.
    WithTestPatch,
}

impl Boldness {
    /// The bolder only where the surer finds nothing.
    pub(crate) const FROM_SURE: [Boldness; 2] = [Boldness::Sure, Boldness::WithTestPatch];
}

/// All nondominated paths, in a fixed order. Also the rules that barred the way where it ended.
pub(crate) struct Found {
    pub(crate) paths: Vec<Path>,
    pub(crate) barred: Hits,
}

/// A state reached by one path.
struct Label {
    surface: Surface,
    way: Way,
    spent: Spent,
    steps: u16,
    /// The list of labels at the same state.
    front: usize,
    /// The label it came from, and by which stretch from there.
    came: Option<(usize, usize, usize)>,
}

/// The labels that stand at one state, by what they took.
type Front = Vec<Spent>;

/// What a state is and what leads on from it.
struct LeadsOn {
    /// Whether the wish is met here.
    is_end: bool,
    nexts: Vec<Next>,
}

/// A stretch, and what is known of where it ends.
struct Next {
    stretch: Stretch,
    /// The list of labels at the state where it ends.
    front: usize,
    /// What leads on from there, once that has been asked.
    leads_on: Option<usize>,
}

/// Which goals are looked for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Goals {
    Nondominated,
    Any,
}

struct Search<'a, 'b> {
    bench: &'a Bench<'b>,
    wanted: Goals,
    moves: Moves<'a, 'b>,
    labels: Vec<Label>,
    queue: BinaryHeap<Reverse<(Spent, usize)>>,
    fronts: Vec<Front>,
    front_of: StateMap<(Key, Way), usize>,
    /// What leads on, by exact state.
    leads_on: Vec<LeadsOn>,
    leads_on_of: StateMap<(Surface, Way), usize>,
    goals: Vec<usize>,
}

/// Searches from the zone as found.
pub(crate) fn search(bench: &Bench<'_>, boldness: Boldness) -> Found {
    Search::run(bench, boldness, Goals::Nondominated).finish()
}

/// Some path, the first that comes to the wish: whether there is a way at all. Quick, since no state is looked at twice.
pub(crate) fn reach(bench: &Bench<'_>, boldness: Boldness) -> Option<Path> {
    Search::run(bench, boldness, Goals::Any).finish().paths.pop()
}

impl<'a, 'b> Search<'a, 'b> {
    fn run(bench: &'a Bench<'b>, boldness: Boldness, wanted: Goals) -> Self {
        let mut search = Self::from_the_zone(bench, boldness, wanted);
        while let Some(Reverse((_, idx))) = search.queue.pop() {
            let enough = wanted == Goals::Any && !search.goals.is_empty();
            if enough || search.labels.len() > MOST_LABELS {
                break;
            }
            search.expand(idx);
        }
        search
    }

    fn from_the_zone(bench: &'a Bench<'b>, boldness: Boldness, wanted: Goals) -> Self {
        let mut search = Search {
            bench,
            wanted,
            moves: Moves::new(bench, boldness),
            labels: Vec::new(),
            queue: BinaryHeap::new(),
            fronts: Vec::new(),
            front_of: StateMap::default(),
            leads_on: Vec::new(),
            leads_on_of: StateMap::default(),
            goals: Vec::new(),
        };
        let start = Surface::found(bench);
        for way in Way::EVERY {
            let applies = if way == Way::Keep {
                !bench.wish.strip || !start.has_found_layers()
            } else {
                start.has_found_layers()
            };
            if applies {
                let front = search.front_at(&start, way);
                search.add(front, start, way, Spent::default(), 0, None);
            }
        }
        search
    }
}

impl Search<'_, '_> {
    /// The list of labels at a state.
    fn front_at(&mut self, surface: &Surface, way: Way) -> usize {
        let fronts = &mut self.fronts;
        *self.front_of.entry((surface.key(self.bench), way)).or_insert_with(|| {
            fronts.push(Front::new());
            fronts.len() - 1
        })
    }

    /// Stores a label unless one as good stands at its state.
    fn add(
        &mut self,
        front: usize,
        surface: Surface,
        way: Way,
        spent: Spent,
        steps: u16,
        came: Option<(usize, usize, usize)>,
    ) {
        let standing = &mut self.fronts[front];
        let seen = self.wanted == Goals::Any && !standing.is_empty();
        if seen || standing.iter().any(|other| other.is_as_good_as(&spent)) {
            return;
        }
        standing.retain(|other| !spent.is_as_good_as(other));
        standing.push(spent);
        let idx = self.labels.len();
        self.queue.push(Reverse((spent, idx)));
        self.labels.push(Label {
            surface,
            way,
            spent,
            steps,
            front,
            came,
        });
    }

    fn expand(&mut self, idx: usize) {
        let Label {
            surface,
            way,
            spent,
            steps,
            front,
            ..
        } = self.labels[idx];
        // Beaten since it was stored: its place in the front is gone.
        if !self.fronts[front].contains(&spent) {
            return;
        }
        let from = self.leads_on_from(idx, &surface, way);
        if self.leads_on[from].is_end {
            self.goals.push(idx);
        }
        for at in 0..self.leads_on[from].nexts.len() {
            let next = &self.leads_on[from].nexts[at];
            let mut total = spent;
            total.add(&next.stretch.spent);
            let (front, ends_on, way) = (next.front, next.stretch.ends_on, next.stretch.way);
            let steps = steps + next.stretch.steps;
            if steps <= MOST_STEPS {
                self.add(front, ends_on, way, total, steps, Some((idx, from, at)));
            }
        }
    }

    /// What leads on from a label's state: known where another label came by the same stretch, else by the state, else worked out.
    fn leads_on_from(&mut self, idx: usize, surface: &Surface, way: Way) -> usize {
        let came = self.labels[idx].came.map(|(_, from, at)| (from, at));
        if let Some(known) = came.and_then(|(from, at)| self.leads_on[from].nexts[at].leads_on) {
            return known;
        }
        let state = surface.settled(self.bench);
        let here = match self.leads_on_of.get(&(state, way)) {
            Some(known) => *known,
            None => self.work_out(state, way),
        };
        if let Some((from, at)) = came {
            self.leads_on[from].nexts[at].leads_on = Some(here);
        }
        here
    }

    fn work_out(&mut self, state: Surface, way: Way) -> usize {
        let stretches = self.moves.stretches(&state, way);
        let nexts = stretches
            .into_iter()
            .map(|stretch| Next {
                front: self.front_at(&stretch.ends_on, stretch.way),
                leads_on: None,
                stretch,
            })
            .collect();
        self.leads_on.push(LeadsOn {
            is_end: at_end(&state, self.bench).serious().is_empty(),
            nexts,
        });
        let idx = self.leads_on.len() - 1;
        self.leads_on_of.insert((state, way), idx);
        idx
    }

    fn finish(self) -> Found {
        let bench = self.bench;
        let mut best: Vec<(usize, Path)> = Vec::new();
        for idx in &self.goals {
            let label = &self.labels[*idx];
            let path = Path::at(&label.surface, label.spent, bench);
            if best.iter().any(|(_, other)| other.is_as_good_as(&path)) {
                continue;
            }
            best.retain(|(_, other)| !path.is_as_good_as(other));
            best.push((*idx, path));
        }
        Found {
            paths: best
                .into_iter()
                .map(|(idx, path)| path.with(self.acts_to(idx), bench))
                .collect(),
            barred: self.moves.barred,
        }
    }

    /// The acts from the start to a label.
    fn acts_to(&self, idx: usize) -> Vec<Act> {
        let mut stretches: Vec<&Stretch> = Vec::new();
        let mut at = idx;
        while let Some((parent, from, taken)) = self.labels[at].came {
            stretches.push(&self.leads_on[from].nexts[taken].stretch);
            at = parent;
        }
        let mut acts: Vec<Act> = Vec::new();
        for stretch in stretches.iter().rev() {
            if let Some(last) = acts.last_mut().filter(|_| stretch.longer_min > 0) {
                last.wait_min += stretch.longer_min;
                last.wait_kind = WaitKind::Cure;
            }
            acts.extend(&stretch.acts);
        }
        acts
    }
}
