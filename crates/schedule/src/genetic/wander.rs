//! A walk on from the best: one stretch of time reordered at a time, kept if the schedule is not longer.
//!
//! All steps from one schedule share what lies behind the stretch (seen in the direction of generation); only from the
//! stretch on are starts assigned anew. A step that moves nothing, or falls far behind by the end of its stretch, goes no
//! further than that.

use super::Breeding;
use crate::number::index;
use crate::passes::{Laid, NEVER, Timetable};

/// A stretch is this part of the schedule's length.
const PART: i32 = 16;

impl Breeding<'_> {
    /// Walks until so many schedules are made, the bound is met or `is_over`.
    pub(super) fn wander(&mut self, until: u64, is_over: &dyn Fn() -> bool) {
        let (mut direction, mut here) = match self.here.take() {
            Some((direction, here)) if here.length <= self.best.length => (direction, here),
            _ => (0, self.best.clone()),
        };
        while self.goes_on(until, is_over) {
            let mut turned = self.turn(direction, &here);
            if turned.table.length < here.length {
                here = std::mem::take(&mut turned.table);
                direction = 1 - direction;
                continue;
            }
            let mut next = Timetable::default();
            while self.goes_on(until, is_over) {
                self.stir(&here);
                let net = self.net(1 - direction);
                let order = self.in_order(net);
                self.passes.pass(net, &order, here.length, Some(&turned), &mut next);
                self.note(1 - direction, &next);
                if next.length <= here.length {
                    here = next;
                    direction = 1 - direction;
                    break;
                }
            }
        }
        self.here = Some((direction, here));
    }

    /// The schedule generated in the other direction, as it is.
    fn turn(&mut self, direction: usize, here: &Timetable) -> Laid {
        self.key_by_end(here);
        let net = self.net(1 - direction);
        let order = self.in_order(net);
        let mut table = Timetable::default();
        self.passes.pass(net, &order, NEVER, None, &mut table);
        self.note(1 - direction, &table);
        Laid { order, table }
    }

    /// Keys for generation in the other direction of time: what ends last comes first.
    pub(super) fn key_by_end(&mut self, table: &Timetable) {
        for at in 0..self.passes.of.n {
            self.keys[at] = -(table.start[at] + self.passes.of.length[at]);
        }
    }

    /// Keys of a schedule in the other direction of time, with one stretch in disorder.
    fn stir(&mut self, here: &Timetable) {
        let of = self.passes.of;
        let wide = here.length / PART + 2;
        let from = i32::try_from(self.chance.below(index(here.length.into()))).unwrap_or(0) - wide / 2;
        let by = wide / 2 + 1;
        for at in 0..of.n {
            let end = here.start[at] + of.length[at];
            let middle = end - of.length[at] / 2;
            self.keys[at] = -end;
            if middle > from && middle <= from + wide {
                let stirred = self.chance.below(index(i64::from(2 * by + 1)));
                self.keys[at] += i32::try_from(stirred).unwrap_or(0) - by;
            }
        }
    }
}
