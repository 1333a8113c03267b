//! The lead gate.

use hazard::lead::{self, Gate};
use hazard::{LeadAmount, LeadTest, Level, Made, Operation, PieceFacts, Placement, StepFacts, TestKind, ZoneFacts};
use trade::{FinishClass, PrepClass, Species, Substrate};

use crate::{find, job};

fn old_paint() -> ZoneFacts {
    ZoneFacts::new("body", Substrate::Solid(Species::EasternWhitePine))
        .with_found(FinishClass::AlkydEnamel, 3)
        .with_area_m2(2.0)
}

#[test]
fn gate_opens_only_by_age_by_bareness_or_by_a_test() {
    let unknown = PieceFacts::unknown_age();
    assert_eq!(lead::gate(&unknown, &old_paint()), Gate::Untested);
    assert_eq!(lead::gate(&PieceFacts::made_in(1977), &old_paint()), Gate::Untested);
    assert_eq!(lead::gate(&PieceFacts::made_in(1978), &old_paint()), Gate::Open);
    let decade = PieceFacts {
        made: Made::Between(1970, 1979),
        ..unknown.clone()
    };
    assert_eq!(lead::gate(&decade, &old_paint()), Gate::Untested);
    let bare = ZoneFacts::new("body", Substrate::Wood);
    assert_eq!(lead::gate(&unknown, &bare), Gate::Open);
    let waxed = ZoneFacts::new("body", Substrate::Wood).with_found(FinishClass::PasteWax, 1);
    assert_eq!(lead::gate(&unknown, &waxed), Gate::Open);
    let unidentified = ZoneFacts::new("body", Substrate::Wood).with_found(FinishClass::Unknown, 1);
    assert_eq!(lead::gate(&unknown, &unidentified), Gate::Untested);
    assert_eq!(
        lead::gate(&unknown, &old_paint().with_lead(LeadTest::NoneFound(None))),
        Gate::NoneFound
    );
    let present = LeadTest::LEAD_FOUND;
    assert_eq!(
        lead::gate(&PieceFacts::made_in(2005), &old_paint().with_lead(present)),
        Gate::Present(None, None)
    );
}

#[test]
fn no_dry_sanding_before_a_test() {
    for operation in [
        Operation::StripSand,
        Operation::Sand,
        Operation::Scuff,
        Operation::Scrape,
        Operation::StripHeat,
        Operation::Distress,
    ] {
        let told = hazard::assess(&job(vec![old_paint()], vec![StepFacts::new(0, operation)]));
        assert_eq!(
            find(&told, "lead-untested").unwrap().caution.level,
            Level::Stop,
            "{operation}"
        );
    }
}

#[test]
fn wet_stripping_before_a_test_warns() {
    let strip = StepFacts::new(0, Operation::StripChemical)
        .with_material(PrepClass::GelStripper)
        .with_area_m2(2.0);
    let told = hazard::assess(&job(vec![old_paint()], vec![strip]));
    assert_eq!(find(&told, "lead-untested").unwrap().caution.level, Level::Warn);
    let mut wet = StepFacts::new(0, Operation::Scuff);
    wet.wet = true;
    let told = hazard::assess(&job(vec![old_paint()], vec![wet]));
    assert_eq!(find(&told, "lead-untested").unwrap().caution.level, Level::Warn);
}

#[test]
fn sanding_bare_wood_after_the_finish_is_off_is_not_held_up() {
    let steps = vec![
        StepFacts::new(0, Operation::StripChemical).with_material(PrepClass::GelStripper),
        StepFacts::new(0, Operation::Rinse),
        StepFacts::new(0, Operation::Sand),
    ];
    let told = hazard::assess(&job(vec![old_paint()], steps));
    assert_eq!(find(&told, "lead-untested").unwrap().caution.level, Level::Warn);
}

#[test]
fn young_paint_is_not_held_up() {
    let mut young = job(vec![old_paint()], vec![StepFacts::new(0, Operation::StripSand)]);
    young.piece = PieceFacts::made_in(1995);
    assert!(
        hazard::assess(&young)
            .iter()
            .all(|told| !told.caution.id.starts_with("lead"))
    );
}

#[test]
fn found_lead_stops_dust_and_names_the_measured_mass() {
    let zone = old_paint().with_lead(LeadTest::Present {
        by: None,
        amount: Some(LeadAmount::MgPerCm2(3.0)),
    });
    let told = hazard::assess(&job(
        vec![zone],
        vec![StepFacts::new(0, Operation::StripSand).with_area_m2(2.0)],
    ));
    assert_eq!(find(&told, "lead-made-to-dust").unwrap().caution.level, Level::Stop);
    assert_eq!(find(&told, "lead-present").unwrap().caution.level, Level::Warn);
    // 2 m² at 3 mg/cm²: 60 g.
    let text = &find(&told, "lead-set-free").unwrap().caution.text;
    assert!(text.contains("60.0 g by the measured 3 mg/cm²"), "{text}");
}

