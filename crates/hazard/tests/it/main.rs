//! What is told, when, how gravely, and with which figures.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod catalogue;
mod derived_schedules;
mod figures;
mod lead;
mod properties;
mod room;
mod work;

use hazard::{Job, PieceFacts, RoomFacts, StepFacts, Told, ZoneFacts};

/// A job of these zones and steps on a piece whose age nobody knows, in a small garage.
fn job(zones: Vec<ZoneFacts>, steps: Vec<StepFacts>) -> Job {
    Job {
        piece: PieceFacts::unknown_age(),
        zones,
        steps,
        room: RoomFacts::small_garage(),
    }
}

fn find<'a>(told: &'a [Told], id: &str) -> Option<&'a Told> {
    told.iter().find(|told| told.caution.id == id)
}
