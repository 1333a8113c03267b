//! The take-off as other crates use it.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod areas;
mod drawing;
mod meshes;
mod names;
mod photograph;
mod quantities;

use quantity::Length;
use takeoff::{Form, FormKind};

/// A form by inches.
fn form(kind: FormKind, width: f64, depth: f64, height: f64) -> Form {
    let inches = Length::from_inches;
    Form::from_outline(kind, inches(width), inches(depth), inches(height)).unwrap()
}

/// An ordinary size of each form.
fn ordinary() -> Vec<Form> {
    [
        (FormKind::Case, 48.0, 18.0, 32.0),
        (FormKind::Case, 16.0, 13.0, 22.0),
        (FormKind::Case, 44.0, 22.0, 74.0),
        (FormKind::Case, 40.0, 18.0, 19.0),
        (FormKind::Table, 60.0, 36.0, 30.0),
        (FormKind::Chair, 17.0, 19.0, 35.0),
        (FormKind::Bench, 48.0, 14.0, 18.0),
        (FormKind::Bench, 14.0, 14.0, 24.0),
        (FormKind::Bed, 60.0, 80.0, 44.0),
        (FormKind::Frame, 24.0, 1.5, 34.0),
        (FormKind::Door, 30.0, 1.375, 80.0),
        (FormKind::Panel, 40.0, 0.75, 16.0),
        (FormKind::Turned, 5.0, 5.0, 28.0),
        (FormKind::Moulding, 96.0, 2.5, 3.5),
    ]
    .into_iter()
    .map(|(kind, w, d, h)| form(kind, w, d, h))
    .collect()
}
