//! Why there is no plan: a smallest set of things asked for that cannot all hold.

use crate::compiled::Compiled;
use crate::learn::{Status, Taste};
use crate::model::{ActivityId, HandId, Problem, Resource, Wait};
use crate::stated::Stated;

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

/// Dead ends allowed at most for showing that what is left is still impossible.
const PATIENCE: u64 = 3_000;
/// What was refuted in so many dead ends is refuted again with fewer demands in ten times as many and these, or not at all:
/// most subsets are possible, and looking longer at each would only take time.
const PATIENCE_AT_LEAST: u64 = 12;

/// The conflict of a problem that was shown to have no plan.
///
/// Demands are given up in ever smaller handfuls; whatever can be given up without a plan becoming possible did not
/// matter. What remains cannot be made smaller (each left out alone, nothing is refuted any more).
pub(crate) fn conflict(problem: &Problem) -> Conflict {
    let mut kept = demands(problem);
    let patience = |dead_ends: u64| (PATIENCE_AT_LEAST + 10 * dead_ends).min(PATIENCE);
    // Most is impossible for reasons that need few questions, and hundreds of subsets are stated.
    let briefly = refuted_in(problem, true, PATIENCE);
    let brief = briefly.is_some();
    let refuted = briefly.or_else(|| refuted_in(problem, false, PATIENCE));
    let mut allowed = refuted.map_or(PATIENCE, patience);
    let mut handful = kept.len().div_ceil(2);
    while handful > 0 {
        let mut at = 0;
        while at < kept.len() {
            let to = (at + handful).min(kept.len());
            let mut fewer = kept.clone();
            fewer.drain(at..to);
            if let Some(dead_ends) = refuted_in(&with_only(problem, &fewer), brief, allowed) {
                kept = fewer;
                allowed = patience(dead_ends);
            } else {
                at = to;
            }
        }
        handful = if handful == 1 { 0 } else { handful.div_ceil(2) };
    }
    let minimal = refuted_in(&with_only(problem, &kept), brief, PATIENCE).is_some();
    Conflict { demands: kept, minimal }
}

/// Everything the problem asks for that could be given up, ascending.
fn demands(problem: &Problem) -> Vec<Demand> {
    let mut found = Vec::new();
    for (index, activity) in problem.activities.iter().enumerate() {
        let id = ActivityId(index);
        let asks = [
            (activity.deadline.is_some(), Demand::Deadline(id)),
            (activity.pin.is_some(), Demand::Pin(id)),
            (!activity.start_windows.is_empty(), Demand::StartWindows(id)),
            (activity.release > problem.not_before, Demand::Release(id)),
            (activity.hands > 0, Demand::Hours(id)),
        ];
        found.extend(asks.into_iter().filter(|(asked, _)| *asked).map(|(_, demand)| demand));
    }
    for (index, lag) in problem.lags.iter().enumerate() {
        found.push(Demand::ShortestWait(index));
        found.extend(lag.max.map(|_| Demand::LongestWait(index)));
        found.extend(lag.closed.map(|_| Demand::ClosedStretch(index)));
    }
    found.extend((0..problem.blocks.len()).map(Demand::Block));
    found.extend((0..problem.resources.len()).map(Demand::Resource));
    found.push(Demand::Horizon);
    found.sort_unstable();
    found
}

/// The problem in which of all demands only these are kept.
fn with_only(problem: &Problem, kept: &[Demand]) -> Problem {
    let mut less = problem.clone();
    let given_up = |demand: Demand| kept.binary_search(&demand).is_err();
    for (index, activity) in less.activities.iter_mut().enumerate() {
        let id = ActivityId(index);
        if given_up(Demand::Deadline(id)) {
            activity.deadline = None;
        }
        if given_up(Demand::Pin(id)) {
            activity.pin = None;
        }
        if given_up(Demand::StartWindows(id)) {
            activity.start_windows.clear();
        }
        if given_up(Demand::Release(id)) {
            activity.release = problem.not_before;
        }
        if given_up(Demand::Hours(id)) {
            activity.hands = 0;
            activity.among.clear();
            activity.pin.iter_mut().for_each(|pin| pin.hands.clear());
        }
    }
    let span = problem.horizon - problem.not_before.min(0);
    for (index, lag) in less.lags.iter_mut().enumerate() {
        if given_up(Demand::ShortestWait(index)) {
            lag.min = Wait::Minutes(-4 * span);
        }
        if given_up(Demand::LongestWait(index)) {
            lag.max = None;
        }
        if given_up(Demand::ClosedStretch(index)) {
            lag.closed = None;
        }
    }
    let mut index = 0;
    less.blocks.retain(|_| {
        index += 1;
        !given_up(Demand::Block(index - 1))
    });
    for (index, resource) in less.resources.iter_mut().enumerate() {
        if given_up(Demand::Resource(index)) {
            *resource = Resource::constant(resource.name.clone(), u32::MAX / 4);
        }
    }
    if given_up(Demand::Horizon) {
        less.horizon += 2 * span;
    }
    less
}

/// After how many dead ends it is shown that there is no plan; nothing if that takes more than are allowed.
fn refuted_in(problem: &Problem, brief: bool, allowed: u64) -> Option<u64> {
    let compiled = Compiled::new(problem);
    let mut stated = match brief {
        true => Stated::brief(&compiled, 1)?,
        false => Stated::new(&compiled, 1)?,
    };
    if stated.settle().is_err() {
        return Some(0);
    }
    let status = stated.engine.search(&[], allowed, Taste::Busiest, &|| false);
    (status == Status::Never).then_some(stated.engine.n_clashes)
}
