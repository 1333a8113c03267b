//! Moist air at sea-level pressure: saturation, dew point, wet bulb, humidity ratio.
//!
//! One idea: an air is a dry-bulb temperature and a relative humidity; all else follows.
//! It deliberately ignores altitude: at 1500 m the wet bulb moves by a few tenths of a kelvin, the dew point not at all.

use quantity::{Humidity, Temperature};
use serde::{Deserialize, Serialize};

/// Standard atmospheric pressure, Pa.
const PRESSURE_PA: f64 = 101_325.0;
/// Kelvin at 0 °C.
pub(crate) const ZERO_C_IN_K: f64 = 273.15;

/// Air of a stated temperature and relative humidity.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Air {
    temp_c: f64,
    rh: f64,
}

/// An air which no workshop has, or which is no number.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum AirError {
    /// Outside -40 to 60 °C.
    #[error("an air temperature of {0} °C is outside -40 to 60 °C")]
    Temperature(f64),
    /// Outside 0 to 1.
    #[error("a relative humidity of {0} is outside 0 to 1 (0 to 100 %)")]
    Humidity(f64),
}

impl Air {
    /// The condition at which class figures are stated: 25 °C, 50 % relative humidity.
    ///
    /// # Source
    /// `maker-data-sheets` (77 °F and 50 % is the reference most state; some state 21 °C).
    pub const REFERENCE: Self = Self { temp_c: 25.0, rh: 0.5 };

    /// An air from °C and a relative humidity in 0..=1.
    ///
    /// # Errors
    /// A temperature outside -40..=60 °C, a humidity outside 0..=1, or either not a number.
    pub fn from_c(temp_c: f64, rh: f64) -> Result<Self, AirError> {
        if !(-40.0..=60.0).contains(&temp_c) {
            return Err(AirError::Temperature(temp_c));
        }
        if !(0.0..=1.0).contains(&rh) {
            return Err(AirError::Humidity(rh));
        }
        Ok(Self { temp_c, rh })
    }

    /// An air from the shop's quantities.
    ///
    /// # Errors
    /// As [`Air::from_c`].
    pub fn new(temperature: Temperature, humidity: Humidity) -> Result<Self, AirError> {
        Self::from_c(temperature.c(), humidity.fraction())
    }

    /// Dry-bulb temperature, °C.
    #[must_use]
    pub fn temp_c(self) -> f64 {
        self.temp_c
    }

    /// Relative humidity, 0..=1.
    #[must_use]
    pub fn rh(self) -> f64 {
        self.rh
    }

    /// Partial pressure of the water vapour, Pa.
    #[must_use]
    pub fn vapour_pressure_pa(self) -> f64 {
        saturation_pressure_pa(self.temp_c) * self.rh
    }

    /// Vapour-pressure deficit, Pa: what drives water out of a wet film.
    #[must_use]
    pub fn deficit_pa(self) -> f64 {
        saturation_pressure_pa(self.temp_c) * (1.0 - self.rh)
    }

    /// The temperature, °C, at or below which a surface gathers dew (below 0 °C: frost).
    ///
    /// Perfectly dry air has none; for it the lowest temperature of the inversion, -100 °C, is returned.
    ///
    /// # Source
    /// `ashrae-psychrometrics`, inverted by bisection to 1e-6 K.
    #[must_use]
    pub fn dew_point_c(self) -> f64 {
        let wanted_pa = self.vapour_pressure_pa();
        bisect(-100.0, self.temp_c, |t_c| saturation_pressure_pa(t_c) - wanted_pa)
    }

    /// How far a surface at this air's temperature stands above the dew point, K.
    #[must_use]
    pub fn dew_margin_k(self) -> f64 {
        self.temp_c - self.dew_point_c()
    }

