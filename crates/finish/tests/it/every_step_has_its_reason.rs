//! No schedule breaks a rule of its own check, no wish is refused without its reason, and no step can be left out unnoticed: over
//! random zones.

use finish::{
    FinishingSchedule, Limits, Method, NoSchedule, RuleId, Severity, Wish, Without, Zone, check, is_sound, plan,
};
use trade::Operation;

use crate::random_zones::{Draw, draw};

/// How many zones: many enough that every operation and nearly every rule is met.
const ZONES: usize = 1_000;

/// How many zones the check is held against: the number issue and design speak of.
const MANY_ZONES: usize = 10_000;

#[test]
fn derived_schedules_pass_their_own_check_and_refusals_say_what_frees_them() {
    let mut generator = Draw::seeded(1);
    let cases: Vec<Case> = (0..MANY_ZONES).map(|number| (number, draw(&mut generator))).collect();
    // Each zone is a matter of its own: a share of them for each core.
    let planned: usize = std::thread::scope(|scope| {
        let shares: Vec<_> = cases
            .chunks(MANY_ZONES / 4)
            .map(|share| scope.spawn(|| share.iter().filter(|case| is_planned(case)).count()))
            .collect();
        shares.into_iter().map(|share| share.join().unwrap()).sum()
    });
    assert!(
        planned > MANY_ZONES / 3,
        "only {planned} of {MANY_ZONES} zones could be planned: the zones are drawn too wildly to tell much"
    );
}

type Case = (usize, (Zone, Wish, Limits));

/// Whether a zone can be planned; either way what is said of it is looked at.
fn is_planned((number, (zone, wish, limits)): &Case) -> bool {
    match plan(zone, wish, limits) {
        Ok(schedules) => {
            passes_its_own_check(*number, zone, wish, limits, &schedules);
            true
        }
        Err(no) => {
            says_what_frees_it(*number, zone, wish, limits, &no);
            false
        }
    }
}

fn passes_its_own_check(number: usize, zone: &Zone, wish: &Wish, limits: &Limits, schedules: &[FinishingSchedule]) {
    assert!(
        (1..=6).contains(&schedules.len()),
        "zone {number}: {} schedules",
        schedules.len()
    );
    for schedule in schedules {
        let found = check(zone, wish, limits, &schedule.steps);
        let bad: Vec<_> = found
            .iter()
            .filter(|finding| finding.severity > Severity::Note)
            .collect();
        assert!(bad.is_empty(), "zone {number} {zone:?} {wish:?}: {bad:#?}");
        assert!(is_sound(zone, wish, limits, &schedule.steps));
        assert!(!schedule.best_at.is_empty(), "zone {number}");
    }
}

/// A refusal names the wish, the findings it stands against (each more than a note), and changes that each free the way.
fn says_what_frees_it(number: usize, zone: &Zone, wish: &Wish, limits: &Limits, no: &NoSchedule) {
    let case = || format!("zone {number}: {no:#?}\n{zone:?}\n{wish:?}\n{limits:?}");
    assert!(!no.wish.is_empty() && !no.against.is_empty(), "{}", case());
    assert!(
        !no.findings.is_empty(),
        "nothing is said to stand in the way: {}",
        case()
    );
    assert!(
        no.findings.iter().all(|finding| finding.severity > Severity::Note),
        "{}",
        case()
    );
    assert!(!no.releases.is_empty(), "no change is named that frees it: {}", case());
}

#[test]
fn leaving_any_step_out_provokes_a_finding_it_was_there_for() {
    let mut generator = Draw::seeded(2);
    for number in 0..ZONES {
        let (zone, wish, limits) = draw(&mut generator);
        for schedule in plan(&zone, &wish, &limits).unwrap_or_default() {
            assert_every_step_is_missed(&format!("zone {number}"), &zone, &wish, &limits, &schedule);
        }
    }
}

/// Leaves out each step in turn: a finding must come up that was not there before and that the step names as its reason.
pub(crate) fn assert_every_step_is_missed(
    name: &str,
    zone: &Zone,
    wish: &Wish,
    limits: &Limits,
    schedule: &FinishingSchedule,
) {
    let before = check(zone, wish, limits, &schedule.steps);
    for (idx, step) in schedule.steps.iter().enumerate() {
        let mut rest = schedule.steps.clone();
        rest.remove(idx);
        let after = check(zone, wish, limits, &rest);
        let noticed = after.iter().any(|finding| {
            let new = before.iter().all(|old| old.rule != finding.rule);
            new && step.because.iter().any(|reason| reason.rule == finding.rule)
        });
        let steps: Vec<String> = schedule.steps.iter().map(finish::Step::words).collect();
        assert!(
            noticed,
            "{name}, step {idx} ({}) is not missed\n{zone:?}\n{wish:?}\n{steps:#?}",
            step.words()
        );
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
                    RuleId::parse(&reason.rule).is_ok_and(|rule| !rule.rule().source.is_empty()),
                    "{reason:?}"
                );
            }
        }
    }
}

#[test]
fn suspect_paint_is_never_abraded_dry_nor_heated_nor_stripped_by_machine() {
    let mut generator = Draw::seeded(6);
    let mut suspects = 0;
    for number in 0..ZONES {
        let (zone, wish, limits) = draw(&mut generator);
        if !zone.is_lead_suspect() {
            continue;
        }
        for step in plan(&zone, &wish, &limits)
            .unwrap_or_default()
            .iter()
            .flat_map(|one| &one.steps)
        {
            suspects += 1;
            assert!(
                step.wet || !step.operation.is_dusty(),
                "zone {number}: {}",
                step.words()
            );
            assert!(!step.hazards.dusty, "zone {number}: {}", step.words());
            let machine_or_heat = [Operation::StripSand, Operation::StripHeat].contains(&step.operation);
            assert!(!machine_or_heat, "zone {number}: {}", step.words());
            let disturbs = step.operation.is_dusty() || step.operation.is_stripping();
            assert_eq!(step.hazards.lead, disturbs, "zone {number}: {}", step.words());
        }
    }
    assert!(
        suspects > 500,
        "only {suspects} steps on suspect paint: too few to tell"
    );
}

#[test]
fn what_the_wish_excludes_is_in_no_schedule() {
    let mut generator = Draw::seeded(7);
    for number in 0..ZONES {
        let (zone, wish, limits) = draw(&mut generator);
        for step in plan(&zone, &wish, &limits)
            .unwrap_or_default()
            .iter()
            .flat_map(|one| &one.steps)
        {
            if wish.is_without(Without::Spraying) {
                assert!(!step.hazards.sprayed, "zone {number}: {}", step.words());
            }
            if wish.is_without(Without::Sanding) {
                assert!(!step.hazards.dusty, "zone {number}: {}", step.words());
            }
            let gun = step
                .method
                .is_some_and(|method| method.is_spraying() && method != Method::AerosolCan);
            assert!(limits.has_spray_gun || !gun, "zone {number}: {}", step.words());
        }
    }
}
