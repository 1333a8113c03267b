//! A wait that runs on a drying clock, as a function of whole grid units that never falls.

use super::{FARTHEST, narrow, up};
use crate::compiled::Compiled;
use crate::learn::Staircase;
use crate::model::{Minute, Wait};

/// A point in time: an activity's start and some minutes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shifted {
    pub(super) index: usize,
    pub(super) by: Minute,
}

/// Which way a clocked wait is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// The least `to` for a `from`.
    Earliest,
    /// The least `from` for a `to`.
    Latest,
}

/// A clocked wait between two starts in grid units, as a function of one of them.
#[derive(Debug)]
pub(super) struct Clocked<'a> {
    pub(super) of: &'a Compiled<'a>,
    pub(super) wait: Wait,
    /// Minutes from grid unit 0 of either start to the point that counts.
    pub(super) from_by: Minute,
    pub(super) to_by: Minute,
    pub(super) grid: Minute,
    pub(super) way: Way,
}

impl Clocked<'_> {
    /// The first grid unit at which a start's point is not before `minute`.
    fn unit(&self, minute: Minute, by: Minute) -> i32 {
        narrow(up(minute - by, self.grid).clamp(-FARTHEST, FARTHEST))
    }

    /// The first `to` that is not too early for the wait begun at `from`.
    fn earliest(&self, from: Minute) -> i32 {
        self.unit(self.of.over(self.wait, from), self.to_by)
    }

    /// The first `from` whose wait is not over before `to`.
    fn latest(&self, to: Minute) -> i32 {
        self.unit(self.of.earliest_begin(self.wait, to), self.from_by)
    }
}

impl Staircase for Clocked<'_> {
    fn at(&self, value: i32) -> i32 {
        let minute = i64::from(value) * self.grid;
        match self.way {
            Way::Earliest => self.earliest(minute + self.from_by),
            Way::Latest => self.latest(minute + self.to_by),
        }
    }

    fn first_to_reach(&self, goal: i32) -> i32 {
        // A unit is reached by anything past the unit before it.
        let past = (i64::from(goal) - 1) * self.grid;
        match self.way {
            Way::Earliest => self.latest(past + self.to_by + 1),
            Way::Latest => self.unit(self.of.over(self.wait, past + self.from_by) + 1, self.to_by),
        }
    }
}
