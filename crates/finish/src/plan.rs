//! The use of it all: plan a zone, check a schedule.

use crate::act::Act;
use crate::because::{all_hits, without};
use crate::bench::Bench;
use crate::choose::choose;
use crate::effect::apply;
use crate::express::steps;
use crate::finding::Finding;
use crate::limits::Limits;
use crate::object::{at_end, object};
use crate::schedule::{FinishingSchedule, Measures, NoSchedule};
use crate::search::{Boldness, Path, reach, search};
use crate::situation::situation;
use crate::step::Step;
use crate::surface::Surface;
use crate::unsolvable::explain;
use crate::wish::Wish;
use crate::zone::Zone;

/// The finishing schedules of a zone: nondominated in the five measures, at most six, each named by what it is best at; the one
/// that is good all round first.
///
/// # Errors
/// [`NoSchedule`] if nothing meets the wish: which wish against which finding, and the smallest changes that free it.
pub fn plan(zone: &Zone, wish: &Wish, limits: &Limits) -> Result<Vec<FinishingSchedule>, Box<NoSchedule>> {
    let bench = Bench::new(zone, wish, limits);
    let paths = paths(&bench);
    if paths.is_empty() {
        return Err(Box::new(explain(zone, wish, limits)));
    }
    let mut schedules: Vec<FinishingSchedule> = Vec::new();
    for (idx, best_at) in choose(&paths) {
        let path = trimmed(&paths[idx], &bench);
        let next = schedule(path.as_ref().unwrap_or(&paths[idx]), best_at, &bench);
        match schedules.iter_mut().find(|have| have.steps == next.steps) {
            Some(same) => same.best_at.extend(next.best_at),
            None => schedules.push(next),
        }
    }
    Ok(schedules)
}

/// All nondominated paths; only where the sure ones fail are those taken that a test patch must decide.
pub(crate) fn paths(bench: &Bench<'_>) -> Vec<Path> {
    // Whether there is a way is known sooner than every way.
    let bold_enough = Boldness::FROM_SURE
        .into_iter()
        .find(|boldness| reach(bench, *boldness).is_some());
    bold_enough.map_or_else(Vec::new, |boldness| search(bench, boldness).paths)
}

/// The path without the steps that nobody would miss; `None` if there are none such.
///
/// The search leaves one standing now and then: a detour so small that it counts as the same path.
fn trimmed(path: &Path, bench: &Bench<'_>) -> Option<Path> {
    let mut acts = path.acts.clone();
    let base = all_hits(acts.iter(), bench);
    while let Some(idx) = (0..acts.len()).find(|idx| without(*idx, &acts, base, bench).is_empty()) {
        acts.remove(idx);
    }
    (acts.len() < path.acts.len()).then(|| Path::of(acts, bench))
}

fn schedule(path: &Path, best_at: Vec<crate::BestAt>, bench: &Bench<'_>) -> FinishingSchedule {
    let steps = steps(&path.acts, bench);
    let notes = run(&steps, bench);
    FinishingSchedule {
        best_at,
        measures: measures(path),
        keeps_old_finish: path.keeps_old_finish,
        steps,
        notes,
    }
}

pub(crate) fn measures(path: &Path) -> Measures {
    let minor = |thousandths: u64| i64::try_from(thousandths.div_ceil(1000)).unwrap_or(i64::MAX);
    Measures {
        cost_minor: minor(path.spent.cost),
        materials_minor: minor(path.spent.materials),
        hands_on_min: path.spent.hands_on_min,
        elapsed_min: path.elapsed_min,
        cured_min: path.cured_min,
        wear: path.wear,
        exposure: u32::try_from(path.spent.exposure.div_ceil(1000)).unwrap_or(u32::MAX),
    }
}

/// What the rules find in a schedule, whoever wrote it. Waits count with their least time.
///
/// A `stop` cannot be overruled; a `warn` can, and the plan then records it; a `note` asks for nothing. Steps without hands-on
/// minutes count as done in no time.
#[must_use]
pub fn check(zone: &Zone, wish: &Wish, limits: &Limits, steps: &[Step]) -> Vec<Finding> {
    run(steps, &Bench::new(zone, wish, limits))
}

pub(crate) fn run(steps: &[Step], bench: &Bench<'_>) -> Vec<Finding> {
    let mut surface = Surface::found(bench);
    let mut findings = Vec::new();
    for (idx, step) in steps.iter().enumerate() {
        let act = Act::from(step);
        for rule in object(&surface, &act, bench).iter() {
            findings.push(Finding {
                situation: situation(rule, &surface, Some(&act), bench),
                ..rule.finding(Some(idx), &format!("(step {}: {})", idx + 1, step.words()))
            });
        }
        surface = apply(&surface, &act, act.hands_on_min, bench);
    }
    findings.extend(at_end(&surface, bench).iter().map(|rule| Finding {
        situation: situation(rule, &surface, None, bench),
        ..rule.finding(None, "")
    }));
    findings
}

/// Whether a schedule raises nothing more than notes.
#[must_use]
pub fn is_sound(zone: &Zone, wish: &Wish, limits: &Limits, steps: &[Step]) -> bool {
    let bench = Bench::new(zone, wish, limits);
    let acts: Vec<Act> = steps.iter().map(Act::from).collect();
    all_hits(acts.iter(), &bench).serious().is_empty()
}
