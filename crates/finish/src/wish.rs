//! What is wished for a zone.

use serde::{Deserialize, Serialize};
use trade::FinishClass;

use trade::vocabulary;

vocabulary! {
    /// What the zone shall look like.
    Look is "look" {
        Clear = "clear", "clear", ["natural", "clear-coat"];
        Stain = "stain", "stained and clear-coated", ["stained"];
        Paint = "paint", "painted", ["painted"];
        Metallic = "metallic", "metallic", ["metal", "gilt"];
        Wax = "wax", "waxed", ["waxed"];
    }
}

vocabulary! {
    /// How much it shall shine.
    Sheen is "sheen" {
        Flat = "flat", "flat", ["matte", "matt", "dead-flat"];
        Eggshell = "eggshell", "eggshell";
        Satin = "satin", "satin";
        SemiGloss = "semi-gloss", "semi-gloss";
        Gloss = "gloss", "gloss", ["high-gloss"];
    }
}

vocabulary! {
    /// What the schedule shall do without.
    Without is "thing to do without" {
        StrongSolvents = "strong-solvents", "strong solvents", ["solvents"];
        Spraying = "spraying", "spraying", ["spray"];
        Sanding = "sanding", "machine and dry sanding", ["dust"];
    }
}

/// The wish for one zone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Wish {
    /// The look.
    pub look: Look,
    /// The colour for paint and stain, as sRGB bytes; taken for a light one where not given.
    pub colour: Option<[u8; 3]>,
    /// The sheen; any where not given.
    pub sheen: Option<Sheen>,
    /// Whether the old finish must go, down to the bare substrate. If not, it goes only where it must.
    pub strip: bool,
    /// The class of the coat that gives the look, where one is asked for.
    pub class: Option<FinishClass>,
    /// The shelf's product of that class, by name.
    pub product: Option<String>,
    /// How many coats of it.
    pub coats: Option<u8>,
    /// What to do without.
    pub without: Vec<Without>,
    /// Whether the edges shall be worn through on purpose.
    pub distress: bool,
    /// Whether a glaze shall lie in the recesses.
    pub glaze: bool,
}

impl Wish {
    /// A wish for a look, with nothing else asked.
    #[must_use]
    pub const fn of(look: Look) -> Self {
        Self {
            look,
            colour: None,
            sheen: None,
            strip: false,
            class: None,
            product: None,
            coats: None,
            without: Vec::new(),
            distress: false,
            glaze: false,
        }
    }

    /// Whether something is to be done without.
    #[must_use]
    pub fn is_without(&self, what: Without) -> bool {
        self.without.contains(&what)
    }

    /// Whether stains from below would show through the paint: yes for a light colour and for one not named.
    ///
    /// Light is a relative luminance above 0.25 (the sRGB definition); common practice speaks of "light colours" without a figure.
    #[must_use]
    pub fn is_light(&self) -> bool {
        const LIGHT_LUMINANCE: f64 = 0.25;
        self.colour.is_none_or(|rgb| luminance(rgb) > LIGHT_LUMINANCE)
    }
}

/// Relative luminance of an sRGB colour, 0 (black) to 1 (white).
///
/// # Source
/// `iec-61966-2-1`: the transfer curve and the luminance row of the sRGB standard.
#[must_use]
pub fn luminance(rgb: [u8; 3]) -> f64 {
    let linear = |byte: u8| {
        let value = f64::from(byte) / 255.0;
        if value <= 0.040_45 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * linear(rgb[0]) + 0.7152 * linear(rgb[1]) + 0.0722 * linear(rgb[2])
}
