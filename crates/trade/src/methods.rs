//! How a coat is put on, what of it arrives, and what detail costs.
//!
//! Transfer efficiency is the share of the material that ends on the piece; the rest is overspray or stays in the tool.

use std::sync::OnceLock;

use quantity::Range;
use serde::Deserialize;

use crate::sources::Status;
use crate::table::{csv_rows, range};
use crate::vocabulary;

vocabulary! {
    /// How a coat is put on.
    Method is "method of application" {
        Brush = "brush", "brush";
        Pad = "pad", "pad or rag", ["rag", "wipe"];
        Roller = "roller", "foam roller", ["foam-roller"];
        Hvlp = "hvlp", "low-pressure spray gun", ["spray", "spray-gun", "turbine"];
        AirAssistedAirless = "air-assisted-airless", "air-assisted airless spray";
        Airless = "airless", "airless spray";
        ConventionalAir = "conventional-air", "conventional air spray";
        Electrostatic = "electrostatic", "electrostatic spray";
        AerosolCan = "aerosol-can", "spray can", ["spray-can", "aerosol"];
        Dip = "dip", "dipping or flooding";
    }
}

vocabulary! {
    /// How detailed a surface is.
    Detail is "kind of detail" {
        Flat = "flat", "flat";
        Moulded = "moulded", "moulded or frame and panel", ["molded"];
        Turned = "turned", "turned or spindled";
        Slatted = "slatted", "slatted or caned";
        Carved = "carved", "carved";
        CaseInterior = "case-interior", "inside of a case";
    }
}

/// What of the material arrives by each method.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MethodRow {
    /// The method.
    pub method: Method,
    /// Share of the material that ends on a flat piece, 0 to 1.
    #[serde(deserialize_with = "range")]
    pub transfer_efficiency: Range<f64>,
    /// Loss against the theoretical spread, percent.
    #[serde(deserialize_with = "range")]
    pub practical_loss_pct: Range<f64>,
    /// What stays in the tool at each set-up, litres.
    pub set_up_loss_l: f64,
    /// Key of the source.
    pub source: String,
    /// Standing of the row.
    pub status: Status,
}

/// What detail does to spraying and brushing.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DetailRow {
    /// The kind of detail.
    pub detail: Detail,
    /// Factor on the transfer efficiency of spraying, 0 to 1.
    pub spray_transfer: f64,
    /// Allowance on the area, percent.
    pub area_allowance_pct: f64,
    /// Factor on the minutes of brushing, at least 1.
    pub brush_time: f64,
    /// Key of the source.
    pub source: String,
    /// Standing of the row.
    pub status: Status,
}

/// Every method, in the order of [`Method::EVERY`].
pub fn all() -> &'static [MethodRow] {
    static ROWS: OnceLock<Vec<MethodRow>> = OnceLock::new();
    ROWS.get_or_init(|| {
        csv_rows(
            "application_methods.csv",
            include_str!("../data/application_methods.csv"),
        )
    })
}

/// Every kind of detail, in the order of [`Detail::EVERY`].
pub fn details() -> &'static [DetailRow] {
    static ROWS: OnceLock<Vec<DetailRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("shape_factors.csv", include_str!("../data/shape_factors.csv")))
}

impl Method {
    /// The row of the method.
    pub fn row(self) -> &'static MethodRow {
        &all()[self as usize]
    }

    /// Whether it throws mist into the room.
    pub const fn is_spraying(self) -> bool {
        !matches!(self, Method::Brush | Method::Pad | Method::Roller | Method::Dip)
    }
}

impl Detail {
    /// The row of the kind of detail.
    pub fn row(self) -> &'static DetailRow {
        &details()[self as usize]
    }
}
