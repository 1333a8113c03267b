//! Whatever the problem, a plan keeps every rule and scores what the checker says.

use crate::made::{Dice, problem};
use proptest::prelude::*;
use schedule::{Effort, Outcome, Pin, Previous, Problem, Solution, checker, solve};

/// The same problem when some of it has begun, one open step is held up, and the plan is followed.
fn slipped(problem: &Problem, solution: &Solution, dice: &mut Dice<'_>) -> Problem {
    let mut later = problem.clone();
    let placements = &solution.plan.placements;
    let last = placements.iter().map(|placement| placement.start).max().unwrap_or(0);
    later.not_before = dice.below(last.max(1));
    for (activity, placement) in later.activities.iter_mut().zip(placements) {
        if placement.start < later.not_before {
            activity.pin = Some(Pin {
                start: placement.start,
                hands: placement.hands.clone(),
                begun: true,
            });
        }
    }
    let held = dice.index(later.activities.len());
    later.activities[held].release = placements[held].start + 10 + dice.below(600);
    later.previous = Some(Previous {
        placements: placements.iter().cloned().map(Some).collect(),
        worth_moving_min: [0, 30, 600][dice.index(3)],
    });
    later
}

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

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_replan_keeps_every_rule(numbers in prop::collection::vec(any::<u32>(), 8..60)) {
        let mut dice = Dice::new(&numbers);
        let problem = problem(&mut dice, 60);
        let Outcome::Planned(first) = solve(&problem, &Effort::schedules(4)) else { return Ok(()) };
        let later = slipped(&problem, &first, &mut dice);
        match solve(&later, &Effort::schedules(20)) {
            Outcome::Planned(solution) => {
                prop_assert_eq!(checker::check(&later, &solution.plan), vec![]);
                prop_assert_eq!(checker::score(&later, &solution.plan), solution.score);
                prop_assert!(solution.bound <= solution.score, "{:?} above {:?}", solution.bound, solution.score);
            }
            Outcome::Refused(refusals) => prop_assert!(false, "refused: {refusals:?}"),
            Outcome::Infeasible(_) | Outcome::NotFound { .. } => {}
        }
    }
}

/// Found by the property above: work of no length that may be split ends with its period, which the statement did not allow.
#[test]
fn a_bound_is_never_above_a_plan_that_exists() {
    let numbers = [
        2_397_633_493,
        4_190_547_377,
        1_183_471_830,
        333_190,
        3_782_007_396,
        1_686_918_536,
        1_011_118_570,
        148_571_095,
        3_603_484_661,
        2_361_383_567,
        1_354_762_432,
        1_566_645_074,
        3_132_357_305,
        3_788_632_771,
        2_000_527_783,
        1_201_919_662,
        2_636_417_677,
    ];
    let problem = problem(&mut Dice::new(&numbers), 14);
    let Outcome::Planned(solution) = solve(&problem, &Effort::schedules(8)) else {
        panic!("it has a plan")
    };
    assert!(
        solution.bound <= solution.score,
        "{:?} above {:?}",
        solution.bound,
        solution.score
    );
}
