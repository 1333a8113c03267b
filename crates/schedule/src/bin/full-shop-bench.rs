//! Measures a full shop: how soon there is a first plan, how soon a replan after a slip, and how much that moves.
//!
//! 12 pieces, 40 zones, 300 steps, 4 weeks, one progress clock with hourly weather; two hands, one room. The shop is
//! made from a seed by the rules below and stands for no real one. Clocks and printing are allowed here.
//! Then the cost of one schedule as problems grow.
#![expect(clippy::print_stdout, reason = "a measuring program prints what it measures")]

use schedule::{
    Activity, ActivityId, Clock, ClockId, Due, Effect, Effort, Hand, Lag, Minute, Pin, Previous, Problem, ProductId,
    RoomId, Solution, Span, Wait, checker, solve,
};
use std::time::Instant;

const DAY: Minute = 1440;

/// A stream of numbers from a seed.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % n.unsigned_abs().max(1)).cast_signed()
    }

    fn index(&mut self, n: usize) -> usize {
        usize::try_from(self.below(i64::try_from(n).unwrap_or(1))).unwrap_or(0)
    }
}

/// A shop of so many zones; `weeks` of working days.
fn shop(zones: usize, pieces: usize, steps: usize, weeks: i64, seed: u64) -> Problem {
    let mut dice = Dice(seed);
    let mut problem = Problem {
        horizon: weeks * 7 * DAY,
        grid: 5,
        clean_up_min: vec![10, 15, 5],
        ..Problem::default()
    };
    for name in ["one", "the other"] {
        let mut periods = Vec::new();
        for day in (0..weeks * 7).filter(|day| day % 7 < 6) {
            periods.push(Span::new(day * DAY + 480, day * DAY + 720));
            periods.push(Span::new(day * DAY + 780, day * DAY + 1020));
        }
        problem.hands.push(Hand {
            name: name.into(),
            periods,
        });
    }
    // Warm by day, slow by night, each hour by chance a little more or less.
    let rate =
        |hour: i64, dice: &mut Dice| 600 + if (8..20).contains(&(hour % 24)) { 400 } else { 0 } + dice.below(200);
    problem.clocks.push(Clock::new(
        (0..weeks * 168)
            .map(|hour| (hour * 60, rate(hour, &mut dice)))
            .collect(),
    ));
    let mut lasts: Vec<Vec<ActivityId>> = vec![Vec::new(); pieces];
    for zone in 0..zones {
        let n = steps / zones + usize::from(zone < steps % zones);
        let mut before: Option<ActivityId> = None;
        for step in 0..n {
            let id = add_step(&mut problem, &mut dice, format!("zone {zone} step {step}"));
            if let Some(before) = before {
                add_wait(&mut problem, &mut dice, before, id);
            }
            before = Some(id);
        }
        lasts[zone % pieces].extend(before);
    }
    for ends in lasts {
        let refit = problem.add(Activity::new("refit", 30));
        for end in ends {
            problem.lags.push(Lag::after(
                end,
                refit,
                Wait::Progress {
                    clock: ClockId(0),
                    progress: 900_000,
                },
            ));
        }
        let at = (5 + dice.below(weeks * 6)) * DAY + 1020;
        problem.dues.push(Due {
            activity: refit,
            at,
            weight: 1 + u32::try_from(dice.below(4)).unwrap_or(0),
        });
    }
    problem
}

fn add_step(problem: &mut Problem, dice: &mut Dice, name: String) -> ActivityId {
    let mut activity = Activity::new(name, 10 + 5 * dice.below(7));
    match dice.below(3) {
        0 => activity.room = Some((RoomId(0), Effect::Dust)),
        1 => {
            let wet = Wait::Progress {
                clock: ClockId(0),
                progress: 30_000 + 10_000 * dice.below(6),
            };
            activity.room = Some((RoomId(0), Effect::Coat { wet }));
            activity.product = Some(ProductId(dice.index(3)));
        }
        _ => {}
    }
    problem.add(activity)
}

