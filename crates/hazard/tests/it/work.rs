//! Cautions that follow the materials and the use of the piece: each once where it fires, once where it just does not.

use hazard::{Kind, Level, Operation, PieceFacts, StepFacts, Told, Use, ZoneFacts};
use trade::methods::Method;
use trade::{FinishClass, Material, PrepClass, Species, Substrate};

use crate::{find, job};

fn new_maple() -> ZoneFacts {
    ZoneFacts::new("top", Substrate::Solid(Species::HardMaple))
}

fn told_of(step: StepFacts) -> Vec<Told> {
    hazard::assess(&job(vec![new_maple()], vec![step]))
}

fn coat(class: FinishClass) -> StepFacts {
    StepFacts::new(0, Operation::ClearCoat).with_material(class)
}

fn level_of(told: &[Told], id: &str) -> Option<Level> {
    find(told, id).map(|told| told.caution.level)
}

#[test]
fn rags_of_what_takes_up_oxygen_are_warned_of_and_others_not() {
    for class in FinishClass::CHOOSABLE {
        let told = level_of(&told_of(coat(*class)), "rags-self-heat");
        assert_eq!(told.is_some(), class.row().rags_self_heat, "{class}");
    }
    assert!(level_of(&told_of(coat(FinishClass::DryingOil)), "rags-self-heat") == Some(Level::Warn));
    let filled = StepFacts::new(0, Operation::Fill).with_material(PrepClass::OilGrainFiller);
    assert!(find(&told_of(filled), "rags-self-heat").is_some());
}

#[test]
fn methylene_chloride_is_always_a_stop() {
    let strip = StepFacts::new(0, Operation::StripChemical).with_material(PrepClass::MethyleneChlorideStripper);
    let mut job = job(vec![new_maple()], vec![strip]);
    assert_eq!(level_of(&hazard::assess(&job), "methylene-chloride"), Some(Level::Stop));
    job.piece.historic = true;
    let told = hazard::assess(&job);
    assert_eq!(level_of(&told, "methylene-chloride"), Some(Level::Stop));
    assert!(
        find(&told, "methylene-chloride")
            .unwrap()
            .caution
            .text
            .contains("751.115")
    );
}

#[test]
fn isocyanate_may_be_brushed_with_care_and_not_sprayed() {
    let brushed = told_of(coat(FinishClass::TwoPartWaterbornePolyurethane));
    assert_eq!(level_of(&brushed, "isocyanate-hardener"), Some(Level::Warn));
    assert!(find(&brushed, "isocyanate-spray").is_none());
    let sprayed = told_of(coat(FinishClass::TwoPartWaterbornePolyurethane).with_method(Method::Hvlp));
    assert_eq!(level_of(&sprayed, "isocyanate-spray"), Some(Level::Stop));
    assert!(
        find(
            &told_of(coat(FinishClass::WaterbornePolyurethane).with_method(Method::Hvlp)),
            "isocyanate-spray"
        )
        .is_none()
    );
}

#[test]
fn formaldehyde_is_told_of_acid_cured_coats_and_graver_where_a_child_sleeps() {
    let told = told_of(coat(FinishClass::ConversionVarnish));
    assert!(
        !find(&told, "formaldehyde")
            .unwrap()
            .caution
            .text
            .contains("choose another")
    );
    let mut nursery = job(vec![new_maple()], vec![coat(FinishClass::ConversionVarnish)]);
    nursery.piece.used = Use::Nursery;
    let told = hazard::assess(&nursery);
    assert!(
        find(&told, "formaldehyde")
            .unwrap()
            .caution
            .text
            .contains("choose another finish")
    );
    assert_eq!(level_of(&told, "for-a-nursery"), Some(Level::Warn));
    assert!(find(&told_of(coat(FinishClass::WaterbornePolyurethane)), "formaldehyde").is_none());
}

#[test]
fn caustic_never_on_aluminium() {
    let strip = StepFacts::new(0, Operation::StripChemical).with_material(PrepClass::CausticStripper);
    let told = hazard::assess(&job(
        vec![ZoneFacts::new("legs", Substrate::Aluminium)],
        vec![strip.clone()],
    ));
    assert_eq!(level_of(&told, "caustic-on-aluminium"), Some(Level::Stop));
    assert!(find(&told_of(strip), "caustic-on-aluminium").is_none());
}

