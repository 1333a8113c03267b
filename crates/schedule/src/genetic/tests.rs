//! Breeding and walking over small projects whose best length is known by hand.

use super::Breeding;
use crate::compiled::Compiled;
use crate::model::Problem;
use crate::passes::{NEVER, Passes, Timetable};
use crate::project::Project;
use crate::project::examples::{problem, two_places};

/// What a timetable must keep, counted minute by minute.
fn assert_keeps(of: &Problem, table: &Timetable) {
    let end = |at: usize| i64::from(table.start[at]) + of.activities[at].duration;
    for lag in &of.lags {
        assert!(i64::from(table.start[lag.to.0]) >= end(lag.from.0), "{lag:?}");
    }
    let n = of.activities.len();
    for minute in 0..i64::from(table.length) {
        let at_work = (0..n).filter(|&at| i64::from(table.start[at]) <= minute && minute < end(at));
        let used: u32 = at_work.map(|at| of.activities[at].uses[0].amount).sum();
        assert!(used <= of.resources[0].most(), "minute {minute}");
    }
    assert_eq!((0..n).map(end).max(), Some(i64::from(table.length)));
}

#[test]
fn the_longest_first_takes_eleven_and_breeding_finds_the_ten() {
    let problem = two_places();
    let compiled = Compiled::new(&problem);
    let project = Project::of(&compiled).unwrap();
    let mut table = Timetable::default();
    Passes::new(&project).pass(&project.forward, &[0, 1, 2, 3, 4], NEVER, None, &mut table);
    assert_eq!((table.start.as_slice(), table.length), ([0, 0, 5, 5, 8].as_slice(), 11));
    let mut breeding = Breeding::new(&project, 1);
    breeding.advance(200, 200, &|| false);
    assert_eq!(breeding.best().length, 10);
    assert_eq!(breeding.bound(), 10);
    assert_keeps(&problem, breeding.best());
}

/// A project whose best is above every bound of [`Project::bound`] (41 place-minutes in 3 places: 14): the three steps
/// that need two places are never side by side (4 + 4 + 6 minutes), and the one that needs three stands alone.
fn with_a_gap() -> Problem {
    problem(
        3,
        &[(4, 2), (4, 2), (6, 2), (2, 1), (3, 1), (5, 1), (1, 3)],
        &[(0, 3), (3, 6), (1, 4), (6, 5)],
    )
}

#[test]
fn the_walk_stays_among_the_best_and_goes_on_where_it_stood() {
    let problem = with_a_gap();
    let compiled = Compiled::new(&problem);
    let project = Project::of(&compiled).unwrap();
    let mut breeding = Breeding::new(&project, 1);
    breeding.advance(40, 40, &|| false);
    assert!(breeding.best().length >= 15 && breeding.bound() == 14);
    assert!(breeding.here().is_none(), "all bred, nothing walked");
    let mut met = std::collections::BTreeSet::new();
    for turn in 1..=30_u64 {
        let before = breeding.made();
        breeding.advance(40 + 5 * turn, 40, &|| false);
        assert!(breeding.made() > before, "turn {turn}");
        let here = breeding.here().unwrap();
        assert_eq!(here.length, breeding.best().length, "turn {turn}");
        assert_keeps(&problem, &here);
        met.insert(here.start);
    }
    assert!(met.len() > 1, "the walk moves on: {met:?}");
}

#[test]
fn a_better_plan_from_elsewhere_is_walked_on_from() {
    let problem = with_a_gap();
    let compiled = Compiled::new(&problem);
    let project = Project::of(&compiled).unwrap();
    let mut best = Breeding::new(&project, 1);
    best.advance(400, 400, &|| false);
    let mut breeding = Breeding::new(&project, 2);
    breeding.best = one_after_another(&problem);
    breeding.advance(3, 1, &|| false);
    let (start, length) = (best.best().start.clone(), best.best().length);
    breeding.learn_of(&start, length);
    breeding.advance(breeding.made() + 5, 1, &|| false);
    assert_eq!(breeding.here().map(|here| here.length), Some(length));
}

/// All in a row, in an order that keeps what follows what.
fn one_after_another(of: &Problem) -> Timetable {
    let mut start = vec![0; of.activities.len()];
    let mut length = 0;
    for at in [0, 1, 2, 3, 4, 6, 5] {
        start[at] = length;
        length += i32::try_from(of.activities[at].duration).unwrap();
    }
    Timetable { start, length }
}

#[test]
fn who_was_found_before_is_among_the_first_members() {
    let problem = with_a_gap();
    let compiled = Compiled::new(&problem);
    let project = Project::of(&compiled).unwrap();
    let mut known = Breeding::new(&project, 1);
    known.advance(300, 300, &|| false);
    let mut breeding = Breeding::new(&project, 2);
    breeding.begin_with(std::slice::from_ref(known.best()));
    // Two passes push the elder to the end and to the beginning; a newcomer would take one more to be made at all.
    breeding.advance(1, 300, &|| false);
    assert_eq!((breeding.made(), breeding.members[0].len()), (2, 1));
    assert_eq!(breeding.best().length, known.best().length);
    assert_keeps(&problem, breeding.best());
    breeding.advance(60, 300, &|| false);
    assert_eq!(breeding.members[1].len(), 1 + super::NEWCOMERS);
}

#[test]
fn what_is_disturbed_is_another_schedule_of_the_same_project() {
    let problem = with_a_gap();
    let compiled = Compiled::new(&problem);
    let project = Project::of(&compiled).unwrap();
    let mut breeding = Breeding::new(&project, 1);
    breeding.advance(100, 100, &|| false);
    let best = breeding.best().clone();
    let mut met = std::collections::BTreeSet::new();
    for _ in 0..30 {
        let before = breeding.made();
        let disturbed = breeding.disturbed(&best);
        assert_keeps(&problem, &disturbed);
        // Improved twice, and at most four before that, of which some are given up half way.
        assert!((3..=6).contains(&(breeding.made() - before)));
        met.insert(disturbed.start);
    }
    assert!(met.len() > 1 && met.iter().any(|start| *start != best.start), "{met:?}");
}

#[test]
fn those_chosen_are_unlike_each_other_and_the_shortest_comes_first() {
    let problem = with_a_gap();
    let compiled = Compiled::new(&problem);
    let project = Project::of(&compiled).unwrap();
    let mut breeding = Breeding::new(&project, 1);
    assert!(breeding.unlike(5).is_empty(), "nothing bred yet");
    let table = |start: [i32; 7], length| Timetable {
        start: start.to_vec(),
        length,
    };
    let shortest = table([0, 4, 8, 4, 8, 15, 14], 20);
    breeding.best = shortest.clone();
    // The first stands as the best does but for two of seven, give or take one; the second is another altogether.
    let (like, other) = (
        table([0, 4, 8, 5, 9, 20, 19], 25),
        table([10, 6, 0, 14, 10, 17, 16], 22),
    );
    breeding.members[0] = vec![like, other.clone()];
    assert_eq!(breeding.unlike(5), [shortest.clone(), other]);
    assert_eq!(breeding.unlike(1), [shortest]);
}
