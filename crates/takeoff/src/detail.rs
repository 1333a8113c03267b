//! How worked a surface is, and by how much that makes it larger than its outline.
//!
//! Where the form models the work itself (a turned profile, the slats of a back) the geometry already counts it and the
//! factor is 1. Where only the outline is modelled (a cove under a top, carving, cane) the developed surface is the outline
//! times a factor of common practice.

use serde::{Deserialize, Serialize};
use trade::methods::{self, DetailRow};

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

impl From<methods::Detail> for Detail {
    fn from(detail: methods::Detail) -> Self {
        match detail {
            methods::Detail::Flat => Self::Flat,
            methods::Detail::Moulded => Self::Moulded,
            methods::Detail::Carved => Self::Carved,
            methods::Detail::Turned => Self::Turned,
            methods::Detail::Slatted => Self::Slatted,
            methods::Detail::CaseInterior => Self::Interior,
        }
    }
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

    /// The row of the trade's table of detail; woven work goes by the row of slats and cane.
    #[must_use]
    pub fn row(self) -> &'static DetailRow {
        match self {
            Self::Flat => methods::Detail::Flat,
            Self::Moulded => methods::Detail::Moulded,
            Self::Carved => methods::Detail::Carved,
            Self::Turned => methods::Detail::Turned,
            Self::Slatted | Self::Woven => methods::Detail::Slatted,
            Self::Interior => methods::Detail::CaseInterior,
        }
        .row()
    }

    /// The factor when only the outline was measured. Its error is taken as a third of what it adds (common practice).
    #[must_use]
    pub fn developed_from_outline(self) -> Developed {
        let row = self.row();
        // The allowance on flat work is for edges, and those the geometry counts.
        let added = if self == Self::Flat {
            0.0
        } else {
            row.area_allowance_pct / 100.0
        };
        Developed {
            factor: 1.0 + added,
            standard_error: added / 3.0,
            source: &row.source,
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
