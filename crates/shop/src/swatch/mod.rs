//! Colours as a shop handles them: what a swatch reads, what a colour is called, what goes with it, and a try on a photograph.
//!
//! The computing is the crate [`colour`]'s; here stands what a person types and what is kept of it.

mod called;
mod ideas;
mod reading;
mod trial;

pub use called::called;
pub use ideas::{Idea, ideas};
pub use reading::{NotAReading, read_lab, read_spectrum};
pub use trial::{MOST_CHOICES, Next, OldAs, Point, Trial, TrialChoice};

use colour::Lab;
use serde::{Deserialize, Serialize};

/// What was measured of a product of the shelf, beside the colour on its entry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SwatchReading {
    /// The product's name on the shelf.
    pub product: String,
    /// A reading of its own dry swatch, better than the colour on a screen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub own: Option<Lab>,
    /// A reading of a dry swatch of it, half and half by volume with the shelf's white.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tint: Option<Lab>,
    /// Whether it is the white that the tints are made with.
    #[serde(default)]
    pub is_white: bool,
}
