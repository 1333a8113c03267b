//! What a can of each finish class does: film, spread, drying, curing, limits.
//!
//! Ranges are those of the class; what a can says of itself goes before them. Spreading rates follow the trade where a handbook
//! film and the bench disagree (see the note of the row).

use std::sync::OnceLock;

use quantity::Range;
use serde::Deserialize;

use crate::sources::Status;
use crate::table::{csv_rows, maybe_range, maybe_span, range, words, yes};
use crate::vocabulary;
use crate::{FinishClass, FoundSurface, compat};

vocabulary! {
    /// What a finish class is for.
    Group is "group of finishes" {
        Sealer = "sealer", "sealer";
        Primer = "primer", "primer";
        Paint = "paint", "paint";
        Clear = "clear", "clear finish";
        Oil = "oil", "oil";
        Wax = "wax", "wax";
        Stain = "stain", "stain";
    }
}

vocabulary! {
    /// How a coat turns from wet to hard.
    Cure is "way of curing" {
        Evaporation = "evaporation", "its solvent leaves";
        Coalescence = "coalescence", "its particles flow together as water leaves";
        Oxidation = "oxidation", "it takes up oxygen";
        Reaction = "reaction", "its two parts react";
        Acid = "acid", "an acid hardens it";
    }
}

vocabulary! {
    /// The liquid that carries the class to the surface.
    Carrier is "carrier" {
        Water = "water", "water";
        Alcohol = "alcohol", "alcohol";
        WaterOrAlcohol = "water-or-alcohol", "water or alcohol, as its label says";
        MineralSpirits = "mineral-spirits", "mineral spirits";
        LacquerSolvents = "lacquer-solvents", "lacquer solvents";
        Aerosol = "aerosol", "propellant and strong solvents";
    }
}

vocabulary! {
    /// How easily the wet material burns.
    Flammability is "flammability" {
        None = "none", "does not burn";
        Combustible = "combustible", "combustible";
        Flammable = "flammable", "flammable";
        ExtremelyFlammableAerosol = "extremely-flammable-aerosol", "extremely flammable aerosol";
        ByCarrier = "by-carrier", "as its carrier burns";
    }
}

vocabulary! {
    /// Which of the drying models describes the class (see the crate `climate`).
    DryModel is "drying model" {
        Oxidative = "oxidative", "oxygen and warmth";
        Reactive = "reactive", "warmth";
        Waterborne = "waterborne", "dry air and warmth";
        Solvent = "solvent", "vapour pressure of its solvent";
    }
}

