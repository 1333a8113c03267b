//! Improves a plan part by part: some activities are lifted off it, and the learning search looks for better places for
//! them among all that stays.
//!
//! Only the part is stated, so that what a try costs follows the size of the part and not of the plan. A part is
//! searched on, each time for something better still, until nothing better is in it or patience runs out; then its
//! shape's size follows what happened.

#[cfg(test)]
mod tests;

use crate::board::Board;
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::{Draft, Place};
use crate::exchange::Exchange;
use crate::generation::{Generator, ranks};
use crate::learn::{Lit, Status, Taste};
use crate::model::Minute;
use crate::neighbourhood::Neighbourhood;
use crate::number::minutes;
use crate::score::{Worth, worth};
use crate::stated::Stated;

/// Dead ends allowed in one part, and once many in a row gave nothing.
const PATIENCE: u64 = 300;
const LONG_PATIENCE: u64 = 600;
/// So many are many.
const GIVING: u32 = 40;
/// After so many parts without gain the search steps aside.
const LULL: u32 = 20;
/// After so many without gain it leaps: a wide part is put elsewhere, from which it roams.
const DULL: u32 = 150;
/// A leap may cost one part in so many, by chance.
const LEAPS: [i32; 3] = [1, 3, 8];
/// Stepping aside may cost one part in so many of what there is.
const WORSE: i32 = 20;
const DAY_MIN: usize = 1_440;
/// Gains asked for at first, as parts of what there is: one in so many; 0 for any gain at all.
const GAINS: [i32; 4] = [0, 400, 80, 20];

/// The search by parts, which can be interrupted and taken up again.
pub(crate) struct Local<'a> {
    of: &'a Compiled<'a>,
    board: Board<'a>,
    generator: Generator<'a>,
    near: Neighbourhood,
    chance: Chance,
    best: Option<(Worth, Draft)>,
    /// Where the search stands: the best, or a plan a little worse from which there may be another way down.
    here: Option<(Worth, Draft)>,
    /// Parts since something better than here was found.
    idle: u32,
    /// Parts since something better than since the last leap was found.
    dull: u32,
    /// The best since the last leap.
    floor: Option<Worth>,
    /// After a leap it goes its own way, until it finds the best there is.
    roams: bool,
    /// This part is a leap.
    leaps: bool,
    /// Starts assigned so far: for each dead end and each find, as many as were free to move.
    starts_assigned: u64,
}

/// What is to become smaller, and the most that would be better.
#[derive(Debug, Clone, Copy)]
struct Aim {
    variable: u32,
    below: i32,
}

