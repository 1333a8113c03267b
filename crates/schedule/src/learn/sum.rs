//! `total >= Σ weight × variable`, with positive weights.

use super::{Clash, Engine, Lit, low};

/// A weighted sum that a variable is not less than.
#[derive(Debug, Default)]
pub(crate) struct Sum {
    pub(crate) terms: Vec<(i32, u32)>,
    pub(crate) total: u32,
}

impl Sum {
    pub(super) fn variables(&self) -> impl Iterator<Item = u32> {
        self.terms.iter().map(|&(_, var)| var).chain([self.total])
    }

    pub(super) fn propagate(&self, engine: &mut Engine<'_>) -> Result<(), Clash> {
        let least: i64 = self
            .terms
            .iter()
            .map(|&(weight, var)| i64::from(weight) * i64::from(engine.least(var)))
            .sum();
        let most = i64::from(engine.most(self.total));
        let because: Vec<Lit> = self
            .terms
            .iter()
            .map(|&(_, var)| Lit {
                side: low(var),
                at: engine.least(var),
            })
            .collect();
        if least > i64::from(engine.least(self.total)) {
            let at = i32::try_from(least).unwrap_or(i32::MAX / 4).min(i32::MAX / 4);
            engine.raise_because(Lit::at_least(self.total, at), &because)?;
        }
        for (index, &(weight, var)) in self.terms.iter().enumerate() {
            let others = least - i64::from(weight) * i64::from(engine.least(var));
            let room = (most - others).div_euclid(i64::from(weight));
            if room < i64::from(engine.most(var)) {
                let room = i32::try_from(room).unwrap_or(i32::MIN / 4).max(i32::MIN / 4);
                let mut because = because.clone();
                because[index] = Lit::at_most(self.total, engine.most(self.total));
                engine.raise_because(Lit::at_most(var, room), &because)?;
            }
        }
        Ok(())
    }
}
