//! Anytime search over orders for problems of every kind: generate, change the order a little, keep what is better.
//!
//! An order is a rank for each activity. The opening orders come from rules (due date, slack, group); afterwards late
//! acceptance walks from the best: moving a few activities, or everything of one stretch of time, forward or back.

mod change;
mod openings;

use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::exchange::Exchange;
use crate::generation::{Generator, ranks};
use crate::model::{Minute, Score};
use crate::score::{Worth, worth};
use change::change;
use openings::Openings;
pub(crate) use openings::latest_by_dues;

/// How many steps back a newcomer is compared with.
const MEMORY: usize = 30;
/// Schedules without gain after which the walk goes back to the best.
const PATIENCE: u32 = 2_000;

/// A walk over orders, which can be interrupted and taken up again.
pub(crate) struct Search<'a> {
    of: &'a Compiled<'a>,
    generator: Generator<'a>,
    chance: Chance,
    openings: Openings,
    here: Vec<usize>,
    starts: Vec<Minute>,
    here_worth: Worth,
    best_worth: Worth,
    best: Draft,
    memory: [Worth; MEMORY],
    idle: u32,
    made: u64,
    /// On a replan, the start that each activity keeps unless it is let go.
    held: Option<Vec<Minute>>,
}

impl<'a> Search<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>, seed: u64) -> Self {
        let none = (usize::MAX, Score::default());
        Self {
            of,
            generator: Generator::new(of),
            chance: Chance::new(seed),
            openings: Openings::new(of),
            here: Vec::new(),
            starts: Vec::new(),
            here_worth: none,
            best_worth: none,
            best: Draft {
                places: vec![None; of.problem.activities.len()],
                missing: usize::MAX,
            },
            memory: [none; MEMORY],
            idle: 0,
            made: 0,
            held: held(of),
        }
    }

    /// The best draft so far, whole or not.
    pub(crate) fn best(&self) -> &Draft {
        &self.best
    }

    /// Schedules made so far.
    pub(crate) fn made(&self) -> u64 {
        self.made
    }

    /// Works until so many schedules are made in all or the search is settled or over.
    pub(crate) fn advance(&mut self, until: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        // The first schedule is made in any case: an answer without one would be no answer.
        while self.made == 0 || (self.made < until && !exchange.is_settled() && !is_over()) {
            if let Some(order) = self.openings.next(self.of) {
                self.open(&order, exchange);
                continue;
            }
            if self.here.len() < 2 {
                return;
            }
            self.step(exchange);
        }
    }

    fn open(&mut self, order: &[usize], exchange: &Exchange) {
        // On a replan all that can stay stays; the rest finds its place around it.
        let keep = self
            .held
            .as_deref()
            .map(|held| sorted_starts(held, |_| true))
            .unwrap_or_default();
        let draft = self
            .generator
            .generate_keeping(&ranks(order), self.held.as_deref(), &keep);
        self.made += 1;
        let worth = worth(self.of, &draft);
        exchange.offer(worth, &draft);
        if worth < self.best_worth {
            self.start_from(worth, draft);
        }
    }

    fn start_from(&mut self, worth: Worth, draft: Draft) {
        self.here = order_of(&draft);
        self.starts = starts_of(&draft);
        (self.here_worth, self.best_worth, self.best) = (worth, worth, draft);
        self.memory = [worth; MEMORY];
        self.idle = 0;
    }

    /// What may move this time: some of one chain, of one stretch of time, or by chance.
    fn let_go(&mut self) -> Vec<bool> {
        let n = self.here.len();
        let mut free = vec![false; n];
        match self.chance.below(3) {
            0 => {
                for _ in 0..1 + self.chance.below(6) {
                    free[self.chance.below(n)] = true;
                }
            }
            1 => {
                let wide = (2 + self.chance.below(30)).min(n);
                let from = self.chance.below(n - wide + 1);
                self.here[from..from + wide].iter().for_each(|&at| free[at] = true);
            }
            _ => free[self.chance.below(n)] = true,
        }
        if self.chance.once_in(2) {
            // With all that follows.
            for &at in &self.here {
                if free[at] {
                    self.of.next[at].iter().for_each(|&to| free[to] = true);
                }
            }
        }
        free
    }

    /// One schedule from a changed order: all anew, or a few let go and put back around the rest.
    fn next(&mut self) -> Draft {
        let order = change(&self.here, self.of, &mut self.chance);
        if self.chance.once_in(3) && (self.held.is_none() || self.chance.once_in(6)) {
            return self.generator.generate(&ranks(&order));
        }
        let free = self.let_go();
        let keep = sorted_starts(&self.starts, |at| !free[at]);
        let earliest = self.held.as_ref().map(|held| {
            let kept = |at: usize| if free[at] { Minute::MIN } else { held[at] };
            (0..held.len()).map(kept).collect::<Vec<Minute>>()
        });
        self.generator
            .generate_keeping(&ranks(&order), earliest.as_deref(), &keep)
    }

    fn step(&mut self, exchange: &Exchange) {
        if self.made.is_multiple_of(64)
            && let Some((worth, draft)) = exchange.better_than(Some(self.best_worth))
        {
            self.start_from(worth, draft);
        }
        let draft = self.next();
        self.made += 1;
        let new = worth(self.of, &draft);
        let slot = &mut self.memory[usize::try_from(self.made).unwrap_or(0) % MEMORY];
        if new <= self.here_worth || new <= *slot {
            self.here_worth = new;
            self.here = order_of(&draft);
            self.starts = starts_of(&draft);
        }
        *slot = self.here_worth;
        self.idle += 1;
        if new < self.best_worth {
            exchange.offer(new, &draft);
            (self.best_worth, self.best, self.idle) = (new, draft, 0);
        } else if self.idle > PATIENCE {
            self.start_from(self.best_worth, self.best.clone());
        }
    }
}

/// Starts of a draft; what has none has the least.
fn starts_of(draft: &Draft) -> Vec<Minute> {
    draft
        .places
        .iter()
        .map(|place| place.map_or(Minute::MIN, |place| place.start))
        .collect()
}

/// The chosen activities with their starts, by start.
fn sorted_starts(starts: &[Minute], chosen: impl Fn(usize) -> bool) -> Vec<(Minute, usize)> {
    let has_one = |at: &usize| chosen(*at) && starts[*at] > Minute::MIN;
    let mut sorted: Vec<(Minute, usize)> = (0..starts.len()).filter(has_one).map(|at| (starts[at], at)).collect();
    sorted.sort_unstable();
    sorted
}

/// The starts of the previous plan, where there is one: a replan moves nothing forward without need.
fn held(of: &Compiled<'_>) -> Option<Vec<Minute>> {
    let previous = of.problem.previous.as_ref()?;
    let start = |place: &Option<crate::model::Placement>| place.as_ref().map_or(Minute::MIN, |place| place.start);
    Some(previous.placements.iter().map(start).collect())
}

/// Activities in the order in which they start.
pub(crate) fn order_of(draft: &Draft) -> Vec<usize> {
    let mut order: Vec<usize> = (0..draft.places.len()).collect();
    order.sort_by_key(|&index| (draft.places[index].map_or(Minute::MAX, |place| place.start), index));
    order
}
