//! Openings, with every number worked out by hand. One hand works from 480 to 720 and from 780 to 1020, starts lie on fives.

use super::super::Board;
use crate::compiled::Compiled;
use crate::draft::Place;
use crate::model::{
    Activity, ActivityId, Breaks, Effect, Hand, Lag, Minute, Problem, ProductId, Resource, ResourceId, RoomId, Span,
    Use, Wait,
};

fn day() -> Problem {
    Problem {
        horizon: 2_000,
        grid: 5,
        hands: vec![Hand {
            name: "me".into(),
            periods: vec![Span::new(480, 720), Span::new(780, 1_020)],
        }],
        ..Problem::default()
    }
}

/// Where the last activity could start while those before it stand at these minutes: first and last start, and length.
fn openings(problem: &Problem, stands: &[Minute]) -> Vec<(Minute, Minute, Minute)> {
    openings_with(problem, stands, true)
}

fn openings_with(problem: &Problem, stands: &[Minute], by_hand: bool) -> Vec<(Minute, Minute, Minute)> {
    let compiled = Compiled::new(problem);
    let mut board = Board::new(&compiled);
    for (index, &start) in stands.iter().enumerate() {
        let team = compiled.teams_of[index].first().copied();
        let end = start + problem.activities[index].duration;
        board.put(index, Place { start, end, team });
    }
    let mut found = Vec::new();
    board.openings(stands.len(), 0, problem.horizon, by_hand, &mut found);
    found
        .iter()
        .map(|opening| (opening.from, opening.to, opening.length))
        .collect()
}

#[test]
fn an_hours_work_begins_an_hour_before_a_period_ends_at_the_latest() {
    let mut problem = day();
    problem.add(Activity::new("work", 60));
    assert_eq!(openings(&problem, &[]), [(480, 660, 60), (780, 960, 60)]);
}

#[test]
fn what_a_hand_does_already_is_cut_out_unless_hands_are_left_out_of_account() {
    let mut problem = day();
    problem.add(Activity::new("other", 60));
    problem.add(Activity::new("work", 60));
    // Over by 540, or from 600 on.
    assert_eq!(
        openings(&problem, &[540]),
        [(480, 480, 60), (600, 660, 60), (780, 960, 60)]
    );
    assert_eq!(openings_with(&problem, &[540], false), [(480, 660, 60), (780, 960, 60)]);
}

#[test]
fn a_gap_too_short_for_it_is_no_opening() {
    let mut problem = day();
    for _ in 0..2 {
        problem.add(Activity::new("other", 60));
    }
    problem.add(Activity::new("work", 45));
    // Between 540 and 580 lie forty minutes; 640 to 720 is long enough from 640 to 675.
    assert_eq!(openings(&problem, &[480, 580]), [(640, 675, 45), (780, 975, 45)]);
}

#[test]
fn a_hand_cleans_up_before_another_product_and_after_its_own() {
    let mut problem = day();
    problem.clean_up_min = vec![15, 10];
    let mut other = Activity::new("other", 60);
    other.product = Some(ProductId(0));
    let mut work = Activity::new("work", 60);
    work.product = Some(ProductId(1));
    problem.add(other);
    problem.add(work);
    // After 600 and fifteen minutes' washing; before 540 it would have to be washed out by then: begun by 470.
    assert_eq!(openings(&problem, &[540]), [(615, 660, 60), (780, 960, 60)]);
    problem.activities[1].product = Some(ProductId(0));
    assert_eq!(
        openings(&problem, &[540])[1],
        (600, 660, 60),
        "the same product needs no washing"
    );
}

#[test]
fn a_wait_opens_closes_and_opens_again() {
    let mut problem = day();
    let coat = problem.add(Activity::new("coat", 20));
    let next = problem.add(Activity::new("next coat", 60));
    let mut lag = Lag::after(coat, next, Wait::Minutes(20));
    lag.closed = Some((Wait::Minutes(60), Wait::Minutes(300)));
    problem.lags.push(lag);
    // The coat ends at 500: from 520 to 560, or from 800 on.
    assert_eq!(openings(&problem, &[480]), [(520, 560, 60), (800, 960, 60)]);
    problem.lags[0].closed = None;
    problem.lags[0].max = Some(Wait::Minutes(90));
    assert_eq!(openings(&problem, &[480]), [(520, 590, 60)]);
}

