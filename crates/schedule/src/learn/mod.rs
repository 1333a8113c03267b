//! Search that learns from each dead end: integer variables with bounds, and clauses over statements about bounds.
//!
//! Every deduction is a raised bound with a reason. When a bound passes its opposite, the reasons are followed back to
//! a smallest recent cause (the first unique implication point), and its denial is kept as a clause for ever after
//! ("lazy clause generation", after Ohrimenko, Stuckey and Codish 2009, here with statements made only as needed).
//!
//! A variable has two *sides*, its lower bound and the negative of its upper, so that every statement reads "the side
//! is at least so much" and its denial is the same about the other side. Nothing here knows of schedules.

mod analysis;
mod cumulative;
mod heap;
mod statement;
mod sum;

use crate::chance::Chance;
pub(crate) use cumulative::{Cumulative, Task};
use heap::Heap;
pub(crate) use sum::Sum;

/// A side of a variable: twice the variable for the lower, one more for the upper.
pub(crate) type Side = u32;

/// The lower side of a variable.
pub(crate) const fn low(var: u32) -> Side {
    2 * var
}

/// The upper side of a variable, which counts downwards.
pub(crate) const fn high(var: u32) -> Side {
    2 * var + 1
}

/// The statement that a side's bound is at least `at`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Lit {
    pub(crate) side: Side,
    pub(crate) at: i32,
}

impl Lit {
    pub(crate) const fn at_least(var: u32, at: i32) -> Self {
        Self { side: low(var), at }
    }

    pub(crate) const fn at_most(var: u32, at: i32) -> Self {
        Self {
            side: high(var),
            at: -at,
        }
    }

    pub(crate) const fn not(self) -> Self {
        Self {
            side: self.side ^ 1,
            at: 1 - self.at,
        }
    }
}

/// Always true, where a condition is asked for and there is none.
pub(crate) const ALWAYS: Lit = Lit { side: u32::MAX, at: 0 };

/// Why a bound was raised.
#[derive(Debug, Clone, Copy)]
enum Reason {
    Decision,
    /// All other statements of the clause are false.
    Clause(u32),
    /// Statements kept in the arena are all true.
    Kept {
        from: u32,
        n: u32,
    },
    /// `other + weight` was less than this, under the condition.
    Arc {
        other: Side,
        weight: i32,
        condition: Lit,
    },
}

#[derive(Debug, Clone, Copy)]
struct Entry {
    side: Side,
    old: i32,
    new: i32,
    /// The entry which raised this side before.
    before: u32,
    reason: Reason,
}

const NONE: u32 = u32::MAX;
const UNMARKED: i32 = i32::MIN;

#[derive(Debug)]
struct Clause {
    lits: Vec<Lit>,
    /// Number of levels its statements came from when it was learned: fewer is better.
    levels: u32,
    used: f32,
    learned: bool,
}

#[derive(Debug, Clone, Copy)]
struct Watch {
    clause: u32,
    /// The watched statement is false once the side it is listed under reaches this.
    false_at: i32,
}

/// `to >= from + weight`, or `to >= steps(from)`, if the condition holds.
#[derive(Debug, Clone, Copy)]
struct Arc {
    from: Side,
    to: Side,
    weight: i32,
    /// Index of a staircase that takes the weight's place, or [`NONE`].
    steps: u32,
    condition: Lit,
}

/// A function of whole numbers that never falls, with its inverse.
pub(crate) trait Staircase: std::fmt::Debug {
    /// The function's value.
    fn at(&self, value: i32) -> i32;
    /// The least argument at which the function reaches `goal`.
    fn first_to_reach(&self, goal: i32) -> i32;
}

/// A bound passed its opposite; the statements which together are impossible stand in [`Engine::clash`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Clash;

/// How a search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Status {
    /// Every variable has a value; read them before going on.
    Found,
    /// No values exist.
    Never,
    /// None exist under the assumptions.
    NotSo,
    /// The limit was reached.
    Limit,
}

