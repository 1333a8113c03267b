//! Search that learns from each dead end: integer variables with bounds, and clauses over statements about bounds.
//!
//! Every deduction is a raised bound with a reason. When a bound passes its opposite, the reasons are followed back to
//! a smallest recent cause (the first unique implication point), and its denial is kept as a clause for ever after
//! ("lazy clause generation", after Ohrimenko, Stuckey and Codish 2009, here with statements made only as needed).
//!
//! A variable has two *sides*, its lower bound and the negative of its upper, so that every statement reads "the side
//! is at least so much" and its denial is the same about the other side. Nothing here knows of schedules.

mod analysis;
mod branching;
mod clauses;
mod cumulative;
mod energy;
mod heap;
mod hours;
mod propagation;
mod search;
mod shared;
mod statement;
mod sum;
mod trail;

use crate::chance::Chance;
pub(crate) use cumulative::{Cumulative, Task};
pub(crate) use energy::Energy;
use heap::Heap;
pub(crate) use hours::Hours;
use shared::Shared;
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

/// `to >= from + weight`, if the condition holds; it is listed under `from`.
#[derive(Debug, Clone, Copy)]
struct Arc {
    to: Side,
    weight: i32,
    condition: Lit,
}

/// `to >= steps(from)`, if the condition holds.
#[derive(Debug, Clone, Copy)]
struct StepArc {
    from: Side,
    to: Side,
    /// Index of the staircase.
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
    /// The same, at the value it had last: what is begun anew goes on from where it was.
    Again,
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
    arcs_from: Vec<Vec<Arc>>,
    /// By the side of their condition, with the side they begin at.
    arcs_if: Vec<Vec<(Side, Arc)>>,
    staircases: Vec<Box<dyn Staircase + 'a>>,
    steps_from: Vec<Vec<StepArc>>,
    steps_if: Vec<Vec<StepArc>>,
    /// For variables with holes: allowed ranges, both ends included, ascending.
    allowed: Vec<Vec<(i32, i32)>>,
    cumulatives: Shared<Cumulative>,
    energies: Shared<Energy>,
    sums: Shared<Sum>,
    clash: Vec<Lit>,
    marks: Vec<i32>,
    marked: Vec<u32>,
    heap: Heap,
    step: f64,
    use_step: f32,
    /// Values to lean towards; the best known.
    guide: Vec<i32>,
    /// The value that each variable had last.
    last: Vec<i32>,
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
            arcs_from: Vec::new(),
            arcs_if: Vec::new(),
            staircases: Vec::new(),
            steps_from: Vec::new(),
            steps_if: Vec::new(),
            allowed: Vec::new(),
            cumulatives: Shared::new(),
            energies: Shared::new(),
            sums: Shared::new(),
            clash: Vec::new(),
            marks: Vec::new(),
            marked: Vec::new(),
            heap: Heap::default(),
            step: 1.0,
            use_step: 1.0,
            guide: Vec::new(),
            last: Vec::new(),
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

    /// Leans towards a question's being answered so.
    pub(crate) fn lean_to(&mut self, lit: Lit, holds: bool) {
        let lit = if holds { lit } else { lit.not() };
        let value = if lit.side.is_multiple_of(2) { lit.at } else { -lit.at };
        self.guide[lit.side as usize / 2] = value;
    }

    fn holds(&self, lit: Lit) -> bool {
        lit.side == u32::MAX || self.bound[lit.side as usize] >= lit.at
    }

    fn fails(&self, lit: Lit) -> bool {
        lit.side != u32::MAX && self.holds(lit.not())
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
    fn starts_that_are_assumed_are_not_counted_and_those_that_follow_are() {
        let mut engine = Engine::new(1);
        let starts: Vec<u32> = (0..3).map(|_| engine.variable(0, 9)).collect();
        starts.iter().for_each(|&start| engine.is_time(start));
        engine.arc(starts[0], starts[1], 5, ALWAYS);
        let stays = [Lit::at_least(starts[0], 4), Lit::at_most(starts[0], 4)];
        assert_eq!(engine.search(&stays, 10, Taste::Busiest, &|| false), Status::Found);
        // The first is assumed, the second follows from it (9), and the third is decided.
        assert_eq!((engine.least(starts[1]), engine.n_settled), (9, 2));
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
