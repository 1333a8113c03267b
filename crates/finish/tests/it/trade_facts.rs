//! What every shop knows. All figures here are common practice; none is taken from the tables under test.

use finish::{Detail, FinishingSchedule, FoundLayer, Limits, Look, Step, Use, WaitKind, Wish, Zone, check, plan};
use trade::{FinishClass, Grit, Operation, PrepClass, Species, Substrate};

fn beech(found: &[FinishClass]) -> Zone {
    let mut zone = Zone::bare("front", Substrate::Solid(Species::Beech));
    zone.found = found.iter().copied().map(FoundLayer::of).collect();
    zone
}

fn first(zone: &Zone, wish: &Wish) -> FinishingSchedule {
    plan(zone, wish, &Limits::default()).unwrap().remove(0)
}

fn steps_of(schedule: &FinishingSchedule, operation: Operation) -> Vec<&Step> {
    schedule
        .steps
        .iter()
        .filter(|step| step.operation == operation)
        .collect()
}

#[test]
fn gel_stripper_dwells_about_half_an_hour() {
    let mut wish = Wish::of(Look::Clear);
    wish.strip = true;
    let mut zone = beech(&[FinishClass::OilBasedPolyurethane]);
    zone.detail = Detail::Moulded;
    let schedules = plan(&zone, &wish, &Limits::default()).unwrap();
    let gel = schedules
        .iter()
        .flat_map(|schedule| &schedule.steps)
        .find(|step| step.material == Some(PrepClass::GelStripper.into()));
    let wait = gel.unwrap().wait.unwrap();
    assert_eq!((wait.kind, wait.min_min), (WaitKind::Dwell, 30));
}

#[test]
fn bare_wood_under_clear_finish_is_sanded_p150_then_p220() {
    let mut wish = Wish::of(Look::Clear);
    wish.strip = true;
    let mut zone = beech(&[FinishClass::AlkydEnamel]);
    for (area_m2, detail) in [
        (0.05, Detail::Moulded),
        (0.2, Detail::Turned),
        (0.4, Detail::Moulded),
        (2.5, Detail::Carved),
    ] {
        (zone.area_m2, zone.detail) = (area_m2, detail);
        for schedule in plan(&zone, &wish, &Limits::default()).unwrap() {
            let grits: Vec<_> = steps_of(&schedule, Operation::Sand)
                .iter()
                .map(|step| step.grit.unwrap())
                .collect();
            assert_eq!(grits, [Grit::P150, Grit::P220], "{area_m2} m², {detail}");
        }
    }
}

#[test]
fn stripping_by_sanding_starts_at_p60() {
    let mut wish = Wish::of(Look::Clear);
    wish.strip = true;
    let schedules = plan(&beech(&[FinishClass::OilBasedPolyurethane]), &wish, &Limits::default()).unwrap();
    let sanded = schedules
        .iter()
        .find(|schedule| !steps_of(schedule, Operation::StripSand).is_empty())
        .unwrap();
    assert_eq!(steps_of(sanded, Operation::StripSand)[0].grit, Some(Grit::P60));
    let grits: Vec<_> = steps_of(sanded, Operation::Sand)
        .iter()
        .map(|step| step.grit.unwrap())
        .collect();
    assert_eq!(grits.last(), Some(&Grit::P220));
}

#[test]
fn metal_is_scuffed_with_p220_and_filler_levelled_with_p220() {
    let mut pulls = Zone::bare("pulls", Substrate::Brass);
    pulls.removable = true;
    let scuffs = first(&pulls, &Wish::of(Look::Metallic));
    assert_eq!(steps_of(&scuffs, Operation::Scuff)[0].grit, Some(Grit::P220));

    let mut zone = beech(&[FinishClass::AlkydEnamel]);
    zone.defects = vec![finish::Defect {
        kind: finish::DefectKind::Gouge,
        count: 2,
        depth_mm: Some(3.0),
    }];
    let painted = first(&zone, &Wish::of(Look::Paint));
    assert_eq!(steps_of(&painted, Operation::Level)[0].grit, Some(Grit::P220));
}

#[test]
fn thin_spray_coats_follow_each_other_after_about_five_minutes() {
    let mut pulls = Zone::bare("pulls", Substrate::Brass);
    pulls.removable = true;
    let schedule = first(&pulls, &Wish::of(Look::Metallic));
    let sprays = steps_of(&schedule, Operation::Spray);
    assert_eq!(sprays.len(), 3);
    let wait = sprays[0].wait.unwrap();
    assert!((4..=6).contains(&wait.min_min), "{wait:?}");
    assert_eq!(wait.max_min, Some(60), "the first window closes after an hour");
}

