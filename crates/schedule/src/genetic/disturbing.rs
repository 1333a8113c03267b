//! Away from a schedule, but not far: its priorities disturbed, and what comes of them improved. And who, of all that
//! were bred, is worth being disturbed: the shortest that are unlike each other.

use super::Breeding;
use super::crossing::similar;
use crate::improve::improve;
use crate::passes::{NEVER, Timetable};

/// The shortest of so many is taken.
const TRIES: usize = 4;
/// Priorities change by this part of the schedule's length, either way.
const PART: i32 = 60;

impl Breeding<'_> {
    /// A schedule much like one in forward time; in forward time.
    pub(crate) fn disturbed(&mut self, table: &Timetable) -> Timetable {
        let mut shortest = Timetable {
            start: Vec::new(),
            length: NEVER,
        };
        let mut other = Timetable::default();
        let net = self.net(1);
        for _ in 0..TRIES {
            self.key_by_end(table);
            self.unsettle(table.length / PART + 1);
            let order = self.in_order(net);
            self.passes.pass(net, &order, shortest.length, None, &mut other);
            if other.length < shortest.length {
                std::mem::swap(&mut shortest, &mut other);
            }
        }
        let mut disturbed = self.turned(1, &shortest);
        improve(&mut self.passes, &mut disturbed, &mut other);
        disturbed
    }

    /// So many of the shortest bred, in forward time, none like another.
    pub(crate) fn unlike(&self, most: usize) -> Vec<Timetable> {
        let mut all: Vec<&Timetable> = self.members[0].iter().chain([&self.best]).collect();
        all.retain(|table| table.length < NEVER);
        all.sort_by_key(|table| table.length);
        let mut chosen: Vec<Timetable> = Vec::new();
        for table in all {
            if chosen.len() < most && !chosen.iter().any(|known| similar(known, table)) {
                chosen.push(table.clone());
            }
        }
        chosen
    }
}
