//! A schedule written by hand: what the tables add to it, what the check says of it, and what a consent to a warning covers.

use finish::{
    Contaminant, FoundLayer, Limits, Look, Severity, Step, Use, Wish, Zone, as_written, by_hand, changed, check, plan,
    suits,
};
use trade::{FinishClass, Grit, Material, Operation, PrepClass, Species, Substrate};

use crate::random_zones::{Draw, draw};

const ZONES: usize = 400;

#[test]
fn a_derived_schedule_written_down_by_hand_is_the_same_schedule() {
    let mut generator = Draw::seeded(21);
    let mut compared = 0;
    for number in 0..ZONES {
        let (zone, wish, limits) = draw(&mut generator);
        for schedule in plan(&zone, &wish, &limits).unwrap_or_default() {
            let written = as_written(&zone, &wish, &limits, &schedule.steps);
            let again = by_hand(&zone, &wish, &limits, &written);
            assert_eq!(again.steps, schedule.steps, "zone {number}: {zone:?} {wish:?}");
            assert_eq!(again.measures, schedule.measures, "zone {number}");
            assert_eq!(again.notes, schedule.notes, "zone {number}");
            compared += 1;
        }
    }
    assert!(compared > ZONES / 2, "only {compared} schedules compared");
}

#[test]
fn every_derived_step_has_a_material_that_may_be_written_beside_it() {
    let mut generator = Draw::seeded(22);
    for number in 0..ZONES {
        let (zone, wish, limits) = draw(&mut generator);
        for schedule in plan(&zone, &wish, &limits).unwrap_or_default() {
            for step in &schedule.steps {
                assert!(
                    suits(step.operation, step.material),
                    "zone {number}: {} may not be written by hand",
                    step.words()
                );
            }
        }
    }
    assert!(!suits(Operation::Paint, Some(Material::Prep(PrepClass::GelStripper))));
    assert!(!suits(Operation::Paint, None));
    assert!(suits(Operation::Scrape, None));
}

fn lid() -> (Zone, Wish, Limits) {
    let mut zone = Zone::bare("lid", Substrate::Solid(Species::RedOak));
    zone.found = vec![FoundLayer::of(FinishClass::OilBasedPolyurethane)];
    (zone, Wish::of(Look::Paint), Limits::default())
}

fn step(operation: Operation, material: Option<Material>, grit: Option<Grit>) -> Step {
    Step {
        material,
        grit,
        ..Step::by_hand(operation)
    }
}

/// Clean, scuff, and paint twice without dusting off.
fn hasty() -> Vec<Step> {
    let cleaner = Some(Material::Prep(PrepClass::NeutralCleaner));
    let enamel = Some(Material::Finish(FinishClass::WaterborneAcrylicEnamel));
    vec![
        step(Operation::Clean, cleaner, None),
        step(Operation::Rinse, None, None),
        step(Operation::Scuff, None, Some(Grit::P220)),
        step(Operation::Paint, enamel, None),
        step(Operation::Paint, enamel, None),
    ]
}

/// The situation in which a rule objects.
fn situation(zone: &Zone, wish: &Wish, limits: &Limits, steps: &[Step], rule: &str) -> Option<String> {
    check(zone, wish, limits, steps)
        .into_iter()
        .find(|finding| finding.rule == rule)
        .map(|finding| finding.situation)
}

#[test]
fn minutes_quantities_and_waits_come_from_the_tables() {
    let (zone, wish, limits) = lid();
    let mut said = hasty();
    let schedule = by_hand(&zone, &wish, &limits, &said);
    let paint = &schedule.steps[3];
    assert!(paint.hands_on_min > 1 && paint.quantity.as_ref().unwrap().ml.typical > 10.0);
    assert_eq!((paint.coat, schedule.steps[4].coat), (Some(1), Some(2)));
    let row = FinishClass::WaterborneAcrylicEnamel.row();
    let recoat_min = f64::from(paint.wait.unwrap().min_min);
    assert!((recoat_min - row.recoat_min_h.typical * 60.0).abs() < 1.0);
    assert!(schedule.steps[2].hazards.dusty && paint.hazards.wet);
    said[3].wait = Some(finish::Wait::of_min(30));
    let hurried = by_hand(&zone, &wish, &limits, &said);
    let wait = hurried.steps[3].wait.unwrap();
    assert_eq!((wait.min_min, wait.kind), (30, finish::WaitKind::Recoat));
    assert!(hurried.notes.iter().any(|finding| finding.rule == "recoat-too-soon"));
    assert!(hurried.measures.elapsed_min < schedule.measures.elapsed_min);
}

