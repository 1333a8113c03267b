//! How much better is asked for where everything is searched.
//!
//! What is asked for halfway to the bound is found or refuted sooner than what is a little better: found, much is gained;
//! refuted, the bound has come so much closer.

use crate::chance::Chance;
use crate::learn::{Lit, Status, Taste};
use crate::stated::Stated;

/// One of these parts of the way from what is better to the bound is asked for; 0 for anything better.
const WAYS: [i32; 4] = [0, 2, 4, 8];

/// A value between the bound `least` and `below`, which would be better than the best.
pub(super) fn asked(below: i32, least: i32, chance: &mut Chance) -> Option<i32> {
    let way = WAYS[chance.below(WAYS.len())];
    let gain = if way == 0 { 0 } else { (below - least) / way };
    (gain > 0 && below - gain > least).then_some(below - gain)
}

/// Searches everything, for what meets the goal if there is one. A goal that is refuted is refuted for good.
pub(super) fn search(
    stated: &mut Stated<'_>,
    goal: Option<Lit>,
    clashes: u64,
    taste: Taste,
    is_over: &dyn Fn() -> bool,
) -> Status {
    let status = stated.engine.search(goal.as_slice(), clashes, taste, is_over);
    match goal.filter(|_| status == Status::NotSo) {
        Some(goal) if stated.engine.require(goal.not()).is_ok() => Status::Limit,
        Some(_) => Status::Never,
        None => status,
    }
}

#[cfg(test)]
mod tests {
    use super::{asked, search};
    use crate::chance::Chance;
    use crate::compiled::Compiled;
    use crate::learn::{Lit, Status, Taste};
    use crate::model::{Activity, Problem, Resource, ResourceId, Use};
    use crate::stated::Stated;
    use std::collections::BTreeSet;

    #[test]
    fn anything_better_is_asked_for_or_some_part_of_the_way_to_the_bound() {
        let drawn = |below, least| -> BTreeSet<Option<i32>> {
            let mut chance = Chance::new(1);
            (0..100).map(|_| asked(below, least, &mut chance)).collect()
        };
        assert_eq!(drawn(180, 100), BTreeSet::from([None, Some(140), Some(160), Some(170)]));
        assert_eq!(drawn(103, 100), BTreeSet::from([None, Some(102)]));
        assert_eq!(drawn(101, 100), BTreeSet::from([None]));
    }

    /// Five of four minutes on a resource for two: each of the two places has room for whole ones only, so that one has
    /// three: 12, where energy alone says 10.
    #[test]
    fn a_goal_that_is_refuted_becomes_the_bound_and_one_that_is_met_is_found() {
        let mut problem = Problem {
            horizon: 100,
            resources: vec![Resource::constant("rack", 2)],
            ..Problem::default()
        };
        for _ in 0..5 {
            let id = problem.add(Activity::unattended("", 4));
            problem.activities[id.0].uses.push(Use {
                resource: ResourceId(0),
                amount: 1,
            });
        }
        let of = Compiled::new(&problem);
        let mut stated = Stated::new(&of, 1).unwrap();
        assert!(stated.settle().is_ok());
        let end = stated.completion;
        assert!(stated.engine.least(end) < 11);
        let mut asked = |most| {
            search(
                &mut stated,
                Some(Lit::at_most(end, most)),
                1_000,
                Taste::Busiest,
                &|| false,
            )
        };
        assert_eq!(asked(11), Status::Limit);
        assert_eq!(asked(12), Status::Found);
        assert_eq!(stated.engine.least(end), 12);
        let met = search(&mut stated, Some(Lit::at_most(end, 10)), 1_000, Taste::Busiest, &|| {
            false
        });
        assert_eq!((met, stated.engine.least(end)), (Status::Limit, 12), "refuted before");
    }
}