#[test]
fn two_coats_of_furniture_acrylic_are_two_hours_apart_and_hard_after_three_weeks() {
    let mut wish = Wish::of(Look::Paint);
    wish.class = Some(FinishClass::WaterborneAcrylicEnamel);
    let schedule = first(&beech(&[FinishClass::AlkydEnamel]), &wish);
    let coats = steps_of(&schedule, Operation::Paint);
    assert_eq!(coats.len(), 2);
    assert_eq!(coats[0].wait.map(|wait| wait.min_min), Some(120));
    let cure = coats[1].wait.unwrap();
    assert_eq!((cure.kind, cure.min_min), (WaitKind::Cure, 21 * 24 * 60));
}

#[test]
fn bedside_cabinet_takes_about_a_quarter_pint_of_acrylic() {
    // A US pint is 473 mL; a small bedside cabinet about 0.7 m² outside.
    let mut zone = beech(&[FinishClass::AlkydEnamel]);
    zone.area_m2 = 0.7;
    let mut wish = Wish::of(Look::Paint);
    wish.class = Some(FinishClass::WaterborneAcrylicEnamel);
    let schedule = first(&zone, &wish);
    let ml: f64 = steps_of(&schedule, Operation::Paint)
        .iter()
        .map(|step| step.quantity.as_ref().unwrap().ml.typical)
        .sum();
    assert!((95.0..=145.0).contains(&ml), "{ml} mL");
}

#[test]
fn dry_sanding_of_old_paint_before_a_lead_test_is_stopped() {
    let mut zone = beech(&[FinishClass::AlkydEnamel]);
    zone.made = finish::Made::default();
    for schedule in plan(&zone, &Wish::of(Look::Paint), &Limits::default()).unwrap() {
        assert!(
            schedule.steps.iter().all(|step| !step.operation.is_dusty() || step.wet),
            "{schedule:#?}"
        );
        let mut dry = schedule.steps.clone();
        dry.iter_mut().for_each(|step| step.wet = false);
        let found = check(&zone, &Wish::of(Look::Paint), &Limits::default(), &dry);
        assert!(
            found
                .iter()
                .any(|finding| finding.rule == "dry-sanding-before-lead-test")
        );
    }
}

#[test]
fn light_paint_over_oak_gets_a_stain_block_and_over_beech_none_for_that() {
    let mut wish = Wish::of(Look::Paint);
    wish.class = Some(FinishClass::WaterborneAcrylicEnamel);
    wish.colour = Some([245, 240, 230]);
    let oak = Zone::bare("front", Substrate::Solid(Species::RedOak));
    let reasons = |zone: &Zone| -> Vec<String> {
        let schedule = first(zone, &wish);
        let primes = steps_of(&schedule, Operation::Prime);
        primes
            .iter()
            .flat_map(|step| step.because.iter().map(|reason| reason.rule.clone()))
            .collect()
    };
    assert!(
        reasons(&oak)
            .iter()
            .any(|rule| rule == "bleed-through" || rule == "needs-primer")
    );
    assert!(!reasons(&beech(&[])).iter().any(|rule| rule == "bleed-through"));
}

#[test]
fn knots_get_two_spot_coats_under_light_paint() {
    let pine = Zone::bare("box", Substrate::Solid(Species::PonderosaPine));
    let schedule = first(&pine, &Wish::of(Look::Paint));
    assert_eq!(steps_of(&schedule, Operation::SpotPrime).len(), 2);
}

#[test]
fn nothing_goes_over_wax_and_dewaxing_comes_first() {
    let zone = beech(&[FinishClass::OilBasedPolyurethane, FinishClass::PasteWax]);
    let schedule = first(&zone, &Wish::of(Look::Paint));
    let dewax = schedule
        .steps
        .iter()
        .position(|step| step.operation == Operation::Dewax)
        .unwrap();
    let scuff = schedule
        .steps
        .iter()
        .position(|step| step.operation == Operation::Scuff)
        .unwrap();
    assert!(dewax < scuff);
}

#[test]
fn chalk_type_paint_ends_under_wax_or_clear() {
    let mut wish = Wish::of(Look::Paint);
    wish.class = Some(FinishClass::ChalkTypePaint);
    let schedule = first(&beech(&[]), &wish);
    let last = schedule.steps.last().unwrap();
    assert!(
        matches!(last.operation, Operation::Wax | Operation::ClearCoat),
        "{}",
        last.words()
    );
}

#[test]
fn kitchen_paint_is_a_hard_one_or_gets_a_clear_coat() {
    let mut zone = beech(&[FinishClass::AlkydEnamel]);
    zone.use_ = Use::Kitchen;
    for schedule in plan(&zone, &Wish::of(Look::Paint), &Limits::default()).unwrap() {
        assert!(schedule.measures.wear >= 4);
    }
}

