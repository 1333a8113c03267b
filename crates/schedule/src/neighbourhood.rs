//! What may move while everything else stays: the neighbourhoods of a plan.
//!
//! Two shapes: all that lies in one stretch of time, and all that leads up to a few of the ends that matter. Their
//! size follows what happens: refuted quickly, larger; out of patience, smaller.

use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::generation::Draft;
use crate::learn::{Lit, Status};
use crate::model::Minute;
use crate::number::minutes;
use crate::stated::Stated;

/// A neighbourhood: assumptions that fix all the rest, and how many activities are free.
#[derive(Debug)]
pub(crate) struct Near {
    pub(crate) fixed: Vec<Lit>,
    pub(crate) free: u64,
}

/// Chooses neighbourhoods of a size that suits.
#[derive(Debug)]
pub(crate) struct Neighbourhood {
    /// Activities free to move, about.
    size: f64,
    /// For each activity, which due date or last end it leads up to.
    group: Vec<usize>,
    n_groups: usize,
    plain: bool,
}

impl Neighbourhood {
    pub(crate) fn new(of: &Compiled<'_>) -> Self {
        let n = of.problem.activities.len();
        let mut group = vec![usize::MAX; n];
        let mut n_groups = 0;
        let mut ends: Vec<usize> = of.problem.dues.iter().map(|due| due.activity.0).collect();
        ends.extend((0..n).filter(|&at| of.next[at].is_empty()));
        for end in ends {
            if group[end] == usize::MAX {
                group[end] = n_groups;
                n_groups += 1;
            }
        }
        // What leads up to a marked one belongs to its group; a few rounds reach all of a chain.
        for _ in 0..n {
            let mut changed = false;
            for at in (0..n).rev() {
                if group[at] == usize::MAX
                    && let Some(&to) = of.next[at].iter().find(|&&to| group[to] != usize::MAX)
                {
                    group[at] = group[to];
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        let plain = of.problem.activities.iter().all(|a| a.hands == 0 && a.pin.is_none());
        Self {
            size: 25.0,
            group,
            n_groups,
            plain,
        }
    }

    /// Assumptions which fix all but a neighbourhood; none if everything would be free.
    pub(crate) fn choose(
        &mut self,
        of: &Compiled<'_>,
        draft: &Draft,
        stated: &Stated<'_>,
        shrink: bool,
        chance: &mut Chance,
    ) -> Option<Near> {
        let n = draft.places.len();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 5 and the number of activities"
        )]
        let size = self.size as usize;
        if size >= n {
            return None;
        }
        let mut by_start: Vec<(Minute, usize)> = draft
            .places
            .iter()
            .enumerate()
            .map(|(at, place)| (place.map_or(0, |p| p.start), at))
            .collect();
        by_start.sort_unstable();
        let mut free = vec![false; n];
        let in_time = self.plain || self.n_groups < 2 || chance.once_in(2);
        let mut after = Minute::MAX;
        if in_time {
            let from = chance.below(n - size + 1);
            by_start[from..from + size].iter().for_each(|&(_, at)| free[at] = true);
            after = by_start[from + size - 1].0;
            if shrink && self.plain {
                // Everything after the stretch comes one unit earlier: the stretch has to shrink by one.
                by_start[from + size..]
                    .iter()
                    .filter(|(start, _)| *start == after)
                    .for_each(|&(_, at)| free[at] = true);
            }
        } else {
            let mut left = size;
            let first = chance.below(self.n_groups);
            let mut taken = Vec::new();
            for turn in 0..self.n_groups {
                let group = if turn == 0 { first } else { chance.below(self.n_groups) };
                if taken.contains(&group) {
                    continue;
                }
                taken.push(group);
                for (free, _) in free.iter_mut().zip(&self.group).filter(|(_, of)| **of == group) {
                    *free = true;
                    left = left.saturating_sub(1);
                }
                if left == 0 {
                    break;
                }
            }
        }
        let n_free = minutes(free.iter().filter(|free| **free).count()).unsigned_abs();
        let mut fixed = Vec::with_capacity(2 * n);
        for &(start, at) in by_start.iter().filter(|&&(_, at)| !free[at]) {
            let earlier = if shrink && self.plain && start > after {
                of.problem.grid
            } else {
                0
            };
            fixed.extend(stated.starts_at(at, start - earlier));
        }
        Some(Near { fixed, free: n_free })
    }

    /// Grows or shrinks by what came of the last.
    pub(crate) fn learn(&mut self, status: Status) {
        match status {
            Status::NotSo => self.size *= 1.02,
            Status::Limit => self.size = (self.size * 0.95).max(5.0),
            Status::Found | Status::Never => {}
        }
    }
}
