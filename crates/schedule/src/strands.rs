//! A problem as strands: chains of activities, each waiting for the one before.
//!
//! Every activity without a pin lies on exactly one strand. Waits with a longest length are followed first, so that what
//! must not come apart lies on one strand wherever possible. An activity that several others lead up to begins a
//! strand of its own.

use crate::compiled::Compiled;
use crate::groups::groups;
use crate::model::{Breaks, Lag, Point};

/// One chain.
#[derive(Debug, Clone, Default)]
pub(crate) struct Strand {
    /// In order of time.
    pub(crate) activities: Vec<usize>,
    /// For each but the first, the lag that ties it to the one before.
    pub(crate) ties: Vec<usize>,
    /// What it leads up to.
    pub(crate) group: usize,
}

/// All chains of a problem.
#[derive(Debug)]
pub(crate) struct Strands {
    pub(crate) all: Vec<Strand>,
    /// Of each activity its strand and its place there; none for what is pinned.
    pub(crate) of: Vec<Option<(usize, usize)>>,
    /// What directly leads up to each activity.
    pub(crate) before: Vec<Vec<usize>>,
    /// The group of each activity.
    pub(crate) group: Vec<usize>,
    pub(crate) n_groups: usize,
}

impl Strands {
    pub(crate) fn new(of: &Compiled<'_>) -> Self {
        let n = of.problem.activities.len();
        let (group, n_groups) = groups(of);
        let mut before: Vec<Vec<usize>> = vec![Vec::new(); n];
        for (at, next) in of.next.iter().enumerate() {
            next.iter().for_each(|&to| before[to].push(at));
        }
        let (next, ties) = tie(of, &before);
        let mut strands = Self {
            all: Vec::new(),
            of: vec![None; n],
            before,
            group,
            n_groups,
        };
        for first in 0..n {
            if ties[first].is_some() || of.problem.activities[first].pin.is_some() {
                continue;
            }
            let mut strand = Strand {
                group: strands.group[first],
                ..Strand::default()
            };
            let mut at = Some(first);
            while let Some(index) = at {
                strands.of[index] = Some((strands.all.len(), strand.activities.len()));
                strand.activities.push(index);
                strand.ties.extend(ties[index]);
                at = next[index];
            }
            strands.all.push(strand);
        }
        strands
    }
}

/// For each activity the one it is followed by on its strand, and the lag to the one before.
fn tie(of: &Compiled<'_>, before: &[Vec<usize>]) -> (Vec<Option<usize>>, Vec<Option<usize>>) {
    let activities = &of.problem.activities;
    let n = activities.len();
    let (mut next, mut ties) = (vec![None; n], vec![None; n]);
    // Head and tail of the strand that each activity ends or begins, lest a strand bite its own tail.
    let mut head: Vec<usize> = (0..n).collect();
    let mut tail: Vec<usize> = (0..n).collect();
    let mut order: Vec<usize> = (0..of.problem.lags.len()).collect();
    order.sort_by_key(|&lag| of.problem.lags[lag].max.is_none());
    for index in order {
        let lag: &Lag = &of.problem.lags[index];
        let (from, to) = (lag.from.0, lag.to.0);
        let is_free = activities[from].pin.is_none() && activities[to].pin.is_none();
        let splits_to_end = lag.to_point == Point::End && activities[to].breaks == Breaks::Split;
        let meets_others = before[to].len() > 1 && lag.max.is_none();
        let is_open = next[from].is_none() && ties[to].is_none() && head[from] != to;
        if of.puts_in_order(lag) && is_free && is_open && !splits_to_end && !meets_others {
            next[from] = Some(to);
            ties[to] = Some(index);
            let (first, last) = (head[from], tail[to]);
            tail[first] = last;
            head[last] = first;
        }
    }
    (next, ties)
}
