//! What to try next, where nothing more follows by itself.

use super::{Engine, Lit, Taste};

impl Engine<'_> {
    pub(super) fn bump(&mut self, var: u32) {
        self.heap.bump(var, self.step);
        if self.step > 1e100 {
            self.heap.rescale(1e-100);
            self.step *= 1e-100;
        }
    }

    pub(super) fn is_open(&self, var: u32) -> bool {
        self.least(var) < self.most(var)
    }

    pub(super) fn choose(&mut self, taste: Taste) -> Option<Lit> {
        if taste == Taste::Earliest {
            let next = self
                .timed
                .iter()
                .copied()
                .filter(|&var| self.is_open(var))
                .min_by_key(|&var| (self.least(var), self.most(var)));
            if let Some(var) = next {
                return Some(Lit::at_most(var, self.least(var)));
            }
        }
        if !self.times_last && self.chance.once_in(100) && !self.timed.is_empty() {
            let var = self.timed[self.chance.below(self.timed.len())];
            if self.is_open(var) {
                return Some(Lit::at_most(var, self.least(var)));
            }
        }
        while let Some(var) = self.heap.pop() {
            if !self.is_open(var) || (self.times_last && self.is_timed[var as usize]) {
                continue;
            }
            self.heap.insert(var);
            let (least, most, guide) = (self.least(var), self.most(var), self.guide[var as usize]);
            return Some(if guide <= least {
                Lit::at_most(var, least)
            } else if guide >= most {
                Lit::at_least(var, most)
            } else if self.chance.once_in(2) {
                Lit::at_least(var, guide)
            } else {
                Lit::at_most(var, guide)
            });
        }
        let open = self
            .timed
            .iter()
            .copied()
            .filter(|&var| self.times_last && self.is_open(var));
        let earliest = open.min_by_key(|&var| (self.least(var), self.most(var)))?;
        Some(Lit::at_most(earliest, self.least(earliest)))
    }
}
