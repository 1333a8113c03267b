//! Passes over a plain project: an order or priorities in, a timetable out.
//!
//! [`Passes::pass`] takes the activities in a given order, each at its first possible start (serial generation);
//! [`Passes::parallel`] goes forward in time and starts at each moment whatever may start. What is given up half way
//! and what is taken over from a timetable made before costs only the starts that were newly assigned.

mod parallel;
mod rejoining;

use crate::number::{index, minutes, small};
use crate::project::{Net, Project};
use parallel::Running;

/// Guard bits of the four 16-bit lanes of a word.
const GUARDS: u64 = 0x8000_8000_8000_8000;

/// Longer than any timetable: no limit, or given up.
pub(crate) const NEVER: i32 = i32::MAX;

/// A schedule of a plain project: starts from 0, and its length ([`NEVER`] if it was given up half way).
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Timetable {
    pub(crate) start: Vec<i32>,
    pub(crate) length: i32,
}

/// A timetable with the order that it was made in.
#[derive(Debug, Clone, Default)]
pub(crate) struct Laid {
    pub(crate) order: Vec<u32>,
    pub(crate) table: Timetable,
}

/// The workspace of passes.
#[derive(Debug)]
pub(crate) struct Passes<'a> {
    pub(crate) of: &'a Project,
    /// Free capacity by minute, `words` words each.
    free: Vec<u64>,
    buckets: Vec<u32>,
    running: Running,
    /// Starts assigned so far, over all passes.
    assigned: u64,
}

impl<'a> Passes<'a> {
    pub(crate) fn new(of: &'a Project) -> Self {
        Self {
            of,
            free: Vec::new(),
            buckets: Vec::new(),
            running: Running::default(),
            assigned: 0,
        }
    }

    /// Schedules made so far: starts assigned, over the number of activities.
    pub(crate) fn made(&self) -> u64 {
        self.assigned / minutes(self.of.n.max(1)).unsigned_abs()
    }

    /// Each activity of the order in turn at its first possible start. The order keeps what comes before what.
    ///
    /// As far as the order is that of `like`, its starts are taken over. Given up as soon as the timetable is sure to be
    /// longer than `limit`; and where the order becomes that of `like` again, if by then the timetable is that of `like`
    /// or hopeless beside it.
    pub(crate) fn pass(&mut self, net: &Net, order: &[u32], limit: i32, like: Option<&Laid>, into: &mut Timetable) {
        let of = self.of;
        into.start.resize(of.n, 0);
        into.length = 0;
        self.free.clear();
        let known = like.map_or(0, |like| self.take_over(order, like, into));
        let rejoining = like.map_or(of.n, |like| rejoining::place(order, like));
        if known >= rejoining {
            // The order of `like` itself.
            self.assigned += 1;
            into.length = NEVER;
            return;
        }
        for (place, &activity) in order.iter().enumerate().skip(known) {
            if place == rejoining
                && let Some(like) = like
                && !rejoining::is_promising(of, &order[known..place], like, into)
            {
                into.length = NEVER;
                return;
            }
            let at = activity as usize;
            let mut start = 0;
            for &(before, wait) in &net.before[at] {
                start = start.max(into.start[before as usize] + of.length[before as usize] + wait);
            }
            if of.length[at] > 0 {
                start = self.first_fit(at, start);
                self.take(at, start);
            }
            self.assigned += 1;
            into.start[at] = start;
            into.length = into.length.max(start + of.length[at]);
            if start + net.tail[at] > limit {
                into.length = NEVER;
                return;
            }
        }
    }

    /// Takes over what both orders begin with; how many that are.
    fn take_over(&mut self, order: &[u32], like: &Laid, into: &mut Timetable) -> usize {
        let same = order.iter().zip(&like.order).take_while(|(one, other)| one == other);
        let mut known = 0;
        for (&activity, _) in same {
            let at = activity as usize;
            let start = like.table.start[at];
            if self.of.length[at] > 0 {
                self.take(at, start);
            }
            into.start[at] = start;
            into.length = into.length.max(start + self.of.length[at]);
            known += 1;
        }
        known
    }

    /// The first start, not before `from`, at which the activity's needs are free for its whole length.
    fn first_fit(&self, at: usize, from: i32) -> i32 {
        let words = self.of.words;
        let needs = &self.of.needs[at * words..(at + 1) * words];
        let length = index(self.of.length[at].into());
        let mut start = index(from.into());
        'again: loop {
            let until = (start + length).min(self.free.len() / words);
            for minute in (start.min(until)..until).rev() {
                if !fits(&self.free[minute * words..(minute + 1) * words], needs) {
                    start = minute + 1;
                    continue 'again;
                }
            }
            return i32::try_from(start).unwrap_or(NEVER);
        }
    }

    /// Takes the activity's needs from `start` on for its length.
    fn take(&mut self, at: usize, start: i32) {
        let words = self.of.words;
        let needs = &self.of.needs[at * words..(at + 1) * words];
        let (from, length) = (index(start.into()), index(self.of.length[at].into()));
        while self.free.len() < (from + length) * words {
            self.free.extend_from_slice(&self.of.capacity);
        }
        for minute in from..from + length {
            for (free, need) in self.free[minute * words..(minute + 1) * words].iter_mut().zip(needs) {
                *free -= need;
            }
        }
    }

    /// The timetable's activities by end, the last first: the order of a pass in the other direction of time, whose net
    /// is given.
    pub(crate) fn by_end(&mut self, net: &Net, table: &Timetable) -> Vec<u32> {
        let of = self.of;
        let slots = index(i64::from(table.length)) + 1;
        self.buckets.clear();
        self.buckets.resize(slots + 1, 0);
        let end = |at: usize| table.start[at] + of.length[at];
        let key = |at: usize| index(i64::from(table.length - end(at)));
        for at in 0..of.n {
            self.buckets[key(at) + 1] += 1;
        }
        for slot in 0..slots {
            self.buckets[slot + 1] += self.buckets[slot];
        }
        let mut order = vec![0; of.n];
        for at in 0..of.n {
            let slot = &mut self.buckets[key(at)];
            order[*slot as usize] = small(at);
            *slot += 1;
        }
        // Of two that end together where one has no length, the order of time decides; starts settle it.
        let same_end = |one: &u32, other: &u32| end(*one as usize) == end(*other as usize);
        for together in order.chunk_by_mut(same_end) {
            together.sort_by_key(|&at| (-table.start[at as usize], net.rank[at as usize]));
        }
        order
    }
}

/// Whether the needs fit into what is free, lane by lane.
fn fits(free: &[u64], needs: &[u64]) -> bool {
    free.iter()
        .zip(needs)
        .all(|(free, need)| ((free | GUARDS) - need) & GUARDS == GUARDS)
}
