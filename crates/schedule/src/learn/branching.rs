//! What to try next, where nothing more follows by itself.

use super::{Engine, Lit, Taste};

/// So many degrees of what is less than once met in a dead end.
const SHAKES: usize = 1_000;

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

    /// Lets each seed look at other variables first, until dead ends say more.
    pub(crate) fn shake(&mut self) {
        for var in 0..crate::number::small(self.guide.len()) {
            let by = f64::from(crate::number::small(self.chance.below(SHAKES)));
            self.heap.bump(var, by / f64::from(crate::number::small(SHAKES)));
        }
    }

    /// A start with several ranges left is put into one of them before it is given a value: the one of the guide, or the
    /// next after it. That its range ends there is tried first.
    fn hours_near(&self, var: u32, guide: i32) -> Option<Lit> {
        let (least, most) = (self.least(var), self.most(var));
        let ranges = &self.allowed[var as usize];
        let (from, to) = *ranges.get(ranges.partition_point(|range| range.1 < guide.clamp(least, most)))?;
        if to < most {
            Some(Lit::at_most(var, to))
        } else if from > least {
            Some(Lit::at_least(var, from))
        } else {
            None
        }
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
            let guide = match taste {
                Taste::Again => self.last[var as usize],
                Taste::Busiest | Taste::Earliest => self.guide[var as usize],
            };
            let (least, most) = (self.least(var), self.most(var));
            if let Some(hours) = self.hours_near(var, guide) {
                return Some(hours);
            }
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

#[cfg(test)]
mod tests {
    use super::super::{Engine, Lit, Status, Taste};

    /// Ranges 0–3, 10–13 and 20–23. By hand: 11 lies in the second; first nothing after it, then nothing before it, then
    /// a value.
    #[test]
    fn a_start_is_put_into_its_hours_before_it_is_given_a_value() {
        let mut engine = Engine::new(1);
        let start = engine.variable(0, 23);
        engine.allow(start, vec![(0, 3), (10, 13), (20, 23)]);
        assert_eq!(
            engine.hours_near(start, 5),
            Some(Lit::at_most(start, 13)),
            "5 lies in none: the next"
        );
        assert_eq!(engine.hours_near(start, -9), Some(Lit::at_most(start, 3)));
        let mut tried = Vec::new();
        while let Some(lit) = engine.hours_near(start, 11) {
            tried.push(lit);
            assert!(engine.require(lit).is_ok());
        }
        assert_eq!(tried, [Lit::at_most(start, 13), Lit::at_least(start, 10)]);
        engine.lean_towards(start, 11);
        assert_eq!(engine.search(&[], 10, Taste::Busiest, &|| false), Status::Found);
        assert_eq!(engine.least(start), 11);
        let free = engine.variable(0, 9);
        assert_eq!(engine.hours_near(free, 4), None, "all hours are open to it");
    }

    #[test]
    fn what_is_begun_again_goes_on_from_where_it_was_and_not_from_its_guide() {
        for (taste, at) in [(Taste::Busiest, 9), (Taste::Again, 4)] {
            let mut engine = Engine::new(1);
            let var = engine.variable(0, 9);
            engine.lean_towards(var, 9);
            let assumed = [Lit::at_least(var, 4), Lit::at_most(var, 4)];
            assert_eq!(engine.search(&assumed, 10, taste, &|| false), Status::Found);
            assert_eq!(engine.search(&[], 10, taste, &|| false), Status::Found);
            assert_eq!(engine.least(var), at, "{taste:?}");
        }
    }

    #[test]
    fn each_seed_begins_with_others_once_shaken_and_with_the_first_if_not() {
        let first = |seed: u64, is_shaken: bool| {
            let mut engine = Engine::new(seed);
            for _ in 0..50 {
                engine.variable(0, 9);
            }
            if is_shaken {
                engine.shake();
            }
            engine.choose(Taste::Busiest).unwrap().side / 2
        };
        let firsts = |is_shaken| -> std::collections::BTreeSet<u32> { (1..=20).map(|s| first(s, is_shaken)).collect() };
        assert_eq!(firsts(false).into_iter().collect::<Vec<_>>(), [0]);
        assert!(firsts(true).len() > 10);
    }
}
