//! A real can on this shop's shelf: a material class, with the label's own figures over the class's.

use jiff::civil::Date;
use quantity::{Minutes, Money, Spread, Volume};
use serde::{Deserialize, Serialize};
use trade::Material;

/// A product that the shop holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ShelfProduct {
    /// What the shop calls it; unique on the shelf.
    pub name: String,
    /// The generic kind of product that it is.
    pub class: Material,
    /// What the full container holds.
    pub size: Volume,
    /// How much of the container is left, 0 to 1; 0 keeps the product known as one to buy.
    pub left: f64,
    /// What a full container costs.
    pub price: Money,
    /// What the label says, where it says something; it beats the class's figures.
    #[serde(default)]
    pub label: Label,
    /// When it was opened.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened: Option<Date>,
    /// The day from which it is no longer trusted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub goes_off: Option<Date>,
    /// Its colour, if it has one: `#rrggbb`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
}

impl ShelfProduct {
    /// What is left in the container.
    pub fn left_volume(&self) -> Volume {
        Volume::from_m3(self.size.m3() * self.left)
    }

    /// Whether it may still be used on `day`.
    pub fn is_good_on(&self, day: Date) -> bool {
        self.goes_off.is_none_or(|goes_off| day < goes_off)
    }
}

/// Figures read off a label; each is optional.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Label {
    /// Earliest next coat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recoat_min: Option<Minutes>,
    /// Latest next coat without abrading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recoat_max: Option<Minutes>,
    /// Dry to touch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry: Option<Minutes>,
    /// Fully cured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cure: Option<Minutes>,
    /// Area that a volume covers, one coat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<Spread>,
    /// Solids by volume, 0 to 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solids: Option<f64>,
    /// How well it hides: the contrast ratio over black and white, 0 to 1, at the spread of `hiding_at`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hiding: Option<f64>,
    /// The spread at which `hiding` was read; the label's own spread, or 8 m²/L, where it is not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hiding_at: Option<Spread>,
    /// Thinner that it asks for, as a share of its own volume (0 to 1).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thinner: Option<f64>,
    /// Parts by volume of base and hardener.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mix: Option<(f64, f64)>,
    /// How long a mix stays usable.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pot_life: Option<Minutes>,
    /// Coats that the label asks for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coats: Option<u8>,
}