/// How to choose what to try next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Taste {
    /// The variable with the least lower bound first, at that bound.
    Earliest,
    /// The variable most often met in dead ends, near its guide.
    Busiest,
}

/// Variables, constraints, what has been deduced and what has been learned.
#[derive(Debug)]
pub(crate) struct Engine<'a> {
    bound: Vec<i32>,
    latest: Vec<u32>,
    trail: Vec<Entry>,
    /// Length of the trail at each decision.
    levels: Vec<usize>,
    arena: Vec<Lit>,
    done: usize,
    clauses: Vec<Clause>,
    watches: Vec<Vec<Watch>>,
    arcs: Vec<Arc>,
    staircases: Vec<Box<dyn Staircase + 'a>>,
    arcs_from: Vec<Vec<u32>>,
    arcs_if: Vec<Vec<u32>>,
    /// For variables with holes: allowed ranges, both ends included, ascending.
    allowed: Vec<Vec<(i32, i32)>>,
    cumulatives: Vec<Cumulative>,
    cumulatives_of: Vec<Vec<u32>>,
    sums: Vec<Sum>,
    sums_of: Vec<Vec<u32>>,
    due_cumulatives: Vec<bool>,
    due_sums: Vec<bool>,
    clash: Vec<Lit>,
    marks: Vec<i32>,
    marked: Vec<u32>,
    heap: Heap,
    step: f64,
    use_step: f32,
    /// Values to lean towards; the best known.
    guide: Vec<i32>,
    /// Variables to decide by [`Taste::Earliest`], in this order of ties.
    timed: Vec<u32>,
    is_timed: Vec<bool>,
    times_last: bool,
    pub(crate) n_clashes: u64,
    /// How often a timed variable came to have a single value, assumptions not counted.
    pub(crate) n_settled: u64,
    chance: Chance,
    impossible: bool,
    most_learned: usize,
    n_learned: usize,
}

impl<'a> Engine<'a> {
    pub(crate) fn new(seed: u64) -> Self {
        Self {
            bound: Vec::new(),
            latest: Vec::new(),
            trail: Vec::new(),
            levels: Vec::new(),
            arena: Vec::new(),
            done: 0,
            clauses: Vec::new(),
            watches: Vec::new(),
            arcs: Vec::new(),
            staircases: Vec::new(),
            arcs_from: Vec::new(),
            arcs_if: Vec::new(),
            allowed: Vec::new(),
            cumulatives: Vec::new(),
            cumulatives_of: Vec::new(),
            sums: Vec::new(),
            sums_of: Vec::new(),
            due_cumulatives: Vec::new(),
            due_sums: Vec::new(),
            clash: Vec::new(),
            marks: Vec::new(),
            marked: Vec::new(),
            heap: Heap::default(),
            step: 1.0,
            use_step: 1.0,
            guide: Vec::new(),
            timed: Vec::new(),
            is_timed: Vec::new(),
            times_last: false,
            n_clashes: 0,
            n_settled: 0,
            chance: Chance::new(seed),
            impossible: false,
            most_learned: 4_000,
            n_learned: 0,
        }
    }

    pub(crate) fn least(&self, var: u32) -> i32 {
        self.bound[low(var) as usize]
    }

    pub(crate) fn most(&self, var: u32) -> i32 {
        -self.bound[high(var) as usize]
    }

    pub(crate) fn lean_towards(&mut self, var: u32, value: i32) {
        self.guide[var as usize] = value;
    }

    fn holds(&self, lit: Lit) -> bool {
        lit.side == u32::MAX || self.bound[lit.side as usize] >= lit.at
    }

    fn fails(&self, lit: Lit) -> bool {
        lit.side != u32::MAX && self.holds(lit.not())
    }

