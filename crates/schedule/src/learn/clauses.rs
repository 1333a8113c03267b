//! Clauses: two statements of each are watched, and when one of them becomes false another takes its place or the last is
//! true.

use super::{Clash, Engine, Entry, Lit, Reason, Side, Watch};

impl Engine<'_> {
    pub(super) fn propagate_clauses(&mut self, entry: Entry) -> Result<(), Clash> {
        let side = entry.side as usize;
        let mut watches = std::mem::take(&mut self.watches[side]);
        let (mut kept, mut at) = (0, 0);
        let mut result = Ok(());
        while at < watches.len() {
            let watch = watches[at];
            at += 1;
            // Only what this entry makes false; what was false before has been looked at.
            if watch.false_at > entry.new || watch.false_at <= entry.old {
                watches[kept] = watch;
                kept += 1;
                continue;
            }
            match self.visit(watch, entry.side) {
                Ok(true) => {}
                Ok(false) => {
                    watches[kept] = watch;
                    kept += 1;
                }
                Err(clash) => {
                    result = Err(clash);
                    watches[kept] = watch;
                    kept += 1;
                    break;
                }
            }
        }
        while at < watches.len() {
            watches[kept] = watches[at];
            kept += 1;
            at += 1;
        }
        watches.truncate(kept);
        watches.append(&mut self.watches[side]);
        self.watches[side] = watches;
        result
    }

    /// A watched statement has become false: watch another (true), or deduce the last one.
    pub(super) fn visit(&mut self, watch: Watch, side: Side) -> Result<bool, Clash> {
        let index = watch.clause as usize;
        let false_lit = Lit {
            side: side ^ 1,
            at: 1 - watch.false_at,
        };
        if self.clauses[index].lits[0] == false_lit {
            self.clauses[index].lits.swap(0, 1);
        }
        let first = self.clauses[index].lits[0];
        if self.holds(first) {
            return Ok(false);
        }
        let n = self.clauses[index].lits.len();
        for at in 2..n {
            let lit = self.clauses[index].lits[at];
            if !self.fails(lit) {
                self.clauses[index].lits.swap(1, at);
                self.watch(lit, watch.clause);
                return Ok(true);
            }
        }
        self.raise(first, Reason::Clause(watch.clause)).map(|()| false)
    }

    pub(super) fn watch(&mut self, lit: Lit, clause: u32) {
        self.watches[(lit.side ^ 1) as usize].push(Watch {
            clause,
            false_at: 1 - lit.at,
        });
    }
}
