//! Improves and proves: the learning search over a problem, from the best plan known to the last that could be better.
//!
//! The weighted level first, then completion with the weighted level held. Two kinds of burst take turns: over the
//! whole problem, and over a neighbourhood of the best plan (everything else assumed to stay), whose dead ends are
//! learned from as well. Whatever is found is made into a plan by the generator and counts only then; what is refuted
//! is refuted for good, since the statement is never tighter than the problem.

mod goals;

use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::exchange::Exchange;
use crate::generation::Generator;
use crate::learn::{Lit, Status, Taste};
use crate::local::{Local, realise, starts_of};
use crate::model::{Minute, Score};
use crate::neighbourhood::Neighbourhood;
use crate::number::minutes;
use crate::score::{Worth, worth};
use crate::solve::is_woven;
use crate::stated::Stated;

/// Up to so many activities a proof is within reach, and everything is searched more often.
const SMALL: u64 = 90;
/// After so many bursts without gain parts are not expected to give much more.
const STILL: u32 = 40;

/// Dead ends allowed in one stretch; of those that gave anything, nine of ten did so within half as many.
const PATIENCE: u64 = 200;
const SHORT_PATIENCE: u64 = 100;
/// About so many starts are settled for one dead end.
const SHORT_COST: u64 = 5;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Level {
    Weighted,
    Completion,
}

/// A proof in the making, which can be interrupted and taken up again.
pub(crate) struct Prover<'a> {
    of: &'a Compiled<'a>,
    generator: Generator<'a>,
    /// It has been tried to state the problem.
    is_begun: bool,
    stated: Option<Stated<'a>>,
    level: Level,
    /// The best known, as seen from here.
    best: Option<(Worth, Draft)>,
    /// The level's variable is to be at most this.
    below: Option<i32>,
    burst: u32,
    /// Bursts since something better was found.
    since: u32,
    /// Time is what is limited, and not schedules: of those, searching everything takes longer ones.
    by_clock: bool,
    /// Bursts over everything.
    n_whole: u32,
    near: Neighbourhood,
    chance: Chance,
    seed: u64,
    /// Starts assigned so far: those that came to have a single value, at least one for each dead end.
    starts_assigned: u64,
    /// Times that something was found which made no plan.
    loose: u32,
    /// Nothing more can be done here.
    over: bool,
    /// Improves part by part; none for plain projects, whose stretches are searched in the whole statement.
    local: Option<Local<'a>>,
    /// Another proves: here everything is searched only once parts give nothing.
    improves: bool,
    /// Where everything is searched, much is asked for now and then.
    asks: bool,
}

