//! What has been deduced, in order, each with its reason, and the way back.

use super::{ALWAYS, Clash, Engine, Entry, Lit, NONE, Reason};

impl Engine<'_> {
    /// Raises a bound for a reason that is already made.
    pub(super) fn raise(&mut self, lit: Lit, reason: Reason) -> Result<(), Clash> {
        let side = lit.side as usize;
        if self.bound[side] >= lit.at {
            return Ok(());
        }
        if lit.at + self.bound[side ^ 1] > 0 {
            self.clash.clear();
            self.clash.push(lit.not());
            let mut because = std::mem::take(&mut self.clash);
            self.explain(reason, lit, &mut because);
            self.clash = because;
            return Err(Clash);
        }
        let entry = Entry {
            side: lit.side,
            old: self.bound[side],
            new: lit.at,
            before: self.latest[side],
            reason,
        };
        self.latest[side] = crate::number::small(self.trail.len());
        self.trail.push(entry);
        self.bound[side] = lit.at;
        if lit.at + self.bound[side ^ 1] == 0 && self.is_timed[side / 2] {
            self.n_settled += 1;
        }
        Ok(())
    }

    /// Raises a bound because all of these hold.
    pub(super) fn raise_because(&mut self, lit: Lit, because: &[Lit]) -> Result<(), Clash> {
        if self.bound[lit.side as usize] >= lit.at {
            return Ok(());
        }
        let (from, n) = (
            crate::number::small(self.arena.len()),
            crate::number::small(because.len()),
        );
        self.arena.extend_from_slice(because);
        self.raise(lit, Reason::Kept { from, n })
    }

    /// The side's bound as it is before anything is decided.
    pub(super) fn at_root(&self, side: u32) -> i32 {
        let mut bound = self.bound[side as usize];
        let mut at = self.latest[side as usize];
        while at != NONE {
            let entry = &self.trail[at as usize];
            (bound, at) = (entry.old, entry.before);
        }
        bound
    }

    /// These cannot all hold, and do.
    pub(super) fn clash_of(&mut self, because: &[Lit]) -> Result<(), Clash> {
        self.clash.clear();
        self.clash.extend_from_slice(because);
        Err(Clash)
    }

    /// Appends statements which together imply `lit`, for the reason given.
    pub(super) fn explain(&self, reason: Reason, lit: Lit, because: &mut Vec<Lit>) {
        match reason {
            Reason::Decision => {}
            Reason::Clause(clause) => {
                because.extend(self.clauses[clause as usize].lits[1..].iter().map(|other| other.not()));
            }
            Reason::Kept { from, n } => {
                because.extend_from_slice(&self.arena[from as usize..(from + n) as usize]);
            }
            Reason::Arc {
                other,
                weight,
                condition,
            } => {
                because.push(Lit {
                    side: other,
                    at: lit.at - weight,
                });
                if condition != ALWAYS {
                    because.push(condition);
                }
            }
        }
    }

    pub(super) fn back_to(&mut self, level: usize) {
        if level >= self.levels.len() {
            return;
        }
        let keep = self.levels[level];
        while self.trail.len() > keep {
            let Some(entry) = self.trail.pop() else { break };
            let var = entry.side / 2;
            if !self.is_open(var) {
                self.last[var as usize] = self.least(var);
            }
            self.bound[entry.side as usize] = entry.old;
            self.latest[entry.side as usize] = entry.before;
            if let Reason::Kept { from, .. } = entry.reason {
                self.arena.truncate(from as usize);
            }
            self.heap.insert(var);
        }
        self.levels.truncate(level);
        self.done = self.trail.len();
    }

    /// At the root nothing needs a reason any more.
    pub(super) fn settle(&mut self) {
        if self.levels.is_empty() {
            for entry in self.trail.drain(..) {
                self.latest[entry.side as usize] = NONE;
            }
            self.arena.clear();
            self.done = 0;
        }
    }
}
