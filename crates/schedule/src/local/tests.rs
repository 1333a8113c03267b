//! Improving part by part, on four pieces of work for one hand.

use super::*;
use crate::model::{Activity, ActivityId, Due, Hand, Lag, Problem, Span, Wait};

/// Work of 40, 30, 20 and 10 minutes, each wanted at once.
fn problem() -> Problem {
    let mut problem = Problem {
        horizon: 1_000,
        grid: 5,
        hands: vec![Hand {
            name: "you".into(),
            periods: vec![Span::new(0, 1_000)],
        }],
        ..Problem::default()
    };
    for minutes in [40, 30, 20, 10] {
        let activity = problem.add(Activity::new("work", minutes));
        problem.dues.push(Due {
            activity,
            at: 0,
            weight: 1,
        });
    }
    problem
}

/// The plan with these starts is known to all.
fn known(of: &Compiled<'_>, starts: &[Minute]) -> Exchange {
    let exchange = Exchange::default();
    let draft = realise(&mut Generator::new(of), starts);
    exchange.offer(worth(of, &draft), &draft);
    exchange
}

/// By hand: the longest first end at 40, 70, 90 and 100: 300. The shortest first end at 10, 30, 60 and 100: 200, and no
/// order is better. Three move at a time, so it takes more than one part.
#[test]
fn parts_lead_from_the_worst_order_to_the_best() {
    let problem = problem();
    let of = Compiled::new(&problem);
    for seed in 1..=5 {
        let exchange = known(&of, &[0, 40, 70, 90]);
        assert_eq!(exchange.worth().unwrap().1.weighted, 300);
        let mut local = Local::new(&of, seed);
        for _ in 0..40 {
            assert!(local.try_part(&exchange, &|| false));
        }
        let (worth, draft) = exchange.better_than(None).unwrap();
        assert_eq!(worth.1.weighted, 200, "seed {seed}");
        assert_eq!(starts_of(&draft), [60, 30, 10, 0], "seed {seed}");
        assert!(
            local.starts_assigned() >= 40 * 3,
            "each part counts what is free, once at least"
        );
    }
}

/// By hand: 40 and 30 the other way round end at 70 and 30: 290, better than 300.
#[test]
fn aside_is_gone_on_from_and_forgets_nothing() {
    let problem = problem();
    let of = Compiled::new(&problem);
    let (poor, better) = ([0, 40, 70, 90], [30, 0, 70, 90]);
    let exchange = known(&of, &better);
    let mut local = Local::new(&of, 1);
    assert!(exchange.worth().is_some_and(|worth| worth.1.weighted == 290));
    local.best = exchange.better_than(None);
    local.here = local.best.clone();
    let weighted = |plan: &Option<(Worth, Draft)>| plan.as_ref().unwrap().0.1.weighted;
    local.take_over(&poor, false, &exchange);
    assert_eq!(
        (weighted(&local.here), weighted(&local.best)),
        (290, 290),
        "no gain, nothing taken over"
    );
    local.take_over(&poor, true, &exchange);
    assert_eq!(
        (weighted(&local.here), weighted(&local.best)),
        (300, 290),
        "aside on purpose"
    );
    assert_eq!(exchange.worth().unwrap().1.weighted, 290);
}

#[test]
fn without_a_plan_there_are_no_parts() {
    let problem = problem();
    let of = Compiled::new(&problem);
    let mut local = Local::new(&of, 1);
    assert!(!local.try_part(&Exchange::default(), &|| false));
    assert_eq!(local.starts_assigned(), 0);
}

/// By hand: lateness of 30 and 70 is at its least, so an end before 70 is asked for: in units of 5, before the 14th, by
/// the 13th.
#[test]
fn once_lateness_is_at_its_least_the_end_is_aimed_at() {
    let mut problem = problem();
    problem.activities.truncate(2);
    problem.dues.truncate(2);
    let of = Compiled::new(&problem);
    let exchange = known(&of, &[30, 0]);
    let (worth, _) = exchange.better_than(None).unwrap();
    assert_eq!((worth.1.weighted, worth.1.completion), (100, 70));
    let mut local = Local::new(&of, 1);
    let mut board = Board::new(&of);
    let place = crate::draft::Place {
        start: 0,
        end: 30,
        team: Some(0),
    };
    board.put(ActivityId(1).0, place);
    let mut stated = Stated::part(&board, 1).unwrap();
    let aim = local.aim(&mut stated, worth, 100).unwrap();
    assert_eq!((aim.variable, aim.below), (stated.completion, 13));
}

/// By hand: at 105 the second of a pair that may wait no more than 25 minutes begins, and one of two hands is on the
/// bench from 100. Whoever seats the pair together at first has given away the hand that is free from 90.
#[test]
fn what_was_found_is_put_down_in_the_order_of_time_so_that_a_hand_is_free_for_each() {
    let hand = |name: &str| Hand {
        name: name.into(),
        periods: vec![Span::new(0, 1_000)],
    };
    let mut problem = Problem {
        horizon: 1_000,
        grid: 5,
        hands: vec![hand("you"), hand("a friend")],
        ..Problem::default()
    };
    let steps: Vec<ActivityId> = [90, 90, 40, 60]
        .into_iter()
        .map(|minutes| problem.add(Activity::new("work", minutes)))
        .collect();
    let mut soon = Lag::after(steps[0], steps[1], Wait::Minutes(15));
    soon.max = Some(Wait::Minutes(25));
    problem.lags.push(soon);
    let of = Compiled::new(&problem);
    let starts = [0, 105, 65, 100];
    assert_eq!(starts_of(&realise(&mut Generator::new(&of), &starts)), starts);
    // A start that cannot be kept (three at 65 for two hands) moves, and everything is placed all the same.
    let moved = realise(&mut Generator::new(&of), &[0, 105, 65, 65]);
    assert_eq!((moved.missing, starts_of(&moved)[..3].to_vec()), (0, vec![0, 105, 65]));
}