    /// Thermodynamic wet-bulb temperature, °C: as cold as a film cools itself while water leaves it.
    ///
    /// # Source
    /// `ashrae-psychrometrics`, energy balance over water or ice.
    #[must_use]
    pub fn wet_bulb_c(self) -> f64 {
        let ratio = self.humidity_ratio();
        bisect(self.dew_point_c().max(-90.0) - 1e-6, self.temp_c, |t_c| {
            ratio_at_wet_bulb(self.temp_c, t_c) - ratio
        })
    }

    /// Mass of water for each mass of dry air, kg/kg.
    #[must_use]
    pub fn humidity_ratio(self) -> f64 {
        ratio_of_pressure(self.vapour_pressure_pa())
    }

    /// This air's moisture in a room at another temperature: the same water, so another relative humidity (at most 1).
    ///
    /// # Errors
    /// A temperature outside -40..=60 °C.
    pub fn heated_to_c(self, temp_c: f64) -> Result<Self, AirError> {
        let rh = self.vapour_pressure_pa() / saturation_pressure_pa(temp_c);
        Self::from_c(temp_c, rh.min(1.0))
    }
}

/// An air from its dry and wet bulb, °C, as a sling psychrometer gives them; the humidity is kept within 0..=1.
///
/// # Errors
/// A dry bulb outside -40..=60 °C.
pub fn from_wet_bulb_c(temp_c: f64, wet_bulb_c: f64) -> Result<Air, AirError> {
    let ratio = ratio_at_wet_bulb(temp_c, wet_bulb_c.min(temp_c)).max(0.0);
    let vapour_pa = PRESSURE_PA * ratio / (0.621_945 + ratio);
    Air::from_c(temp_c, (vapour_pa / saturation_pressure_pa(temp_c)).clamp(0.0, 1.0))
}

/// Saturation pressure of water vapour, Pa, over water from 0.01 °C up and over ice below, at `temp_c` in -100..=200 °C.
///
/// # Source
/// `ashrae-psychrometrics`, equations 5 and 6 (Hyland and Wexler).
///
/// # Examples
/// ```
/// assert!((climate::air::saturation_pressure_pa(25.0) - 3169.0).abs() < 1.0);
/// ```
#[must_use]
pub fn saturation_pressure_pa(temp_c: f64) -> f64 {
    let t = temp_c + ZERO_C_IN_K;
    let ln_pa = if temp_c >= 0.01 {
        -5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t.powi(2) - 1.445_209_3e-8 * t.powi(3)
            + 6.545_967_3 * t.ln()
    } else {
        -5.674_535_9e3 / t + 6.392_524_7 - 9.677_843e-3 * t + 6.221_570_1e-7 * t.powi(2) + 2.074_782_5e-9 * t.powi(3)
            - 9.484_024e-13 * t.powi(4)
            + 4.163_501_9 * t.ln()
    };
    ln_pa.exp()
}

fn ratio_of_pressure(vapour_pa: f64) -> f64 {
    0.621_945 * vapour_pa / (PRESSURE_PA - vapour_pa)
}

/// Humidity ratio of an air with these dry and wet bulbs: adiabatic saturation (equations 33 and 35 of the source).
fn ratio_at_wet_bulb(dry_c: f64, wet_c: f64) -> f64 {
    let saturated = ratio_of_pressure(saturation_pressure_pa(wet_c));
    if wet_c >= 0.0 {
        ((2501.0 - 2.326 * wet_c) * saturated - 1.006 * (dry_c - wet_c)) / (2501.0 + 1.86 * dry_c - 4.186 * wet_c)
    } else {
        ((2830.0 - 0.24 * wet_c) * saturated - 1.006 * (dry_c - wet_c)) / (2830.0 + 1.86 * dry_c - 2.1 * wet_c)
    }
}

/// The root of a rising function between two points, to 1e-6; the nearer end where there is none.
fn bisect(mut low: f64, mut high: f64, rising: impl Fn(f64) -> f64) -> f64 {
    while high - low > 1e-6 {
        let middle = f64::midpoint(low, high);
        if rising(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}