impl<'a> Prover<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>, seed: u64) -> Self {
        Self {
            of,
            generator: Generator::new(of),
            is_begun: false,
            stated: None,
            level: Level::Completion,
            best: None,
            below: None,
            burst: 0,
            since: 0,
            by_clock: false,
            n_whole: 0,
            near: Neighbourhood::new(of),
            chance: Chance::new(seed),
            seed,
            starts_assigned: 0,
            loose: 0,
            over: false,
            local: is_woven(of).then(|| Local::new(of, seed)),
            improves: false,
            asks: is_woven(of),
        }
    }

    /// The same for who asks for an answer in so much time, however many schedules that takes.
    pub(crate) fn by_the_clock(of: &'a Compiled<'a>, seed: u64) -> Self {
        Self {
            by_clock: true,
            ..Self::new(of, seed)
        }
    }

    /// The same beside one who improves, who asks for much.
    pub(crate) fn proving(of: &'a Compiled<'a>, seed: u64) -> Self {
        Self {
            asks: false,
            ..Self::by_the_clock(of, seed)
        }
    }

    /// The same beside one who proves.
    pub(crate) fn improving(of: &'a Compiled<'a>, seed: u64) -> Self {
        Self {
            improves: true,
            ..Self::by_the_clock(of, seed)
        }
    }

    /// The same for some hundred schedules of a plain project: a stretch gives something soon, or another is tried.
    pub(crate) fn short(of: &'a Compiled<'a>, seed: u64) -> Self {
        let prover = Self::new(of, seed);
        Self {
            near: prover.near.short(),
            ..prover
        }
    }

    /// Schedules made so far: starts assigned, over the number of activities.
    pub(crate) fn made(&self) -> u64 {
        let n = self.of.problem.activities.len().max(1);
        self.starts_assigned / minutes(n).unsigned_abs()
    }

    pub(crate) fn is_over(&self) -> bool {
        self.over
    }

    /// Works until so many schedules are made in all, or everything is settled, or `is_over`.
    pub(crate) fn advance(&mut self, until: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        if !self.is_begun && !self.improves && until > 0 {
            self.begin(exchange);
        }
        let stop = || exchange.is_settled() || is_over();
        while !self.over && self.made() < until && !stop() {
            self.look_round(exchange);
            if self.improves && self.best.is_none() {
                return;
            }
            self.take_bound(exchange);
            let variable = self.variable();
            let refuted = match (&mut self.stated, self.below, variable) {
                (Some(stated), Some(below), Some(variable)) => {
                    stated.engine.require(Lit::at_most(variable, below)).is_err()
                }
                _ => false,
            };
            let status = if refuted {
                Status::Never
            } else {
                self.one_burst(until, exchange, &stop)
            };
            match status {
                Status::Found => self.found(exchange),
                Status::Never => self.refuted(exchange),
                Status::NotSo | Status::Limit => self.note_bound(exchange),
            }
        }
    }

    /// States the problem for the first time.
    fn begin(&mut self, exchange: &Exchange) {
        self.is_begun = true;
        if let Some(bound) = crate::bounds::bound(self.of) {
            exchange.raise_bound(bound);
        }
        self.state(exchange, None);
    }

    /// States the problem; with the weighted level held at `held` if it is settled.
    fn state(&mut self, exchange: &Exchange, held: Option<i64>) {
        self.stated = None;
        let Some(mut stated) = Stated::new(self.of, self.seed) else {
            // Too large as a whole: it may still be improved part by part.
            self.over = self.local.is_none();
            return;
        };
        if self.improves {
            // Who proves begins with others.
            stated.engine.shake();
        }
        self.level = if stated.weighted.is_some() && held.is_none() {
            Level::Weighted
        } else {
            Level::Completion
        };
        let mut possible = stated.settle().is_ok();
        if let (Some(held), Some(weighted)) = (held, stated.weighted) {
            let units = stated.weighted_units(held, self.of.problem.completion_weight);
            possible &= stated.engine.require(Lit::at_most(weighted, units)).is_ok();
        }
        self.stated = Some(stated);
        self.below = None;
        if !possible {
            self.over = true;
            if exchange.worth().is_none() {
                exchange.close();
            }
            return;
        }
        self.note_bound(exchange);
        if let Some((_, draft)) = &self.best {
            let starts = starts_of(draft);
            self.lean(&starts);
        }
        self.aim();
    }

    /// Where a bound from elsewhere says that the weighted level is at its least, that need not be proved again.
    fn take_bound(&mut self, exchange: &Exchange) {
        let known = self.best.as_ref().filter(|(worth, _)| worth.0 == 0);
        let Some(weighted) = known.map(|(worth, _)| worth.1.weighted) else {
            return;
        };
        let is_asked = self.level == Level::Weighted && self.stated.is_some();
        if is_asked && weighted <= exchange.bound().weighted {
            self.state(exchange, Some(weighted));
        }
    }

    fn variable(&self) -> Option<u32> {
        let stated = self.stated.as_ref()?;
        if self.level == Level::Weighted {
            stated.weighted
        } else {
            Some(stated.completion)
        }
    }

    fn lean(&mut self, starts: &[Minute]) {
        if let Some(stated) = &mut self.stated {
            stated.lean(starts);
        }
    }

    /// Takes over a better plan found elsewhere.
    fn look_round(&mut self, exchange: &Exchange) {
        if let Some((worth, draft)) = exchange.better_than(self.best.as_ref().map(|(worth, _)| *worth)) {
            let starts = starts_of(&draft);
            self.best = Some((worth, draft));
            self.since = 0;
            self.lean(&starts);
            self.aim();
        }
        // Another as good has other stretches to be improved.
        if let Some((known, draft)) = &mut self.best
            && let Some(like) = exchange.take_like(*known)
        {
            *draft = like;
            let starts = starts_of(draft);
            self.lean(&starts);
        }
    }

    /// Sets the goal to what would be better than the best.
    fn aim(&mut self) {
        let Some(goal) = self.goal() else { return };
        self.below = Some(self.below.map_or(goal, |below| below.min(goal)));
    }

    /// The value the level's variable must not exceed to improve on the best.
    fn goal(&self) -> Option<i32> {
        let (stated, (worth, _)) = (self.stated.as_ref()?, self.best.as_ref()?);
        Some(match self.level {
            Level::Weighted => stated.weighted_units(worth.1.weighted, self.of.problem.completion_weight) - 1,
            Level::Completion => stated.before_end(worth.1.completion),
        })
    }

    /// One bounded search: of a part of the best most of the times, else of everything.
    fn one_burst(&mut self, until: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) -> Status {
        self.burst += 1;
        self.since += 1;
        let n = minutes(self.of.problem.activities.len()).unsigned_abs().max(1);
        let left = (until * n).saturating_sub(self.starts_assigned);
        // Where parts of what hands do give nothing any more, everything is searched as often.
        let turn = match n {
            _ if self.improves && self.since < STILL => u32::MAX,
            _ if self.by_clock && self.local.is_some() && self.since >= STILL => 2,
            ..=SMALL => 4,
            _ => 16,
        };
        let whole = self.burst.is_multiple_of(turn);
        self.n_whole += u32::from(whole);
        if let Some(local) = self.local.as_mut().filter(|_| !whole) {
            let before = local.starts_assigned();
            if local.try_part(exchange, is_over) {
                self.starts_assigned += local.starts_assigned() - before;
                return Status::Limit;
            }
        }
        if !self.is_begun {
            self.begin(exchange);
            return Status::Limit;
        }
        let variable = self.variable();
        let Some(stated) = &mut self.stated else {
            self.over = !whole;
            return Status::Limit;
        };
        let before = (stated.engine.n_clashes, stated.engine.n_settled);
        let near = self.best.as_ref().filter(|_| !whole && self.local.is_none());
        let shrink = self.level == Level::Completion;
        let chosen = near.and_then(|(_, draft)| self.near.stretch(self.of, draft, stated, shrink, &mut self.chance));
        let status = if let Some(near) = chosen {
            let (patience, cost) = if self.near.is_short() {
                (SHORT_PATIENCE, SHORT_COST)
            } else {
                (PATIENCE, near.free.max(1))
            };
            let clashes = patience.min(left / cost + 1);
            let status = stated.engine.search(&near.fixed, clashes, Taste::Busiest, is_over);
            // Who is cut short by the end of a turn is not too large.
            if !self.near.is_short() || clashes == patience || status != Status::Limit {
                self.near.learn(status);
            }
            status
        } else {
            let clashes = (100 * luby(self.n_whole + 1)).min(left / n + 1);
            let is_first = self.best.is_none() && self.burst.is_multiple_of(2);
            let taste = match () {
                () if is_first => Taste::Earliest,
                () if self.local.is_some() => Taste::Again,
                () => Taste::Busiest,
            };
            let goal = variable
                .zip(self.below)
                .filter(|_| self.asks)
                .and_then(|(variable, below)| {
                    let asked = goals::asked(below, stated.engine.least(variable), &mut self.chance)?;
                    Some(Lit::at_most(variable, asked))
                });
            goals::search(stated, goal, clashes, taste, is_over)
        };
        // A dead end without any start settled counts one.
        let (clashes, settled) = (stated.engine.n_clashes - before.0, stated.engine.n_settled - before.1);
        self.starts_assigned += settled.max(clashes + 1);
        status
    }

    fn found(&mut self, exchange: &Exchange) {
        let (Some(stated), Some(variable)) = (&self.stated, self.variable()) else {
            return;
        };
        let starts: Vec<Minute> = stated.chosen().map(|start| start.unwrap_or(0)).collect();
        let (value, exact) = (stated.engine.least(variable), stated.is_exact);
        let draft = realise(&mut self.generator, &starts);
        let new = worth(self.of, &draft);
        if exchange.offer(new, &draft) {
            self.best = Some((new, draft));
            self.lean(&starts);
        } else if self.best.is_none() && !exact {
            // It stands in the loosened problem only; the next may be luckier, but not for ever.
            self.loose += 1;
            self.over = self.loose > 20;
        }
        self.aim();
        // What is found, plan or not, shows that the bound is not above it; go below.
        if self.best.is_some() {
            self.below = Some(self.below.map_or(value - 1, |below| below.min(value - 1)));
        }
    }

    /// Everything up to `below` is refuted.
    fn refuted(&mut self, exchange: &Exchange) {
        self.look_round(exchange);
        let Some((known, _)) = &self.best else {
            self.over = true;
            if self.below.is_none() {
                exchange.close();
            }
            return;
        };
        let known = known.1;
        let (Some(stated), Some(below)) = (&self.stated, self.below) else {
            return;
        };
        let closed = self.goal().is_some_and(|goal| below >= goal);
        let weighted_is_all = self.of.problem.dues.is_empty();
        match self.level {
            Level::Weighted => {
                let least = stated.weighted_minutes(below + 1, self.of.problem.completion_weight);
                exchange.raise_bound(Score {
                    weighted: least.min(known.weighted),
                    ..Score::default()
                });
                if closed && weighted_is_all {
                    exchange.close();
                } else if closed {
                    self.state(exchange, Some(known.weighted));
                    return;
                }
            }
            Level::Completion => {
                // With the weighted level held this bounds completion among the best only.
                if stated.weighted.is_none() {
                    let least = stated.minute(below + 1).min(known.completion);
                    exchange.raise_bound(Score {
                        completion: least,
                        ..Score::default()
                    });
                }
                if closed {
                    exchange.close();
                }
            }
        }
        self.over = true;
    }

    fn note_bound(&self, exchange: &Exchange) {
        let Some(stated) = &self.stated else { return };
        let mut bound = Score::default();
        if let Some(weighted) = stated.weighted.filter(|_| self.level == Level::Weighted) {
            bound.weighted = stated.weighted_minutes(stated.engine.least(weighted), self.of.problem.completion_weight);
        }
        if self.level == Level::Weighted || stated.weighted.is_none() {
            bound.completion = stated.minute(stated.engine.least(stated.completion));
        }
        // While something better is asked for, the least that is left may be above the best known.
        if let Some(below) = self.below {
            bound.weighted = bound
                .weighted
                .min(stated.weighted_minutes(below + 1, self.of.problem.completion_weight));
            bound.completion = bound.completion.min(stated.minute(below + 1));
        }
        if let Some((known, _)) = &self.best {
            bound.weighted = bound.weighted.min(known.1.weighted);
            bound.completion = if stated.weighted.is_none() {
                bound.completion.min(known.1.completion)
            } else {
                0
            };
        }
        exchange.raise_bound(bound);
    }
}

