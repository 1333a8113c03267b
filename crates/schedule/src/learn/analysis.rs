//! From a dead end to a clause: which recent statement, with which older ones, made it inevitable; and what is worth
//! remembering of all that was learned.

use super::{Clause, Engine, Lit, NONE, Reason, UNMARKED};

/// More learned clauses than this cost more time than they save.
const MOST_KEPT: usize = 8_000;

impl Engine<'_> {
    /// The entry which made a true statement true; none if it always was.
    pub(super) fn maker(&self, lit: Lit) -> Option<usize> {
        if lit.side == u32::MAX {
            return None;
        }
        let mut at = self.latest[lit.side as usize];
        while at != NONE {
            let entry = &self.trail[at as usize];
            if entry.old < lit.at {
                return Some(at as usize);
            }
            at = entry.before;
        }
        None
    }

    pub(super) fn level_of(&self, entry: usize) -> usize {
        self.levels.partition_point(|&from| from <= entry)
    }

    /// The deepest level that the clash takes part of; 0 if it follows from nothing assumed.
    pub(super) fn clash_level(&self) -> usize {
        let deepest = self.clash.iter().filter_map(|&lit| self.maker(lit)).max();
        deepest.map_or(0, |entry| self.level_of(entry))
    }

    /// Learns from the clash: a clause, and the level to go back to. `None` if the clash follows from nothing assumed.
    pub(super) fn learn(&mut self) -> Option<(Vec<Lit>, usize)> {
        let level = self.clash_level();
        let clash = std::mem::take(&mut self.clash);
        if level == 0 {
            return None;
        }
        self.back_to(level);
        let level_from = self.levels[level - 1];
        self.marks.resize(self.trail.len().max(self.marks.len()), UNMARKED);
        self.marked.clear();
        let mut open = 0;
        for &lit in &clash {
            self.mark(lit, level_from, &mut open);
        }
        let mut at = self.trail.len();
        let mut because = Vec::new();
        let first = loop {
            at -= 1;
            if self.marks[at] == UNMARKED {
                continue;
            }
            let entry = self.trail[at];
            let lit = Lit {
                side: entry.side,
                at: self.marks[at],
            };
            self.bump(entry.side / 2);
            if open == 1 {
                break lit;
            }
            open -= 1;
            self.marks[at] = UNMARKED;
            if let Reason::Clause(clause) = entry.reason {
                self.clauses[clause as usize].used += self.use_step;
            }
            because.clear();
            self.explain(entry.reason, lit, &mut because);
            for &lit in &because {
                self.mark(lit, level_from, &mut open);
            }
        };
        let mut lits = vec![first.not()];
        let mut back = 0;
        let mut marked = std::mem::take(&mut self.marked);
        marked.retain(|&entry| self.marks[entry as usize] != UNMARKED && entry as usize != at);
        marked.sort_unstable();
        let mut levels = Vec::new();
        for &entry in marked.iter().rev() {
            let index = entry as usize;
            let lit = Lit {
                side: self.trail[index].side,
                at: self.marks[index],
            };
            if self.is_implied(index, lit)
                || lits
                    .iter()
                    .any(|known| known.side == lit.side ^ 1 && known.at <= 1 - lit.at)
            {
                continue;
            }
            let level = self.level_of(index);
            levels.push(level);
            lits.push(lit.not());
            self.bump(lit.side / 2);
            if level > back {
                back = level;
                let last = lits.len() - 1;
                lits.swap(1, last);
            }
        }
        self.marks[at] = UNMARKED;
        for entry in marked {
            self.marks[entry as usize] = UNMARKED;
        }
        Some((lits, back))
    }

    /// Notes that a true statement is needed.
    fn mark(&mut self, lit: Lit, level_from: usize, open: &mut usize) {
        let Some(entry) = self.maker(lit) else { return };
        if self.levels.first().is_none_or(|&from| entry < from) {
            return;
        }
        if self.marks[entry] == UNMARKED {
            self.marked.push(crate::number::small(entry));
            *open += usize::from(entry >= level_from);
        }
        self.marks[entry] = self.marks[entry].max(lit.at);
    }

    /// Whether a needed statement follows from the other needed ones by its own reason.
    fn is_implied(&self, entry: usize, lit: Lit) -> bool {
        let reason = self.trail[entry].reason;
        if matches!(reason, Reason::Decision) {
            return false;
        }
        let mut because = Vec::new();
        self.explain(reason, lit, &mut because);
        because.iter().all(|&lit| match self.maker(lit) {
            None => true,
            Some(entry) => {
                self.levels.first().is_none_or(|&from| entry < from)
                    || (self.marks[entry] != UNMARKED && self.marks[entry] >= lit.at)
            }
        })
    }

    /// Keeps a learned clause and draws its conclusion.
    pub(super) fn keep(&mut self, lits: Vec<Lit>) {
        self.step /= 0.95;
        self.use_step /= 0.999;
        if self.use_step > 1e20 {
            self.clauses.iter_mut().for_each(|clause| clause.used *= 1e-20);
            self.use_step *= 1e-20;
        }
        let first = lits[0];
        if lits.len() == 1 {
            let raised = self.raise(first, Reason::Decision);
            if raised.is_err() {
                self.impossible = true;
            }
            return;
        }
        let index = crate::number::small(self.clauses.len());
        let mut levels: Vec<usize> = lits[1..]
            .iter()
            .filter_map(|lit| self.maker(lit.not()))
            .map(|e| self.level_of(e))
            .collect();
        levels.sort_unstable();
        levels.dedup();
        self.watch(lits[0], index);
        self.watch(lits[1], index);
        self.clauses.push(Clause {
            lits,
            levels: crate::number::small(levels.len()),
            used: self.use_step,
            learned: true,
        });
        self.n_learned += 1;
        let raised = self.raise(first, Reason::Clause(index));
        debug_assert!(raised.is_ok(), "a learned clause concludes");
    }

    /// Drops the less useful half of what was learned. Only at the root, where no reason refers to it.
    pub(super) fn forget(&mut self) {
        let mut worth: Vec<f32> = self
            .clauses
            .iter()
            .filter(|c| c.learned && c.levels > 2)
            .map(|c| c.used)
            .collect();
        worth.sort_by(f32::total_cmp);
        let bar = worth.get(worth.len() / 2).copied().unwrap_or(0.0);
        let clauses = std::mem::take(&mut self.clauses);
        self.watches.iter_mut().for_each(Vec::clear);
        for clause in clauses {
            let true_for_good = clause.lits.iter().any(|&lit| self.holds(lit));
            if true_for_good || (clause.learned && clause.levels > 2 && clause.used < bar) {
                continue;
            }
            let index = crate::number::small(self.clauses.len());
            let mut clause = clause;
            clause.lits.sort_by_key(|&lit| self.fails(lit));
            self.watch(clause.lits[0], index);
            self.watch(clause.lits[1], index);
            self.clauses.push(clause);
        }
        self.n_learned = self.clauses.iter().filter(|clause| clause.learned).count();
        self.most_learned = (self.most_learned + 200).min(MOST_KEPT);
    }
}