/// A row of the table of finish classes. Units stand in the field's name; ranges are low, typical, high.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FinishRow {
    /// The class.
    pub class: FinishClass,
    /// What it is for.
    pub group: Group,
    /// How it hardens; several where they follow one another.
    #[serde(deserialize_with = "words")]
    pub cure: Vec<Cure>,
    /// What carries it.
    pub carrier: Carrier,
    /// Whether it builds a film on the surface, and does not merely soak in.
    #[serde(deserialize_with = "yes")]
    pub forms_film: bool,
    /// Solids by volume, percent.
    #[serde(deserialize_with = "maybe_range")]
    pub volume_solids_pct: Option<Range<f64>>,
    /// Dry film of one coat; none for what builds no film.
    #[serde(deserialize_with = "maybe_range")]
    pub dry_film_um: Option<Range<f64>>,
    /// Typical wet film of one coat.
    pub wet_film_um: Option<f64>,
    /// Spread by the film alone: solids over dry film.
    pub spread_theory_m2_per_l: Option<f64>,
    /// Spread by brush as the trade gets it, one coat.
    #[serde(deserialize_with = "range")]
    pub spread_brush_m2_per_l: Range<f64>,
    /// Until dry to the touch, at the reference air.
    #[serde(deserialize_with = "range")]
    pub touch_h: Range<f64>,
    /// Shortest wait before the next coat, at the reference air.
    #[serde(deserialize_with = "range")]
    pub recoat_min_h: Range<f64>,
    /// Longest wait for the next coat without scuffing first; none if scuffing is never needed for that reason.
    pub recoat_window_h: Option<f64>,
    /// Until light use, in days.
    pub light_use_d: Option<f64>,
    /// Until fully cured, in days, at 21 to 25 °C.
    #[serde(deserialize_with = "range")]
    pub full_cure_d: Range<f64>,
    /// Volatile organic compounds, grams a litre.
    #[serde(deserialize_with = "maybe_range")]
    pub voc_g_per_l: Option<Range<f64>>,
    /// Least and most temperature to apply it at, °C.
    #[serde(deserialize_with = "maybe_span")]
    pub temp_c: Option<(f64, f64)>,
    /// Most relative humidity to apply it at, percent.
    pub humidity_max_pct: f64,
    /// Shelf life of a closed can, in months, least and most.
    #[serde(deserialize_with = "maybe_span")]
    pub shelf_life_months: Option<(f64, f64)>,
    /// Pot life once mixed, in hours; none for what is not mixed.
    pub pot_life_h: Option<f64>,
    /// Usual number of coats.
    pub coats: u8,
    /// Total dry film that must not be exceeded.
    pub max_total_dry_um: Option<f64>,
    /// What cleans the brush.
    pub clean_up: String,
    /// Flash point, °C, where it has one.
    pub flash_c: Option<f64>,
    /// How easily it burns when wet.
    pub flammability: Flammability,
    /// Whether rags wet with it can heat up by themselves.
    #[serde(deserialize_with = "yes")]
    pub rags_self_heat: bool,
    /// Whether its hardener holds isocyanate.
    #[serde(deserialize_with = "yes")]
    pub isocyanate: bool,
    /// Whether it gives off formaldehyde while it cures.
    #[serde(deserialize_with = "yes")]
    pub formaldehyde: bool,
    /// Whether it may give off ammonia while it dries.
    #[serde(deserialize_with = "yes")]
    pub ammonia: bool,
    /// Which drying model describes it.
    pub dry_model: DryModel,
    /// Key of the source.
    pub source: String,
    /// Standing of the row.
    pub status: Status,
    /// How sure the row is: high, medium, low.
    pub confidence: String,
    /// What to mind; may be empty.
    pub note: String,
}

impl FinishRow {
    /// Whether the class is carried by water.
    pub fn is_waterborne(&self) -> bool {
        self.carrier == Carrier::Water
    }

    /// Whether the wet material burns.
    pub fn burns(&self) -> bool {
        !matches!(self.flammability, Flammability::None)
    }

    /// Whether warmth alone, not the leaving of a carrier, decides when it is hard.
    pub fn hardens_by_chemistry(&self) -> bool {
        self.cure
            .iter()
            .any(|way| matches!(way, Cure::Oxidation | Cure::Reaction | Cure::Acid))
    }
}

/// Solids by volume, percent, of a material thinned by a share of its own volume: `VS / (1 + share)`.
///
/// # Source
/// `maker-data-sheets`: a lacquer of 25 % cut one to one holds 12.5 %.
///
/// # Examples
/// ```
/// assert!((trade::finish_rows::thinned_solids_pct(25.0, 1.0) - 12.5).abs() < 1e-9);
/// ```
pub fn thinned_solids_pct(solids_pct: f64, thinner_share: f64) -> f64 {
    solids_pct / (1.0 + thinner_share)
}

/// Every row, in the order of [`FinishClass::EVERY`].
pub fn all() -> &'static [FinishRow] {
    static ROWS: OnceLock<Vec<FinishRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("finish_classes.csv", include_str!("../data/finish_classes.csv")))
}

impl FinishClass {
    /// The row of the class. [`FinishClass::Unknown`] has one too: what to assume of a finish nobody has identified.
    pub fn row(self) -> &'static FinishRow {
        &all()[self as usize]
    }

    /// The surface it shows to the next coat once dry, but not yet cured.
    pub fn surface_when_dry(self) -> FoundSurface {
        compat::class_map(self).surface_when_dry
    }

    /// The surface it shows to the next coat once fully cured. For what leaves no film that is the bare wood again.
    pub fn surface_when_cured(self) -> FoundSurface {
        compat::class_map(self).surface_when_cured
    }
}
