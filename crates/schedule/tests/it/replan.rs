//! After a slip: what it touches moves, what it does not touch stays.

use schedule::{
    Activity, ActivityId, Block, Clock, ClockId, Due, Effort, Hand, HandId, Lag, Minute, Pin, Previous, Problem,
    Solution, Span, Wait, checker, solve,
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

/// Two steps for one hand from minute 0 on, an hour each, the first due as it ends; then it may not begin before 60.
fn held_up(worth_moving_min: Minute) -> Solution {
    let mut problem = Problem {
        horizon: DAY,
        ..Problem::default()
    };
    problem.hands.push(Hand {
        name: "me".into(),
        periods: vec![Span::new(0, 480)],
    });
    let wanted = problem.add(Activity::new("wanted", 60));
    let other = problem.add(Activity::new("other", 60));
    problem.dues.push(Due {
        activity: wanted,
        at: 120,
        weight: 1,
    });
    problem.activities[wanted.0].release = 60;
    let stood = |id: ActivityId| schedule::Placement {
        start: if id == wanted { 0 } else { 60 },
        end: if id == wanted { 60 } else { 120 },
        hands: vec![HandId(0)],
        segments: vec![Span::new(0, 60)],
    };
    problem.previous = Some(Previous {
        placements: [wanted, other].map(|id| Some(stood(id))).to_vec(),
        worth_moving_min,
    });
    planned(&problem, 40)
}

/// By hand: if the other stays, the wanted one begins at 120 and is an hour late. If it moves to 0, nothing is late, and two
/// steps have moved where one had to. So it moves if a move is worth less than an hour.
#[test]
fn a_step_moves_only_if_that_saves_more_than_a_move_is_worth() {
    let starts = |solution: &Solution| [0, 1].map(|at: usize| solution.plan.placements[at].start);
    let worth_it = held_up(50);
    assert_eq!((starts(&worth_it), worth_it.score.weighted), ([60, 0], 2 * 50));
    let not = held_up(70);
    assert_eq!((starts(&not), not.score.weighted), ([120, 60], 60 + 70));
}

#[test]
fn running_late_moves_what_the_hand_was_to_do_meanwhile_and_little_else() {
    let mut problem = shop();
    let before = planned(&problem, 300);
    a_day_later(&mut problem, &before, DAY + 600);
    let start = |at: usize| before.plan.placements[at].start;
    let at_work = (0..32)
        .filter(|&at| start(at) < DAY + 600)
        .max_by_key(|&at| start(at))
        .unwrap();
    problem.activities[at_work].duration += 45;
    let until = start(at_work) + problem.activities[at_work].duration;
    let after = planned(&problem, 100);
    let begin_meanwhile = (0..32)
        .filter(|&at| (start(at_work) + 1..until).contains(&start(at)))
        .count();
    let moved = moved(&before, &after);
    assert!(
        (begin_meanwhile..=begin_meanwhile + 4).contains(&moved),
        "{moved} moved where {begin_meanwhile} had to"
    );
}

/// Every wait of the shop on one clock; in the cold it runs at half the pace for two days.
#[test]
fn a_cold_snap_holds_back_what_dries_and_little_else() {
    let mut problem = shop();
    problem.clocks.push(Clock::new(vec![(0, 10)]));
    for lag in &mut problem.lags {
        let Wait::Minutes(minutes) = lag.min else { continue };
        lag.min = Wait::Progress {
            clock: ClockId(0),
            progress: 10 * minutes,
        };
    }
    let before = planned(&problem, 300);
    a_day_later(&mut problem, &before, DAY);
    problem.clocks[0] = Clock::new(vec![(0, 10), (DAY, 5), (3 * DAY, 10)]);
    let after = planned(&problem, 100);
    let stood = |at: ActivityId| &before.plan.placements[at.0];
    let is_wet = |lag: &&Lag| match lag.min {
        Wait::Progress { progress, .. } => {
            problem.clocks[0].done_at(stood(lag.from).end, progress) > stood(lag.to).start
        }
        Wait::Minutes(_) => false,
    };
    // What is still wet when its next step was to begin, with all that follows on its chain.
    let held: usize = (0..8)
        .filter_map(|chain| {
            let first = problem
                .lags
                .iter()
                .filter(is_wet)
                .map(|lag| lag.to.0)
                .filter(|to| to / 4 == chain)
                .min()?;
            Some(4 - first % 4)
        })
        .sum();
    let moved = moved(&before, &after);
    assert!(held > 0, "the cold touches nothing");
    assert!(moved <= held + 3, "{moved} moved where the cold touched {held}");
}
