//! What follows from what: each raised bound is followed along its arcs, into its clauses, and to what is shared.

use super::{ALWAYS, Arc, Clash, Engine, Entry, Lit, Reason, Side, StepArc};

impl Engine<'_> {
    pub(super) fn propagate(&mut self) -> Result<(), Clash> {
        let result = self.propagate_all();
        if result.is_err() {
            self.done = self.trail.len();
        }
        result
    }

    pub(super) fn propagate_all(&mut self) -> Result<(), Clash> {
        loop {
            while self.done < self.trail.len() {
                let entry = self.trail[self.done];
                self.done += 1;
                self.propagate_entry(entry)?;
            }
            if let Some((index, sum)) = self.sums.take_due() {
                let result = sum.propagate(self);
                self.sums.put_back(index, sum);
                result?;
            } else if let Some((index, mut cumulative)) = self.cumulatives.take_due() {
                let result = cumulative.propagate(self);
                self.cumulatives.put_back(index, cumulative);
                result?;
            } else if let Some((index, mut energy)) = self.energies.take_due() {
                let result = energy.propagate(self);
                self.energies.put_back(index, energy);
                result?;
            } else {
                return Ok(());
            }
        }
    }

    fn propagate_entry(&mut self, entry: Entry) -> Result<(), Clash> {
        let side = entry.side as usize;
        let var = side / 2;
        self.cumulatives.touch(var);
        self.energies.touch(var);
        self.sums.touch(var);
        // Where a later entry says more about the side, its arcs are drawn then.
        if self.bound[side] == entry.new {
            self.skip_hole(entry.side)?;
            if self.bound[side] == entry.new {
                self.draw_arcs(entry.side)?;
            }
        }
        self.draw_arcs_if(entry)?;
        self.propagate_clauses(entry)
    }

    /// Follows all arcs that begin at a side.
    pub(super) fn draw_arcs(&mut self, side: Side) -> Result<(), Clash> {
        let least = self.bound[side as usize];
        let arcs = std::mem::take(&mut self.arcs_from[side as usize]);
        let mut result = Ok(());
        for arc in &arcs {
            let asked = least + arc.weight;
            if self.bound[arc.to as usize] < asked {
                result = self.draw(side, arc, asked);
                if result.is_err() {
                    break;
                }
            }
        }
        self.arcs_from[side as usize] = arcs;
        result?;
        for at in 0..self.steps_from[side as usize].len() {
            self.draw_steps(self.steps_from[side as usize][at])?;
        }
        Ok(())
    }

    /// Follows the arcs whose condition has come true.
    fn draw_arcs_if(&mut self, entry: Entry) -> Result<(), Clash> {
        let side = entry.side as usize;
        for at in 0..self.arcs_if[side].len() {
            let (from, arc) = self.arcs_if[side][at];
            if arc.condition.at > entry.old && arc.condition.at <= entry.new {
                let asked = self.bound[from as usize] + arc.weight;
                if self.bound[arc.to as usize] < asked {
                    self.draw(from, &arc, asked)?;
                }
            }
        }
        for at in 0..self.steps_if[side].len() {
            let arc = self.steps_if[side][at];
            if arc.condition.at > entry.old && arc.condition.at <= entry.new {
                self.draw_steps(arc)?;
            }
        }
        Ok(())
    }

    /// An arc asks for more than there is: raise it, or see that its condition cannot hold.
    fn draw(&mut self, from: Side, arc: &Arc, asked: i32) -> Result<(), Clash> {
        let needed = Lit {
            side: arc.to,
            at: asked,
        };
        if self.holds(arc.condition) {
            let reason = Reason::Arc {
                other: from,
                weight: arc.weight,
                condition: arc.condition,
            };
            return self.raise(needed, reason);
        }
        self.doubt(needed, arc.condition, from)
    }

    /// If what would be needed under a condition cannot be, the condition does not hold.
    fn doubt(&mut self, needed: Lit, condition: Lit, from: Side) -> Result<(), Clash> {
        if !self.fails(needed) || self.fails(condition) {
            return Ok(());
        }
        let because = Lit {
            side: from,
            at: self.bound[from as usize],
        };
        self.raise_because(condition.not(), &[because, needed.not()])
    }

    fn draw_steps(&mut self, arc: StepArc) -> Result<(), Clash> {
        let needed = Lit {
            side: arc.to,
            at: self.asked(arc, self.bound[arc.from as usize]),
        };
        if self.bound[arc.to as usize] >= needed.at {
            return Ok(());
        }
        if !self.holds(arc.condition) {
            return self.doubt(needed, arc.condition, arc.from);
        }
        let because = [
            Lit {
                side: arc.from,
                at: self.asks_from(arc, needed.at),
            },
            arc.condition,
        ];
        let n = if arc.condition == ALWAYS { 1 } else { 2 };
        self.raise_because(needed, &because[..n])
    }

    /// Moves a bound that stands in a hole to its far end.
    pub(super) fn skip_hole(&mut self, side: Side) -> Result<(), Clash> {
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
}
