//! Dilution of vapour by fresh air: the formulas of the ventilation manuals.
//!
//! All take a room whose air is well mixed; how badly it really mixes is the factor K, by which the fresh air counts less.

/// Volume of a mole of vapour at 21.1 °C (70 °F) and one atmosphere, m³/mol: what the manuals' 403 ft³ a pint rest on.
pub const MOLAR_VOLUME_70F_M3: f64 = 0.024_14;
/// Volume of a mole of vapour at 25 °C, litres: what exposure limits are converted with.
pub const MOLAR_VOLUME_25C_L: f64 = 24.45;

/// A liquid that evaporates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liquid {
    /// Density against water.
    pub specific_gravity: f64,
    /// Molar mass, g/mol.
    pub molar_mass_g_per_mol: f64,
}

/// Fresh air that keeps a vapour at a limit, cubic feet a minute: `403 SG ER K 10⁶ / (MW C)`.
///
/// `pints_per_min` US pints evaporated a minute; `limit_ppm` above 0; `mixing` K from 1 (perfect) to 10 (poor).
///
/// # Source
/// `ventilation-manual`, chapter 2, dilution for health.
///
/// # Examples
/// ```
/// use hazard::ventilation::{Liquid, dilution_cfm};
/// // Methyl chloroform, 1.5 pints an hour, 350 ppm, K = 1: 285 cfm.
/// let solvent = Liquid { specific_gravity: 1.32, molar_mass_g_per_mol: 133.4 };
/// assert!((dilution_cfm(solvent, 1.5 / 60.0, 350.0, 1.0) - 285.0).abs() < 1.0);
/// ```
pub fn dilution_cfm(liquid: Liquid, pints_per_min: f64, limit_ppm: f64, mixing: f64) -> f64 {
    403.0 * liquid.specific_gravity * pints_per_min * mixing * 1e6 / (liquid.molar_mass_g_per_mol * limit_ppm)
}

/// Fresh air that keeps a vapour at a limit, m³ a minute, for grams evaporated a minute.
///
/// # Source
/// `ventilation-manual`, chapter 2, in SI with 24.14 L/mol.
pub fn dilution_m3_per_min(grams_per_min: f64, molar_mass_g_per_mol: f64, limit_ppm: f64, mixing: f64) -> f64 {
    MOLAR_VOLUME_70F_M3 * grams_per_min / molar_mass_g_per_mol * mixing * 1e6 / limit_ppm
}

/// Concentration after `minutes` of steady release into clean air, ppm: `G/Q' (1 - exp(-Q' t / V))`, `Q'` being `Q/K`.
///
/// Volumes in one unit (m³ or ft³) and its flow a minute. Without any air it grows in proportion to time.
///
/// # Source
/// `ventilation-manual`, chapter 2, rate of build-up.
///
/// # Examples
/// ```
/// // 0.5 cfm of vapour, 100 cfm of air, 1000 ft³, 10 minutes.
/// assert!((hazard::ventilation::growth_ppm(0.5, 100.0, 1000.0, 10.0) - 3160.6).abs() < 1.0);
/// ```
pub fn growth_ppm(vapour_per_min: f64, effective_air_per_min: f64, volume: f64, minutes: f64) -> f64 {
    if effective_air_per_min <= 0.0 {
        return vapour_per_min * minutes / volume * 1e6;
    }
    let exchanged = effective_air_per_min * minutes / volume;
    vapour_per_min / effective_air_per_min * -(-exchanged).exp_m1() * 1e6
}

/// Minutes until a vapour has thinned from one concentration to another: `V/Q' ln(C1/C2)`.
///
/// # Source
/// `ventilation-manual`, chapter 2, purging.
pub fn purge_min(volume: f64, effective_air_per_min: f64, from_ppm: f64, to_ppm: f64) -> f64 {
    volume / effective_air_per_min * (from_ppm / to_ppm).ln()
}

/// Parts per million by volume as mg/m³, at 25 °C: `ppm MW / 24.45`.
///
/// # Source
/// `niosh-pocket-guide`: for toluene, 1 ppm is 3.77 mg/m³.
pub fn ppm_to_mg_per_m3(ppm: f64, molar_mass_g_per_mol: f64) -> f64 {
    ppm * molar_mass_g_per_mol / MOLAR_VOLUME_25C_L
}

/// mg/m³ as parts per million by volume, at 25 °C.
pub fn mg_per_m3_to_ppm(mg_per_m3: f64, molar_mass_g_per_mol: f64) -> f64 {
    mg_per_m3 * MOLAR_VOLUME_25C_L / molar_mass_g_per_mol
}
