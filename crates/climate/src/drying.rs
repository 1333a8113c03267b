//! How much longer than at the reference air a coat takes to dry.
//!
//! One idea: each way of drying has one driver. Chemistry doubles its speed every 10 K; water leaves by the deficit of
//! the vapour pressure; solvent leaves by its own vapour pressure.
//!
//! **How far to trust it.** Beyond the doubling in 10 K, which coating handbooks state, this model is a proposal that is fitted
//! to nothing: the shop's own log ought to correct it.

use crate::air::{Air, ZERO_C_IN_K};
use serde::{Deserialize, Serialize};

/// What carries a coat from wet to dry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DryModel {
    /// Solvent leaves: lacquers, shellac, spray cans.
    Solvent,
    /// Water leaves, then particles flow together.
    Waterborne,
    /// Oxygen is taken up: oils, alkyds, varnishes.
    Oxidative,
    /// Parts react with one another: two-part and acid-cured coats, and everything's full cure.
    Reactive,
}

/// How the air moves over the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Airflow {
    /// A shut room without draught.
    Still,
    /// A room with some exchange of air.
    #[default]
    Normal,
    /// A fan that moves the room's air without blowing at the work.
    GentleFan,
}

impl Airflow {
    /// Factor on a drying time by evaporation. Common practice; no published factor was read.
    #[must_use]
    pub fn factor(self) -> f64 {
        match self {
            Self::Still => 1.3,
            Self::Normal => 1.0,
            Self::GentleFan => 0.75,
        }
    }
}

/// Factor within which evaporation of water may speed up or slow down before the model is no longer believed.
const WATER_FACTOR_MIN: f64 = 0.5;
/// As above: beyond six times the stated time a waterborne film may fail to flow together at all.
const WATER_FACTOR_MAX: f64 = 6.0;
/// Latent heat of evaporation of common lacquer solvents, J/mol (textbook magnitude).
const SOLVENT_LATENT_HEAT: f64 = 40_000.0;
/// Gas constant, J/(mol K).
const GAS_CONSTANT: f64 = 8.314;

impl DryModel {
    /// How many times as long as at [`Air::REFERENCE`] drying takes in this air (1 at the reference, more when it is slower).
    ///
    /// # Source
    /// Oxidative and reactive: `coating-cure-doubling` (half the time 10 K warmer).
    /// Waterborne: Dalton's law of evaporation, kept within 0.5..=6. Solvent: Clausius–Clapeyron at 40 kJ/mol. Both are proposals.
    ///
    /// # Examples
    /// ```
    /// use climate::{Air, DryModel};
    /// let cold = Air::from_c(15.0, 0.5)?;
    /// assert!((DryModel::Oxidative.slowdown(cold) - 2.0).abs() < 1e-9);
    /// # Ok::<(), climate::AirError>(())
    /// ```
    #[must_use]
    pub fn slowdown(self, air: Air) -> f64 {
        let reference = Air::REFERENCE;
        match self {
            Self::Oxidative | Self::Reactive => 2f64.powf((reference.temp_c() - air.temp_c()) / 10.0),
            Self::Waterborne => {
                let deficit_pa = air.deficit_pa().max(1.0);
                (reference.deficit_pa() / deficit_pa).clamp(WATER_FACTOR_MIN, WATER_FACTOR_MAX)
            }
            Self::Solvent => {
                let inverse = |air: Air| 1.0 / (air.temp_c() + ZERO_C_IN_K);
                (SOLVENT_LATENT_HEAT / GAS_CONSTANT * (inverse(air) - inverse(reference))).exp()
            }
        }
    }

    /// Slow-down with moving or still air; chemistry does not mind the draught.
    #[must_use]
    pub fn slowdown_in(self, air: Air, airflow: Airflow) -> f64 {
        match self {
            Self::Oxidative | Self::Reactive => self.slowdown(air),
            Self::Waterborne | Self::Solvent => self.slowdown(air) * airflow.factor(),
        }
    }

    /// Factor on the time for a film `ratio` times as thick as the class's usual wet film (0.25..=4; outside, the nearer end).
    ///
    /// Evaporation is proportional to the film; a film that takes up oxygen from above slows down faster (exponent 1.75, a proposal
    /// between the 1.5 and 2 that diffusion would give).
    #[must_use]
    pub fn thickness_factor(self, ratio: f64) -> f64 {
        let ratio = ratio.clamp(0.25, 4.0);
        match self {
            Self::Oxidative => ratio.powf(1.75),
            Self::Waterborne | Self::Solvent => ratio,
            Self::Reactive => 1.0,
        }
    }
}
