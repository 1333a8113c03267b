//! The dimensions of a piece with how sure each is, and which one to measure next.

use quantity::Length;
use takeoff::{HowKnown, take_off};

use super::form::{form_of, further_dimensions, said_name};
use crate::model::{NINETY, Piece};

/// A dimension of a piece's form beside its three numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct FurtherDimension {
    /// The take-off's name of it: `leg thickness`.
    pub name: &'static str,
    /// How long it is reckoned to be.
    pub length: Length,
    /// Whether anybody said so; otherwise such a piece usually has it so.
    pub is_said: bool,
}

/// The single further measurement that makes the area of a piece surest.
#[derive(Debug, Clone, PartialEq)]
pub struct NextMeasure {
    /// What to measure: `width`, `depth`, `height`, or the name of a further dimension.
    pub name: &'static str,
    /// How the user would call it.
    pub words: &'static str,
    /// How it is known now.
    pub known: HowKnown,
    /// The area lies within this share of itself in nine cases of ten now.
    pub share_now: f64,
    /// And within this one when that dimension is read from a tape.
    pub share_then: f64,
}

/// A gain below this share of the area is not worth a walk to the piece.
const LEAST_GAIN: f64 = 0.002;

/// The dimensions that a piece's form has beside its three numbers; none where the form cannot be measured.
pub fn further_of(piece: &Piece) -> Vec<FurtherDimension> {
    let Ok(form) = form_of(&piece.form) else {
        return Vec::new();
    };
    let names = further_dimensions(piece.form.kind);
    form.dimensions()
        .into_iter()
        .filter(|(name, _)| names.contains(name))
        .map(|(name, dimension)| FurtherDimension {
            name,
            length: dimension.length,
            is_said: dimension.known != HowKnown::Assumed || piece.form.dimensions.contains_key(name),
        })
        .collect()
}

/// Which dimension, read from a tape, would make the area surest; `None` where none would help by much.
pub fn next_measure(piece: &Piece) -> Option<NextMeasure> {
    let measured = take_off(&form_of(&piece.form).ok()?);
    let next = measured.next_measurement()?;
    let area_m2 = measured.area().m2();
    let share = |se: quantity::Area| NINETY * se.m2() / area_m2;
    let (share_now, share_then) = (share(next.se_now), share(next.se_then));
    (area_m2 > 0.0 && share_now - share_then >= LEAST_GAIN).then(|| NextMeasure {
        name: said_name(&piece.form, next.dimension),
        words: next.dimension,
        known: next.known,
        share_now,
        share_then,
    })
}