#[test]
fn mass_by_weight_uses_the_found_layers() {
    let zone = old_paint().with_lead(LeadTest::Present {
        by: None,
        amount: Some(LeadAmount::PercentByWeight(1.0)),
    });
    // Three coats of 40 µm on 2 m² are 240 cm³, at 1.8 g/cm³ 432 g, a hundredth of it 4.32 g.
    let (mass_g, _) = lead::set_free_g(&zone, 2.0);
    assert!((mass_g - 4.32).abs() < 1e-9, "{mass_g}");
}

#[test]
fn untested_mass_is_reckoned_at_the_threshold_and_says_so() {
    let (mass_g, how) = lead::set_free_g(&old_paint(), 2.0);
    assert!((mass_g - 20.0).abs() < 1e-9 && how.contains("1.0 mg/cm²"));
    assert_eq!(
        lead::set_free_g(&old_paint().with_lead(LeadTest::NoneFound(None)), 2.0).0,
        0.0
    );
}

#[test]
fn area_taken_off_never_exceeds_the_zone() {
    let told = hazard::assess(&job(
        vec![old_paint()],
        vec![StepFacts::new(0, Operation::StripChemical).with_area_m2(50.0)],
    ));
    assert!(find(&told, "lead-set-free").unwrap().caution.text.contains("2.0 m²"));
}

#[test]
fn built_in_old_paint_goes_to_a_certified_firm() {
    let mut built_in = job(vec![old_paint()], vec![StepFacts::new(0, Operation::StripChemical)]);
    built_in.piece.placement = Placement::BuiltIn;
    assert_eq!(
        find(&hazard::assess(&built_in), "lead-built-in").unwrap().caution.level,
        Level::Stop
    );
    built_in.piece.placement = Placement::Movable;
    assert!(find(&hazard::assess(&built_in), "lead-built-in").is_none());
}

#[test]
fn each_kind_of_test_says_what_it_cannot_tell() {
    for kind in TestKind::EVERY {
        let zone = old_paint().with_lead(LeadTest::NoneFound(Some(*kind)));
        let told = hazard::assess(&job(vec![zone], vec![StepFacts::new(0, Operation::StripChemical)]));
        let note = find(&told, "lead-test-limits").unwrap();
        assert_eq!(note.caution.level, Level::Note);
        assert!(note.caution.text.contains(&kind.row().cannot) && note.caution.text.contains(kind.label()));
        let zone = old_paint().with_lead(LeadTest::Present {
            by: Some(*kind),
            amount: None,
        });
        let told = hazard::assess(&job(vec![zone], vec![StepFacts::new(0, Operation::StripChemical)]));
        let text = &find(&told, "lead-present").unwrap().caution.text;
        assert!(
            text.contains(kind.label()) && text.contains(&kind.row().found),
            "{text}"
        );
    }
}

#[test]
fn a_swab_that_found_none_is_more_than_a_note_before_several_coats_become_dust() {
    let level = |coats: u8, kind, operation| {
        let zone = ZoneFacts::new("body", Substrate::Wood)
            .with_found(FinishClass::AlkydEnamel, coats)
            .with_lead(LeadTest::NoneFound(Some(kind)));
        let told = hazard::assess(&job(vec![zone], vec![StepFacts::new(0, operation)]));
        find(&told, "lead-test-limits").unwrap().caution.level
    };
    assert_eq!(level(3, TestKind::Swab, Operation::StripSand), Level::Warn);
    assert_eq!(level(1, TestKind::Swab, Operation::StripSand), Level::Note);
    assert_eq!(level(3, TestKind::Swab, Operation::StripChemical), Level::Note);
    assert_eq!(level(3, TestKind::LabChip, Operation::StripSand), Level::Note);
    assert_eq!(level(3, TestKind::Xrf, Operation::StripSand), Level::Note);
}

#[test]
fn a_measured_amount_is_held_against_what_counts_as_lead_paint() {
    let text = |amount| {
        let zone = old_paint().with_lead(LeadTest::Present {
            by: Some(TestKind::LabChip),
            amount: Some(amount),
        });
        let told = hazard::assess(&job(vec![zone], vec![StepFacts::new(0, Operation::StripSand)]));
        assert_eq!(find(&told, "lead-made-to-dust").unwrap().caution.level, Level::Stop);
        find(&told, "lead-made-to-dust").unwrap().caution.text.clone()
    };
    assert!(text(LeadAmount::MgPerCm2(1.0)).contains("1.0 times what counts as lead paint"));
    assert!(text(LeadAmount::PercentByWeight(6.0)).contains("12 times what counts as lead paint"));
    // Less than the threshold is still stopped from becoming dust.
    assert!(text(LeadAmount::MgPerCm2(0.99)).contains("less than what counts as lead paint"));
    assert!(text(LeadAmount::PercentByWeight(0.49)).contains("less than what counts as lead paint"));
}

#[test]
fn recalled_dust_levels_are_named_not_shown() {
    let told = hazard::assess(&job(
        vec![old_paint()],
        vec![StepFacts::new(0, Operation::StripChemical).with_area_m2(2.0)],
    ));
    let text = &find(&told, "lead-set-free").unwrap().caution.text;
    assert!(text.contains("Look up 40 CFR 745"), "{text}");
}
