//! Plain projects, the fast way: fixed lengths, "after" and constant capacities, nothing else asked.
//!
//! Many problems are of this kind, or all but a few of their rules are. For these a generation pass needs no calendars
//! and no repair: free capacity is one machine word a minute for four resources, tested in one subtraction.

use crate::compiled::Compiled;
use crate::model::{Minute, Point, Wait};
use crate::number::{index, small};

/// Guard bits of the four 16-bit lanes of a word.
const GUARDS: u64 = 0x8000_8000_8000_8000;
/// Longer projects than this are left to the general generator: the table of free capacity would not stay in the cache.
const LONGEST: Minute = 60_000;

/// Who follows whom: one direction of time.
#[derive(Debug, Clone, Default)]
pub(crate) struct Net {
    pub(crate) before: Vec<Vec<(u32, i32)>>,
    pub(crate) after: Vec<Vec<u32>>,
    /// A place in an order that keeps what comes before what.
    pub(crate) rank: Vec<u32>,
}

impl Net {
    fn new(n: usize) -> Self {
        Self {
            before: vec![Vec::new(); n],
            after: vec![Vec::new(); n],
            rank: vec![0; n],
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
    /// Needs as numbers, for rules of thumb.
    pub(crate) amounts: Vec<Vec<i32>>,
    pub(crate) capacities: Vec<i32>,
    pub(crate) forward: Net,
    pub(crate) backward: Net,
    pub(crate) longest: i32,
    /// Longest path from the beginning to the start, and from the start to the end.
    pub(crate) head: Vec<i32>,
    pub(crate) tail: Vec<i32>,
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
            capacities: capacities.iter().map(|&c| i32::try_from(c).unwrap_or(0)).collect(),
            forward: Net::new(n),
            backward: Net::new(n),
            longest: i32::try_from(longest).unwrap_or(0),
            head: vec![0; n],
            tail: vec![0; n],
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
            project
                .amounts
                .push(amounts.iter().map(|&a| i32::try_from(a).unwrap_or(0)).collect());
        }
        for lag in &problem.lags {
            let (from, to) = (lag.from.0, lag.to.0);
            let wait = i32::try_from(compiled.over(lag.min, 0)).ok()?;
            project.forward.before[to].push((small(from), wait));
            project.forward.after[from].push(small(to));
            project.backward.before[from].push((small(to), wait));
            project.backward.after[to].push(small(from));
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
            for &to in &self.forward.after[at] {
                waiting[to as usize] -= 1;
                if waiting[to as usize] == 0 {
                    order.push(to as usize);
                }
            }
        }
        for &at in &order {
            let least = |&(from, wait): &(u32, i32)| self.head[from as usize] + self.length[from as usize] + wait;
            self.head[at] = self.forward.before[at].iter().map(least).max().unwrap_or(0);
        }
        for &at in order.iter().rev() {
            let least = |&(to, wait): &(u32, i32)| self.tail[to as usize] + wait;
            self.tail[at] = self.length[at] + self.backward.before[at].iter().map(least).max().unwrap_or(0);
        }
        for (place, &at) in order.iter().enumerate() {
            self.forward.rank[at] = small(place);
            self.backward.rank[at] = small(order.len() - place);
        }
        order.len() == self.n
    }

    /// No schedule ends before this: the longest path, and each resource's work over its capacity.
    pub(crate) fn bound(&self) -> i32 {
        let path = (0..self.n).map(|at| self.head[at] + self.tail[at]).max().unwrap_or(0);
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

/// A schedule of a plain project: starts from 0, and its length.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Timetable {
    pub(crate) start: Vec<i32>,
    pub(crate) length: i32,
}

/// The workspace of passes.
#[derive(Debug)]
pub(crate) struct Passes<'a> {
    pub(crate) of: &'a Project,
    free: Vec<u64>,
    buckets: Vec<u32>,
    order: Vec<u32>,
    /// Passes made.
    pub(crate) made: u64,
}

impl<'a> Passes<'a> {
    pub(crate) fn new(of: &'a Project) -> Self {
        Self {
            of,
            free: Vec::new(),
            buckets: Vec::new(),
            order: Vec::new(),
            made: 0,
        }
    }