fn add_wait(problem: &mut Problem, dice: &mut Dice, before: ActivityId, id: ActivityId) {
    let coat = matches!(problem.activities[before.0].room, Some((_, Effect::Coat { .. })));
    let hours = if coat { 1 + dice.below(16) } else { 0 };
    let mut lag = Lag::after(
        before,
        id,
        Wait::Progress {
            clock: ClockId(0),
            progress: hours * 50_000,
        },
    );
    match dice.below(12) {
        0 if coat => lag.max = Some(Wait::Minutes(5 * DAY)),
        1 if coat => lag.closed = Some((Wait::Minutes(2 * DAY), Wait::Minutes(4 * DAY))),
        _ => {}
    }
    problem.lags.push(lag);
}

fn plan(problem: &Problem, schedules: u64) -> Option<(Solution, f64)> {
    let begun = Instant::now();
    let outcome = solve(problem, &Effort::schedules(schedules));
    let milliseconds = begun.elapsed().as_secs_f64() * 1_000.0;
    let solution = outcome.solution()?.clone();
    let wrong = checker::check(problem, &solution.plan);
    if !wrong.is_empty() {
        println!("WRONG: {wrong:?}");
    }
    Some((solution, milliseconds))
}

fn main() {
    let mut problem = shop(40, 12, 300, 4, 7);
    let Some((first, milliseconds)) = plan(&problem, 1) else {
        println!("no first plan");
        return;
    };
    println!(
        "full shop, {} activities: first plan in {milliseconds:.1} ms, {:?}",
        problem.activities.len(),
        first.score
    );
    let Some((better, milliseconds)) = plan(&problem, 2_000) else {
        return;
    };
    println!(
        "2000 schedules in {milliseconds:.0} ms, {:?}, bound {}",
        better.score, better.bound.weighted
    );
    replan(&mut problem, &better);
    for steps in [300, 600, 1_200, 2_500, 5_000] {
        let weeks = i64::try_from(steps).unwrap_or(0) / 75 + 2;
        let grown = shop(steps * 2 / 15, steps / 25, steps, weeks, 7);
        // Opening, then ten more: what one schedule costs by itself.
        let Some((_, one)) = plan(&grown, 1) else {
            println!("{steps} steps: no plan");
            continue;
        };
        println!(
            "{steps} steps: first plan in {one:.1} ms, {:.2} µs a step",
            one * 1_000.0 / f64::from(u16::try_from(steps).unwrap_or(1))
        );
    }
}

/// A coat on the second day is still tacky: its next step waits four hours more.
fn replan(problem: &mut Problem, before: &Solution) {
    let now = DAY + 900;
    let started = |placement: &schedule::Placement| placement.start < now;
    for (activity, placement) in problem.activities.iter_mut().zip(&before.plan.placements) {
        if started(placement) {
            activity.pin = Some(Pin {
                start: placement.start,
                hands: placement.hands.clone(),
                begun: true,
            });
        }
    }
    problem.not_before = now;
    let next = |lag: &&Lag| started(&before.plan.placements[lag.from.0]) && !started(&before.plan.placements[lag.to.0]);
    let Some(slipped) = problem
        .lags
        .iter()
        .filter(next)
        .map(|lag| lag.to)
        .min_by_key(|to| before.plan.placements[to.0].start)
    else {
        println!("nothing to slip");
        return;
    };
    problem.activities[slipped.0].release = before.plan.placements[slipped.0].start + 240;
    problem.previous = Some(Previous {
        placements: before.plan.placements.iter().cloned().map(Some).collect(),
        worth_moving_min: 60,
    });
    for schedules in [1, 100, 1_000] {
        let Some((after, milliseconds)) = plan(problem, schedules) else {
            println!("no replan in {schedules} schedules");
            continue;
        };
        let pairs = after.plan.placements.iter().zip(&before.plan.placements);
        let moved = pairs.filter(|(now, was)| now.start != was.start).count();
        println!(
            "replan with {schedules} schedules in {milliseconds:.1} ms: {moved} of {} steps moved, {:?}",
            problem.activities.len(),
            after.score
        );
    }
}
