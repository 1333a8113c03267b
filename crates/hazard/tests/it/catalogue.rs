//! The catalogue of cautions: whole, sourced, and free of figures that were not read.

use std::collections::BTreeSet;

use hazard::{
    EVERY, Job, Kind, LeadAmount, LeadTest, Operation, PieceFacts, Placement, RoomFacts, StepFacts, Told, Use,
    ZoneFacts,
};
use trade::methods::Method;
use trade::{FinishClass, Material, PrepClass, Species, Substrate, law, sources};

/// Jobs enough to provoke everything there is.
fn many_jobs() -> Vec<Job> {
    let mut jobs = Vec::new();
    let zones = || {
        vec![
            ZoneFacts::new("old", Substrate::Solid(Species::WesternRedcedar))
                .with_found(FinishClass::AlkydEnamel, 3)
                .with_area_m2(2.0),
            ZoneFacts::new("leaded", Substrate::Wood)
                .with_found(FinishClass::Unknown, 2)
                .with_lead(LeadTest::Present {
                    by: None,
                    amount: Some(LeadAmount::MgPerCm2(2.0)),
                }),
            ZoneFacts::new("tested", Substrate::Wood)
                .with_found(FinishClass::AlkydEnamel, 1)
                .with_lead(LeadTest::NoneFound(None)),
            ZoneFacts {
                touches_food: true,
                ..ZoneFacts::new("metal", Substrate::Aluminium)
            },
        ]
    };
    for kind in [Kind::Ordinary, Kind::Crib, Kind::HighChair] {
        for placement in [Placement::Movable, Placement::BuiltIn] {
            let mut steps = Vec::new();
            for zone in 0..4 {
                steps.extend(Material::every().map(|material| {
                    let operation = match material {
                        Material::Prep(class) if class.is_stripper() => Operation::StripChemical,
                        Material::Prep(PrepClass::OxalicBleach) => Operation::Bleach,
                        Material::Prep(_) => Operation::Fill,
                        Material::Finish(_) => Operation::ClearCoat,
                    };
                    StepFacts::new(zone, operation)
                        .with_material(material)
                        .with_quantity_l(1.0)
                }));
                steps.extend(
                    Operation::EVERY
                        .iter()
                        .map(|operation| StepFacts::new(zone, *operation)),
                );
                steps.push(
                    StepFacts::new(zone, Operation::Spray)
                        .with_material(FinishClass::TwoPartWaterbornePolyurethane)
                        .with_method(Method::Hvlp),
                );
                steps.push(
                    StepFacts::new(zone, Operation::Spray)
                        .with_material(FinishClass::NitrocelluloseLacquer)
                        .with_quantity_l(2.0),
                );
            }
            for used in [Use::Display, Use::Nursery] {
                let piece = PieceFacts {
                    kind,
                    placement,
                    used,
                    historic: true,
                    ..PieceFacts::unknown_age()
                };
                jobs.push(Job {
                    piece,
                    zones: zones(),
                    steps: steps.clone(),
                    room: RoomFacts::steady(8.0, 0.2),
                });
            }
        }
    }
    jobs
}

fn everything_told() -> Vec<Told> {
    many_jobs().iter().flat_map(hazard::assess).collect()
}

#[test]
fn every_caution_is_listed_and_every_listed_one_can_be_provoked() {
    let listed: BTreeSet<&str> = EVERY.iter().map(|(id, _)| *id).collect();
    assert_eq!(listed.len(), EVERY.len(), "an id is listed twice");
    let told: BTreeSet<&str> = everything_told().iter().map(|told| told.caution.id).collect();
    assert_eq!(told, listed);
}

#[test]
fn every_caution_names_a_listed_source_and_somebody_to_ask() {
    for told in everything_told() {
        assert!(
            sources::get(told.caution.source).is_some(),
            "{}: {}",
            told.caution.id,
            told.caution.source
        );
        assert!(
            !told.caution.ask.is_empty() && told.caution.text.len() > 30,
            "{}",
            told.caution.id
        );
        assert!(
            !told.caution.text.contains("  "),
            "{}: {}",
            told.caution.id,
            told.caution.text
        );
    }
}

#[test]
fn what_recalled_law_says_is_never_told() {
    let texts: Vec<String> = everything_told().into_iter().map(|told| told.caution.text).collect();
    for row in law::all()
        .iter()
        .filter(|row| row.rule_status == sources::Status::Memory)
    {
        let figure = format!("{} {}", row.figure, row.unit);
        // A figure that another rule was read to state may be told.
        if law::all()
            .iter()
            .any(|other| other.rule_status == sources::Status::Read && other.figure == row.figure)
        {
            continue;
        }
        for text in &texts {
            assert!(!text.contains(&row.says), "{}", row.id);
            assert!(row.figure.is_empty() || !text.contains(&figure), "{}: {text}", row.id);
        }
    }
}

#[test]
fn gravest_come_first() {
    for job in many_jobs() {
        let told = hazard::assess(&job);
        assert!(
            told.windows(2)
                .all(|pair| pair[0].caution.level >= pair[1].caution.level)
        );
    }
}

#[test]
fn nothing_promises_safety() {
    for told in everything_told() {
        let text = told.caution.text.to_lowercase();
        for word in ["is safe", "are safe", "safe to", "guarantee", "no risk", "harmless"] {
            assert!(!text.contains(word), "{}: {text}", told.caution.id);
        }
    }
}

#[test]
fn page_of_cautions_lists_what_the_code_lists() {
    let page = include_str!("../../../../docs/CAUTIONS.md");
    let listed: Vec<&str> = page.lines().filter(|line| line.starts_with("| `")).collect();
    let expected: Vec<String> = EVERY.iter().map(|(id, when)| format!("| `{id}` | {when} |")).collect();
    assert_eq!(listed, expected, "write docs/CAUTIONS.md anew from hazard::EVERY");
}
