//! Makes a schedule from an order: each activity in turn at its first possible start, with repair of longest waits.
//!
//! Plain serial generation fails where waits have a longest length: by the time a step's turn comes, the hand may be
//! taken beyond it. Then what the wait began with is taken out again with all that follows from it, and may not start
//! before a minute at which the wait would have held (unscheduling). Activities whose wait closes soon go first.
//! What cannot be placed at all is counted, so that a search can still see which of two failures is the smaller.

mod first;
mod full;
#[cfg(test)]
mod growth;
mod pinned;

use crate::board::{Blocked, Board, Near};
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::model::Minute;
use crate::number::minutes;
use full::Full;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// A wait shorter than this between its least and its most is looked after at once.
const SOON_MIN: Minute = 720;
/// Takings-out allowed for each activity, on average, before a generation gives up on repair.
const REPAIRS_EACH: usize = 8;

/// Activities that could be next, by turn.
type Ready = BinaryHeap<Reverse<(u64, usize)>>;

/// The workspace of generations; kept between them to spare the allocator.
pub(crate) struct Generator<'a> {
    pub(crate) of: &'a Compiled<'a>,
    board: Board<'a>,
    /// Earliest start allowed by repairs.
    not_before: Vec<Minute>,
    full: Full,
    /// Start and end that each team could give the activity that is looked at.
    fits: Vec<(Minute, Minute)>,
    /// Where the search has come to among what each hand of a team does.
    near: Vec<Near>,
    waiting_for: Vec<usize>,
    given_up: Vec<bool>,
    /// Places looked at so far, for what a schedule costs.
    looks: u64,
}

impl<'a> Generator<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>) -> Self {
        let n = of.problem.activities.len();
        Self {
            of,
            board: Board::with_gaps(of),
            not_before: vec![0; n],
            full: Full::new(of),
            fits: Vec::new(),
            near: Vec::new(),
            waiting_for: vec![0; n],
            given_up: vec![false; n],
            looks: 0,
        }
    }

    /// Generates one schedule; `rank` orders the activities that could be next, the lowest first.
    pub(crate) fn generate(&mut self, rank: &[u64]) -> Draft {
        self.generate_from(rank, None)
    }

    /// The same, but nothing starts before the minutes given for it.
    pub(crate) fn generate_from(&mut self, rank: &[u64], earliest: Option<&[Minute]>) -> Draft {
        self.generate_keeping(rank, earliest, &[])
    }

    /// The same, but what has a start in `keep` stands there if it can, before anything else finds its place.
    pub(crate) fn generate_keeping(
        &mut self,
        rank: &[u64],
        earliest: Option<&[Minute]>,
        keep: &[(Minute, usize)],
    ) -> Draft {
        self.clear(earliest);
        let n = self.of.problem.activities.len();
        for index in 0..n {
            if self.of.problem.activities[index].pin.is_some() && !self.place_pinned(index) {
                self.given_up[index] = true;
            }
        }
        for &(start, index) in keep {
            if !self.settled(index)
                && let Some(place) = self.stands_at(index, start)
            {
                self.board.put(index, place);
            }
        }
        let mut ready = Ready::new();
        self.waiting_for.copy_from_slice(&self.of.n_before);
        for index in 0..n {
            if self.settled(index) {
                self.release_next(index, rank, &mut ready);
            }
        }
        for index in 0..n {
            if self.waiting_for[index] == 0 && !self.settled(index) {
                ready.push(Reverse((self.turn(index, rank), index)));
            }
        }
        self.place_all(rank, &mut ready);
        self.board.draft()
    }

    /// Places whatever is ready, with repair, until nothing is.
    fn place_all(&mut self, rank: &[u64], ready: &mut Ready) {
        let mut repairs = REPAIRS_EACH * self.of.problem.activities.len() + 32;
        while let Some(Reverse((_, index))) = ready.pop() {
            if self.settled(index) || self.waiting_for[index] > 0 {
                continue;
            }
            match self.first_place(index) {
                Ok(place) => {
                    self.board.put(index, place);
                    self.release_next(index, rank, ready);
                }
                Err(Blocked::Until { other, from })
                    if repairs > 0
                        && self.of.problem.activities[other].pin.is_none()
                        && from > self.start_of(other) =>
                {
                    repairs -= 1;
                    self.not_before[other] = self.not_before[other].max(from);
                    self.take_out(other);
                    ready.push(Reverse((self.turn(other, rank), other)));
                    if self.waiting_for[index] == 0 {
                        ready.push(Reverse((self.turn(index, rank), index)));
                    }
                }
                Err(_) => {
                    self.given_up[index] = true;
                    self.release_next(index, rank, ready);
                }
            }
        }
    }

    fn clear(&mut self, earliest: Option<&[Minute]>) {
        for (index, not_before) in self.not_before.iter_mut().enumerate() {
            let own = self
                .of
                .problem
                .not_before
                .max(self.of.problem.activities[index].release);
            *not_before = earliest.map_or(own, |earliest| own.max(earliest[index]));
        }
        self.given_up.fill(false);
        self.board.clear();
        self.full.clear();
    }

    fn settled(&self, index: usize) -> bool {
        self.board.places[index].is_some() || self.given_up[index]
    }

    fn start_of(&self, index: usize) -> Minute {
        self.board.places[index].map_or(Minute::MIN, |place| place.start)
    }

    fn release_next(&mut self, index: usize, rank: &[u64], ready: &mut Ready) {
        for &next in &self.of.next[index] {
            self.waiting_for[next] = self.waiting_for[next].saturating_sub(1);
            if self.waiting_for[next] == 0 && !self.settled(next) {
                ready.push(Reverse((self.turn(next, rank), next)));
            }
        }
    }

    /// An activity's place in the queue: those whose longest wait is running out come before all others.
    fn turn(&self, index: usize, rank: &[u64]) -> u64 {
        let soon = self.of.lags_of[index]
            .iter()
            .map(|&lag| &self.of.problem.lags[lag])
            .any(|lag| {
                let Some(max) = lag.max else { return false };
                if lag.to.0 != index {
                    return false;
                }
                let Some(from) = self.board.places[lag.from.0] else {
                    return false;
                };
                let begun = from.at(lag.from_point);
                self.of.over(max, begun) - self.of.over(lag.min, begun) < SOON_MIN
            });
        if soon { 0 } else { rank[index].saturating_add(1) }
    }

    /// Takes an activity out again, and all that were placed after it because of it.
    fn take_out(&mut self, index: usize) {
        let Some(place) = self.board.places[index] else {
            return;
        };
        // Followers first, so that what they hold is given back while this still stands.
        for at in 0..self.of.next[index].len() {
            let next = self.of.next[index][at];
            if self.of.problem.activities[next].pin.is_none() {
                self.take_out(next);
                if self.given_up[next] {
                    continue;
                }
                self.waiting_for[next] += 1;
            }
        }
        self.board.lift(index);
        self.full.freed(place.start);
    }
}

/// Ranks from an order: the place of each activity in it.
pub(crate) fn ranks(order: &[usize]) -> Vec<u64> {
    let mut ranks = vec![0; order.len()];
    for (place, &index) in order.iter().enumerate() {
        ranks[index] = minutes(place).unsigned_abs();
    }
    ranks
}
