//! What an engine is told: variables, the arcs between them, and what they share.

use super::{ALWAYS, Arc, Cumulative, Engine, Lit, NONE, Staircase, Sum, high, low};

impl<'a> Engine<'a> {
    /// A variable with values from `from` to `to`, both included.
    pub(crate) fn variable(&mut self, from: i32, to: i32) -> u32 {
        let var = crate::number::small(self.guide.len());
        self.bound.extend([from, -to]);
        self.latest.extend([NONE, NONE]);
        for _ in 0..2 {
            self.watches.push(Vec::new());
            self.arcs_from.push(Vec::new());
            self.arcs_if.push(Vec::new());
        }
        self.allowed.push(Vec::new());
        self.cumulatives_of.push(Vec::new());
        self.sums_of.push(Vec::new());
        self.guide.push(from);
        self.is_timed.push(false);
        self.heap.add();
        self.impossible |= from > to;
        var
    }

    /// A variable which stands for yes (1) or no (0).
    pub(crate) fn question(&mut self) -> Lit {
        Lit::at_least(self.variable(0, 1), 1)
    }

    /// Start times are decided only after everything else: for problems which are settled by their orders.
    pub(crate) fn decide_times_last(&mut self) {
        self.times_last = true;
    }

    /// Marks a variable as a start time.
    pub(crate) fn is_time(&mut self, var: u32) {
        self.timed.push(var);
        self.is_timed[var as usize] = true;
    }

    /// Only values inside these ranges (both ends included, ascending).
    pub(crate) fn allow(&mut self, var: u32, ranges: Vec<(i32, i32)>) {
        self.allowed[var as usize] = ranges;
    }

    /// `to >= from + weight` if the condition holds.
    pub(crate) fn arc(&mut self, from: u32, to: u32, weight: i32, condition: Lit) {
        // Said of both sides: what pushes `to` up from below pushes `from` down from above.
        self.add_arc(Arc {
            from: low(from),
            to: low(to),
            weight,
            steps: NONE,
            condition,
        });
        self.add_arc(Arc {
            from: high(to),
            to: high(from),
            weight,
            steps: NONE,
            condition,
        });
    }

    /// `to >= steps(from)` if the condition holds.
    pub(crate) fn step_arc(&mut self, from: u32, to: u32, steps: Box<dyn Staircase + 'a>, condition: Lit) {
        let index = crate::number::small(self.staircases.len());
        self.staircases.push(steps);
        self.add_arc(Arc {
            from: low(from),
            to: low(to),
            weight: 0,
            steps: index,
            condition,
        });
        self.add_arc(Arc {
            from: high(to),
            to: high(from),
            weight: 0,
            steps: index,
            condition,
        });
    }

    /// The bound that the arc asks for, given the bound it starts from.
    pub(super) fn asked(&self, arc: Arc, least: i32) -> i32 {
        match self.staircases.get(arc.steps as usize) {
            None => least + arc.weight,
            Some(steps) if arc.from.is_multiple_of(2) => steps.at(least),
            // From above: the largest argument whose result is not too large.
            Some(steps) => 1 - steps.first_to_reach(1 - least),
        }
    }

    /// The least bound from which the arc asks for as much.
    pub(super) fn asks_from(&self, arc: Arc, asked: i32) -> i32 {
        match self.staircases.get(arc.steps as usize) {
            None => asked - arc.weight,
            Some(steps) if arc.from.is_multiple_of(2) => steps.first_to_reach(asked),
            Some(steps) => 1 - steps.at(1 - asked),
        }
    }

    fn add_arc(&mut self, arc: Arc) {
        let index = crate::number::small(self.arcs.len());
        self.arcs.push(arc);
        self.arcs_from[arc.from as usize].push(index);
        if arc.condition != ALWAYS {
            self.arcs_if[arc.condition.side as usize].push(index);
        }
    }

    pub(crate) fn cumulative(&mut self, cumulative: Cumulative) {
        let index = crate::number::small(self.cumulatives.len());
        for var in cumulative.variables() {
            self.cumulatives_of[var as usize].push(index);
        }
        self.cumulatives.push(cumulative);
        self.due_cumulatives.push(true);
    }

    pub(crate) fn sum(&mut self, sum: Sum) {
        let index = crate::number::small(self.sums.len());
        for var in sum.variables() {
            self.sums_of[var as usize].push(index);
        }
        self.sums.push(sum);
        self.due_sums.push(true);
    }
}
