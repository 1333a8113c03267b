//! A piece of four zones: top to bare wood and clear, body painted, small mouldings stripped by hand, metal hardware sprayed.

use finish::{Detail, FinishingSchedule, FoundLayer, Limits, Look, Use, Wish, Zone, plan};
use trade::{FinishClass, Operation, PrepClass, Species, Substrate};

fn painted(name: &str, species: Species, area_m2: f64) -> Zone {
    let mut zone = Zone::bare(name, Substrate::Solid(species));
    zone.found = vec![FoundLayer::of(FinishClass::AlkydEnamel)];
    zone.area_m2 = area_m2;
    zone.use_ = Use::Desk;
    zone
}

fn operations(schedule: &FinishingSchedule) -> Vec<Operation> {
    schedule.steps.iter().map(|step| step.operation).collect()
}

fn has(schedule: &FinishingSchedule, operation: Operation) -> bool {
    operations(schedule).contains(&operation)
}

#[test]
fn top_goes_to_bare_wood_and_a_clear_coat() {
    let mut top = painted("top", Species::WhiteAsh, 0.6);
    top.found = vec![FoundLayer::of(FinishClass::NitrocelluloseLacquer)];
    let mut wish = Wish::of(Look::Clear);
    wish.strip = true;
    for schedule in plan(&top, &wish, &Limits::default()).unwrap() {
        assert!(!schedule.keeps_old_finish);
        let strips = has(&schedule, Operation::StripChemical) || has(&schedule, Operation::StripSand);
        assert!(strips && has(&schedule, Operation::Sand) && !has(&schedule, Operation::Paint));
        let last = schedule.steps.last().unwrap();
        assert!(
            matches!(last.operation, Operation::ClearCoat | Operation::Oil),
            "{}",
            last.words()
        );
    }
}

#[test]
fn body_is_cleaned_scuffed_and_painted_over_its_old_finish() {
    let body = painted("body", Species::Beech, 1.8);
    let schedule = &plan(&body, &Wish::of(Look::Paint), &Limits::default()).unwrap()[0];
    assert!(schedule.keeps_old_finish);
    let order = [
        Operation::Clean,
        Operation::Rinse,
        Operation::Scuff,
        Operation::DustOff,
        Operation::Paint,
    ];
    let found = operations(schedule);
    let places: Vec<usize> = order
        .iter()
        .map(|op| found.iter().position(|have| have == op).unwrap())
        .collect();
    assert!(places.is_sorted(), "{found:?}");
}

#[test]
fn small_mouldings_are_stripped_with_chemistry_and_scraped() {
    let mut mouldings = painted("mouldings", Species::Beech, 0.12);
    mouldings.detail = Detail::Moulded;
    let mut wish = Wish::of(Look::Clear);
    wish.strip = true;
    for schedule in plan(&mouldings, &wish, &Limits::default()).unwrap() {
        assert!(has(&schedule, Operation::StripChemical) && has(&schedule, Operation::Scrape));
        assert!(!has(&schedule, Operation::StripSand), "a machine rounds mouldings over");
    }
}

#[test]
fn metal_hardware_is_taken_off_cleaned_scuffed_sprayed_thinly_and_refitted_hard() {
    let mut pulls = Zone::bare("pulls", Substrate::Brass);
    pulls.removable = true;
    pulls.area_m2 = 0.04;
    pulls.found = vec![FoundLayer::of(FinishClass::NitrocelluloseLacquer)];
    let schedule = &plan(&pulls, &Wish::of(Look::Metallic), &Limits::default()).unwrap()[0];
    let found = operations(schedule);
    assert_eq!(found.first(), Some(&Operation::RemoveHardware));
    assert_eq!(found.last(), Some(&Operation::RefitHardware));
    let place = |op| found.iter().position(|have| *have == op).unwrap();
    assert!(place(Operation::Clean) < place(Operation::Scuff) && place(Operation::Scuff) < place(Operation::Spray));
    assert_eq!(found.iter().filter(|op| **op == Operation::Spray).count(), 3);
    let last_coat = &schedule.steps[schedule.steps.len() - 2];
    assert!(
        last_coat.wait.unwrap().min_min >= 24 * 60,
        "refitted when it bears handling"
    );
}

#[test]
fn old_paint_of_unknown_age_is_not_stripped_by_machine_or_heat() {
    let mut body = painted("body", Species::EasternWhitePine, 1.2);
    body.made = finish::Made::default();
    let mut wish = Wish::of(Look::Clear);
    wish.strip = true;
    let limits = Limits {
        has_heat: true,
        ..Limits::default()
    };
    for schedule in plan(&body, &wish, &limits).unwrap() {
        assert!(!has(&schedule, Operation::StripSand) && !has(&schedule, Operation::StripHeat));
        let gel = schedule.steps.iter().filter(|step| {
            step.material
                .is_some_and(|m| m.prep().is_some_and(PrepClass::is_stripper))
        });
        assert!(gel.count() >= 1);
    }
}
