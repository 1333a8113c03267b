//! What stands in a place's way, with every number worked out by hand.

use super::super::Board;
use super::Blocked;
use crate::compiled::Compiled;
use crate::draft::Place;
use crate::model::{
    Activity, ActivityId, Effect, Hold, Lag, Minute, Point, Problem, Resource, ResourceId, RoomId, Wait,
};

/// Nobody's hands are needed: only the other rules speak.
fn problem(lengths: &[Minute]) -> Problem {
    let mut problem = Problem {
        horizon: 10_000,
        ..Problem::default()
    };
    for &length in lengths {
        problem.add(Activity::unattended("", length));
    }
    problem
}

fn place(problem: &Problem, index: usize, start: Minute) -> Place {
    Place {
        start,
        end: start + problem.activities[index].duration,
        team: None,
    }
}

/// Where to try again, and whom to move to when, for the last activity at a minute while the others stand.
fn asked(problem: &Problem, stands: &[Minute], start: Minute) -> (Option<Minute>, Option<(usize, Minute)>) {
    let compiled = Compiled::new(problem);
    let mut board = Board::new(&compiled);
    for (index, &at) in stands.iter().enumerate() {
        board.put(index, place(problem, index, at));
    }
    let last = stands.len();
    let here = place(problem, last, start);
    let blocked = board.blocked_at(last, here).map(|blocked| match blocked {
        Blocked::Until { other, from } => (other, from),
        Blocked::Never => (usize::MAX, 0),
    });
    (board.later(last, here), blocked)
}

#[test]
fn a_wait_that_is_not_over_sends_it_on_and_one_that_is_over_too_long_moves_the_other() {
    let mut problem = problem(&[30, 60]);
    let mut lag = Lag::after(ActivityId(0), ActivityId(1), Wait::Minutes(120));
    lag.max = Some(Wait::Minutes(200));
    problem.lags.push(lag);
    // The first ends at 130: from 250 on, and by 330.
    assert_eq!(asked(&problem, &[100], 240), (Some(250), None));
    assert_eq!(asked(&problem, &[100], 250), (None, None));
    assert_eq!(asked(&problem, &[100], 330), (None, None));
    // Twenty minutes too late, so the first moves by as much.
    assert_eq!(asked(&problem, &[100], 350), (None, Some((0, 120))));
}

#[test]
fn nothing_is_looked_for_before_the_waits_for_what_stands_are_over() {
    let mut problem = problem(&[30, 45, 60]);
    problem
        .lags
        .push(Lag::after(ActivityId(0), ActivityId(2), Wait::Minutes(120)));
    let mut to_the_end = Lag::after(ActivityId(1), ActivityId(2), Wait::Minutes(200));
    to_the_end.to_point = Point::End;
    problem.lags.push(to_the_end);
    let mut back = Lag::after(ActivityId(2), ActivityId(1), Wait::Minutes(-1_000));
    back.max = Some(Wait::Minutes(300));
    problem.lags.push(back);
    let compiled = Compiled::new(&problem);
    let mut board = Board::new(&compiled);
    assert_eq!(board.waits_over(2), Minute::MIN, "nothing stands");
    board.put(0, place(&problem, 0, 100));
    assert_eq!(board.waits_over(2), 130 + 120);
    // It ends 200 after 545 at the earliest, and lasts 60; the other starts at 500, at most 300 after its end: less.
    board.put(1, place(&problem, 1, 500));
    assert_eq!(board.waits_over(2), 545 + 200 - 60);
    // At 2,000 the other asks for an end from 1,700 on; and 200 after its own end at 2,045 is later still.
    board.lift(1);
    board.put(1, place(&problem, 1, 2_000));
    assert_eq!(board.waits_over(2), 2_045 + 200 - 60);
    board.lift(0);
    assert_eq!(
        board.waits_over(0),
        Minute::MIN,
        "what waits for it has no longest wait"
    );
}

#[test]
fn inside_a_closed_stretch_it_waits_for_its_end() {
    let mut problem = problem(&[30, 60]);
    let mut lag = Lag::after(ActivityId(0), ActivityId(1), Wait::Minutes(0));
    lag.closed = Some((Wait::Minutes(50), Wait::Minutes(400)));
    problem.lags.push(lag);
    assert_eq!(asked(&problem, &[100], 180), (None, None), "just within");
    assert_eq!(asked(&problem, &[100], 181), (Some(530), None));
    assert_eq!(asked(&problem, &[100], 530), (None, None));
}

#[test]
fn dust_waits_until_the_last_coat_in_its_room_is_dry_and_no_longer() {
    let mut problem = problem(&[20, 20, 15]);
    let coat = |wet| {
        Some((
            RoomId(3),
            Effect::Coat {
                wet: Wait::Minutes(wet),
            },
        ))
    };
    problem.activities[0].room = coat(100);
    problem.activities[1].room = coat(30);
    problem.activities[2].room = Some((RoomId(3), Effect::Dust));
    // Wet from 0 to 120 and from 50 to 100.
    assert_eq!(asked(&problem, &[0, 50], 60), (Some(120), None));
    assert_eq!(asked(&problem, &[0, 50], 120), (None, None));
    problem.activities[2].room = Some((RoomId(4), Effect::Dust));
    assert_eq!(asked(&problem, &[0, 50], 60), (None, None), "the room next door is dry");
}

#[test]
fn a_full_rack_is_waited_for() {
    let mut problem = problem(&[10, 10, 10]);
    problem.resources.push(Resource::constant("rack", 1));
    let hold = |after: usize, until: usize| Hold {
        resource: ResourceId(0),
        amount: 1,
        after: ActivityId(after),
        until: ActivityId(until),
    };
    problem.holds.push(hold(0, 1));
    // What is put there at its end, for a minute at the least while nothing takes it off.
    problem.add(Activity::unattended("", 10));
    problem.holds.push(hold(2, 3));
    // The first lies there from 110 to 300: the other may end at 300.
    assert_eq!(asked(&problem, &[100, 300], 200), (Some(290), None));
    assert_eq!(asked(&problem, &[100, 300], 290), (None, None));
    assert_eq!(
        asked(&problem, &[100, 300], 99),
        (None, None),
        "over by 109, and gone at 110"
    );
}
