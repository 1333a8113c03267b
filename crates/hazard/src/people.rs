//! Who will use it: cribs, toys, high chairs, food, children.

use trade::Operation;

use crate::caution::{Caution, Level, Told, law_sentence};
use crate::facts::{Job, Kind, Use};

/// The cautions on who will use the piece.
pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    match job.piece.kind {
        Kind::Crib => all.push(Told::piece(crib())),
        Kind::Toy | Kind::HighChair => all.push(Told::piece(for_a_child())),
        Kind::Ordinary if job.piece.used == Use::Nursery => all.push(Told::piece(nursery())),
        Kind::Ordinary => {}
    }
    let coats = job.steps_where(|step| {
        step.operation.is_coating() && job.zones.get(step.zone).is_some_and(|zone| zone.touches_food)
    });
    if !coats.is_empty() {
        all.push(Told::steps(food(), coats));
    }
    let coated = job.steps_where(|step| step.operation.is_coating() && step.operation != Operation::SpotPrime);
    let near_mouths =
        job.piece.kind != Kind::Ordinary || matches!(job.piece.used, Use::Nursery | Use::Dining | Use::Kitchen);
    if near_mouths && !coated.is_empty() {
        all.push(Told::piece(cured_first()));
    }
}

fn crib() -> Caution {
    Caution {
        id: "crib",
        level: Level::Stop,
        text: format!(
            "An old crib can trap or drop a child, whatever its finish, and older patterns may no longer be sold, given or hired out. Do not take it on \
             for use as a crib. {}.",
            law_sentence("childrens-products")
        ),
        ask: "the Consumer Product Safety Commission, or your country's product-safety authority",
        source: "us-cpsia",
    }
}

fn for_a_child() -> Caution {
    Caution {
        id: "made-for-a-child",
        level: Level::Stop,
        text: format!(
            "What is made for a child falls under rules on lead, on what may be chewed, on stability and small parts, which this program cannot check. \
             {}. {}. Ask before you take it on.",
            law_sentence("childrens-products"),
            law_sentence("lead-in-new-paint")
        ),
        ask: "the product-safety authority, and a laboratory for lead in what is there",
        source: "us-cpsia",
    }
}

fn nursery() -> Caution {
    Caution {
        id: "for-a-nursery",
        level: Level::Warn,
        text: format!(
            "It goes where a small child lives, and small children chew. {}. Test what is there for lead, use products whose makers say they suit \
             children's furniture, let everything cure fully, and fix tall pieces to the wall.",
            law_sentence("lead-in-new-paint")
        ),
        ask: "the makers of the products, and a laboratory for lead",
        source: "us-cfr-16-1303",
    }
}

fn food() -> Caution {
    Caution {
        id: "food-contact",
        level: Level::Warn,
        text: "Food will lie on it. Whether a finish suits that is for its maker to say in writing; this program cannot. Use one that says so, let it cure \
               fully, and do not use it for cutting."
            .to_owned(),
        ask: "the maker of the finish",
        source: "common-practice",
    }
}

fn cured_first() -> Caution {
    Caution {
        id: "cure-before-use",
        level: Level::Note,
        text: "Keep it from food and from small children until it is fully cured, not only dry.".to_owned(),
        ask: "the label",
        source: "common-practice",
    }
}
