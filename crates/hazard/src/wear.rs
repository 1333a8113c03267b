//! What to wear: families of masks and gloves, with the data sheet and a fit-testing provider to decide.
//!
//! A mask is only as good as its fit, so none is ever promised to be enough.

use std::sync::OnceLock;

use serde::Deserialize;
use trade::{Material, Operation, PrepClass};

use crate::caution::{Caution, Level, Told};
use crate::facts::{Job, StepFacts};
use crate::lead::{Gate, gate};
use crate::vapour;

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Exposure {
    SolventVapour,
    SolventMist,
    Stripper,
    SandingDust,
    LeadOrBleachDust,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wear {
    exposure: Exposure,
    mask: String,
    gloves: String,
}

#[derive(Debug, Deserialize)]
struct Wears {
    wear: Vec<Wear>,
}

fn wears() -> &'static [Wear] {
    static TABLE: OnceLock<Wears> = OnceLock::new();
    &TABLE
        .get_or_init(|| toml::from_str(include_str!("../data/wear.toml")).expect("a test reads the embedded table"))
        .wear
}

/// The cautions on what to wear, one for each kind of exposure that occurs.
pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    for wear in wears() {
        let steps = job.steps_where(|step| meets(job, step, wear.exposure));
        if !steps.is_empty() {
            all.push(Told::steps(caution(wear), steps));
        }
    }
}

fn meets(job: &Job, step: &StepFacts, exposure: Exposure) -> bool {
    let stripper = step.prep().is_some_and(PrepClass::is_stripper);
    let volatile = step.material.is_some_and(|material| match material {
        Material::Finish(class) => vapour::is_followed(class) && class.row().burns(),
        Material::Prep(class) => matches!(
            class,
            PrepClass::MineralSpirits | PrepClass::Naphtha | PrepClass::Alcohol
        ),
    });
    let dry_dust = step.operation.is_dusty() && !step.wet;
    let leaded = job
        .zones
        .get(step.zone)
        .is_some_and(|zone| matches!(gate(&job.piece, zone), Gate::Present(..)));
    match exposure {
        Exposure::SolventVapour => volatile && !step.is_sprayed(),
        Exposure::SolventMist => step.is_sprayed(),
        Exposure::Stripper => stripper && step.prep() != Some(PrepClass::MethyleneChlorideStripper),
        Exposure::SandingDust => dry_dust && !leaded,
        Exposure::LeadOrBleachDust => {
            leaded && (step.operation.is_dusty() || step.operation.is_stripping())
                || step.operation == Operation::Bleach
        }
    }
}

fn caution(wear: &Wear) -> Caution {
    let id = match wear.exposure {
        Exposure::SolventVapour => "wear-for-vapour",
        Exposure::SolventMist => "wear-for-mist",
        Exposure::Stripper => "wear-for-stripper",
        Exposure::SandingDust => "wear-for-dust",
        Exposure::LeadOrBleachDust => "wear-for-poisonous-dust",
    };
    Caution {
        id,
        level: Level::Note,
        text: format!(
            "Usual here: {}; {}. What is right for this product stands in section 8 of its safety data sheet, and a mask protects only once its fit was \
             tested.",
            wear.mask, wear.gloves
        ),
        ask: "the safety data sheet, section 8, and a fit-testing provider",
        source: "common-practice",
    }
}
