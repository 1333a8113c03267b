//! No schedule breaks a rule of its own check, and no step can be left out unnoticed: over a thousand random zones.

use finish::{RuleId, Severity, check, is_sound, plan};

use crate::random_zones::{Draw, draw};

/// How many zones: many enough that every operation and nearly every rule is met.
const ZONES: usize = 1_000;

#[test]
fn derived_schedules_pass_their_own_check() {
    let mut generator = Draw::seeded(1);
    let mut planned = 0;
    for number in 0..ZONES {
        let (zone, wish, limits) = draw(&mut generator);
        let Ok(schedules) = plan(&zone, &wish, &limits) else {
            continue;
        };
        planned += 1;
        assert!(
            (1..=6).contains(&schedules.len()),
            "zone {number}: {} schedules",
            schedules.len()
        );
        for schedule in &schedules {
            let found = check(&zone, &wish, &limits, &schedule.steps);
            let bad: Vec<_> = found
                .iter()
                .filter(|finding| finding.severity > Severity::Note)
                .collect();
            assert!(bad.is_empty(), "zone {number} {zone:?} {wish:?}: {bad:#?}");
            assert!(is_sound(&zone, &wish, &limits, &schedule.steps));
            assert!(!schedule.best_at.is_empty(), "zone {number}");
        }
    }
    assert!(
        planned > ZONES / 3,
        "only {planned} of {ZONES} zones could be planned: the zones are drawn too wildly to tell much"
    );
}

#[test]
fn leaving_any_step_out_provokes_a_finding_it_was_there_for() {
    let mut generator = Draw::seeded(2);
    for number in 0..ZONES {
        let (zone, wish, limits) = draw(&mut generator);
        for schedule in plan(&zone, &wish, &limits).unwrap_or_default() {
            let before = check(&zone, &wish, &limits, &schedule.steps);
            for (idx, step) in schedule.steps.iter().enumerate() {
                let mut rest = schedule.steps.clone();
                rest.remove(idx);
                let after = check(&zone, &wish, &limits, &rest);
                let noticed = after.iter().any(|finding| {
                    let new = before.iter().all(|old| old.rule != finding.rule);
                    new && step.because.iter().any(|reason| reason.rule == finding.rule)
                });
                let steps: Vec<String> = schedule.steps.iter().map(finish::Step::words).collect();
                assert!(
                    noticed,
                    "zone {number}, step {idx} ({}) is not missed\n{zone:?}\n{wish:?}\n{steps:#?}",
                    step.words()
                );
            }
        }
    }
}

#[test]
fn every_reason_and_finding_is_a_rule_with_a_source() {
    let mut generator = Draw::seeded(3);
    for _ in 0..100 {
        let (zone, wish, limits) = draw(&mut generator);
        for schedule in plan(&zone, &wish, &limits).unwrap_or_default() {
            for reason in schedule.steps.iter().flat_map(|step| &step.because) {
                assert!(
                    RuleId::parse(&reason.rule).is_some_and(|rule| !rule.rule().source.is_empty()),
                    "{reason:?}"
                );
            }
        }
    }
}
