//! Whatever the problem, a plan keeps every rule and scores what the checker says.

use crate::made::{Dice, problem};
use proptest::prelude::*;
use schedule::{Effort, Outcome, checker, solve};

proptest! {
    #![proptest_config(ProptestConfig { cases: 10_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_plan_keeps_every_rule(numbers in prop::collection::vec(any::<u32>(), 8..40)) {
        let problem = problem(&mut Dice::new(&numbers), 14);
        match solve(&problem, &Effort::schedules(8)) {
            Outcome::Planned(solution) => {
                prop_assert_eq!(checker::check(&problem, &solution.plan), vec![]);
                prop_assert_eq!(checker::score(&problem, &solution.plan), solution.score);
                prop_assert!(solution.bound <= solution.score);
            }
            Outcome::Refused(refusals) => prop_assert!(false, "refused: {refusals:?}"),
            Outcome::Infeasible(_) | Outcome::NotFound { .. } => {}
        }
    }
}
