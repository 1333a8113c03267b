//! Fire: rags that heat themselves, vapour that finds a flame, spraying what burns.

use trade::finish_rows::Flammability;
use trade::{Material, PrepClass};

use crate::caution::{Caution, Level, Told, law_sentence};
use crate::facts::{Job, StepFacts};

/// Whether rags from a step can heat up by themselves.
pub(crate) fn rags_self_heat(material: Material) -> bool {
    match material {
        Material::Finish(class) => class.row().rags_self_heat,
        Material::Prep(class) => class == PrepClass::OilGrainFiller,
    }
}

/// The cautions on fire.
pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    let rags = job.steps_where(|step| step.material.is_some_and(rags_self_heat));
    if !rags.is_empty() {
        all.push(Told::steps(rags_caution(), rags));
    }
    let sprayed = job.steps_where(|step| step.is_sprayed() && burns(step));
    if !sprayed.is_empty() {
        all.push(Told::steps(spray_caution(), sprayed));
    }
    let brushed = job.steps_where(|step| !step.is_sprayed() && is_flammable(step));
    if !brushed.is_empty() {
        all.push(Told::steps(vapour_caution(), brushed));
    }
}

fn flammability(step: &StepFacts) -> Flammability {
    match step.material {
        Some(Material::Finish(class)) => class.row().flammability,
        Some(Material::Prep(PrepClass::Alcohol | PrepClass::Naphtha)) => Flammability::Flammable,
        Some(Material::Prep(PrepClass::MineralSpirits | PrepClass::OilGrainFiller)) => Flammability::Combustible,
        Some(Material::Prep(_)) | None => Flammability::None,
    }
}

fn burns(step: &StepFacts) -> bool {
    flammability(step) != Flammability::None
}

fn is_flammable(step: &StepFacts) -> bool {
    matches!(
        flammability(step),
        Flammability::Flammable | Flammability::ExtremelyFlammableAerosol
    )
}

fn rags_caution() -> Caution {
    let law = law_sentence("oily-rags");
    Caution {
        id: "rags-self-heat",
        level: Level::Warn,
        text: format!(
            "Rags, pads and sanding dust with this on them can catch fire by themselves within hours, in a bin or in a heap. Spread each \
             one flat out of doors until it is stiff, or drown it in a metal can with a lid; none stays in the shop overnight. {law}."
        ),
        ask: "your fire authority",
        source: "rag-advice",
    }
}

fn spray_caution() -> Caution {
    let law = law_sentence("spray-finishing");
    Caution {
        id: "spraying-what-burns",
        level: Level::Warn,
        text: format!(
            "A mist of this burns like a gas. No flame, heater, pilot light, switch or fan that can spark in the room; exhaust running before \
             the gun does; ground the gun. {law}."
        ),
        ask: "your fire authority and your insurer, before the first time",
        source: "us-cfr-29-1910-107",
    }
}

fn vapour_caution() -> Caution {
    Caution {
        id: "flammable-liquid",
        level: Level::Note,
        text: "Its vapour is heavier than air, runs along the floor and finds a flame in the next room: pilot lights and heaters off, lids on, \
               no more of it open than the step needs."
            .to_owned(),
        ask: "the safety data sheet, sections 5 and 7",
        source: "common-practice",
    }
}
