//! What a coat gives off beyond its solvent: isocyanate, formaldehyde, ammonia, styrene.

use trade::{FinishClass, PrepClass};

use crate::caution::{Caution, Level, Told};
use crate::facts::{Job, Kind, StepFacts, Use};

/// The cautions on what is given off.
pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    let of = |wanted: fn(FinishClass) -> bool| job.steps_where(|step| step.finish().is_some_and(wanted));
    let isocyanate = of(|class| class.row().isocyanate);
    let (sprayed, by_hand): (Vec<usize>, Vec<usize>) =
        isocyanate.into_iter().partition(|idx| job.steps[*idx].is_sprayed());
    push(all, isocyanate_mist(), sprayed);
    push(all, isocyanate_by_hand(), by_hand);
    push(all, formaldehyde(job), of(|class| class.row().formaldehyde));
    let with = |class: PrepClass| job.steps_where(|step: &StepFacts| step.prep() == Some(class));
    push(all, ammonia(), of(|class| class.row().ammonia));
    push(all, styrene(), with(PrepClass::PolyesterFiller));
    push(all, epoxy(), with(PrepClass::EpoxyFiller));
}

fn push(all: &mut Vec<Told>, caution: Caution, steps: Vec<usize>) {
    if !steps.is_empty() {
        all.push(Told::steps(caution, steps));
    }
}

fn isocyanate_mist() -> Caution {
    Caution {
        id: "isocyanate-spray",
        level: Level::Stop,
        text: "A sprayed hardener with isocyanate can cause asthma for life, and it gives no warning by its smell. Do not spray it without supplied \
               air, full cover, exhaust and the training your law asks for; brush or roll it, choose a one-part coat, or give the spraying to a \
               shop that is equipped."
            .to_owned(),
        ask: "the safety data sheet, section 8, and an occupational doctor",
        source: "common-practice",
    }
}

fn isocyanate_by_hand() -> Caution {
    Caution {
        id: "isocyanate-hardener",
        level: Level::Warn,
        text: "The hardener holds isocyanate, which can make lungs and skin allergic for life: nitrile or butyl gloves, goggles, covered skin, plenty \
               of fresh air; mix no more than you use; nobody with asthma works with it. Some laws ask for training first: look up yours."
            .to_owned(),
        ask: "the safety data sheet, section 8",
        source: "common-practice",
    }
}

fn formaldehyde(job: &Job) -> Caution {
    let indoors = matches!(job.piece.used, Use::Nursery | Use::Bedroom) || job.piece.kind != Kind::Ordinary;
    let room = if indoors {
        " This piece goes where somebody sleeps or a child plays: choose another finish."
    } else {
        ""
    };
    Caution {
        id: "formaldehyde",
        level: Level::Warn,
        text: format!(
            "Acid-cured and pre-catalysed finishes give off formaldehyde, which causes cancer, while they harden and for weeks after: exhaust, a mask \
             with the cartridge the data sheet names, and let the piece air in a room nobody lives in.{room}"
        ),
        ask: "the safety data sheet, sections 8 and 11",
        source: "common-practice",
    }
}

fn ammonia() -> Caution {
    Caution {
        id: "ammonia",
        level: Level::Note,
        text: "May give off ammonia while it dries: open the room, and keep it off brass and from oak that is to stay light.".to_owned(),
        ask: "the safety data sheet, section 8",
        source: "common-practice",
    }
}

fn styrene() -> Caution {
    Caution {
        id: "styrene",
        level: Level::Note,
        text: "Polyester filler gives off styrene, and its hardener is a peroxide that burns eyes and feeds fire: fresh air, goggles, gloves, and never \
               more hardener than the label says."
            .to_owned(),
        ask: "the safety data sheet, sections 7 and 8",
        source: "common-practice",
    }
}

fn epoxy() -> Caution {
    Caution {
        id: "epoxy-skin",
        level: Level::Note,
        text: "Epoxy that has not hardened can make the skin allergic for good: gloves from the first minute, no solvent to wash hands.".to_owned(),
        ask: "the safety data sheet, section 8",
        source: "common-practice",
    }
}
