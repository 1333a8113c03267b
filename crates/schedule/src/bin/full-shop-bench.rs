//! Measures a full shop: how soon there is a first plan, how soon a replan after a slip, and how much that moves.
//!
//! 12 pieces, 40 zones, 300 steps, 4 weeks, one progress clock with hourly weather; two hands, one room. The shop is
//! made from a seed by the rules below and stands for no real one. Clocks and printing are allowed here.
//! Then the cost of one schedule as problems grow. `full-shop-bench [SCHEDULES OF A REPLAN | grow]`.
#![expect(clippy::print_stdout, reason = "a measuring program prints what it measures")]

use schedule::{
    Activity, ActivityId, Block, Clock, ClockId, Due, Effect, Effort, Hand, Lag, Minute, Pin, Plan, Previous, Problem,
    ProductId, RoomId, Solution, Span, Wait, checker, solve,
};
use std::time::Instant;

const DAY: Minute = 1440;
const WEEKS: i64 = 4;
/// Schedules of a replan, and what a move must save: the shop's own.
const REPLAN: u64 = 75;
const WORTH_MOVING_MIN: Minute = 60;

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
    problem.clocks.push(Clock::new(rates(weeks, seed)));
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

/// The weather: warm by day, slow by night, each hour by chance a little more or less.
fn rates(weeks: i64, seed: u64) -> Vec<(Minute, i64)> {
    let mut dice = Dice(seed);
    let mut rate = |hour: i64| 600 + if (8..20).contains(&(hour % 24)) { 400 } else { 0 } + dice.below(200);
    (0..weeks * 168).map(|hour| (hour * 60, rate(hour))).collect()
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
    let argument = std::env::args().nth(1);
    if argument.as_deref() != Some("grow") {
        let effort = argument.and_then(|text| text.parse().ok()).unwrap_or(REPLAN);
        first_and_replans(effort);
    }
    grow();
}

/// What came of replans.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    /// Untouched steps that moved, and how many there were.
    moved: i64,
    untouched: i64,
    /// Weighted minutes late with nothing else moved (where such a plan was found), and as replanned.
    late_if_kept: i64,
    late: i64,
    longest_ms: f64,
}

impl Tally {
    fn add(&mut self, other: Self) {
        self.moved += other.moved;
        self.untouched += other.untouched;
        self.late_if_kept += other.late_if_kept;
        self.late += other.late;
        self.longest_ms = self.longest_ms.max(other.longest_ms);
    }

    fn print(&self, of: &str) {
        println!(
            "{of}: {} of {} steps moved that no slip touched ({:.1} %), {} weighted minutes late where nothing else moves and {} as \
             replanned, longest {:.0} ms",
            self.moved,
            self.untouched,
            as_float(100 * self.moved) / as_float(self.untouched.max(1)),
            self.late_if_kept,
            self.late,
            self.longest_ms
        );
    }
}

#[expect(clippy::cast_precision_loss, reason = "small counts, for printing")]
fn as_float(count: i64) -> f64 {
    count as f64
}

/// Three shops, each planned, then replanned after every kind of slip on two days.
fn first_and_replans(effort: u64) {
    let mut tallies = [Tally::default(); Slip::ALL.len()];
    for seed in [7, 11, 23] {
        let problem = shop(40, 12, 300, WEEKS, seed);
        let Some((first, milliseconds)) = plan(&problem, 1) else {
            println!("no first plan");
            return;
        };
        println!(
            "full shop {seed}, {} activities: first plan in {milliseconds:.1} ms, {}",
            problem.activities.len(),
            told(&problem, &first.plan)
        );
        let Some((before, milliseconds)) = plan(&problem, 600) else {
            return;
        };
        println!(
            "600 schedules in {milliseconds:.0} ms, {}",
            told(&problem, &before.plan)
        );
        for (slip, tally) in Slip::ALL.iter().zip(&mut tallies) {
            for day in [1, 4] {
                tally.add(replan(&problem, &before, *slip, day, seed, effort));
            }
        }
    }
    let mut all = Tally::default();
    for (slip, tally) in Slip::ALL.iter().zip(tallies) {
        tally.print(&format!("{slip:?}"));
        all.add(tally);
    }
    all.print("all");
}

