//! Weaving, on two pieces for one hand.

use super::*;
use crate::draft::Place;
use crate::model::{Activity, ActivityId, Due, Hand, Lag, Problem, Score, Span, Wait};

/// Work of 60 wanted by 40 with weight 2, and work of 10 with a closing step of 10 after 30, wanted by 50 with weight 3.
fn problem() -> Problem {
    let mut problem = Problem {
        horizon: 1_000,
        grid: 5,
        completion_weight: 1,
        hands: vec![Hand {
            name: "you".into(),
            periods: vec![Span::new(0, 1_000)],
        }],
        activities: [60, 10, 10].map(|minutes| Activity::new("step", minutes)).to_vec(),
        ..Problem::default()
    };
    problem
        .lags
        .push(Lag::after(ActivityId(1), ActivityId(2), Wait::Minutes(30)));
    for (activity, at, weight) in [(0, 40, 2), (2, 50, 3)] {
        let activity = ActivityId(activity);
        problem.dues.push(Due { activity, at, weight });
    }
    problem
}

fn place(start: Minute, minutes: Minute) -> Option<Place> {
    Some(Place {
        start,
        end: start + minutes,
        team: Some(0),
    })
}

/// By hand: the long work ends 20 too late, twice; the closing step stands nowhere, as if it ended at 1,000: 950 too
/// late, three times. Complete at 1,000. A thousandth of 2 × 60 + 3 × 1,000 for earlier ends, and one is missing.
#[test]
fn what_stands_nowhere_counts_as_if_it_ended_last_and_much_more() {
    let problem = problem();
    let of = Compiled::new(&problem);
    let mut weaver = Weaver::new(&of, 1);
    weaver.start_from(&Draft {
        places: vec![place(0, 60), place(60, 10), None],
        missing: 1,
    });
    let late = 2.0 * 20.0 + 3.0 * 950.0;
    assert!(
        (weaver.here - (late + 1_000.0 + 3.12 + 1e8)).abs() < 1e-6,
        "{}",
        weaver.here
    );
    assert_eq!((weaver.missing, weaver.group_costs.clone()), (1, vec![40, 2_850]));
}

/// By hand: a best of 1,000 lets a plan be worse by about 300 at the beginning of a round, 30 half way and 3 at its end.
#[test]
fn a_round_cools_down() {
    let problem = problem();
    let of = Compiled::new(&problem);
    let mut weaver = Weaver::new(&of, 1);
    let score = Score {
        weighted: 1_000,
        completion: 70,
        ..Score::default()
    };
    let draft = Draft {
        places: vec![None; 3],
        missing: 3,
    };
    weaver.best = Some(((0, score), draft));
    for (at, heat) in [(0, 300.0), (500, 30.0), (1_000, 3.0)] {
        weaver.round_at = at;
        assert!((weaver.heat() - heat).abs() < 1e-6, "{}", weaver.heat());
    }
}

/// By hand, with the short work first the long one must wait for the closing step or the other way round:
/// - short 0–10, closing 40–50, long 50–110: 2 × 70 late, complete at 110: 250;
/// - short 0–10, long 10–70, closing 70–80: 2 × 30 + 3 × 30, complete at 80: 230;
/// - long 0–60, short 60–70, closing 100–110: 2 × 20 + 3 × 60, complete at 110: 330.
///
/// There is no other order, and nothing is gained by beginning later.
#[test]
fn the_best_of_two_pieces_is_woven_from_a_poor_plan() {
    let problem = problem();
    let of = Compiled::new(&problem);
    for seed in 1..=5 {
        let exchange = Exchange::default();
        let mut weaver = Weaver::new(&of, seed);
        weaver.start_from(&Draft {
            places: vec![place(0, 60), place(60, 10), place(100, 10)],
            missing: 0,
        });
        weaver.advance(200, &exchange, &|| false);
        let (missing, score) = exchange.worth().unwrap();
        assert_eq!((missing, score.weighted, score.completion), (0, 230, 80), "seed {seed}");
        assert!(weaver.made() >= 200);
    }
}

#[test]
fn nothing_is_woven_once_time_is_over() {
    let problem = problem();
    let of = Compiled::new(&problem);
    let mut weaver = Weaver::new(&of, 1);
    weaver.advance(100, &Exchange::default(), &|| true);
    assert_eq!((weaver.moves, weaver.made()), (0, 0));
}
