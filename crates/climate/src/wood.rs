//! The moisture of wood: where it settles in an air, and how far a board moves on the way there.

use crate::air::Air;

/// Moisture content, percent of dry mass, at which thin wood settles in this air.
///
/// With h the relative humidity and T in °C: `M = 1800/W (Kh/(1-Kh) + (K1 K h + 2 K1 K2 K² h²)/(1 + K1 K h + K1 K2 K² h²))`.
/// Fitted for -1.1 to 54.4 °C and 5 to 95 %; outside, the nearer edge's value is returned.
///
/// # Source
/// `wood-handbook-emc`, equation 4-5 with the coefficients for °C.
///
/// # Examples
/// ```
/// use climate::{Air, wood};
/// // Table 4-2: 70 °F and 50 % give 9.2 %.
/// let emc_pct = wood::emc_pct(Air::from_c((70.0 - 32.0) / 1.8, 0.5)?);
/// assert!((emc_pct - 9.2).abs() < 0.06);
/// # Ok::<(), climate::AirError>(())
/// ```
#[must_use]
pub fn emc_pct(air: Air) -> f64 {
    equation_pct(air.temp_c().clamp(-1.1, 54.4), air.rh().clamp(0.05, 0.95))
}

/// The equation itself, at `temp_c` in °C and `rh` from 0 to below 1, also past the window it was fitted for.
///
/// # Source
/// `wood-handbook-emc`, equation 4-5 with the coefficients for °C.
#[must_use]
pub fn equation_pct(temp_c: f64, rh: f64) -> f64 {
    let (t, h) = (temp_c, rh);
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * h;
    let hydrated = k1 * kh;
    let twice = k1 * k2 * kh * kh;
    1800.0 / w * (kh / (1.0 - kh) + (hydrated + 2.0 * twice) / (1.0 + hydrated + twice))
}

/// How much a dimension shrinks (positive) or swells (negative), in the unit given, between two moisture contents in percent.
///
/// `total_shrinkage_pct` is the species' shrinkage from green to oven dry in that direction. Above 30 % (fibre saturation) nothing moves.
///
/// # Source
/// `wood-handbook-shrinkage`, shrinkage at intermediate moisture contents.
///
/// # Examples
/// ```
/// // A 150 mm tangential board of red oak (8.6 %) drying from 10 to 6 %.
/// let mm = climate::wood::movement(150.0, 8.6, 10.0, 6.0);
/// assert!((mm - 1.72).abs() < 0.01);
/// ```
#[must_use]
pub fn movement(dimension: f64, total_shrinkage_pct: f64, from_pct: f64, to_pct: f64) -> f64 {
    let fibre_saturation_pct = 30.0;
    let below = |pct: f64| pct.clamp(0.0, fibre_saturation_pct);
    dimension * total_shrinkage_pct / 100.0 * (below(from_pct) - below(to_pct)) / fibre_saturation_pct
}