#[test]
fn what_comes_before_a_placed_one_must_leave_it_its_wait() {
    let mut problem = day();
    let next = problem.add(Activity::new("next coat", 60));
    let coat = problem.add(Activity::new("coat", 20));
    problem.lags.push(Lag::after(coat, next, Wait::Minutes(100)));
    // The next coat at 660 asks for an end by 560.
    assert_eq!(openings(&problem, &[660]), [(480, 540, 20)]);
}

#[test]
fn split_work_goes_over_the_break_and_ends_within_the_day() {
    let mut problem = day();
    let mut long = Activity::new("strip", 300);
    long.breaks = Breaks::Split;
    problem.add(long);
    // Begun at 480 it ends at 840, begun at 660 at 1020, always with the hour between; later it does not end at all.
    assert_eq!(openings(&problem, &[]), [(480, 660, 360)]);
}

#[test]
fn dust_keeps_away_from_what_is_wet_and_what_will_be_wet_from_dust() {
    let wet = Effect::Coat { wet: Wait::Minutes(60) };
    let mut coat = Activity::new("coat", 30);
    coat.room = Some((RoomId(1), wet));
    let mut sand = Activity::new("sand", 60);
    sand.room = Some((RoomId(1), Effect::Dust));
    for activity in [&mut coat, &mut sand] {
        activity.hands = 0;
    }
    let mut one_way = day();
    one_way.horizon = 900;
    one_way.add(coat.clone());
    one_way.add(sand.clone());
    // Wet from 540 to 630: over by 540, or from 630 on.
    assert_eq!(openings(&one_way, &[540]), [(0, 480, 60), (630, 840, 60)]);
    let mut other_way = day();
    other_way.horizon = 900;
    other_way.add(sand);
    other_way.add(coat);
    // Dust from 600 to 660: dry by 600 means begun by 510, or from 660 on.
    assert_eq!(openings(&other_way, &[600]), [(0, 510, 30), (660, 870, 30)]);
}

#[test]
fn dust_that_comes_thick_is_cut_out_whole_for_a_coat_and_in_parts_for_dust() {
    let mut problem = day();
    problem.horizon = 900;
    for _ in 0..3 {
        let mut sand = Activity::new("sand", 20);
        sand.hands = 0;
        sand.room = Some((RoomId(1), Effect::Dust));
        problem.add(sand);
    }
    let mut coat = Activity::new("coat", 30);
    coat.hands = 0;
    coat.room = Some((RoomId(1), Effect::Coat { wet: Wait::Minutes(40) }));
    problem.add(coat);
    // Dust at 200, 250 and 400: between 220 and 250 nothing dries, between 270 and 400 seventy minutes do, begun by 330.
    assert_eq!(
        openings(&problem, &[200, 250, 400]),
        [(0, 130, 30), (270, 330, 30), (420, 870, 30)]
    );
}

#[test]
fn start_windows_and_the_release_bind_the_start_alone() {
    let mut problem = day();
    let mut work = Activity::new("work", 60);
    work.start_windows = vec![Span::new(500, 520), Span::new(650, 800)];
    work.release = 508;
    problem.add(work);
    assert_eq!(
        openings(&problem, &[]),
        [(510, 515, 60), (650, 660, 60), (780, 795, 60)]
    );
}

#[test]
fn a_tool_in_use_is_waited_for() {
    let mut problem = day();
    problem.resources.push(Resource::constant("sander", 1));
    let uses = vec![Use {
        resource: ResourceId(0),
        amount: 1,
    }];
    let mut other = Activity::unattended("other", 100);
    other.uses.clone_from(&uses);
    let mut work = Activity::new("work", 60);
    work.uses = uses;
    problem.add(other);
    problem.add(work);
    // In use from 600 to 700.
    assert_eq!(openings(&problem, &[600]), [(480, 540, 60), (780, 960, 60)]);
}

#[test]
fn a_deadline_is_for_the_end_and_every_team_has_its_own_openings() {
    let mut problem = day();
    problem.hands.push(Hand {
        name: "another".into(),
        periods: vec![Span::new(600, 700)],
    });
    let work = problem.add(Activity::new("work", 60));
    problem.activities[work.0].deadline = Some(660);
    assert_eq!(openings(&problem, &[]), [(480, 600, 60), (600, 600, 60)]);
    assert_eq!(work, ActivityId(0));
}
