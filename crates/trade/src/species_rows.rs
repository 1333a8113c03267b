//! How each species of wood behaves: weight, movement, hardness, pores, what bleeds, what blotches.
//!
//! The scores for tannin, resin and blotching (0 to 3) are judgement, marked common practice.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::Species;
use crate::sources::Status;
use crate::table::csv_rows;
use crate::vocabulary;

vocabulary! {
    /// The pores, by what they mean for a level film.
    Pores is "kind of pores" {
        None = "none", "no pores (softwood)";
        NoneBanded = "none-banded", "no pores, but hard and soft bands";
        DiffuseFine = "diffuse-fine", "fine pores all over";
        DiffuseCoarse = "diffuse-coarse", "coarse pores all over";
        SemiRing = "semi-ring", "middling pores, coarser in rings";
        RingCoarse = "ring-coarse", "coarse pores in rings";
    }
}

impl Pores {
    /// Whether the pores show in a film finish unless they are filled.
    pub const fn are_open(self) -> bool {
        matches!(self, Pores::DiffuseCoarse | Pores::SemiRing | Pores::RingCoarse)
    }
}

vocabulary! {
    /// Whether pores want filling for a level film.
    GrainFill is "answer on grain filling" {
        No = "no", "not needed";
        Optional = "optional", "as you like";
        Yes = "yes", "needed for a level film";
    }
}

vocabulary! {
    /// How readily the grain rises when wetted.
    RaisedGrain is "risk of raised grain" {
        Low = "low", "low";
        Medium = "medium", "medium";
        High = "high", "high";
    }
}

/// A row of the table of species.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpeciesRow {
    /// The species.
    pub species: Species,
    /// Botanical name.
    pub botanical: String,
    /// Its pores.
    pub pores: Pores,
    /// Density at 12 % moisture, kilograms a cubic metre.
    pub density_kg_per_m3: f64,
    /// Radial shrinkage from green to oven-dry, percent.
    pub shrink_radial_pct: f64,
    /// Tangential shrinkage from green to oven-dry, percent.
    pub shrink_tangential_pct: f64,
    /// Side hardness at 12 % moisture, newton.
    pub side_hardness_n: f64,
    /// Tannin and other water-soluble colour, 0 to 3.
    pub tannin: u8,
    /// Resin and knots, 0 to 3.
    pub resin: u8,
    /// How unevenly it takes pigment stain, 0 to 3.
    pub blotch: u8,
    /// Whether pores want filling for a level film.
    pub grain_fill: GrainFill,
    /// Class of paintability, I (easiest) to III; empty where the handbook gives none.
    pub paint_class: String,
    /// How readily the grain rises.
    pub raised_grain: RaisedGrain,
    /// Colour of the heartwood.
    pub colour: String,
    /// What to mind; may be empty.
    pub note: String,
    /// Key of the source of density and shrinkage.
    pub source: String,
    /// Standing of density and shrinkage.
    pub status: Status,
    /// Key of the source of hardness.
    pub hardness_source: String,
    /// Standing of hardness.
    pub hardness_status: Status,
    /// Key of the source of the behaviour scores.
    pub behaviour_source: String,
    /// Standing of the behaviour scores.
    pub behaviour_status: Status,
}

/// Every row, in the order of [`Species::EVERY`].
pub fn all() -> &'static [SpeciesRow] {
    static ROWS: OnceLock<Vec<SpeciesRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("species.csv", include_str!("../data/species.csv")))
}

impl Species {
    /// The row of the species.
    pub fn row(self) -> &'static SpeciesRow {
        &all()[self as usize]
    }
}
