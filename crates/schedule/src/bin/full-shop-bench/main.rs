//! Measures a full shop: how soon there is a first plan, how soon a replan after a slip, and how much that moves.
//!
//! 12 pieces, 40 zones, 300 steps, 4 weeks, one progress clock with hourly weather; two hands, one room. The shop is
//! made from a seed by the rules below and stands for no real one. Clocks and printing are allowed here.
//! Then the cost of one schedule as problems grow. `full-shop-bench [SCHEDULES OF A REPLAN | grow [STEPS...]]`.

mod replan;
mod shop;
mod slip;

use replan::{Tally, replan};
use schedule::{ActivityId, Effort, Plan, Problem, Solution, checker, solve};
use shop::shop;
use slip::Slip;
use std::io::Write as _;
use std::time::Instant;

/// Four weeks of the full shop.
pub(crate) const WEEKS: i64 = 4;
/// Schedules of a replan: the shop's own.
const REPLAN: u64 = 75;
/// Steps of the growing problems.
const SIZES: [u16; 5] = [300, 600, 1_200, 2_500, 5_000];

fn main() {
    let mut words = std::env::args().skip(1);
    let first = words.next();
    let sizes: Vec<u16> = words.filter_map(|word| word.parse().ok()).collect();
    if first.as_deref() != Some("grow") {
        let effort = first.and_then(|text| text.parse().ok()).unwrap_or(REPLAN);
        first_and_replans(effort);
    }
    grow(if sizes.is_empty() { &SIZES } else { &sizes });
}

/// Prints a line; where nobody reads on there is nothing left to measure for.
pub(crate) fn say(line: &str) {
    if writeln!(std::io::stdout(), "{line}").is_err() {
        std::process::exit(1);
    }
}

/// Three shops, each planned, then replanned after every kind of slip on two days.
fn first_and_replans(effort: u64) {
    let mut tallies = [Tally::default(); Slip::ALL.len()];
    for seed in [7, 11, 23] {
        let problem = shop(40, 12, 300, WEEKS, seed);
        let Some((first, milliseconds)) = plan(&problem, 1) else {
            say("no first plan");
            return;
        };
        say(&format!(
            "full shop {seed}, {} activities: first plan in {milliseconds:.1} ms, {}",
            problem.activities.len(),
            told(&problem, &first.plan)
        ));
        let Some((before, milliseconds)) = plan(&problem, 600) else {
            return;
        };
        say(&format!(
            "600 schedules in {milliseconds:.0} ms, {}",
            told(&problem, &before.plan)
        ));
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

/// What one schedule costs as problems grow: the best of five, from the problem to the plan.
fn grow(sizes: &[u16]) {
    let mut least: Option<f64> = None;
    for &steps in sizes {
        let (weeks, zones) = (i64::from(steps) / 75 + 2, usize::from(steps) * 2 / 15);
        let grown = shop(zones, usize::from(steps) / 25, usize::from(steps), weeks, 7);
        let times = (0..5).filter_map(|_| plan(&grown, 1));
        let Some((solution, best)) = times.min_by(|one, other| one.1.total_cmp(&other.1)) else {
            say(&format!("{steps} steps: no plan"));
            continue;
        };
        let each = best * 1_000.0 / f64::from(steps);
        let by_log = each / f64::from(steps).log2();
        say(&format!(
            "{steps} steps: one schedule in {best:.2} ms, {each:.2} µs a step, {by_log:.3} µs a step and doubling, {:.2} of that at 300; {}",
            by_log / *least.get_or_insert(by_log),
            told(&grown, &solution.plan)
        ));
    }
}

pub(crate) fn plan(problem: &Problem, schedules: u64) -> Option<(Solution, f64)> {
    let begun = Instant::now();
    let outcome = solve(problem, &Effort::schedules(schedules));
    let milliseconds = begun.elapsed().as_secs_f64() * 1_000.0;
    let solution = outcome.solution()?.clone();
    let wrong = checker::check(problem, &solution.plan);
    if !wrong.is_empty() {
        say(&format!("WRONG: {wrong:?}"));
    }
    Some((solution, milliseconds))
}

/// Weighted minutes late, moved steps left out.
pub(crate) fn late(problem: &Problem, plan: &Plan) -> i64 {
    let end = |id: ActivityId| plan.placements[id.0].end;
    let dues = problem.dues.iter();
    dues.map(|due| i64::from(due.weight) * (end(due.activity) - due.at).max(0))
        .sum()
}

/// Weighted lateness and completion of a plan.
pub(crate) fn told(problem: &Problem, plan: &Plan) -> String {
    let completion = plan.placements.iter().map(|placement| placement.end).max();
    format!(
        "{} weighted minutes late, complete at {}",
        late(problem, plan),
        completion.unwrap_or(0)
    )
}
