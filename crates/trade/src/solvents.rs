//! Substances in the air: what limits they have, and how they burn.
//!
//! Each limit has its own status, since one was read where another was recalled. [`Limit::shown`] gives a figure only
//! where it was read; the planning limit is there to reckon with and is not a legal figure.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::sources::Status;
use crate::table::{csv_rows, yes};
use crate::vocabulary;

vocabulary! {
    /// A substance that has a limit in the air of a workshop.
    Substance is "substance" {
        Acetone = "acetone", "acetone";
        Toluene = "toluene", "toluene";
        Xylene = "xylene", "xylene";
        Ethanol = "ethanol", "ethanol";
        Methanol = "methanol", "methanol";
        Isopropanol = "isopropanol", "isopropanol";
        MineralSpirits = "mineral-spirits", "mineral spirits";
        Naphtha = "naphtha", "VM&P naphtha";
        Turpentine = "turpentine", "turpentine";
        Limonene = "limonene", "d-limonene";
        Mek = "mek", "methyl ethyl ketone";
        ButylAcetate = "butyl-acetate", "n-butyl acetate";
        MethyleneChloride = "methylene-chloride", "methylene chloride";
        BenzylAlcohol = "benzyl-alcohol", "benzyl alcohol";
        Nmp = "nmp", "NMP";
        Butoxyethanol = "butoxyethanol", "2-butoxyethanol";
        Ammonia = "ammonia", "ammonia";
        Formaldehyde = "formaldehyde", "formaldehyde";
        Hdi = "hdi", "HDI monomer";
        WoodDust = "wood-dust", "wood dust";
        RespirableDust = "respirable-dust", "respirable dust";
        Silica = "silica", "crystalline silica";
        Lead = "lead", "lead";
        OxalicAcid = "oxalic-acid", "oxalic acid dust";
        SodiumHydroxide = "sodium-hydroxide", "sodium hydroxide";
    }
}

/// A row of the table of limits, as parsed.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LimitRow {
    /// The substance.
    pub substance: Substance,
    /// What it is called.
    pub name: String,
    /// Its CAS number; empty for dusts.
    pub cas: String,
    /// Molar mass, grams a mole.
    pub molar_mass_g_per_mol: Option<f64>,
    /// Density of the liquid against water.
    pub specific_gravity: Option<f64>,
    /// Density of the vapour against air: above 1 it gathers low.
    pub vapour_density: Option<f64>,
    /// Vapour pressure at 20 °C, millimetres of mercury.
    pub vapour_pressure_mmhg: Option<f64>,
    /// Flash point, °C.
    pub flash_c: Option<f64>,
    /// Lower explosive limit, percent by volume.
    pub lel_pct: Option<f64>,
    /// Standing of the explosive limit.
    pub lel_status: Status,
    /// Permissible exposure limit (OSHA), ppm.
    pub pel_ppm: Option<f64>,
    /// Permissible exposure limit (OSHA), mg/m³.
    pub pel_mg_per_m3: Option<f64>,
    /// Standing of the permissible limit.
    pub pel_status: Status,
    /// Recommended exposure limit (NIOSH), ppm.
    pub rel_ppm: Option<f64>,
    /// Recommended exposure limit (NIOSH), mg/m³.
    pub rel_mg_per_m3: Option<f64>,
    /// Standing of the recommended limit.
    pub rel_status: Status,
    /// Threshold limit value (ACGIH), ppm.
    pub tlv_ppm: Option<f64>,
    /// Short-term threshold limit value (ACGIH), ppm.
    pub tlv_stel_ppm: Option<f64>,
    /// Standing of the threshold limit values.
    pub tlv_status: Status,
    /// What to reckon ventilation with, ppm: the most careful of the limits known or recalled.
    pub planning_ppm: Option<f64>,
    /// Whether much of it goes through the skin.
    #[serde(deserialize_with = "yes")]
    pub skin: bool,
    /// What to mind; may be empty.
    pub note: String,
    /// Key of the source.
    pub source: String,
}

/// Which body's limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LimitKind {
    /// Permissible exposure limit of OSHA, 8 hours.
    Pel,
    /// Recommended exposure limit of NIOSH, 10 hours.
    Rel,
    /// Threshold limit value of ACGIH, 8 hours.
    Tlv,
}

impl LimitKind {
    /// The abbreviation in use.
    pub const fn code(self) -> &'static str {
        match self {
            LimitKind::Pel => "PEL",
            LimitKind::Rel => "REL",
            LimitKind::Tlv => "TLV",
        }
    }

    /// Abbreviation and body.
    pub const fn words(self) -> &'static str {
        match self {
            LimitKind::Pel => "OSHA permissible limit (PEL)",
            LimitKind::Rel => "NIOSH recommended limit (REL)",
            LimitKind::Tlv => "ACGIH guideline (TLV)",
        }
    }
}

/// One limit of one substance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Which body's.
    pub kind: LimitKind,
    /// Parts per million by volume.
    pub ppm: f64,
    /// Standing of the figure.
    pub status: Status,
}

impl Limit {
    /// The figure, if it may be shown as a fact.
    pub fn shown(&self) -> Option<f64> {
        self.status.may_be_shown_as_fact().then_some(self.ppm)
    }
}

impl LimitRow {
    /// The limits by volume that the table has for the substance, PEL, REL, TLV.
    pub fn limits(&self) -> Vec<Limit> {
        [
            (LimitKind::Pel, self.pel_ppm, self.pel_status),
            (LimitKind::Rel, self.rel_ppm, self.rel_status),
            (LimitKind::Tlv, self.tlv_ppm, self.tlv_status),
        ]
        .into_iter()
        .filter_map(|(kind, ppm, status)| ppm.map(|ppm| Limit { kind, ppm, status }))
        .collect()
    }
}

/// Every substance, in the order of [`Substance::EVERY`].
pub fn all() -> &'static [LimitRow] {
    static ROWS: OnceLock<Vec<LimitRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("exposure_limits.csv", include_str!("../data/exposure_limits.csv")))
}

impl Substance {
    /// The row of the substance.
    pub fn row(self) -> &'static LimitRow {
        &all()[self as usize]
    }
}
