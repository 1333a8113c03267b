//! Anytime search over orders for problems of every kind: generate, change the order a little, keep what is better.
//!
//! An order is a rank for each activity. The opening orders come from rules (due date, slack, group); afterwards late
//! acceptance walks from the best: moving a few activities, or everything of one stretch of time, forward or back.

use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::exchange::Exchange;
use crate::generation::{Generator, ranks};
use crate::model::{Minute, Score};
use crate::score::{Worth, worth};

/// How many steps back a newcomer is compared with.
const MEMORY: usize = 30;
/// Schedules without gain after which the walk goes back to the best.
const PATIENCE: u32 = 2_000;

/// A walk over orders, which can be interrupted and taken up again.
pub(crate) struct Search<'a> {
    of: &'a Compiled<'a>,
    generator: Generator<'a>,
    chance: Chance,
    openings: Vec<Vec<usize>>,
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
        let mut openings = openings(of);
        openings.reverse();
        Self {
            of,
            generator: Generator::new(of),
            chance: Chance::new(seed),
            openings,
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
            if let Some(order) = self.openings.pop() {
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
fn order_of(draft: &Draft) -> Vec<usize> {
    let mut order: Vec<usize> = (0..draft.places.len()).collect();
    order.sort_by_key(|&index| (draft.places[index].map_or(Minute::MAX, |place| place.start), index));
    order
}

/// The opening orders.
fn openings(of: &Compiled<'_>) -> Vec<Vec<usize>> {
    let n = of.problem.activities.len();
    let due = latest_by_dues(of);
    let group = |index: usize| of.problem.activities[index].group;
    let was = |index: usize| {
        let previous = of.problem.previous.as_ref();
        previous
            .and_then(|p| p.placements[index].as_ref())
            .map_or(Minute::MAX, |place| place.start)
    };
    let sorted = |key: &dyn Fn(usize) -> (Minute, Minute, usize)| {
        let mut order: Vec<usize> = (0..n).collect();
        order.sort_by_key(|&index| key(index));
        order
    };
    vec![
        sorted(&|index| (was(index), due[index], index)),
        sorted(&|index| (i64::from(group(index)), due[index], index)),
        sorted(&|index| (due[index], 0, index)),
        sorted(&|index| (0, 0, index)),
    ]
}

/// For each activity, when it must start so that everything after it can still be on time, waits at their least.
pub(crate) fn latest_by_dues(of: &Compiled<'_>) -> Vec<Minute> {
    let problem = of.problem;
    let mut latest: Vec<Minute> = (0..problem.activities.len())
        .map(|index| {
            let activity = &problem.activities[index];
            let dues = of.dues_of[index].iter().map(|&due| problem.dues[due].at);
            dues.chain(activity.deadline).min().unwrap_or(problem.horizon) - activity.duration
        })
        .collect();
    // Lags may run either way in the list: repeat until nothing changes, at most a few rounds.
    for _ in 0..problem.activities.len().min(200) {
        let mut changed = false;
        for lag in problem.lags.iter().rev() {
            let (from, to) = (lag.from.0, lag.to.0);
            let needed = of.latest_begin(lag.min, latest[to]) - problem.activities[from].duration;
            if needed < latest[from] {
                latest[from] = needed;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    latest
}

/// A neighbour of an order.
fn change(order: &[usize], of: &Compiled<'_>, chance: &mut Chance) -> Vec<usize> {
    let mut next = order.to_vec();
    let n = next.len();
    match chance.below(4) {
        // A few activities go elsewhere, rather near than far.
        0 | 1 => {
            for _ in 0..1 + chance.below(3) {
                let from = chance.below(n);
                let reach = 1 + chance.below(n.min(40));
                let to = if chance.once_in(2) {
                    from.saturating_sub(reach)
                } else {
                    (from + reach).min(n - 1)
                };
                let moved = next.remove(from);
                next.insert(to, moved);
            }
        }
        // All that follows from one due date goes forward a little, or back.
        2 if !of.problem.dues.is_empty() => {
            let due = &of.problem.dues[chance.below(of.problem.dues.len())];
            let mut mine = vec![false; n];
            mine[due.activity.0] = true;
            for &index in order.iter().rev() {
                mine[index] |= of.next[index].iter().any(|&to| mine[to]);
            }
            let by = 1 + chance.below(60);
            let forward = chance.once_in(2);
            let mut keyed: Vec<(usize, usize)> = order
                .iter()
                .enumerate()
                .map(|(place, &index)| match (mine[index], forward) {
                    (true, true) => ((place * 2).saturating_sub(2 * by), index),
                    (true, false) => (place * 2 + 2 * by, index),
                    _ => (place * 2 + 1, index),
                })
                .collect();
            keyed.sort_by_key(|&(key, _)| key);
            next = keyed.into_iter().map(|(_, index)| index).collect();
        }
        // One stretch is shuffled by chance.
        _ => {
            let length = 2 + chance.below(n.min(12));
            let from = chance.below(n.saturating_sub(length).max(1));
            let to = (from + length).min(n);
            for at in (from + 1..to).rev() {
                next.swap(at, from + chance.below(at - from + 1));
            }
        }
    }
    next
}

#[cfg(test)]
mod tests {
    use super::{latest_by_dues, openings};
    use crate::clock::Clock;
    use crate::compiled::Compiled;
    use crate::model::{Activity, ActivityId, ClockId, Due, Lag, Placement, Previous, Problem, Wait};

    /// Two steps with a wait that takes an hour on its clock, the second wanted by 500; a third by itself with a deadline.
    fn problem() -> Problem {
        let mut problem = Problem {
            horizon: 1_000,
            clocks: vec![Clock::new(vec![(0, 2)])],
            ..Problem::default()
        };
        for minutes in [20, 30, 40] {
            problem.add(Activity::unattended("", minutes));
        }
        let wait = Wait::Progress {
            clock: ClockId(0),
            progress: 120,
        };
        problem.lags.push(Lag::after(ActivityId(0), ActivityId(1), wait));
        problem.dues.push(Due {
            activity: ActivityId(1),
            at: 500,
            weight: 1,
        });
        problem.activities[2].deadline = Some(700);
        problem
    }

    #[test]
    fn the_latest_starts_are_counted_back_from_what_is_wanted() {
        let problem = problem();
        // The second from 470 on; so the wait begins by 410, and the first by 390. The third ends by 700.
        assert_eq!(latest_by_dues(&Compiled::new(&problem)), [390, 470, 660]);
    }

    #[test]
    fn the_first_opening_order_is_that_of_the_plan_before() {
        let mut problem = problem();
        let stood = |start| {
            Some(Placement {
                start,
                ..Placement::default()
            })
        };
        problem.previous = Some(Previous {
            placements: vec![stood(300), None, stood(100)],
            worth_moving_min: 60,
        });
        let orders = openings(&Compiled::new(&problem));
        assert_eq!(orders[0], [2, 0, 1], "what is new comes last");
        assert_eq!(orders[2], [0, 1, 2], "by what is urgent");
    }
}
