//! How worked a surface is, and by how much that makes it larger than its outline.
//!
//! Where the form models the work itself (a turned profile, the slats of a back) the geometry already counts it and the
//! factor is 1. Where only the outline is modelled (a cove under a top, carving, cane) the developed surface is the outline
//! times a factor of common practice.

use serde::{Deserialize, Serialize};

/// How a surface is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Detail {
    /// Flat boards and panels.
    Flat,
    /// Frames with panels, run mouldings.
    Moulded,
    /// Carving.
    Carved,
    /// Turned on a lathe: legs, spindles, knobs.
    Turned,
    /// Slats and spindles with gaps between.
    Slatted,
    /// Wicker and cane.
    Woven,
    /// The inside of a case.
    Interior,
}

/// By how much a developed surface exceeds the outline that was measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Developed {
    /// Developed area over outline area, 1 or more.
    pub factor: f64,
    /// Standard error of the factor.
    pub standard_error: f64,
    /// Key of the source in `docs/SOURCES.toml`.
    pub source: &'static str,
}

impl Developed {
    /// The geometry itself is modelled: nothing to add.
    pub const MODELLED: Self = Self {
        factor: 1.0,
        standard_error: 0.0,
        source: "takeoff-geometry",
    };
}

impl Detail {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Flat,
        Self::Moulded,
        Self::Carved,
        Self::Turned,
        Self::Slatted,
        Self::Woven,
        Self::Interior,
    ];

    /// The factor when only the outline was measured (status: common practice; its error is a third of what it adds).
    #[must_use]
    pub fn developed_from_outline(self) -> Developed {
        let added = match self {
            Self::Flat => 0.0,
            Self::Moulded => 0.15,
            Self::Carved => 0.35,
            Self::Turned => 0.30,
            Self::Slatted | Self::Woven => 0.40,
            Self::Interior => 0.10,
        };
        Developed {
            factor: 1.0 + added,
            standard_error: added / 3.0,
            source: "common-practice",
        }
    }

    /// How much longer brushing takes than on a flat panel of the same area (common practice).
    #[must_use]
    pub const fn brush_time_factor(self) -> f64 {
        match self {
            Self::Flat => 1.0,
            Self::Moulded => 1.4,
            Self::Carved => 2.0,
            Self::Turned => 2.2,
            Self::Slatted | Self::Woven => 2.5,
            Self::Interior => 1.5,
        }
    }

    /// What share of the transfer efficiency on a flat panel a spray gun keeps on this shape (common practice).
    #[must_use]
    pub const fn spray_transfer_factor(self) -> f64 {
        match self {
            Self::Flat => 1.0,
            Self::Moulded => 0.80,
            Self::Carved => 0.70,
            Self::Turned => 0.45,
            Self::Slatted | Self::Woven => 0.35,
            Self::Interior => 0.85,
        }
    }

    /// The word for it.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Moulded => "moulded",
            Self::Carved => "carved",
            Self::Turned => "turned",
            Self::Slatted => "slatted",
            Self::Woven => "woven",
            Self::Interior => "interior",
        }
    }
}
