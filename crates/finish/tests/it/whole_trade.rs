//! The whole trade is in reach: every operation occurs somewhere, every class can be wished for somewhere.

use std::collections::BTreeSet;

use finish::{FoundLayer, Limits, Look, Use, Wish, Zone, plan};
use trade::finish_rows::Group;
use trade::{FinishClass, Operation, PrepClass, Species, Substrate};

use crate::random_zones::{Draw, draw};

#[test]
fn every_operation_and_preparation_occurs_in_some_schedule() {
    let mut generator = Draw::seeded(4);
    let mut operations = BTreeSet::new();
    let mut preparations = BTreeSet::new();
    for _ in 0..1_500 {
        let (zone, wish, limits) = draw(&mut generator);
        for schedule in plan(&zone, &wish, &limits).unwrap_or_default() {
            operations.extend(schedule.steps.iter().map(|step| step.operation));
            preparations.extend(schedule.steps.iter().filter_map(|step| step.material?.prep()));
        }
    }
    let missing: Vec<_> = Operation::EVERY.iter().filter(|op| !operations.contains(op)).collect();
    assert!(missing.is_empty(), "never planned: {missing:?}");
    let never = [PrepClass::MethyleneChlorideStripper];
    let missing: Vec<_> = PrepClass::EVERY
        .iter()
        .filter(|class| !never.contains(class) && !preparations.contains(class))
        .collect();
    assert!(missing.is_empty(), "never planned: {missing:?}");
}

#[test]
fn every_class_that_can_end_a_finish_is_planned_when_it_is_wished_for() {
    let limits = Limits {
        has_spray_gun: true,
        ..Limits::default()
    };
    let mut not_planned = Vec::new();
    for class in FinishClass::CHOOSABLE.iter().copied() {
        let look = match class.row().group {
            Group::Paint if class == FinishClass::AerosolMetallicEnamel => Look::Metallic,
            Group::Paint => Look::Paint,
            Group::Clear | Group::Oil => Look::Clear,
            Group::Stain => Look::Stain,
            Group::Wax if class == FinishClass::RubOnMetallicWax => Look::Metallic,
            Group::Wax => Look::Wax,
            Group::Sealer if class == FinishClass::DewaxedShellac => Look::Clear,
            // Primers and sanding sealers lie under another finish.
            Group::Primer | Group::Sealer => continue,
        };
        let mut zone = Zone::bare("front", Substrate::Solid(Species::HardMaple));
        zone.use_ = Use::Display;
        let wish = Wish {
            class: Some(class),
            ..Wish::of(look)
        };
        match plan(&zone, &wish, &limits) {
            Ok(schedules) => {
                let laid = schedules
                    .iter()
                    .all(|one| one.steps.iter().any(|step| step.finish() == Some(class)));
                assert!(laid, "{class} was wished for and left out");
            }
            Err(no) => not_planned.push(format!("{class}: {no}")),
        }
    }
    assert!(not_planned.is_empty(), "{not_planned:#?}");
}

#[test]
fn every_class_found_on_a_piece_can_be_painted_over_or_stripped() {
    for class in FinishClass::EVERY.iter().copied() {
        let mut zone = Zone::bare("front", Substrate::Solid(Species::Beech));
        zone.found = vec![FoundLayer::of(class)];
        let schedules = plan(&zone, &Wish::of(Look::Paint), &Limits::default());
        assert!(schedules.is_ok(), "{class}: {:?}", schedules.err());
        let wish = Wish {
            strip: true,
            ..Wish::of(Look::Clear)
        };
        let schedules = plan(&zone, &wish, &Limits::default());
        assert!(schedules.is_ok(), "{class}: {:?}", schedules.err());
    }
}

#[test]
fn every_substrate_can_be_painted() {
    for substrate in Substrate::every() {
        let zone = Zone::bare("front", substrate);
        let schedules = plan(&zone, &Wish::of(Look::Paint), &Limits::default());
        assert!(schedules.is_ok(), "{substrate}: {:?}", schedules.err());
    }
}

#[test]
fn same_zone_gets_the_same_schedules_every_time() {
    let mut generator = Draw::seeded(5);
    for _ in 0..40 {
        let (zone, wish, limits) = draw(&mut generator);
        assert_eq!(plan(&zone, &wish, &limits), plan(&zone, &wish, &limits));
    }
}