#[test]
fn cribs_toys_and_high_chairs_stop() {
    for (kind, id) in [
        (Kind::Crib, "crib"),
        (Kind::Toy, "made-for-a-child"),
        (Kind::HighChair, "made-for-a-child"),
    ] {
        let mut job = job(vec![new_maple()], vec![coat(FinishClass::PasteWax)]);
        job.piece = PieceFacts {
            kind,
            ..PieceFacts::made_in(2015)
        };
        assert_eq!(level_of(&hazard::assess(&job), id), Some(Level::Stop));
    }
}

#[test]
fn food_is_for_the_maker_to_vouch_for() {
    let mut zone = new_maple();
    zone.touches_food = true;
    let told = hazard::assess(&job(vec![zone], vec![coat(FinishClass::DryingOil)]));
    assert_eq!(level_of(&told, "food-contact"), Some(Level::Warn));
    assert!(find(&told_of(coat(FinishClass::DryingOil)), "food-contact").is_none());
}

#[test]
fn cedar_dust_is_worse_than_maple_dust() {
    let sand = StepFacts::new(0, Operation::Sand);
    let cedar = ZoneFacts::new("top", Substrate::Solid(Species::WesternRedcedar));
    let told = hazard::assess(&job(vec![cedar], vec![sand.clone()]));
    assert_eq!(level_of(&told, "sensitising-wood"), Some(Level::Warn));
    assert!(find(&told_of(sand), "sensitising-wood").is_none());
}

#[test]
fn filler_dust_is_told_only_after_two_part_filler() {
    let fill = |class: PrepClass| StepFacts::new(0, Operation::Fill).with_material(class);
    let told = |class: PrepClass| {
        hazard::assess(&job(
            vec![new_maple()],
            vec![fill(class), StepFacts::new(0, Operation::Level)],
        ))
    };
    assert_eq!(
        find(&told(PrepClass::PolyesterFiller), "filler-dust").unwrap().steps,
        [1]
    );
    assert!(find(&told(PrepClass::WaterBasedFiller), "filler-dust").is_none());
}

#[test]
fn spraying_what_burns_is_told_of_lacquer_and_not_of_waterborne() {
    assert_eq!(
        level_of(
            &told_of(coat(FinishClass::NitrocelluloseLacquer).with_method(Method::Hvlp)),
            "spraying-what-burns"
        ),
        Some(Level::Warn)
    );
    assert!(
        find(
            &told_of(coat(FinishClass::WaterbornePolyurethane).with_method(Method::Hvlp)),
            "spraying-what-burns"
        )
        .is_none()
    );
    assert!(find(&told_of(coat(FinishClass::NitrocelluloseLacquer)), "flammable-liquid").is_some());
    assert!(find(&told_of(coat(FinishClass::AlkydEnamel)), "flammable-liquid").is_none());
}

#[test]
fn gel_stripper_tells_of_nmp_and_what_to_wear() {
    let told = told_of(StepFacts::new(0, Operation::StripChemical).with_material(PrepClass::GelStripper));
    assert_eq!(level_of(&told, "nmp-in-stripper"), Some(Level::Warn));
    assert!(
        find(&told, "wear-for-stripper")
            .unwrap()
            .caution
            .text
            .contains("safety data sheet")
    );
}

#[test]
fn every_material_can_be_assessed_with_every_operation() {
    for material in Material::every() {
        for operation in Operation::EVERY {
            let step = StepFacts::new(0, *operation)
                .with_material(material)
                .with_quantity_l(0.2);
            for told in told_of(step) {
                assert_eq!(told.steps.iter().filter(|idx| **idx != 0).count(), 0);
            }
        }
    }
}

#[test]
fn step_of_a_zone_that_does_not_exist_is_no_panic() {
    let told = hazard::assess(&job(vec![], vec![StepFacts::new(7, Operation::Sand)]));
    assert!(find(&told, "sanding-dust").is_some());
}
