//! Plain projects, the fast way: fixed lengths, "after" and constant capacities, nothing else asked.
//!
//! Many problems are of this kind, or all but a few of their rules are. For these a generation pass needs no calendars
//! and no repair: free capacity is one machine word a minute for four resources, tested in one subtraction.

use crate::compiled::Compiled;
use crate::model::{Minute, Point, Wait};
use crate::number::small;

/// Longer projects than this are left to the general generator: the table of free capacity would not stay in the cache.
const LONGEST: Minute = 60_000;

/// All of a resource's capacity, as the unit of loads.
const FULL: i64 = 1_000;

/// Who follows whom: one direction of time.
#[derive(Debug, Clone, Default)]
pub(crate) struct Net {
    pub(crate) before: Vec<Vec<(u32, i32)>>,
    pub(crate) after: Vec<Vec<(u32, i32)>>,
    /// A place in an order that keeps what comes before what.
    pub(crate) rank: Vec<u32>,
    /// Longest path from the start of each to the end.
    pub(crate) tail: Vec<i32>,
}

impl Net {
    fn new(n: usize) -> Self {
        Self {
            before: vec![Vec::new(); n],
            after: vec![Vec::new(); n],
            rank: vec![0; n],
            tail: vec![0; n],
        }
    }
}

/// A plain project.
#[derive(Debug, Clone)]
pub(crate) struct Project {
    pub(crate) n: usize,
    pub(crate) length: Vec<i32>,
    /// Needs, four resources a word, `words` words an activity.
    pub(crate) needs: Vec<u64>,
    pub(crate) capacity: Vec<u64>,
    pub(crate) words: usize,
    amounts: Vec<Vec<i32>>,
    capacities: Vec<i32>,
    /// How much of everything there is an activity needs: thousandths of each capacity, all resources together.
    pub(crate) load: Vec<i64>,
    pub(crate) forward: Net,
    pub(crate) backward: Net,
    pub(crate) longest: i32,
}

impl Project {
    /// The project, if the problem is a plain one.
    pub(crate) fn of(compiled: &Compiled<'_>) -> Option<Self> {
        let problem = compiled.problem;
        let plain = problem.grid == 1
            && problem.holds.is_empty()
            && problem.dues.is_empty()
            && problem.previous.is_none()
            && problem
                .resources
                .iter()
                .all(|r| r.capacity.len() == 1 && r.capacity[0].0 <= problem.not_before)
            && problem.activities.iter().all(|a| {
                a.hands == 0
                    && a.release <= problem.not_before
                    && a.deadline.is_none_or(|deadline| deadline >= problem.horizon)
                    && a.start_windows.is_empty()
                    && a.pin.is_none()
                    && a.room.is_none()
            })
            && problem.lags.iter().all(|lag| {
                lag.from_point == Point::End
                    && lag.to_point == Point::Start
                    && lag.max.is_none()
                    && lag.closed.is_none()
                    && matches!(lag.min, Wait::Minutes(minutes) if minutes >= 0)
            });
        let n = problem.activities.len();
        let waits: Minute = problem.lags.iter().map(|lag| compiled.over(lag.min, 0)).sum();
        let longest = problem.activities.iter().map(|a| a.duration).sum::<Minute>() + waits;
        if !plain || n < 2 || longest > LONGEST.min(problem.horizon - problem.not_before) {
            return None;
        }
        let words = problem.resources.len().div_ceil(4).max(1);
        let lanes = |values: &[i64]| {
            let mut packed = vec![0_u64; words];
            for (at, &value) in values.iter().enumerate() {
                packed[at / 4] |= u64::try_from(value).unwrap_or(0) << (16 * (at % 4));
            }
            packed
        };
        let capacities: Vec<i64> = problem.resources.iter().map(|r| i64::from(r.most())).collect();
        if capacities.iter().any(|&c| c > 0x7FFF) {
            return None;
        }
        let mut project = Self {
            n,
            length: problem
                .activities
                .iter()
                .map(|a| i32::try_from(a.duration).unwrap_or(0))
                .collect(),
            needs: Vec::new(),
            capacity: lanes(&capacities),
            words,
            amounts: Vec::new(),
            load: Vec::new(),
            capacities: capacities.iter().map(|&c| i32::try_from(c).unwrap_or(0)).collect(),
            forward: Net::new(n),
            backward: Net::new(n),
            longest: i32::try_from(longest).unwrap_or(0),
        };
        for activity in &problem.activities {
            let mut amounts = vec![0_i64; problem.resources.len()];
            for used in &activity.uses {
                amounts[used.resource.0] += i64::from(used.amount);
            }
            if amounts.iter().zip(&capacities).any(|(need, there)| need > there) {
                return None;
            }
            project.needs.extend(lanes(&amounts));
            let parts = amounts.iter().zip(&capacities);
            project
                .load
                .push(parts.map(|(need, there)| FULL * need / there.max(&1)).sum());
            project
                .amounts
                .push(amounts.iter().map(|&a| i32::try_from(a).unwrap_or(0)).collect());
        }
        for lag in &problem.lags {
            let (from, to) = (lag.from.0, lag.to.0);
            let wait = i32::try_from(compiled.over(lag.min, 0)).ok()?;
            project.forward.before[to].push((small(from), wait));
            project.forward.after[from].push((small(to), wait));
            project.backward.before[from].push((small(to), wait));
            project.backward.after[to].push((small(from), wait));
        }
        project.paths().then_some(project)
    }