#[test]
fn pigment_stain_on_birch_goes_over_a_conditioner() {
    let mut wish = Wish::of(Look::Stain);
    wish.class = Some(FinishClass::OilPigmentStain);
    let birch = Zone::bare("top", Substrate::Solid(Species::YellowBirch));
    let schedule = first(&birch, &wish);
    let conditioner = schedule
        .steps
        .iter()
        .position(|step| step.material == Some(PrepClass::WoodConditioner.into()))
        .unwrap();
    let stain = schedule
        .steps
        .iter()
        .position(|step| step.operation == Operation::Stain)
        .unwrap();
    assert!(conditioner < stain);
    let grit = steps_of(&schedule, Operation::Sand).last().unwrap().grit.unwrap();
    assert_eq!(grit, Grit::P180, "finer wood takes stain pale");
}

/// Shallow dents in bared solid wood come up with steam; that is done before the first sanding, and no filler is seen through the
/// clear finish. Veneer is not steamed.
#[test]
fn dents_in_bared_solid_wood_are_steamed_before_sanding() {
    let dent = |depth_mm| finish::Defect {
        kind: finish::DefectKind::Dent,
        count: 2,
        depth_mm: Some(depth_mm),
    };
    let mut wish = Wish::of(Look::Clear);
    wish.strip = true;
    let mut zone = beech(&[FinishClass::OilBasedPolyurethane]);
    zone.use_ = Use::Dining;
    let is_steam = |step: &Step| step.operation == Operation::Fill && step.material == Some(PrepClass::Heat.into());
    zone.defects = vec![dent(1.0)];
    let schedules = plan(&zone, &wish, &Limits::default()).unwrap();
    let steamed: Vec<_> = schedules
        .iter()
        .filter(|schedule| schedule.steps.iter().any(is_steam))
        .collect();
    assert!(!steamed.is_empty());
    for schedule in steamed {
        let at = |wanted: &dyn Fn(&Step) -> bool| schedule.steps.iter().position(wanted).unwrap();
        let stripped = at(&|step: &Step| step.operation.is_stripping());
        assert!(stripped < at(&is_steam) && at(&is_steam) < at(&|step: &Step| step.operation == Operation::Sand));
        assert!(schedule.steps.iter().any(|step| step.words().contains("steam")));
    }
    for (substrate, depth_mm) in [(zone.substrate, 4.0), (Substrate::parse("veneer 0.6 mm").unwrap(), 1.0)] {
        zone.substrate = substrate;
        zone.defects = vec![dent(depth_mm)];
        let schedules = plan(&zone, &wish, &Limits::default()).unwrap();
        assert!(
            !schedules.iter().flat_map(|schedule| &schedule.steps).any(is_steam),
            "{substrate}"
        );
    }
}

/// The cut edges of fibreboard are sealed before the first paint: by spots of shellac, by a primer that is not waterborne, or by a
/// second coat of one that is. A board without an edge in the zone needs none of it.
#[test]
fn edges_of_board_are_sealed_before_paint() {
    let mut zone = Zone::bare("shelf", Substrate::Mdf);
    let schedules = plan(&zone, &Wish::of(Look::Paint), &Limits::default()).unwrap();
    for schedule in &schedules {
        let before: Vec<&Step> = schedule
            .steps
            .iter()
            .take_while(|step| step.operation != Operation::Paint)
            .collect();
        let spots = before.iter().any(|step| step.operation == Operation::SpotPrime);
        let primers: Vec<FinishClass> = before
            .iter()
            .filter(|step| step.operation == Operation::Prime)
            .filter_map(|step| step.finish())
            .collect();
        let shut = primers.iter().any(|class| !class.row().is_waterborne());
        assert!(
            spots || shut || primers.len() >= 2,
            "{:?}",
            schedule.steps.iter().map(Step::words).collect::<Vec<_>>()
        );
    }
    zone.edge_m = 0.0;
    let flat = plan(&zone, &Wish::of(Look::Paint), &Limits::default()).unwrap();
    assert!(
        flat.iter()
            .all(|schedule| steps_of(schedule, Operation::SpotPrime).is_empty())
    );
}

/// What was glued is sanded before it is stained.
#[test]
fn glue_is_sanded_off_before_stain() {
    let mut zone = Zone::bare("rail", Substrate::Solid(Species::RedOak));
    zone.defects = vec![finish::Defect {
        kind: finish::DefectKind::LooseJoint,
        count: 1,
        depth_mm: None,
    }];
    for schedule in plan(&zone, &Wish::of(Look::Stain), &Limits::default()).unwrap() {
        let at = |operation| schedule.steps.iter().position(|step| step.operation == operation);
        let (glued, stained) = (at(Operation::Glue).unwrap(), at(Operation::Stain).unwrap());
        let between = &schedule.steps[glued..stained];
        assert!(
            between.iter().any(|step| step.operation == Operation::Sand),
            "{:?}",
            schedule.steps.iter().map(Step::words).collect::<Vec<_>>()
        );
    }
}
