//! What each preparation class does: how far it goes, how long it stays, what must follow.

use std::sync::OnceLock;

use quantity::Range;
use serde::Deserialize;

use crate::PrepClass;
use crate::sources::Status;
use crate::table::{csv_rows, maybe_range};
use crate::vocabulary;

vocabulary! {
    /// What a preparation class is for.
    PrepKind is "kind of preparation" {
        Cleaner = "cleaner", "cleaner";
        Solvent = "solvent", "solvent wipe";
        Stripper = "stripper", "stripper";
        Thermal = "thermal", "heat";
        Bleach = "bleach", "bleach";
        Filler = "filler", "filler";
        GrainFiller = "grain-filler", "grain filler";
        Sealer = "sealer", "sealer under stain";
    }
}

/// A row of the table of preparation classes. Units stand in the field's name; ranges are low, typical, high.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PrepRow {
    /// The class.
    pub class: PrepClass,
    /// What it is for.
    pub kind: PrepKind,
    /// How far a litre goes, one pass; none where that is not measured by area.
    #[serde(deserialize_with = "maybe_range")]
    pub spread_m2_per_l: Option<Range<f64>>,
    /// How long it stays on before it is worked or wiped, minutes.
    #[serde(deserialize_with = "maybe_range")]
    pub dwell_min: Option<Range<f64>>,
    /// How long until the next step may follow, hours, at the reference air.
    #[serde(deserialize_with = "maybe_range")]
    pub wait_h: Option<Range<f64>>,
    /// Pot life once mixed, minutes.
    pub pot_life_min: Option<f64>,
    /// Shrinkage on drying, percent by volume.
    pub shrink_pct: Option<f64>,
    /// Thickest layer in one go, millimetres.
    pub max_layer_mm: Option<f64>,
    /// Volatile organic compounds, grams a litre.
    pub voc_g_per_l: Option<f64>,
    /// Least temperature to use it at, °C.
    pub temp_min_c: Option<f64>,
    /// Shelf life, months.
    pub shelf_life_months: Option<f64>,
    /// What follows: the rinse, the neutralising wash or the clean-up.
    pub after_use: String,
    /// What can hurt.
    pub hazard: String,
    /// What to mind.
    pub note: String,
    /// Key of the source.
    pub source: String,
    /// Standing of the row.
    pub status: Status,
}

impl PrepRow {
    /// Whether what is left of it must be rinsed off before anything holds.
    pub fn needs_rinse(&self) -> bool {
        matches!(
            self.class,
            PrepClass::AlkalineCleaner
                | PrepClass::NeutralCleaner
                | PrepClass::GelStripper
                | PrepClass::BenzylAlcoholStripper
                | PrepClass::CausticStripper
                | PrepClass::MethyleneChlorideStripper
                | PrepClass::OxalicBleach
        )
    }
}

/// Every row, in the order of [`PrepClass::EVERY`].
pub fn all() -> &'static [PrepRow] {
    static ROWS: OnceLock<Vec<PrepRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("prep_classes.csv", include_str!("../data/prep_classes.csv")))
}

impl PrepClass {
    /// The row of the class.
    pub fn row(self) -> &'static PrepRow {
        &all()[self as usize]
    }
}
