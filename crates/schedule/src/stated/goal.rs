//! What is to be small: weighted lateness with completion, and completion itself.

use super::{FARTHEST, Stated, narrow};
use crate::board::Board;
use crate::compiled::Compiled;
use crate::learn::{ALWAYS, Sum};

impl Stated<'_> {
    pub(super) fn goal(&mut self, of: &Compiled<'_>, board: Option<&Board<'_>>) -> Option<()> {
        let problem = of.problem;
        let end = self.at(problem.horizon) + 1;
        let places = board.map_or(&[][..], |board| &board.places);
        let last = places.iter().flatten().map(|place| self.at(place.end)).max();
        self.completion = self.engine.variable(last.unwrap_or(0).max(0), end);
        for (index, activity) in problem.activities.iter().enumerate() {
            if self.is_out(index) {
                continue;
            }
            let length = activity.duration.div_euclid(self.grid);
            self.engine
                .arc(self.starts[index], self.completion, narrow(length), ALWAYS);
            self.is_exact &= activity.duration % self.grid == 0;
        }
        let weight = problem.completion_weight;
        if problem.dues.is_empty() && weight == 0 {
            return Some(());
        }
        let mut terms = Vec::new();
        let mut settled = 0;
        let mut most = i64::from(weight) * i64::from(end);
        for due in &problem.dues {
            if due.weight == 0 {
                continue;
            }
            let activity = &problem.activities[due.activity.0];
            if let Some(place) = places.get(due.activity.0).copied().flatten() {
                let units = (place.end - due.at).div_euclid(self.grid).max(0);
                settled += i64::from(due.weight) * units;
                continue;
            }
            let late = self.engine.variable(0, end);
            let length = (activity.duration - (due.at - self.origin)).div_euclid(self.grid);
            self.is_exact &= (activity.duration - (due.at - self.origin)) % self.grid == 0;
            self.engine
                .arc(self.starts[due.activity.0], late, narrow(length), ALWAYS);
            self.lates.push(late);
            terms.push((narrow(due.weight.into()), late));
            most += i64::from(due.weight) * i64::from(end);
        }
        if settled > 0 {
            let settled = narrow(settled);
            terms.push((1, self.engine.variable(settled, settled)));
        }
        if weight > 0 {
            terms.push((narrow(weight.into()), self.completion));
        }
        if most > FARTHEST {
            return None;
        }
        let total = self.engine.variable(0, narrow(most));
        self.engine.sum(Sum { terms, total });
        self.weighted = Some(total);
        Some(())
    }
}