#[test]
fn only_a_warning_can_be_overruled() {
    let (mut zone, wish, limits) = lid();
    zone.contaminants.push(Contaminant::Silicone);
    for finding in check(&zone, &wish, &limits, &hasty()) {
        assert_eq!(finding.can_be_overruled(), finding.severity == Severity::Warn);
        assert!(!finding.situation.is_empty(), "{}", finding.rule);
    }
}

#[test]
fn the_situation_of_a_warning_stays_when_something_else_changes() {
    let (zone, wish, limits) = lid();
    let before = situation(&zone, &wish, &limits, &hasty(), "dust-under-coat").unwrap();
    let mut longer = hasty();
    longer.push(step(
        Operation::Wax,
        Some(Material::Finish(FinishClass::PasteWax)),
        None,
    ));
    assert_eq!(
        situation(&zone, &wish, &limits, &longer, "dust-under-coat").unwrap(),
        before
    );
    let mut larger = zone.clone();
    larger.area_m2 = 3.0;
    "table lid".clone_into(&mut larger.name);
    assert_eq!(
        situation(&larger, &wish, &limits, &hasty(), "dust-under-coat").unwrap(),
        before
    );
}

#[test]
fn the_situation_of_a_warning_is_another_when_its_cause_changes() {
    let (zone, wish, limits) = lid();
    let before = situation(&zone, &wish, &limits, &hasty(), "dust-under-coat").unwrap();
    let mut shellac = zone.clone();
    shellac.found[0].class = FinishClass::DewaxedShellac;
    let mut dining = zone.clone();
    dining.use_ = Use::Dining;
    let mut walnut = zone.clone();
    walnut.substrate = Substrate::Solid(Species::BlackWalnut);
    let mut painted = zone.clone();
    painted.found.push(FoundLayer::of(FinishClass::AlkydEnamel));
    for other in [&shellac, &dining, &walnut, &painted] {
        let now = situation(other, &wish, &limits, &hasty(), "dust-under-coat").unwrap();
        assert_ne!(now, before);
        let (was, is) = changed(&before, &now);
        assert!(!was.is_empty() || !is.is_empty());
    }
    let mut coarser = hasty();
    coarser[2].grit = Some(Grit::P120);
    coarser[3].material = Some(Material::Finish(FinishClass::UrethaneAlkydEnamel));
    assert_ne!(
        situation(&zone, &wish, &limits, &coarser, "dust-under-coat").unwrap(),
        before
    );
}

#[test]
fn random_warnings_are_told_apart_by_the_layers_they_stand_on() {
    let mut generator = Draw::seeded(23);
    let mut seen = 0;
    for _ in 0..ZONES {
        let (zone, wish, limits) = draw(&mut generator);
        let mut other = zone.clone();
        other.found.insert(0, FoundLayer::of(FinishClass::MilkPaint));
        let Some(schedule) = plan(&zone, &wish, &limits).ok().and_then(|mut all| all.pop()) else {
            continue;
        };
        let first = |zone: &Zone| {
            let steps: Vec<Step> = schedule.steps.iter().skip(1).cloned().collect();
            check(zone, &wish, &limits, &steps)
                .into_iter()
                .filter(|finding| finding.step == Some(0) && finding.severity == Severity::Warn)
                .map(|finding| (finding.rule, finding.situation))
                .collect::<Vec<_>>()
        };
        let others = first(&other);
        for (rule, situation) in first(&zone) {
            seen += 1;
            assert!(!others.contains(&(rule, situation)), "{zone:?}");
        }
    }
    assert!(seen > 20, "only {seen} warnings compared");
}
