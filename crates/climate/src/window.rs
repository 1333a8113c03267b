//! May a coat be put on in this air? If not, why, and by how much.

use crate::air::Air;
use crate::drying::DryModel;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Air in which a coat may be put on. Bounds belong to it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Window {
    /// Lowest temperature of air and work, °C.
    pub temp_min_c: f64,
    /// Highest temperature, °C.
    pub temp_max_c: f64,
    /// Driest air, percent.
    pub rh_min_pct: f64,
    /// Dampest air, percent.
    pub rh_max_pct: f64,
}

/// A surface must stand this far above the dew point, K.
///
/// # Source
/// `mil-hdbk-1110` 8.3.3 and 9.6.6 (5 °F and rising); 3 K in paint inspectors' handbooks.
pub const DEW_MARGIN_MIN_K: f64 = 3.0;

/// Margin for coats whose solvent chills the film as it leaves (they blush), K. A proposal.
pub const DEW_MARGIN_SOLVENT_MIN_K: f64 = 5.0;

/// Why an air does not do, with what is and what would be right.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, thiserror::Error)]
#[serde(tag = "why", rename_all = "kebab-case")]
pub enum Unfit {
    /// Below the lowest temperature.
    #[error("the air is at {is_c:.0} °C and must be at least {min_c:.0} °C")]
    TooCold {
        /// The air, °C.
        is_c: f64,
        /// The bound, °C.
        min_c: f64,
    },
    /// Above the highest temperature.
    #[error("the air is at {is_c:.0} °C and may be at most {max_c:.0} °C")]
    TooHot {
        /// The air, °C.
        is_c: f64,
        /// The bound, °C.
        max_c: f64,
    },
    /// Drier than allowed: laps and brush marks show.
    #[error("the air is at {is_pct:.0} % humidity and must be at least {min_pct:.0} %")]
    TooDry {
        /// The air, percent.
        is_pct: f64,
        /// The bound, percent.
        min_pct: f64,
    },
    /// Damper than allowed.
    #[error("the air is at {is_pct:.0} % humidity and may be at most {max_pct:.0} %")]
    TooDamp {
        /// The air, percent.
        is_pct: f64,
        /// The bound, percent.
        max_pct: f64,
    },
    /// Dew is near: the film may blush, or water settle under it.
    #[error("the work is only {is_k:.1} K above the dew point and must be at least {min_k:.0} K above it")]
    NearDew {
        /// The margin, K.
        is_k: f64,
        /// The bound, K.
        min_k: f64,
    },
}

#[derive(Deserialize)]
struct Row {
    #[serde(flatten)]
    window: Window,
}

static WINDOWS: LazyLock<BTreeMap<String, Row>> =
    LazyLock::new(|| toml::from_str(include_str!("../data/windows.toml")).expect("the crate's tests parse this table"));

impl Window {
    /// The window of a family: `waterborne`, `oxidative`, `wiped`, `hardwax-oil`, `lacquer`, `shellac`, `acid-cured`, `two-part-waterborne`.
    #[must_use]
    pub fn of_family(family: &str) -> Option<Self> {
        WINDOWS.get(family).map(|row| row.window)
    }

    /// The window of a way of drying when no more is known of the coat.
    #[must_use]
    pub fn of_model(model: DryModel) -> Self {
        let family = match model {
            DryModel::Waterborne => "waterborne",
            DryModel::Oxidative => "oxidative",
            DryModel::Solvent => "lacquer",
            DryModel::Reactive => "acid-cured",
        };
        Self::of_family(family).expect("every way of drying has its row; the crate's tests look")
    }

    /// This window within stricter bounds of a label or class, where those are given.
    #[must_use]
    pub fn narrowed(mut self, temp_min_c: Option<f64>, temp_max_c: Option<f64>, rh_max_pct: Option<f64>) -> Self {
        self.temp_min_c = temp_min_c.unwrap_or(self.temp_min_c);
        self.temp_max_c = temp_max_c.unwrap_or(self.temp_max_c);
        self.rh_max_pct = rh_max_pct.unwrap_or(self.rh_max_pct);
        self
    }

    /// All reasons why a coat may not be put on in this air; empty when it may. The work is taken to be as warm as the air.
    #[must_use]
    pub fn unfit(self, air: Air, model: DryModel) -> Vec<Unfit> {
        let mut reasons = Vec::new();
        let (is_c, is_pct, is_k) = (air.temp_c(), air.rh() * 100.0, air.dew_margin_k());
        let min_k = if model == DryModel::Solvent {
            DEW_MARGIN_SOLVENT_MIN_K
        } else {
            DEW_MARGIN_MIN_K
        };
        if is_c < self.temp_min_c {
            reasons.push(Unfit::TooCold {
                is_c,
                min_c: self.temp_min_c,
            });
        }
        if is_c > self.temp_max_c {
            reasons.push(Unfit::TooHot {
                is_c,
                max_c: self.temp_max_c,
            });
        }
        if is_pct < self.rh_min_pct {
            reasons.push(Unfit::TooDry {
                is_pct,
                min_pct: self.rh_min_pct,
            });
        }
        if is_pct > self.rh_max_pct {
            reasons.push(Unfit::TooDamp {
                is_pct,
                max_pct: self.rh_max_pct,
            });
        }
        if is_k < min_k {
            reasons.push(Unfit::NearDew { is_k, min_k });
        }
        reasons
    }

    /// Whether a coat may be put on in this air.
    #[must_use]
    pub fn is_open(self, air: Air, model: DryModel) -> bool {
        self.unfit(air, model).is_empty()
    }
}
