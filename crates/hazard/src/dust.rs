//! Dust: of wood, of coatings, of fillers.

use trade::{Operation, PrepClass, Species};

use crate::caution::{Caution, Level, Told};
use crate::facts::Job;

/// Species whose dust is known to make people allergic more than most (common practice, after the notes of the species table).
const SENSITISING: &[Species] = &[
    Species::WesternRedcedar,
    Species::Rosewood,
    Species::Teak,
    Species::Mahogany,
    Species::AfricanMahogany,
];

/// The cautions on dust.
pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    let sanding = job.steps_where(|step| step.operation.is_dusty() && !step.wet);
    if sanding.is_empty() {
        return;
    }
    all.push(Told::steps(sanding_dust(), sanding.clone()));
    let on = |species: &[Species]| -> Vec<usize> {
        sanding
            .iter()
            .copied()
            .filter(|idx| {
                let zone = job.zones.get(job.steps[*idx].zone);
                zone.and_then(|zone| zone.substrate.species())
                    .is_some_and(|found| species.contains(&found))
            })
            .collect()
    };
    let sensitising = on(SENSITISING);
    if !sensitising.is_empty() {
        all.push(Told::steps(sensitising_wood(), sensitising));
    }
    let after_filler = level_after(job, &[PrepClass::PolyesterFiller, PrepClass::EpoxyFiller]);
    if !after_filler.is_empty() {
        all.push(Told::steps(filler_dust(), after_filler));
    }
}

/// Levelling or sanding steps in a zone that was filled with one of these classes before.
fn level_after(job: &Job, fillers: &[PrepClass]) -> Vec<usize> {
    (0..job.steps.len())
        .filter(|idx| {
            let step = &job.steps[*idx];
            matches!(step.operation, Operation::Level | Operation::Sand)
                && job.steps[..*idx].iter().any(|earlier| {
                    earlier.zone == step.zone && earlier.prep().is_some_and(|class| fillers.contains(&class))
                })
        })
        .collect()
}

fn sanding_dust() -> Caution {
    Caution {
        id: "sanding-dust",
        level: Level::Note,
        text: "Sanding dust of wood and of coatings harms the lungs, hardwood dust can cause cancer, and a cloud of it burns. Sand with \
               extraction through a fine filter, wear a fitted particle mask, and empty the bag away from sparks and from oily rags. There are \
               limits for wood dust at work: look them up for where you are."
            .to_owned(),
        ask: "the safety data sheet of the coating, and a fit-testing provider for the mask",
        source: "common-practice",
    }
}

fn sensitising_wood() -> Caution {
    Caution {
        id: "sensitising-wood",
        level: Level::Warn,
        text: "The dust of this wood makes more people allergic than most: asthma or a rash may come after years and then stay. Extraction at the \
               tool, a fitted mask, covered skin."
            .to_owned(),
        ask: "a doctor, at the first wheeze or rash",
        source: "common-practice",
    }
}

fn filler_dust() -> Caution {
    Caution {
        id: "filler-dust",
        level: Level::Note,
        text: "Dust of two-part filler holds mineral powder, and before it is fully hard also resin that can make the skin allergic: let it harden, \
               then sand with extraction and a fitted mask."
            .to_owned(),
        ask: "the safety data sheet, section 3",
        source: "common-practice",
    }
}
