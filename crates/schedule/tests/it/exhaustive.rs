//! Small problems against every way there is: no order, no propagation, just all starts and the checker.

use crate::made::Dice;
use schedule::{
    Activity, ActivityId, Clock, ClockId, Due, Effect, Effort, Hand, HandId, Lag, Outcome, Placement, Plan, Problem,
    Resource, ResourceId, RoomId, Score, Span, Use, Wait, checker, solve,
};

const UNIT: i64 = 5;
const UNITS: i64 = 13;

fn small_problem(dice: &mut Dice<'_>) -> Problem {
    let mut problem = Problem {
        horizon: UNIT * UNITS,
        grid: UNIT,
        ..Problem::default()
    };
    problem.completion_weight = u32::try_from(dice.below(3)).unwrap() / 2;
    let noon = 20 + UNIT * dice.below(3);
    let periods = vec![
        Span::new(0, noon),
        Span::new(noon + UNIT * (1 + dice.below(2)), UNIT * UNITS),
    ];
    problem.hands.push(Hand {
        name: "me".into(),
        periods,
    });
    problem
        .resources
        .push(Resource::constant("sander", 1 + u32::try_from(dice.below(2)).unwrap()));
    problem.clocks.push(Clock::new(
        (0..UNITS).map(|at| (at * UNIT, 1 + dice.below(4))).collect(),
    ));
    for index in 0..3 + dice.index(2) {
        let mut activity = Activity::new(format!("a{index}"), UNIT * (1 + dice.below(3)));
        activity.hands = usize::from(!dice.one_in(3));
        if dice.one_in(3) {
            let amount = 1;
            activity.uses.push(Use {
                resource: ResourceId(0),
                amount,
            });
        }
        if dice.one_in(4) {
            activity.start_windows = vec![Span::new(0, 16), Span::new(35, 51)];
        }
        if dice.one_in(6) {
            activity.deadline = Some(UNIT * (5 + dice.below(8)));
        }
        activity.room = match dice.below(3) {
            0 => Some((RoomId(0), Effect::Dust)),
            1 => Some((RoomId(0), Effect::Coat { wet: wait(dice) })),
            _ => None,
        };
        problem.add(activity);
    }
    let n = problem.activities.len();
    for to in 1..n {
        let mut lag = Lag::after(ActivityId(to - 1), ActivityId(to), wait(dice));
        match dice.below(5) {
            0 => lag.max = Some(wait(dice)),
            1 => lag.closed = Some((Wait::Minutes(UNIT), Wait::Minutes(UNIT * (2 + dice.below(4))))),
            2 => continue,
            _ => {}
        }
        problem.lags.push(lag);
    }
    for _ in 0..dice.below(3) {
        let weight = 1 + u32::try_from(dice.below(3)).unwrap();
        problem.dues.push(Due {
            activity: ActivityId(dice.index(n)),
            at: UNIT * dice.below(9),
            weight,
        });
    }
    problem
}

fn wait(dice: &mut Dice<'_>) -> Wait {
    match dice.below(3) {
        0 => Wait::Progress {
            clock: ClockId(0),
            progress: dice.below(40),
        },
        _ => Wait::Minutes(UNIT * dice.below(4)),
    }
}

/// The best of all plans there are: weighted level and completion.
fn best_of_all(problem: &Problem) -> Option<(i64, i64)> {
    let n = problem.activities.len();
    let ways = UNITS.pow(u32::try_from(n).unwrap());
    let mut best = None;
    for way in 0..ways {
        let mut left = way;
        let placements = problem.activities.iter().map(|activity| {
            let start = UNIT * (left % UNITS);
            left /= UNITS;
            let end = start + activity.duration;
            let hands = (0..activity.hands).map(HandId).collect();
            Placement {
                start,
                end,
                hands,
                segments: vec![Span::new(start, end)],
            }
        });
        let plan = Plan {
            placements: placements.collect(),
        };
        let Score {
            weighted, completion, ..
        } = checker::score(problem, &plan);
        if best.is_none_or(|best| (weighted, completion) < best) && checker::check(problem, &plan).is_empty() {
            best = Some((weighted, completion));
        }
    }
    best
}

#[test]
fn nothing_beats_a_proved_plan_and_nothing_is_wrongly_impossible() {
    let (mut proved, mut impossible) = (0, 0);
    for seed in 0..80_u32 {
        let numbers: Vec<u32> = (0..9)
            .map(|k| seed.wrapping_mul(2_654_435_761).wrapping_add(k * 40_503))
            .collect();
        let problem = small_problem(&mut Dice::new(&numbers));
        let best = best_of_all(&problem);
        match solve(&problem, &Effort::schedules(3_000)) {
            Outcome::Planned(solution) => {
                let found = (solution.score.weighted, solution.score.completion);
                let best = best.unwrap();
                assert!(solution.proved, "seed {seed}: a problem this small is settled");
                assert_eq!(found, best, "seed {seed}");
                proved += 1;
            }
            Outcome::Infeasible(conflict) => {
                assert_eq!(
                    best, None,
                    "seed {seed}: said to be impossible for {:?}",
                    conflict.demands
                );
                assert!(conflict.minimal, "seed {seed}: {:?}", conflict.demands);
                impossible += 1;
            }
            other => panic!("seed {seed}: {other:?}"),
        }
    }
    assert!(
        proved > 30 && impossible > 5,
        "{proved} proved, {impossible} impossible"
    );
}