/// Weighted minutes late, moved steps left out.
fn late(problem: &Problem, plan: &Plan) -> i64 {
    let end = |id: ActivityId| plan.placements[id.0].end;
    let dues = problem.dues.iter();
    dues.map(|due| i64::from(due.weight) * (end(due.activity) - due.at).max(0))
        .sum()
}

/// Weighted lateness and completion of a plan.
fn told(problem: &Problem, plan: &Plan) -> String {
    let completion = plan.placements.iter().map(|placement| placement.end).max();
    format!(
        "{} weighted minutes late, complete at {}",
        late(problem, plan),
        completion.unwrap_or(0)
    )
}

/// What one schedule costs as problems grow: the best of five, from the problem to the plan.
fn grow() {
    let mut least: Option<f64> = None;
    for steps in [300_u16, 600, 1_200, 2_500, 5_000] {
        let (weeks, zones) = (i64::from(steps) / 75 + 2, usize::from(steps) * 2 / 15);
        let grown = shop(zones, usize::from(steps) / 25, usize::from(steps), weeks, 7);
        let times = (0..5).filter_map(|_| plan(&grown, 1).map(|(_, milliseconds)| milliseconds));
        let Some(best) = times.min_by(f64::total_cmp) else {
            println!("{steps} steps: no plan");
            continue;
        };
        let each = best * 1_000.0 / f64::from(steps);
        let by_log = each / f64::from(steps).log2();
        println!(
            "{steps} steps: one schedule in {best:.1} ms, {each:.2} µs a step, {by_log:.2} µs a step and doubling, {:.2} of that at 300",
            by_log / *least.get_or_insert(by_log)
        );
    }
}

/// What can come between a plan and the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Slip {
    /// The first coat of the day needs four hours more before its next step.
    StillTacky,
    /// The step at work takes two hours longer.
    RanLate,
    /// Nobody works the day after.
    DayOff,
    /// From now on everything dries at two fifths of the pace, for two days.
    ColdSnap,
}

impl Slip {
    const ALL: [Self; 4] = [Self::StillTacky, Self::RanLate, Self::DayOff, Self::ColdSnap];
}

/// Puts the slip into the problem as it stands at `now`, and marks what it touches at first hand.
fn slip(problem: &mut Problem, before: &Plan, slip: Slip, now: Minute, seed: u64) -> Vec<bool> {
    let n = problem.activities.len();
    let start = |at: usize| before.placements[at].start;
    let mut touched = vec![false; n];
    match slip {
        Slip::StillTacky => {
            let next = |lag: &&Lag| start(lag.from.0) < now && start(lag.to.0) >= now && lag.min != Wait::Minutes(0);
            let held = problem.lags.iter().filter(next).map(|lag| lag.to.0);
            if let Some(held) = held.min_by_key(|&at| start(at)) {
                problem.activities[held].release = start(held) + 240;
                touched[held] = true;
            }
        }
        Slip::RanLate => {
            if let Some(at) = (0..n).filter(|&at| start(at) < now).max_by_key(|&at| start(at)) {
                // Whoever does it is not free for what they were to do meanwhile.
                let was = &before.placements[at];
                let longer = Span::new(was.start, was.end + 120);
                for (other, placement) in before.placements.iter().enumerate() {
                    let shares = placement.hands.iter().any(|hand| was.hands.contains(hand));
                    touched[other] = shares && longer.overlaps(Span::new(placement.start, placement.end));
                }
                problem.activities[at].duration += 120;
            }
        }
        Slip::DayOff => {
            let day = (now / DAY + 1) * DAY;
            let off = Span::new(day, day + DAY);
            problem.blocks.push(Block {
                name: "away".into(),
                hand: None,
                span: off,
            });
            for (at, placement) in before.placements.iter().enumerate() {
                touched[at] = off.overlaps(Span::new(placement.start, placement.end));
            }
        }
        Slip::ColdSnap => {
            let cold = now..now + 2 * DAY;
            let slower = |(from, rate): (Minute, i64)| (from, if cold.contains(&from) { rate * 2 / 5 } else { rate });
            problem.clocks[0] = Clock::new(rates(WEEKS, seed).into_iter().map(slower).collect());
        }
    }
    touched
}

