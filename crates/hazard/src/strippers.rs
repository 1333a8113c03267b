//! Strippers, bleach and heat: what must never be planned, and what needs gloves and thought.

use trade::{Operation, PrepClass, Substrate};

use crate::caution::{Caution, Level, Told, law_sentence};
use crate::facts::{Job, StepFacts};

/// The cautions on taking an old finish off.
pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    let with = |class: PrepClass| job.steps_where(|step: &StepFacts| step.prep() == Some(class));
    push(all, methylene_chloride(job), with(PrepClass::MethyleneChlorideStripper));
    push(all, nmp(), with(PrepClass::GelStripper));
    push(all, benzyl_alcohol(), with(PrepClass::BenzylAlcoholStripper));
    push(all, caustic(), with(PrepClass::CausticStripper));
    let on_aluminium = job.steps_where(|step| {
        step.prep() == Some(PrepClass::CausticStripper)
            && job
                .zones
                .get(step.zone)
                .is_some_and(|zone| zone.substrate == Substrate::Aluminium)
    });
    push(all, caustic_on_aluminium(), on_aluminium);
    push(all, oxalic(), with(PrepClass::OxalicBleach));
    push(
        all,
        heat(),
        job.steps_where(|step| step.operation == Operation::StripHeat),
    );
}

fn push(all: &mut Vec<Told>, caution: Caution, steps: Vec<usize>) {
    if !steps.is_empty() {
        all.push(Told::steps(caution, steps));
    }
}

fn methylene_chloride(job: &Job) -> Caution {
    let exception = if job.piece.historic {
        format!(" {}.", law_sentence("dcm-historic-furniture"))
    } else {
        String::new()
    };
    Caution {
        id: "methylene-chloride",
        level: Level::Stop,
        text: format!(
            "Methylene chloride has killed people at this work, in small rooms and with cartridge masks on, which do not hold it back. \
             {}.{exception} Use another stripper.",
            law_sentence("dcm-2024-rule")
        ),
        ask: "a firm that is equipped and allowed to use it",
        source: "us-cfr-40-751",
    }
}

fn nmp() -> Caution {
    Caution {
        id: "nmp-in-stripper",
        level: Level::Warn,
        text: format!(
            "Some gel strippers hold NMP, which can harm an unborn child and goes through the skin: read section 3 of the safety data \
             sheet, choose one without it, or wear butyl or laminate gloves, and let nobody who is or may become pregnant use it. {}.",
            law_sentence("nmp-proposed")
        ),
        ask: "the safety data sheet, sections 3 and 8",
        source: "us-fr-nmp",
    }
}

fn benzyl_alcohol() -> Caution {
    Caution {
        id: "benzyl-alcohol-skin",
        level: Level::Note,
        text: "Benzyl-alcohol stripper irritates skin and eyes: goggles, the gloves its label names, and fresh air while it works.".to_owned(),
        ask: "the label and the safety data sheet",
        source: "recalled-class-figures",
    }
}

fn caustic() -> Caution {
    Caution {
        id: "caustic-burns",
        level: Level::Warn,
        text: "Caustic stripper burns skin and blinds: face shield, long gloves and apron for caustics, water at hand. It darkens oak and \
               mahogany, loosens glue and veneer, and what is left of it throws the next coat off: neutralise and rinse."
            .to_owned(),
        ask: "the label and the safety data sheet",
        source: "mil-hdbk-1110",
    }
}

fn caustic_on_aluminium() -> Caution {
    Caution {
        id: "caustic-on-aluminium",
        level: Level::Stop,
        text: "Caustic eats aluminium and gives off hydrogen, which can explode. Use another stripper.".to_owned(),
        ask: "the label",
        source: "common-practice",
    }
}

fn oxalic() -> Caution {
    Caution {
        id: "oxalic-acid",
        level: Level::Warn,
        text: "Oxalic acid is poisonous and its dry crystals are worse: gloves and goggles to mix and spread it, rinse it out twice and \
               neutralise, and never sand wood from which it has not been rinsed."
            .to_owned(),
        ask: "the label and the safety data sheet",
        source: "common-practice",
    }
}

fn heat() -> Caution {
    Caution {
        id: "heat-may-ignite",
        level: Level::Warn,
        text: "Heat sets fire to dust in hollow parts, to paper behind panels and to solvent left from a stripper, sometimes hours later. \
               No heat where solvent was used, keep an extinguisher at hand, and look again before you leave."
            .to_owned(),
        ask: "the tool's manual and your fire authority",
        source: "common-practice",
    }
}