    /// Each activity of the order in turn at its first possible start. The order keeps what comes before what.
    pub(crate) fn pass(&mut self, net: &Net, order: &[u32], into: &mut Timetable) {
        let of = self.of;
        self.made += 1;
        into.start.resize(of.n, 0);
        into.length = 0;
        self.free.clear();
        for &activity in order {
            let at = activity as usize;
            let length = of.length[at];
            let mut start = 0;
            for &(before, wait) in &net.before[at] {
                start = start.max(into.start[before as usize] + of.length[before as usize] + wait);
            }
            if length > 0 {
                start = if of.words == 1 {
                    self.first_fit(at, start)
                } else {
                    self.first_fit_wide(at, start)
                };
            }
            into.start[at] = start;
            into.length = into.length.max(start + length);
        }
    }

    fn first_fit(&mut self, at: usize, from: i32) -> i32 {
        let need = self.of.needs[at];
        let length = index(self.of.length[at].into());
        let mut start = index(from.into());
        if need > 0 {
            'again: loop {
                let until = (start + length).min(self.free.len());
                for minute in (start.min(until)..until).rev() {
                    if ((self.free[minute] | GUARDS) - need) & GUARDS != GUARDS {
                        start = minute + 1;
                        continue 'again;
                    }
                }
                break;
            }
            if self.free.len() < start + length {
                self.free.resize(start + length, self.of.capacity[0]);
            }
            for free in &mut self.free[start..start + length] {
                *free -= need;
            }
        }
        i32::try_from(start).unwrap_or(i32::MAX)
    }

    fn first_fit_wide(&mut self, at: usize, from: i32) -> i32 {
        let words = self.of.words;
        let needs = &self.of.needs[at * words..(at + 1) * words];
        let length = index(self.of.length[at].into());
        let mut start = index(from.into());
        'again: loop {
            let until = (start + length).min(self.free.len() / words);
            for minute in (start.min(until)..until).rev() {
                let free = &self.free[minute * words..(minute + 1) * words];
                if free
                    .iter()
                    .zip(needs)
                    .any(|(free, need)| ((free | GUARDS) - need) & GUARDS != GUARDS)
                {
                    start = minute + 1;
                    continue 'again;
                }
            }
            break;
        }
        while self.free.len() < (start + length) * words {
            self.free.extend_from_slice(&self.of.capacity);
        }
        for minute in start..start + length {
            for (free, need) in self.free[minute * words..(minute + 1) * words].iter_mut().zip(needs) {
                *free -= need;
            }
        }
        i32::try_from(start).unwrap_or(i32::MAX)
    }

    /// The timetable's activities by end, the last first: the order of a pass in the other direction of time, whose net
    /// is given.
    pub(crate) fn by_end(&mut self, net: &Net, table: &Timetable) -> Vec<u32> {
        let slots = index(i64::from(table.length)) + 1;
        self.buckets.clear();
        self.buckets.resize(slots + 1, 0);
        let key = |at: usize| index(i64::from(table.length - table.start[at] - self.of.length[at]));
        for at in 0..self.of.n {
            self.buckets[key(at) + 1] += 1;
        }
        for slot in 0..slots {
            self.buckets[slot + 1] += self.buckets[slot];
        }
        self.order.resize(self.of.n, 0);
        for at in 0..self.of.n {
            let slot = &mut self.buckets[key(at)];
            self.order[*slot as usize] = small(at);
            *slot += 1;
        }
        // Of two that end together where one has no length, the order of time decides; starts settle it.
        let mut order = self.order.clone();
        let of = self.of;
        let mut from = 0;
        while from < order.len() {
            let mut to = from + 1;
            while to < order.len() && key_of(table, of, order[to]) == key_of(table, of, order[from]) {
                to += 1;
            }
            if to - from > 1 {
                order[from..to].sort_by_key(|&at| (-table.start[at as usize], net.rank[at as usize]));
            }
            from = to;
        }
        order
    }
}

fn key_of(table: &Timetable, of: &Project, at: u32) -> i32 {
    table.start[at as usize] + of.length[at as usize]
}