/// What cannot stay for what the slip changed: each step whose wait is no longer over, dust where a coat is still wet, and all that
/// follow what is touched.
fn follow(problem: &Problem, before: &Plan, touched: &mut [bool]) {
    let over = |wait: Wait, begun: Minute| match wait {
        Wait::Minutes(minutes) => begun + minutes,
        Wait::Progress { clock, progress } => problem.clocks[clock.0].done_at(begun, progress),
    };
    for lag in &problem.lags {
        let from = &before.placements[lag.from.0];
        let ends = from.start + problem.activities[lag.from.0].duration.max(from.end - from.start);
        touched[lag.to.0] |= over(lag.min, ends) > before.placements[lag.to.0].start;
    }
    for (coat, wet) in problem.activities.iter().zip(&before.placements) {
        let Some((room, Effect::Coat { wet: wait })) = coat.room else {
            continue;
        };
        let wet = Span::new(wet.start, over(wait, wet.end));
        for (at, (other, placement)) in problem.activities.iter().zip(&before.placements).enumerate() {
            let is_dust = other.room == Some((room, Effect::Dust));
            touched[at] |= is_dust && wet.overlaps(Span::new(placement.start, placement.end));
        }
    }
    for _ in 0..touched.len() {
        let mut more = false;
        for lag in &problem.lags {
            if touched[lag.from.0] && !touched[lag.to.0] {
                touched[lag.to.0] = true;
                more = true;
            }
        }
        if !more {
            return;
        }
    }
}

/// Replans after a slip on a day.
fn replan(problem: &Problem, before: &Solution, kind: Slip, day: i64, seed: u64, schedules: u64) -> Tally {
    let now = day * DAY + 900;
    let mut problem = problem.clone();
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
    let mut touched = slip(&mut problem, &before.plan, kind, now, seed);
    follow(&problem, &before.plan, &mut touched);
    problem.previous = Some(Previous {
        placements: before.plan.placements.iter().cloned().map(Some).collect(),
        worth_moving_min: WORTH_MOVING_MIN,
    });
    let repaired = plan(&problem, 1).map(|(repaired, _)| repaired.plan);
    let Some((after, milliseconds)) = plan(&problem, schedules) else {
        println!("{kind:?} on day {day}: no replan");
        return Tally::default();
    };
    let moved = |at: usize| after.plan.placements[at].start != before.plan.placements[at].start;
    let open = |at: usize| problem.activities[at].pin.is_none();
    let all = (0..touched.len()).filter(|&at| open(at));
    let (mut n_touched, mut of_touched, mut n_others, mut of_others) = (0_i64, 0_i64, 0_i64, 0_i64);
    for at in all {
        let (n, of) = match touched[at] {
            true => (&mut n_touched, &mut of_touched),
            false => (&mut n_others, &mut of_others),
        };
        *n += i64::from(moved(at));
        *of += 1;
    }
    println!(
        "{kind:?} on day {day}: replan in {milliseconds:.1} ms, {n_touched} of {of_touched} touched steps moved and {n_others} of \
         {of_others} others; {}; with nothing else moved {}",
        told(&problem, &after.plan),
        repaired
            .as_ref()
            .map_or("none found".to_owned(), |plan| told(&problem, plan))
    );
    Tally {
        moved: n_others,
        untouched: of_others,
        late_if_kept: repaired.map_or(0, |plan| late(&problem, &plan)),
        late: late(&problem, &after.plan),
        longest_ms: milliseconds,
    }
}
