//! A child's priorities from its parents.

use super::Breeding;
use crate::number::index;
use crate::passes::Timetable;

impl Breeding<'_> {
    /// Sets the keys of a child, for generation in the other direction.
    pub(super) fn cross(&mut self, direction: usize, father: usize, mother: usize) {
        let of = self.passes.of;
        let length = self.members[direction][mother].length;
        let (from, to) = self.best_stretch(direction, mother);
        let (father, mother) = (&self.members[direction][father], &self.members[direction][mother]);
        let far = 4 * of.longest;
        let end = |table: &Timetable, at: usize| table.start[at] + of.length[at];
        let shift = father.length - length;
        let similar = similar(father, mother);
        for at in 0..of.n {
            // Keys count from the end backwards: what ends last is generated first.
            let (hers, his) = (end(mother, at), end(father, at) - shift);
            self.keys[at] = if hers > from && hers <= to {
                -hers
            } else if his > to || (his > from && his * 2 > from + to) {
                -his - far
            } else {
                -his + far
            };
        }
        if similar {
            self.unsettle(length / 10 + 1);
        }
    }

    /// Most keys change by as much as `most` either way: parents alike would only have children like themselves.
    pub(super) fn unsettle(&mut self, most: i32) {
        for at in 0..self.keys.len() {
            if !self.chance.once_in(4) {
                let by = self.chance.below(index(i64::from(2 * most + 1)));
                self.keys[at] += i32::try_from(by).unwrap_or(0) - most;
            }
        }
    }

    /// Of a member's time, a stretch of a length by chance in which it uses the resources best.
    fn best_stretch(&mut self, direction: usize, mother: usize) -> (i32, i32) {
        let of = self.passes.of;
        let table = &self.members[direction][mother];
        let span = index(table.length.into());
        let mut use_at = vec![0; span + 2];
        for at in 0..of.n {
            let start = index(table.start[at].into());
            use_at[start] += of.load[at];
            use_at[start + index(of.length[at].into())] -= of.load[at];
        }
        let mut running = 0;
        let mut total = vec![0_i64; span + 1];
        for minute in 0..span {
            running += use_at[minute];
            total[minute + 1] = total[minute] + running;
        }
        let wide = (span / 4 + self.chance.below(span / 2 + 1)).clamp(1, span);
        let mut best = (i64::MIN, 0);
        for _ in 0..4 {
            let from = self.chance.below(span - wide + 1);
            let worth = total[from + wide] - total[from];
            if worth > best.0 {
                best = (worth, from);
            }
        }
        let as_time = |minute: usize| i32::try_from(minute).unwrap_or(i32::MAX);
        (as_time(best.1), as_time(best.1 + wide))
    }
}

/// Whether seven of ten starts are the same, give or take one.
pub(super) fn similar(one: &Timetable, other: &Timetable) -> bool {
    let starts = one.start.iter().zip(&other.start);
    let same = starts.filter(|(one, other)| one.abs_diff(**other) <= 1).count();
    same * 10 >= one.start.len() * 7
}