    /// Longest paths; false if the order has a circle.
    fn paths(&mut self) -> bool {
        let mut waiting: Vec<usize> = self.forward.before.iter().map(Vec::len).collect();
        let mut order: Vec<usize> = (0..self.n).filter(|&at| waiting[at] == 0).collect();
        let mut next = 0;
        while next < order.len() {
            let at = order[next];
            next += 1;
            for &(to, _) in &self.forward.after[at] {
                waiting[to as usize] -= 1;
                if waiting[to as usize] == 0 {
                    order.push(to as usize);
                }
            }
        }
        for &at in &order {
            let least = |&(from, wait): &(u32, i32)| self.backward.tail[from as usize] + wait;
            self.backward.tail[at] = self.length[at] + self.forward.before[at].iter().map(least).max().unwrap_or(0);
        }
        for &at in order.iter().rev() {
            let least = |&(to, wait): &(u32, i32)| self.forward.tail[to as usize] + wait;
            self.forward.tail[at] = self.length[at] + self.backward.before[at].iter().map(least).max().unwrap_or(0);
        }
        for (place, &at) in order.iter().enumerate() {
            self.forward.rank[at] = small(place);
            self.backward.rank[at] = small(order.len() - place);
        }
        order.len() == self.n
    }

    /// What all resources together can do in a minute, in the unit of `load`.
    pub(crate) fn full(&self) -> i64 {
        FULL * i64::from(small(self.capacities.len()))
    }

    /// No schedule ends before this: the longest path, and each resource's work over its capacity.
    pub(crate) fn bound(&self) -> i32 {
        let path = self.forward.tail.iter().copied().max().unwrap_or(0);
        let work = self
            .capacities
            .iter()
            .enumerate()
            .filter(|(_, capacity)| **capacity > 0)
            .map(|(resource, &capacity)| {
                let total: i64 = (0..self.n)
                    .map(|at| i64::from(self.amounts[at][resource]) * i64::from(self.length[at]))
                    .sum();
                i32::try_from(total.div_euclid(capacity.into()) + i64::from(total % i64::from(capacity) != 0))
                    .unwrap_or(0)
            });
        work.max().unwrap_or(0).max(path)
    }
}

/// Small plain projects to be counted by hand.
#[cfg(test)]
pub(crate) mod examples {
    use crate::model::{Activity, ActivityId, Lag, Problem, Resource, ResourceId, Use, Wait};
    use crate::number::minutes;

    /// Activities of these lengths and needs, of a resource of the given capacity; pairs of which one follows the other.
    pub(crate) fn problem(capacity: u32, activities: &[(i64, u32)], follows: &[(usize, usize)]) -> Problem {
        let mut problem = Problem {
            horizon: 1_000,
            ..Problem::default()
        };
        problem.resources.push(Resource::constant("bench places", capacity));
        for &(length, amount) in activities {
            let mut activity = Activity::unattended("a step", length);
            activity.uses.push(Use {
                resource: ResourceId(0),
                amount,
            });
            problem.add(activity);
        }
        for &(from, to) in follows {
            let wait = Wait::Minutes(0);
            problem.lags.push(Lag::after(ActivityId(from), ActivityId(to), wait));
        }
        problem
    }

    /// Steps of 2, 3 and 4 minutes by turns that take so many of nine places.
    pub(crate) fn steps(n: usize, places: u32) -> Problem {
        let all: Vec<(i64, u32)> = (0..n).map(|step| (2 + minutes(step % 3), places)).collect();
        problem(9, &all, &[])
    }

    /// Five steps in two places: 4+3+3 and 5+5 minutes fill both for ten, and nothing shorter holds twenty place-minutes.
    /// By length, the longest first, they take eleven.
    pub(crate) fn two_places() -> Problem {
        problem(2, &[(5, 1), (5, 1), (4, 1), (3, 1), (3, 1)], &[])
    }
}