    /// Raises a bound for a reason that is already made.
    fn raise(&mut self, lit: Lit, reason: Reason) -> Result<(), Clash> {
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
    fn raise_because(&mut self, lit: Lit, because: &[Lit]) -> Result<(), Clash> {
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

    /// These cannot all hold, and do.
    fn clash_of(&mut self, because: &[Lit]) -> Result<(), Clash> {
        self.clash.clear();
        self.clash.extend_from_slice(because);
        Err(Clash)
    }

    /// Appends statements which together imply `lit`, for the reason given.
    fn explain(&self, reason: Reason, lit: Lit, because: &mut Vec<Lit>) {
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

    fn propagate(&mut self) -> Result<(), Clash> {
        let result = self.propagate_all();
        if result.is_err() {
            self.done = self.trail.len();
        }
        result
    }

    fn propagate_all(&mut self) -> Result<(), Clash> {
        loop {
            while self.done < self.trail.len() {
                let entry = self.trail[self.done];
                self.done += 1;
                self.propagate_entry(entry)?;
            }
            if let Some(index) = self.due_sums.iter().position(|&due| due) {
                self.due_sums[index] = false;
                let sum = std::mem::take(&mut self.sums[index]);
                let result = sum.propagate(self);
                self.sums[index] = sum;
                result?;
                continue;
            }
            if let Some(index) = self.due_cumulatives.iter().position(|&due| due) {
                self.due_cumulatives[index] = false;
                let mut cumulative = std::mem::take(&mut self.cumulatives[index]);
                let result = cumulative.propagate(self);
                self.cumulatives[index] = cumulative;
                result?;
                continue;
            }
            return Ok(());
        }
    }

    fn propagate_entry(&mut self, entry: Entry) -> Result<(), Clash> {
        let side = entry.side as usize;
        let var = side / 2;
        for at in 0..self.cumulatives_of[var].len() {
            self.due_cumulatives[self.cumulatives_of[var][at] as usize] = true;
        }
        for at in 0..self.sums_of[var].len() {
            self.due_sums[self.sums_of[var][at] as usize] = true;
        }
        // Where a later entry says more about the side, its arcs are drawn then.
        if self.bound[side] == entry.new {
            self.skip_hole(entry.side)?;
            for at in 0..self.arcs_from[side].len() {
                let arc = self.arcs[self.arcs_from[side][at] as usize];
                self.propagate_arc(arc)?;
            }
        }
        for at in 0..self.arcs_if[side].len() {
            let arc = self.arcs[self.arcs_if[side][at] as usize];
            if arc.condition.at > entry.old && arc.condition.at <= entry.new {
                self.propagate_arc(arc)?;
            }
        }
        self.propagate_clauses(entry)
    }

    fn propagate_arc(&mut self, arc: Arc) -> Result<(), Clash> {
        let least = self.bound[arc.from as usize];
        let needed = Lit {
            side: arc.to,
            at: self.asked(arc, least),
        };
        if self.bound[arc.to as usize] >= needed.at {
            return Ok(());
        }
        if self.holds(arc.condition) {
            if arc.steps != NONE {
                let because = [
                    Lit {
                        side: arc.from,
                        at: self.asks_from(arc, needed.at),
                    },
                    arc.condition,
                ];
                let n = if arc.condition == ALWAYS { 1 } else { 2 };
                return self.raise_because(needed, &because[..n]);
            }
            let reason = Reason::Arc {
                other: arc.from,
                weight: arc.weight,
                condition: arc.condition,
            };
            return self.raise(needed, reason);
        }
        if self.fails(needed) && !self.fails(arc.condition) {
            return self.raise_because(
                arc.condition.not(),
                &[
                    Lit {
                        side: arc.from,
                        at: least,
                    },
                    needed.not(),
                ],
            );
        }
        Ok(())
    }

    /// Moves a bound that stands in a hole to its far end.
    fn skip_hole(&mut self, side: Side) -> Result<(), Clash> {
        let ranges = &self.allowed[side as usize / 2];
        if ranges.is_empty() {
            return Ok(());
        }
        let bound = self.bound[side as usize];
        if side.is_multiple_of(2) {
            let next = ranges.partition_point(|&(_, to)| to < bound);
            let hole_from = next.checked_sub(1).map_or(i32::MIN / 4, |before| ranges[before].1 + 1);
            let to = ranges.get(next).map_or(i32::MAX / 4, |range| range.0);
            if to > bound {
                return self.raise_because(Lit { side, at: to }, &[Lit { side, at: hole_from }]);
            }
        } else {
            let value = -bound;
            let next = ranges.partition_point(|&(from, _)| from <= value);
            let to = next.checked_sub(1).map_or(i32::MIN / 4, |before| ranges[before].1);
            let hole_to = ranges.get(next).map_or(i32::MAX / 4, |range| range.0 - 1);
            if to < value {
                return self.raise_because(Lit { side, at: -to }, &[Lit { side, at: -hole_to }]);
            }
        }
        Ok(())
    }

    fn propagate_clauses(&mut self, entry: Entry) -> Result<(), Clash> {
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
    fn visit(&mut self, watch: Watch, side: Side) -> Result<bool, Clash> {
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

    fn watch(&mut self, lit: Lit, clause: u32) {
        self.watches[(lit.side ^ 1) as usize].push(Watch {
            clause,
            false_at: 1 - lit.at,
        });
    }

    fn bump(&mut self, var: u32) {
        self.heap.bump(var, self.step);
        if self.step > 1e100 {
            self.heap.rescale(1e-100);
            self.step *= 1e-100;
        }
    }

    fn back_to(&mut self, level: usize) {
        if level >= self.levels.len() {
            return;
        }
        let keep = self.levels[level];
        while self.trail.len() > keep {
            let Some(entry) = self.trail.pop() else { break };
            self.bound[entry.side as usize] = entry.old;
            self.latest[entry.side as usize] = entry.before;
            if let Reason::Kept { from, .. } = entry.reason {
                self.arena.truncate(from as usize);
            }
            self.heap.insert(entry.side / 2);
        }
        self.levels.truncate(level);
        self.done = self.trail.len();
    }

    /// Adds a statement for good.
    pub(crate) fn require(&mut self, lit: Lit) -> Result<(), Clash> {
        self.back_to(0);
        let result = self.raise(lit, Reason::Decision).and_then(|()| self.propagate());
        self.impossible |= result.is_err();
        self.settle();
        result
    }

    /// At the root nothing needs a reason any more.
    fn settle(&mut self) {
        if self.levels.is_empty() {
            for entry in self.trail.drain(..) {
                self.latest[entry.side as usize] = NONE;
            }
            self.arena.clear();
            self.done = 0;
        }
    }

    /// Everything that follows without deciding anything.
    pub(crate) fn settle_root(&mut self) -> Result<(), Clash> {
        self.back_to(0);
        if self.impossible {
            return Err(Clash);
        }
        for side in 0..self.bound.len() {
            let side = crate::number::small(side);
            let first = self.skip_hole(side);
            let result = first.and_then(|()| {
                for at in 0..self.arcs_from[side as usize].len() {
                    self.propagate_arc(self.arcs[self.arcs_from[side as usize][at] as usize])?;
                }
                Ok(())
            });
            if result.is_err() {
                self.impossible = true;
                return result;
            }
        }
        self.due_cumulatives.fill(true);
        self.due_sums.fill(true);
        let result = self.propagate();
        self.impossible |= result.is_err();
        self.settle();
        result
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
            if self.propagate().is_err() {
                self.n_clashes += 1;
                if self.clash_level() == 1 && !assumptions.is_empty() {
                    // What is assumed is assumed at once, so there is no telling which of it was too much.
                    self.back_to(0);
                    return Status::NotSo;
                }
                let Some((lits, back)) = self.learn() else {
                    self.impossible = true;
                    self.back_to(0);
                    return Status::Never;
                };
                self.back_to(back);
                self.keep(lits);
                if self.n_clashes >= until || (self.n_clashes.is_multiple_of(64) && is_over()) {
                    self.back_to(0);
                    return Status::Limit;
                }
                continue;
            }
            if self.levels.is_empty() {
                self.settle();
                if self.n_learned > self.most_learned {
                    self.forget();
                }
            }
            if self.levels.is_empty() && !assumptions.is_empty() {
                self.levels.push(self.trail.len());
                let assume = |&lit: &Lit| self.raise(lit, Reason::Decision).is_ok();
                if !assumptions.iter().all(assume) {
                    self.back_to(0);
                    return Status::NotSo;
                }
                continue;
            }
            let Some(next) = self.choose(taste) else {
                return Status::Found;
            };
            self.levels.push(self.trail.len());
            let raised = self.raise(next, Reason::Decision);
            debug_assert!(raised.is_ok(), "a decision is open");
        }
    }

    fn is_open(&self, var: u32) -> bool {
        self.least(var) < self.most(var)
    }

    fn choose(&mut self, taste: Taste) -> Option<Lit> {
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

#[cfg(test)]
mod tests {
    use super::{ALWAYS, Cumulative, Engine, Lit, Staircase, Status, Task, Taste};

    #[test]
    fn three_tasks_on_one_machine_need_the_sum_of_their_times() {
        for most in 8..=11 {
            let mut engine = Engine::new(1);
            let starts: Vec<u32> = (0..3).map(|_| engine.variable(0, most)).collect();
            let lengths = [2, 3, 5];
            let end = engine.variable(0, most);
            let mut tasks = Vec::new();
            for (&start, &length) in starts.iter().zip(&lengths) {
                engine.is_time(start);
                engine.arc(start, end, length, ALWAYS);
                tasks.push(Task { start, length, need: 1 });
            }
            engine.cumulative(Cumulative::new(tasks, 1, Vec::new()));
            let status = match engine.settle_root() {
                Err(_) => Status::Never,
                Ok(()) => engine.search(&[], 1000, Taste::Busiest, &|| false),
            };
            assert_eq!(
                status,
                if most >= 10 { Status::Found } else { Status::Never },
                "end by {most}"
            );
        }
    }

    #[derive(Debug)]
    struct Doubled;

    impl Staircase for Doubled {
        fn at(&self, value: i32) -> i32 {
            2 * value
        }

        fn first_to_reach(&self, goal: i32) -> i32 {
            goal.div_euclid(2) + goal.rem_euclid(2)
        }
    }

    #[test]
    fn a_staircase_pushes_both_ways() {
        let mut engine = Engine::new(1);
        let (a, b) = (engine.variable(2, 5), engine.variable(0, 9));
        engine.step_arc(a, b, Box::new(Doubled), ALWAYS);
        assert!(engine.settle_root().is_ok());
        assert_eq!((engine.least(b), engine.most(a)), (4, 4));
        assert!(engine.require(Lit::at_most(b, 7)).is_ok());
        assert_eq!(engine.most(a), 3);
        assert!(engine.require(Lit::at_least(a, 4)).is_err());
    }

    #[test]
    fn an_assumption_may_fail_where_the_whole_does_not() {
        let mut engine = Engine::new(1);
        let (a, b) = (engine.variable(0, 9), engine.variable(0, 9));
        let either = engine.question();
        engine.arc(a, b, 4, either);
        engine.arc(b, a, 4, either.not());
        engine.allow(a, vec![(0, 3), (7, 9)]);
        assert!(engine.settle_root().is_ok());
        assert_eq!(
            engine.search(
                &[Lit::at_least(a, 4), Lit::at_least(b, 6)],
                100,
                Taste::Busiest,
                &|| false
            ),
            Status::NotSo
        );
        assert_eq!(
            engine.search(&[Lit::at_least(a, 4)], 100, Taste::Busiest, &|| false),
            Status::Found
        );
        assert!(engine.least(a) >= 7 && engine.most(b) <= engine.least(a) - 4);
    }
}
