//! Chains put in again, with every number worked out by hand. One hand works from 480 to 720 and from 780 to 1020.

use super::{Threading, Wish};
use crate::board::Board;
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Place;
use crate::model::{Activity, ActivityId, Hand, Lag, Minute, Problem, Span, Wait};

/// Three half hours of work with an hour's wait between them, and two hours of something else.
fn chain() -> Problem {
    let mut problem = Problem {
        horizon: 2_000,
        grid: 5,
        hands: vec![Hand {
            name: "me".into(),
            periods: vec![Span::new(480, 720), Span::new(780, 1_020)],
        }],
        ..Problem::default()
    };
    for name in ["clean", "sand", "coat"] {
        problem.add(Activity::new(name, 30));
    }
    problem.add(Activity::new("other", 120));
    for step in 0..2 {
        let lag = Lag::after(ActivityId(step), ActivityId(step + 1), Wait::Minutes(60));
        problem.lags.push(lag);
    }
    problem
}

/// Where the chain of the three stands afterwards; `other` is when the other work stands, if it does.
fn starts(was: [Minute; 3], other: Option<Minute>, worth_moving: i64, late_each: i64) -> Vec<Minute> {
    let problem = chain();
    let compiled = Compiled::new(&problem);
    let mut board = Board::new(&compiled);
    if let Some(start) = other {
        let end = start + 120;
        let team = compiled.teams_of[3].first().copied();
        board.put(3, Place { start, end, team });
    }
    let was: Vec<Option<Minute>> = was.into_iter().map(Some).chain([None]).collect();
    // The coat is wanted by 820.
    let end_costs = |place: Place| late_each * (place.end - 820).max(0);
    let wish = Wish {
        was: &was,
        worth_moving,
        end_costs: &end_costs,
        overlook: 0,
    };
    let found = Threading::default().places(&board, &[0, 1, 2], &[0, 1], &wish, &mut Chance::new(1));
    found.unwrap().into_iter().map(|place| place.start).collect()
}

#[test]
fn with_nothing_in_the_way_all_go_back_to_where_they_were() {
    assert_eq!(starts([480, 600, 800], None, 20, 0), [480, 600, 800]);
}

#[test]
fn what_cannot_go_back_stands_as_near_as_it_may_and_what_follows_stays() {
    // The other work takes the hand until 600: clean from 600, sand an hour after its end at 690, and the coat stays at 800.
    assert_eq!(starts([480, 600, 800], Some(480), 20, 0), [600, 690, 800]);
}

#[test]
fn a_step_leaves_its_place_if_the_lateness_saved_is_more_than_a_move_is_worth() {
    // At 800 the coat ends ten minutes late at 3 a minute, 30 in all. Moved it goes where it ends first: completion comes before
    // closeness.
    assert_eq!(starts([480, 600, 800], None, 20, 3), [480, 600, 690]);
    assert_eq!(starts([480, 600, 800], None, 40, 3), [480, 600, 800]);
}

#[test]
fn one_early_step_moves_rather_than_two_late_ones() {
    // Sand and coat stood so that clean at 520 is too late for them: it alone moves, to 510, for sand to begin at 600.
    assert_eq!(starts([520, 600, 800], None, 20, 0), [510, 600, 800]);
}
