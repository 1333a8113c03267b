//! Parallel generation: forward in time, at each moment the activities that may start, by priority.
//!
//! Nothing that can start is kept waiting (a non-delay schedule). Where capacity is scarce such schedules are shorter
//! than those of serial generation by far, though the shortest need not be among them (Kolisch 1996).

use super::{NEVER, Passes, Timetable, fits};
use crate::number::small;
use crate::project::Net;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// The state of a pass at its moment.
#[derive(Debug, Default)]
pub(super) struct Running {
    /// Free capacity now.
    free: Vec<u64>,
    /// How many of its predecessors have no start yet, by activity.
    waiting: Vec<u32>,
    /// The earliest start its predecessors allow, by activity.
    earliest: Vec<i32>,
    /// Whose predecessors all have a start, by priority.
    next: Vec<(i32, u32)>,
    /// What is under way, by end.
    ends: BinaryHeap<Reverse<(i32, u32)>>,
}

impl Passes<'_> {
    /// A timetable by priorities, the lowest number first.
    ///
    /// Given up as soon as it is sure to be longer than `limit`.
    pub(crate) fn parallel(&mut self, net: &Net, priority: &[i32], limit: i32, into: &mut Timetable) {
        let of = self.of;
        let mut left = of.n;
        into.start.resize(of.n, 0);
        into.length = 0;
        self.running.begin(net, priority, &of.capacity);
        let mut now = 0;
        while left > 0 {
            let mut place = 0;
            let mut soonest = NEVER;
            while let Some(&(_, activity)) = self.running.next.get(place) {
                let at = activity as usize;
                let needs = &of.needs[at * of.words..(at + 1) * of.words];
                if self.running.earliest[at] > now {
                    soonest = soonest.min(self.running.earliest[at]);
                    place += 1;
                } else if fits(&self.running.free, needs) {
                    self.assigned += 1;
                    left -= 1;
                    into.start[at] = now;
                    into.length = into.length.max(now + of.length[at]);
                    if now + net.tail[at] > limit {
                        into.length = NEVER;
                        return;
                    }
                    self.running.next.remove(place);
                    let opened = self.running.start(net, priority, at, now, of.length[at], needs);
                    // What has no length may let others start at once, also some of higher priority.
                    place = if opened { 0 } else { place };
                } else {
                    place += 1;
                }
            }
            now = self.running.forward(soonest, of.words, &of.needs);
        }
    }
}

impl Running {
    fn begin(&mut self, net: &Net, priority: &[i32], capacity: &[u64]) {
        self.free.clear();
        self.free.extend_from_slice(capacity);
        self.ends.clear();
        self.next.clear();
        self.waiting.clear();
        self.waiting.extend(net.before.iter().map(|before| small(before.len())));
        self.earliest.clear();
        self.earliest.resize(net.before.len(), 0);
        for at in (0..net.before.len()).filter(|&at| net.before[at].is_empty()) {
            self.next.push((priority[at], small(at)));
        }
        self.next.sort_unstable();
    }

    /// Starts an activity; true if another may start at this very moment because of it.
    fn start(&mut self, net: &Net, priority: &[i32], at: usize, now: i32, length: i32, needs: &[u64]) -> bool {
        if length > 0 {
            self.free.iter_mut().zip(needs).for_each(|(free, need)| *free -= need);
            self.ends.push(Reverse((now + length, small(at))));
        }
        let mut opened = false;
        for &(to, wait) in &net.after[at] {
            let then = to as usize;
            self.earliest[then] = self.earliest[then].max(now + length + wait);
            self.waiting[then] -= 1;
            if self.waiting[then] == 0 {
                let entry = (priority[then], to);
                let place = self.next.partition_point(|known| *known < entry);
                self.next.insert(place, entry);
                opened |= self.earliest[then] <= now;
            }
        }
        opened
    }

    /// The next moment at which anything changes: an end, or `soonest`. What ends by then gives back what it used.
    fn forward(&mut self, soonest: i32, words: usize, needs: &[u64]) -> i32 {
        let end = self.ends.peek().map_or(NEVER, |&Reverse((end, _))| end);
        let now = end.min(soonest);
        while let Some(&Reverse((end, activity))) = self.ends.peek()
            && end <= now
        {
            self.ends.pop();
            let at = activity as usize;
            let needs = &needs[at * words..(at + 1) * words];
            self.free.iter_mut().zip(needs).for_each(|(free, need)| *free += need);
        }
        now
    }
}
