//! `total >= Σ weight × variable`, with positive weights.
//!
//! An explanation says no more than it takes: what the sum has to spare is given back, whole terms first.

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
        let product = |weight: i32, value: i32| i64::from(weight) * i64::from(value);
        let least: i64 = self
            .terms
            .iter()
            .map(|&(weight, var)| product(weight, engine.least(var)))
            .sum();
        let most = engine.most(self.total);
        if least > i64::from(most) {
            let mut because = self.because(engine, least - i64::from(most) - 1, None);
            because.push(Lit::at_most(self.total, most));
            return engine.clash_of(&because);
        }
        if least > i64::from(engine.least(self.total)) {
            let at = i32::try_from(least).unwrap_or(i32::MAX / 4);
            let because = self.because(engine, 0, None);
            engine.raise_because(Lit::at_least(self.total, at), &because)?;
        }
        for (index, &(weight, var)) in self.terms.iter().enumerate() {
            let others = least - product(weight, engine.least(var));
            let room = (i64::from(most) - others).div_euclid(i64::from(weight));
            if room < i64::from(engine.most(var)) {
                let room = i32::try_from(room).unwrap_or(i32::MIN / 4).max(i32::MIN / 4);
                let spare = others + product(weight, room + 1) - i64::from(most) - 1;
                let mut because = self.because(engine, spare, Some(index));
                because.push(Lit::at_most(self.total, most));
                engine.raise_because(Lit::at_most(var, room), &because)?;
            }
        }
        Ok(())
    }

    /// Lower bounds of the terms but one, whose sum may be less by `spare`.
    fn because(&self, engine: &Engine<'_>, spare: i64, but: Option<usize>) -> Vec<Lit> {
        let mut spare = spare.max(0);
        let mut because = Vec::with_capacity(self.terms.len() + 1);
        let mut weights = Vec::with_capacity(self.terms.len());
        for (index, &(weight, var)) in self.terms.iter().enumerate() {
            let (least, root) = (engine.least(var), engine.at_root(low(var)));
            let whole = i64::from(weight) * i64::from(least - root);
            if Some(index) == but || whole <= spare {
                spare -= if Some(index) == but { 0 } else { whole };
                continue;
            }
            because.push(Lit::at_least(var, least));
            weights.push(weight);
        }
        for (lit, weight) in because.iter_mut().zip(weights) {
            let less = spare / i64::from(weight);
            lit.at -= i32::try_from(less).unwrap_or(0);
            spare -= less * i64::from(weight);
        }
        because
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Engine, Lit, Status, Taste};
    use super::Sum;

    fn engine(most: i32) -> (Engine<'static>, Vec<u32>) {
        let mut engine = Engine::new(1);
        let vars: Vec<u32> = (0..3).map(|_| engine.variable(0, 10)).collect();
        let total = engine.variable(0, most);
        let terms = vec![(2, vars[0]), (3, vars[1]), (5, vars[2])];
        engine.sum(Sum { terms, total });
        (engine, vars)
    }

    /// By hand: with the second at least 4, 30 - 12 leaves 18: at most 9 of the first, 10 of the second, 3 of the third.
    #[test]
    fn what_is_left_bounds_each_term() {
        let (mut engine, vars) = engine(30);
        assert!(engine.require(Lit::at_least(vars[1], 4)).is_ok());
        assert_eq!(vars.map_most(&engine), [9, 10, 3]);
        assert!(engine.require(Lit::at_least(vars[2], 3)).is_ok());
        assert_eq!(vars.map_most(&engine), [1, 5, 3]);
        assert!(engine.require(Lit::at_least(vars[0], 2)).is_err());
    }

    /// By hand: 2 × 4 and 5 × 2 are 18; that is 5 more than 12 and one, so 2 × 2 can be given back and the first is named with 2.
    #[test]
    fn an_explanation_gives_back_what_it_can_spare() {
        let (mut engine, vars) = engine(30);
        assert_eq!(engine.settle_root(), Ok(()));
        let assumed = [Lit::at_least(vars[0], 4), Lit::at_least(vars[2], 2)];
        assert_eq!(engine.search(&assumed, 100, Taste::Busiest, &|| false), Status::Found);
        let sum = Sum {
            terms: vec![(2, vars[0]), (3, vars[1]), (5, vars[2])],
            total: vars[2],
        };
        let (first, third) = (engine.least(vars[0]), engine.least(vars[2]));
        let second = engine.least(vars[1]);
        assert_eq!((first, second, third), (4, 0, 2));
        assert_eq!(
            sum.because(&engine, 5, None),
            [Lit::at_least(vars[0], 2), Lit::at_least(vars[2], 2)]
        );
        assert_eq!(sum.because(&engine, 8, None), [Lit::at_least(vars[2], 2)]);
        assert_eq!(sum.because(&engine, 0, Some(0)), [Lit::at_least(vars[2], 2)]);
    }

    trait Most {
        fn map_most(&self, engine: &Engine<'_>) -> [i32; 3];
    }

    impl Most for Vec<u32> {
        fn map_most(&self, engine: &Engine<'_>) -> [i32; 3] {
            [self[0], self[1], self[2]].map(|var| engine.most(var))
        }
    }
}
