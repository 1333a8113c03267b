//! What must hold whatever the room, the coats and the zone.

use hazard::room::{Release, follow};
use hazard::{LeadAmount, LeadTest, Level, Operation, PieceFacts, RoomFacts, StepFacts, ZoneFacts, lead};
use proptest::prelude::*;
use trade::solvents::Substance;
use trade::{FinishClass, Material, Substrate};

use crate::job;

fn release() -> impl Strategy<Value = Release> {
    (0.0..3000.0, 1.0..200.0, 1.0..600.0).prop_map(|(at_min, mass_g, half_life_min)| Release {
        at_min,
        substance: Substance::Xylene,
        mass_g,
        half_life_min,
    })
}

fn room() -> impl Strategy<Value = RoomFacts> {
    (10.0..300.0, 0.0..20.0, 1.0..10.0).prop_map(|(volume_m3, air_changes_per_h, mixing)| RoomFacts {
        mixing,
        ..RoomFacts::steady(volume_m3, air_changes_per_h)
    })
}

fn material() -> impl Strategy<Value = Option<Material>> {
    let every: Vec<Option<Material>> = std::iter::once(None).chain(Material::every().map(Some)).collect();
    proptest::sample::select(every)
}

proptest! {
    #[test]
    fn no_room_holds_more_than_was_let_go(room in room(), coats in prop::collection::vec(release(), 1..6)) {
        let total_g: f64 = coats.iter().map(|coat| coat.mass_g).sum();
        let most_ppm = total_g / 106.2 * 0.024_14 / room.volume_m3 * 1e6;
        let exposure = follow(&room, &coats).exposures[0];
        prop_assert!(exposure.peak_ppm <= most_ppm * (1.0 + 1e-9));
        prop_assert!(exposure.worst_8_h_ppm >= 0.0 && exposure.worst_8_h_ppm <= exposure.worst_15_min_ppm * (1.0 + 1e-9));
        prop_assert!(exposure.worst_15_min_ppm <= exposure.peak_ppm * (1.0 + 1e-9));
    }

    #[test]
    fn more_fresh_air_never_makes_it_worse(room in room(), coats in prop::collection::vec(release(), 1..6), more in 0.1..10.0) {
        let aired = RoomFacts { ventilation: vec![hazard::Ventilation {
            from_min: 0.0,
            air_changes_per_h: room.ventilation[0].air_changes_per_h + more,
        }], ..room.clone() };
        let (before, after) = (follow(&room, &coats), follow(&aired, &coats));
        prop_assert!(after.worst_8_h_of_limits <= before.worst_8_h_of_limits * (1.0 + 1e-9));
        prop_assert!(after.peak_of_explosive <= before.peak_of_explosive * (1.0 + 1e-9));
    }

    #[test]
    fn one_more_coat_never_makes_it_better(room in room(), coats in prop::collection::vec(release(), 1..5), more in release()) {
        let before = follow(&room, &coats).worst_8_h_of_limits;
        let with_more: Vec<Release> = coats.iter().copied().chain([more]).collect();
        prop_assert!(follow(&room, &with_more).worst_8_h_of_limits >= before * (1.0 - 1e-3));
    }

    #[test]
    fn old_untested_paint_is_never_dry_sanded_without_a_stop(
        operations in prop::collection::vec(proptest::sample::select(Operation::EVERY), 1..12),
        class in proptest::sample::select(FinishClass::EVERY),
        material in material(),
    ) {
        let zone = ZoneFacts::new("body", Substrate::Wood).with_found(class, 2);
        let steps: Vec<StepFacts> = operations
            .iter()
            .map(|operation| {
                let mut step = StepFacts::new(0, *operation).with_quantity_l(0.1);
                step.material = material;
                step
            })
            .collect();
        let told = hazard::assess(&job(vec![zone.clone()], steps));
        // As long as no stripping went before, the first dusty step meets the old finish.
        let first_strip = operations.iter().position(|operation| operation.is_stripping());
        let first_dusty = operations.iter().position(|operation| operation.is_dusty());
        let meets = first_dusty.is_some_and(|dusty| first_strip.is_none_or(|strip| dusty <= strip));
        let untested = lead::gate(&PieceFacts::unknown_age(), &zone) == lead::Gate::Untested;
        if meets && untested {
            let stop = told.iter().find(|told| told.caution.id == "lead-untested").map(|told| told.caution.level);
            prop_assert_eq!(stop, Some(Level::Stop));
        }
    }

    #[test]
    fn twice_the_area_or_the_loading_is_twice_the_lead(area_m2 in 0.01..20.0, loading in 0.01..50.0) {
        let zone = |loading: f64| {
            ZoneFacts::new("body", Substrate::Wood).with_lead(LeadTest::Present { by: None, amount: Some(LeadAmount::MgPerCm2(loading)) })
        };
        let once_g = lead::set_free_g(&zone(loading), area_m2).0;
        prop_assert!((lead::set_free_g(&zone(loading), 2.0 * area_m2).0 / once_g - 2.0).abs() < 1e-9);
        prop_assert!((lead::set_free_g(&zone(2.0 * loading), area_m2).0 / once_g - 2.0).abs() < 1e-9);
    }
}
