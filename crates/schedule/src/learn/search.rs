//! Decide, follow, learn, go back: until everything has a value, nothing can, or patience runs out.

use super::{Clash, Engine, Lit, Reason, Status, Taste};

impl Engine<'_> {
    /// Adds a statement for good.
    pub(crate) fn require(&mut self, lit: Lit) -> Result<(), Clash> {
        self.back_to(0);
        let result = self.raise(lit, Reason::Decision).and_then(|()| self.propagate());
        self.impossible |= result.is_err();
        self.settle();
        result
    }

    /// Everything that follows without deciding anything.
    pub(crate) fn settle_root(&mut self) -> Result<(), Clash> {
        self.back_to(0);
        if self.impossible {
            return Err(Clash);
        }
        let result = self.draw_all().and_then(|()| {
            self.cumulatives.touch_all();
            self.energies.touch_all();
            self.sums.touch_all();
            self.propagate()
        });
        self.impossible |= result.is_err();
        self.settle();
        result
    }

    /// Leaves every hole and follows every arc once.
    fn draw_all(&mut self) -> Result<(), Clash> {
        for side in 0..self.bound.len() {
            let side = crate::number::small(side);
            self.skip_hole(side)?;
            self.draw_arcs(side)?;
        }
        Ok(())
    }

    /// Looks for values under the assumptions, within so many clashes.
    pub(crate) fn search(
        &mut self,
        assumptions: &[Lit],
        clashes: u64,
        taste: Taste,
        is_over: &dyn Fn() -> bool,
    ) -> Status {
        if self.impossible {
            return Status::Never;
        }
        self.back_to(0);
        if self.propagate().is_err() {
            self.impossible = true;
            return Status::Never;
        }
        self.settle();
        let until = self.n_clashes + clashes;
        loop {
            let step = if self.propagate().is_err() {
                self.n_clashes += 1;
                let step = self.learn_and_go_back(assumptions);
                let is_enough = self.n_clashes >= until || (self.n_clashes.is_multiple_of(64) && is_over());
                step.or(is_enough.then_some(Status::Limit))
            } else {
                self.decide(assumptions, taste)
            };
            match step {
                None => {}
                Some(Status::Found) => return Status::Found,
                Some(status) => {
                    self.back_to(0);
                    return status;
                }
            }
        }
    }

    /// Learns from a clash; says so if it ends the search.
    fn learn_and_go_back(&mut self, assumptions: &[Lit]) -> Option<Status> {
        if self.clash_level() == 1 && !assumptions.is_empty() {
            // What is assumed is assumed at once, so there is no telling which of it was too much.
            return Some(Status::NotSo);
        }
        let Some((lits, back)) = self.learn() else {
            self.impossible = true;
            return Some(Status::Never);
        };
        self.back_to(back);
        self.keep(lits);
        None
    }

    /// Assumes what is to be assumed, else decides one thing; says so if there is nothing left to decide.
    fn decide(&mut self, assumptions: &[Lit], taste: Taste) -> Option<Status> {
        if self.levels.is_empty() {
            self.settle();
            if self.n_learned > self.most_learned {
                self.forget();
            }
            if !assumptions.is_empty() {
                self.levels.push(self.trail.len());
                let settled = self.n_settled;
                let assume = |&lit: &Lit| self.raise(lit, Reason::Decision).is_ok();
                let holds = assumptions.iter().all(assume);
                self.n_settled = settled;
                return (!holds).then_some(Status::NotSo);
            }
        }
        let Some(next) = self.choose(taste) else {
            return Some(Status::Found);
        };
        self.levels.push(self.trail.len());
        let raised = self.raise(next, Reason::Decision);
        debug_assert!(raised.is_ok(), "a decision is open");
        None
    }
}