impl<'a> Local<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>, seed: u64) -> Self {
        Self {
            of,
            board: Board::new(of),
            generator: Generator::new(of),
            near: Neighbourhood::new(of),
            chance: Chance::new(seed),
            best: None,
            here: None,
            idle: 0,
            dull: 0,
            floor: None,
            roams: false,
            leaps: false,
            starts_assigned: 0,
        }
    }

    /// Starts assigned so far.
    pub(crate) fn starts_assigned(&self) -> u64 {
        self.starts_assigned
    }

    /// One part; false if there is no plan to take it from, or it would be all of it.
    pub(crate) fn try_part(&mut self, exchange: &Exchange, is_over: &dyn Fn() -> bool) -> bool {
        if let Some(better) = exchange.better_than(self.best.as_ref().map(|(worth, _)| *worth)) {
            if !self.roams {
                self.here = Some(better.clone());
                self.idle = 0;
                self.dull = 0;
            }
            self.best = Some(better);
        }
        self.dull += 1;
        let leap = self.dull >= DULL;
        if leap {
            self.roams = true;
            self.dull = 0;
            self.floor = None;
            if self.chance.once_in(2) {
                self.here = self.best.clone();
            }
        }
        let kick = leap || self.idle >= LULL;
        if kick {
            self.idle = 0;
            if !self.roams && self.chance.once_in(2) {
                self.here = self.best.clone();
            }
        }
        self.leaps = leap;
        let Some((known, draft)) = self.here.take() else {
            return false;
        };
        let free = if leap {
            Some(self.near.choose_wide(self.of, &draft, &mut self.chance))
        } else {
            self.near.choose(self.of, &draft, self.gives(), &mut self.chance)
        };
        let Some(free) = free else {
            self.here = Some((known, draft));
            return false;
        };
        let n_free = minutes(free.iter().filter(|free| **free).count()).unsigned_abs();
        self.board.clear();
        for (index, place) in draft.places.iter().enumerate() {
            if let Some(place) = place.filter(|_| !free[index]) {
                self.board.put(index, place);
            }
        }
        let (status, clashes, found) = self.search(known, &draft, kick, exchange, is_over);
        if !kick {
            self.near.learn(status);
        }
        self.starts_assigned += (clashes + 1) * n_free;
        self.idle += 1;
        self.here = Some((known, draft));
        if let Some(starts) = found {
            self.take_over(&starts, kick, exchange);
        }
        true
    }

    /// Whether it is not long ago that a part gave something.
    fn gives(&self) -> bool {
        self.dull < GIVING
    }

    /// Searches the part until nothing better is in it; the last status, the dead ends met, and the best starts found.
    fn search(
        &mut self,
        known: Worth,
        draft: &Draft,
        kick: bool,
        exchange: &Exchange,
        is_over: &dyn Fn() -> bool,
    ) -> (Status, u64, Option<Vec<Minute>>) {
        let seed = self.chance.next();
        let Some(mut stated) = Stated::part(&self.board, seed) else {
            return (Status::Limit, 0, None);
        };
        let mut starts = starts_of(draft);
        stated.lean(&starts);
        let aim = self.aim(&mut stated, known, exchange.bound().weighted);
        let Some(mut aim) = aim.filter(|_| stated.settle().is_ok()) else {
            return (Status::NotSo, 0, None);
        };
        if kick {
            return self.aside(&mut stated, aim, starts, is_over);
        }
        let asked = GAINS[self.chance.below(GAINS.len())];
        let mut gain = if asked == 0 { 0 } else { aim.below / asked };
        let patience = if self.gives() { PATIENCE } else { LONG_PATIENCE };
        let mut found = None;
        loop {
            let left = patience.saturating_sub(stated.engine.n_clashes);
            let goal = [Lit::at_most(aim.variable, aim.below - gain)];
            let status = stated.engine.search(&goal, left, Taste::Busiest, is_over);
            match status {
                Status::Found => {
                    take(&mut starts, &stated);
                    aim.below = stated.engine.least(aim.variable) - 1;
                    stated.lean(&starts);
                    found = Some(starts.clone());
                    gain *= 2;
                }
                Status::NotSo if gain > 0 => gain /= 4,
                Status::Limit | Status::NotSo | Status::Never => return (status, stated.engine.n_clashes, found),
            }
        }
    }

    /// Looks for other places that may be a little worse, to go on from.
    fn aside(
        &mut self,
        stated: &mut Stated<'_>,
        aim: Aim,
        mut starts: Vec<Minute>,
        is_over: &dyn Fn() -> bool,
    ) -> (Status, u64, Option<Vec<Minute>>) {
        let part = if self.leaps {
            LEAPS[self.chance.below(LEAPS.len())]
        } else {
            WORSE
        };
        let most = usize::try_from(aim.below / part).unwrap_or(0);
        let slack = i32::try_from(self.chance.below(most + 1)).unwrap_or(0);
        let goal = [Lit::at_most(aim.variable, aim.below + 1 + slack)];
        let day = minutes(DAY_MIN);
        let moved: Vec<Minute> = starts
            .iter()
            .map(|start| start + minutes(self.chance.below(2 * DAY_MIN + 1)) - day)
            .collect();
        stated.lean(&moved);
        let status = stated.engine.search(&goal, PATIENCE, Taste::Busiest, is_over);
        if status != Status::Found {
            return (status, stated.engine.n_clashes, None);
        }
        take(&mut starts, stated);
        (status, stated.engine.n_clashes, Some(starts))
    }

    /// Lateness, or once it is as small as can be (and now and then before) completion with lateness held.
    fn aim(&mut self, stated: &mut Stated<'_>, known: Worth, least: i64) -> Option<Aim> {
        let Some(weighted) = stated.weighted else {
            return Some(Aim {
                variable: stated.completion,
                below: stated.before_end(known.1.completion),
            });
        };
        let units = stated.weighted_units(known.1.weighted, self.of.problem.completion_weight);
        let at_its_least = known.1.weighted <= least;
        let rather_completion = self.of.problem.completion_weight == 0 && self.chance.once_in(8);
        if !at_its_least && !rather_completion {
            return Some(Aim {
                variable: weighted,
                below: units - 1,
            });
        }
        stated.engine.require(Lit::at_most(weighted, units)).ok()?;
        Some(Aim {
            variable: stated.completion,
            below: stated.before_end(known.1.completion),
        })
    }

    /// Makes a plan of found starts, and offers it.
    fn take_over(&mut self, starts: &[Minute], kick: bool, exchange: &Exchange) {
        let draft = realise(&mut self.generator, starts);
        let new = worth(self.of, &draft);
        if draft.missing > 0 {
            return;
        }
        if self.best.as_ref().is_none_or(|(best, _)| new < *best) {
            exchange.offer(new, &draft);
            self.best = Some((new, draft.clone()));
            self.idle = 0;
            self.dull = 0;
            self.roams = false;
        }
        if self.floor.is_none_or(|floor| new < floor) {
            self.floor = Some(new);
            self.dull = 0;
        }
        if kick || self.here.as_ref().is_none_or(|(here, _)| new < *here) {
            self.here = Some((new, draft));
            self.idle = 0;
        }
    }
}

/// Takes over the starts which the engine has chosen.
fn take(starts: &mut [Minute], stated: &Stated<'_>) {
    for (start, chosen) in starts.iter_mut().zip(stated.chosen()) {
        *start = chosen.unwrap_or(*start);
    }
}

/// Makes found starts into a draft: everything where it was found to start, put down in the order of time so that one of
/// several hands is free for it. Where a start cannot be kept, what comes later may have to give way as well.
pub(crate) fn realise(generator: &mut Generator<'_>, starts: &[Minute]) -> Draft {
    let mut keep: Vec<(Minute, usize)> = starts.iter().copied().zip(0..).collect();
    keep.sort_unstable();
    let order: Vec<usize> = keep.iter().map(|&(_, index)| index).collect();
    let ranks = ranks(&order);
    let kept = generator.generate_keeping(&ranks, Some(starts), &keep);
    let stands = |(place, start): (&Option<Place>, &Minute)| place.is_some_and(|place| place.start == *start);
    if kept.places.iter().zip(starts).all(stands) {
        return kept;
    }
    let moved = generator.generate_from(&ranks, Some(starts));
    if worth(generator.of, &kept) < worth(generator.of, &moved) {
        kept
    } else {
        moved
    }
}

/// Starts of a complete draft.
pub(crate) fn starts_of(draft: &Draft) -> Vec<Minute> {
    draft
        .places
        .iter()
        .map(|place| place.map_or(0, |place| place.start))
        .collect()
}
