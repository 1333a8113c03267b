//! What an engine is told: variables, the arcs between them, and what they share.

use super::{ALWAYS, Arc, Cumulative, Energy, Engine, Lit, NONE, Side, Staircase, StepArc, Sum, high, low};

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
            self.steps_from.push(Vec::new());
            self.steps_if.push(Vec::new());
        }
        self.allowed.push(Vec::new());
        self.cumulatives.add_variable();
        self.energies.add_variable();
        self.sums.add_variable();
        self.guide.push(from);
        self.last.push(from);
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

    /// No value inside these stretches (both ends included, ascending).
    pub(crate) fn forbid(&mut self, var: u32, shut: impl Iterator<Item = (i32, i32)>) {
        let ranges = &mut self.allowed[var as usize];
        for (from, to) in shut.filter(|(from, to)| from <= to) {
            if ranges.is_empty() {
                ranges.push((i32::MIN / 4, i32::MAX / 4));
            }
            let first = ranges.partition_point(|range| range.1 < from);
            let last = ranges.partition_point(|range| range.0 <= to);
            if first < last {
                let before = (ranges[first].0, from - 1);
                let after = (to + 1, ranges[last - 1].1);
                let left = [before, after].into_iter().filter(|range| range.0 <= range.1);
                ranges.splice(first..last, left);
            }
            if ranges.is_empty() {
                // Nothing is left; an empty list would mean the opposite.
                self.impossible = true;
                return;
            }
        }
    }

    /// `to >= from + weight` if the condition holds.
    pub(crate) fn arc(&mut self, from: u32, to: u32, weight: i32, condition: Lit) {
        // Said of both sides: what pushes `to` up from below pushes `from` down from above.
        self.add_arc(low(from), low(to), weight, condition);
        self.add_arc(high(to), high(from), weight, condition);
    }

    fn add_arc(&mut self, from: Side, to: Side, weight: i32, condition: Lit) {
        let arc = Arc { to, weight, condition };
        self.arcs_from[from as usize].push(arc);
        if condition != ALWAYS {
            self.arcs_if[condition.side as usize].push((from, arc));
        }
    }

    /// `to >= steps(from)` if the condition holds.
    pub(crate) fn step_arc(&mut self, from: u32, to: u32, steps: Box<dyn Staircase + 'a>, condition: Lit) {
        let index = crate::number::small(self.staircases.len());
        self.staircases.push(steps);
        for (from, to) in [(low(from), low(to)), (high(to), high(from))] {
            let arc = StepArc {
                from,
                to,
                steps: index,
                condition,
            };
            self.steps_from[from as usize].push(arc);
            if condition != ALWAYS {
                self.steps_if[condition.side as usize].push(arc);
            }
        }
    }

    /// The bound that the arc asks for, given the bound it starts from.
    pub(super) fn asked(&self, arc: StepArc, least: i32) -> i32 {
        let steps = &self.staircases[arc.steps as usize];
        if arc.from.is_multiple_of(2) {
            steps.at(least)
        } else {
            // From above: the largest argument whose result is not too large.
            1 - steps.first_to_reach(1 - least)
        }
    }

    /// The least bound from which the arc asks for as much.
    pub(super) fn asks_from(&self, arc: StepArc, asked: i32) -> i32 {
        let steps = &self.staircases[arc.steps as usize];
        if arc.from.is_multiple_of(2) {
            steps.first_to_reach(asked)
        } else {
            1 - steps.at(1 - asked)
        }
    }

    pub(crate) fn cumulative(&mut self, cumulative: Cumulative) {
        let variables: Vec<u32> = cumulative.variables().collect();
        self.cumulatives.add(cumulative, variables);
    }

    pub(crate) fn energy(&mut self, energy: Energy) {
        let variables: Vec<u32> = energy.variables().collect();
        self.energies.add(energy, variables);
    }

    pub(crate) fn sum(&mut self, sum: Sum) {
        let variables: Vec<u32> = sum.variables().collect();
        self.sums.add(sum, variables);
    }
}
