//! After a slip: what it touches moves, what it does not touch stays.

use schedule::{
    Activity, ActivityId, Block, Effort, Hand, HandId, Lag, Minute, Pin, Previous, Problem, Solution, Span, Wait,
    checker, solve,
};

const DAY: Minute = 1440;

/// Eight chains of four steps with waits between, one hand, two weeks.
fn shop() -> Problem {
    let mut problem = Problem {
        horizon: 14 * DAY,
        grid: 5,
        ..Problem::default()
    };
    let periods = (0..14)
        .map(|day| Span::new(day * DAY + 540, day * DAY + 1020))
        .collect();
    problem.hands.push(Hand {
        name: "me".into(),
        periods,
    });
    for chain in 0..8 {
        let mut before: Option<ActivityId> = None;
        for step in 0..4 {
            let id = problem.add(Activity::new(format!("chain {chain} step {step}"), 25 + 5 * chain));
            if let Some(before) = before {
                problem
                    .lags
                    .push(Lag::after(before, id, Wait::Minutes(240 + 60 * step)));
            }
            before = Some(id);
        }
    }
    problem
}

fn planned(problem: &Problem, schedules: u64) -> Solution {
    let outcome = solve(problem, &Effort::schedules(schedules));
    let solution = outcome.solution().unwrap_or_else(|| panic!("{outcome:?}")).clone();
    assert_eq!(checker::check(problem, &solution.plan), vec![]);
    solution
}

/// The same shop a day later: what has started is begun, the rest had its place.
fn a_day_later(problem: &mut Problem, before: &Solution, now: Minute) {
    for (activity, placement) in problem.activities.iter_mut().zip(&before.plan.placements) {
        if placement.start < now {
            activity.pin = Some(Pin {
                start: placement.start,
                hands: placement.hands.clone(),
                begun: true,
            });
        }
    }
    problem.not_before = now;
    let placements = before.plan.placements.iter().cloned().map(Some).collect();
    problem.previous = Some(Previous {
        placements,
        worth_moving_min: 600,
    });
}

fn moved(before: &Solution, after: &Solution) -> usize {
    before
        .plan
        .placements
        .iter()
        .zip(&after.plan.placements)
        .filter(|(a, b)| a.start != b.start)
        .count()
}

#[test]
fn nothing_happened_and_nothing_moves() {
    let mut problem = shop();
    let before = planned(&problem, 300);
    a_day_later(&mut problem, &before, DAY);
    assert_eq!(moved(&before, &planned(&problem, 300)), 0);
}

#[test]
fn still_tacky_moves_little_but_what_waits() {
    let mut problem = shop();
    let before = planned(&problem, 300);
    a_day_later(&mut problem, &before, DAY);
    let slipped = (0..32)
        .find(|&at| before.plan.placements[at].start >= DAY && at % 4 > 0)
        .unwrap();
    problem.activities[slipped].release = before.plan.placements[slipped].start + 300;
    let after = planned(&problem, 300);
    assert!(after.plan.placements[slipped].start >= problem.activities[slipped].release);
    let of_others = moved(&before, &after).saturating_sub(4 - slipped % 4);
    assert!(of_others <= 3, "{of_others} steps of other chains moved");
}

#[test]
fn a_day_off_moves_that_day_and_no_more_than_it_must() {
    let mut problem = shop();
    let before = planned(&problem, 300);
    a_day_later(&mut problem, &before, DAY);
    let off = Span::new(DAY, 2 * DAY);
    problem.blocks.push(Block {
        name: "away".into(),
        hand: Some(HandId(0)),
        span: off,
    });
    let after = planned(&problem, 300);
    assert!(
        after
            .plan
            .placements
            .iter()
            .all(|p| p.start < DAY || p.start >= 2 * DAY)
    );
    let on_that_day = |p: &&schedule::Placement| off.from <= p.start && p.start < off.to;
    let hit = before.plan.placements.iter().filter(on_that_day).count();
    assert!(moved(&before, &after) >= hit);
}
