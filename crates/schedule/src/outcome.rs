//! What the solver is given to work with, and what it answers.

use crate::infeasible::Conflict;
use crate::model::{Plan, Score};
use crate::refusal::Refusal;

/// How hard to try. Whichever limit is reached first ends the search; a proof of optimality ends it earlier.
#[derive(Clone, Copy)]
pub struct Effort<'a> {
    /// At most so many schedules are generated (a schedule = every activity given a start once).
    /// With this as the only limit the answer depends on nothing but the problem and the seed.
    pub schedules: u64,
    /// Asked now and then: the search ends when it says true. The caller owns the clock.
    pub stop: Option<&'a (dyn Fn() -> bool + Sync)>,
    /// Seed of all chance.
    pub seed: u64,
    /// How many threads may work; 1 or more.
    pub threads: usize,
}

impl Effort<'_> {
    /// So many schedules on one thread, seed 1.
    #[must_use]
    pub const fn schedules(schedules: u64) -> Self {
        Self {
            schedules,
            stop: None,
            seed: 1,
            threads: 1,
        }
    }

    /// Whether the caller wants the answer now.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.stop.is_some_and(|stop| stop())
    }
}

/// A valid plan, how good it is, and how good any plan could be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// When everything is done.
    pub plan: Plan,
    /// Its score.
    pub score: Score,
    /// No plan scores less. Levels on which nothing is known are 0.
    pub bound: Score,
    /// No plan has less lateness, nor with the same lateness an earlier completion.
    pub proved: bool,
    /// Schedules generated on the way.
    pub schedules: u64,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// Here is a plan.
    Planned(Solution),
    /// There is none, and these cannot all hold.
    Infeasible(Conflict),
    /// The effort was used up before a plan was found or shown not to exist.
    NotFound {
        /// Schedules tried.
        schedules: u64,
    },
    /// The problem as given has no meaning.
    Refused(Vec<Refusal>),
}

impl Outcome {
    /// The solution, where there is one.
    #[must_use]
    pub fn solution(&self) -> Option<&Solution> {
        match self {
            Self::Planned(solution) => Some(solution),
            _ => None,
        }
    }
}