/// The sequence 1 1 2 1 1 2 4 …, after Luby, Sinclair and Zuckerman 1993.
fn luby(n: u32) -> u64 {
    let mut n = n;
    loop {
        let bits = u32::BITS - n.leading_zeros();
        if n == (1 << bits) - 1 {
            return 1 << (bits - 1);
        }
        n -= (1 << (bits - 1)) - 1;
    }
}

#[cfg(test)]
mod tests {
    use super::{Level, Prover};
    use crate::compiled::Compiled;
    use crate::exchange::Exchange;
    use crate::generation::{Generator, ranks};
    use crate::model::{Activity, Due, Hand, Problem, Score, Span};
    use crate::score::worth;

    #[test]
    fn a_bound_found_elsewhere_settles_the_lateness_and_only_the_completion_is_left_to_prove() {
        // Two half hours of one hand from nine o'clock, both wanted by half past nine: one of them is half an hour late.
        let mut problem = Problem {
            horizon: 1_440,
            ..Problem::default()
        };
        problem.hands.push(Hand {
            name: "me".into(),
            periods: vec![Span::new(540, 720)],
        });
        for _ in 0..2 {
            let activity = problem.add(Activity::new("coat", 30));
            problem.dues.push(Due {
                activity,
                at: 570,
                weight: 1,
            });
        }
        let of = Compiled::new(&problem);
        let draft = Generator::new(&of).generate(&ranks(&[0, 1]));
        let exchange = Exchange::default();
        assert!(exchange.offer(worth(&of, &draft), &draft));
        let mut prover = Prover::new(&of, 1);
        prover.state(&exchange, None);
        prover.look_round(&exchange);
        for (known, left) in [(29, Level::Weighted), (30, Level::Completion)] {
            exchange.raise_bound(Score {
                weighted: known,
                ..Score::default()
            });
            prover.take_bound(&exchange);
            assert!(
                prover.level == left,
                "no plan is known to be less than {known} min late"
            );
        }
    }

    #[test]
    fn restarts_follow_the_universal_sequence() {
        let first: Vec<u64> = (1..=15).map(super::luby).collect();
        assert_eq!(first, [1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8]);
    }
}
