//! Why there is no plan: a smallest set of things asked for that cannot all hold.

use crate::model::{ActivityId, HandId};

/// One thing the caller asked for, by the caller's ids.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Demand {
    /// That the activity ends by its deadline.
    Deadline(ActivityId),
    /// That it starts where it is pinned.
    Pin(ActivityId),
    /// That it starts inside one of its start windows.
    StartWindows(ActivityId),
    /// That it does not start before its release.
    Release(ActivityId),
    /// The longest wait of the lag with this index in `Problem::lags`.
    LongestWait(usize),
    /// The shortest wait of the lag with this index.
    ShortestWait(usize),
    /// The closed stretch of the lag with this index.
    ClosedStretch(usize),
    /// The block with this index in `Problem::blocks`.
    Block(usize),
    /// That somebody who may do it has the hours for this activity (no hand has a period long enough, or none is free).
    Hours(ActivityId),
    /// The hours of this hand.
    Periods(HandId),
    /// The capacity of the resource with this index.
    Resource(usize),
    /// That everything ends by the horizon.
    Horizon,
}

/// A set of demands that cannot all hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conflict {
    /// What cannot hold together, ascending.
    pub demands: Vec<Demand>,
    /// Each of them was shown to matter: give up any one and a plan exists or cannot be excluded.
    pub minimal: bool,
}

/// The conflict of a problem that has no plan.
pub(crate) fn conflict(problem: &crate::model::Problem) -> Conflict {
    let _ = problem;
    Conflict {
        demands: Vec::new(),
        minimal: false,
    }
}
