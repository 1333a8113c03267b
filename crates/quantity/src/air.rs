//! Temperature, humidity and moving air.

use std::ops::{Add, Sub};

use crate::newtype::{additive, scalar};

scalar! {
    /// A step between two temperatures, stored in kelvins.
    TemperatureDifference {
        /// Kelvins, the same step as degrees Celsius.
        from_k, k = 1.0;
        /// Fahrenheit degrees as a step, five ninths of a kelvin.
        from_f_degrees, f_degrees = 5.0 / 9.0;
    }
}

scalar! {
    /// A stream of air, stored in m³/s.
    Flow {
        /// Cubic metres a second.
        from_m3_per_s, m3_per_s = 1.0;
        /// Cubic metres an hour.
        from_m3_per_h, m3_per_h = 1.0 / 3600.0;
        /// Cubic feet a minute.
        from_cfm, cfm = 0.3048 * 0.3048 * 0.3048 / 60.0;
    }
}

scalar! {
    /// How many times an hour the air of a room is exchanged.
    AirChanges {
        /// Changes an hour.
        from_per_h, per_h = 1.0;
    }
}

additive!(TemperatureDifference, Flow, AirChanges);

/// A temperature as a thermometer shows it, stored in °C. Two temperatures have a difference and no sum.
///
/// ```
/// use quantity::Temperature;
/// assert!((Temperature::from_f(68.0).c() - 20.0).abs() < 1e-9);
/// assert!((Temperature::from_c(0.0).kelvin() - 273.15).abs() < 1e-9);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(transparent)]
pub struct Temperature(f64);

impl Temperature {
    /// Degrees Celsius.
    #[must_use]
    pub const fn from_c(degrees: f64) -> Self {
        Self(degrees)
    }

    /// Degrees Celsius.
    #[must_use]
    pub const fn c(self) -> f64 {
        self.0
    }

    /// Degrees Fahrenheit.
    #[must_use]
    pub const fn from_f(degrees: f64) -> Self {
        Self((degrees - 32.0) * 5.0 / 9.0)
    }

    /// Degrees Fahrenheit.
    #[must_use]
    pub const fn f(self) -> f64 {
        self.0 * 9.0 / 5.0 + 32.0
    }

    /// Kelvins above absolute zero.
    #[must_use]
    pub const fn from_kelvin(kelvins: f64) -> Self {
        Self(kelvins - 273.15)
    }

    /// Kelvins above absolute zero.
    #[must_use]
    pub const fn kelvin(self) -> f64 {
        self.0 + 273.15
    }

    /// A total order (IEEE 754), for sorting; a NaN sorts last.
    #[must_use]
    pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }

    /// The warmer of the two.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }

    /// The colder of the two.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// Whether it is a number at all: neither NaN nor endless.
    #[must_use]
    pub const fn is_finite(self) -> bool {
        self.0.is_finite()
    }
}

impl Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference::from_k(self.0 - other.0)
    }
}

impl Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, step: TemperatureDifference) -> Self {
        Self(self.0 + step.k())
    }
}

impl Sub<TemperatureDifference> for Temperature {
    type Output = Self;
    fn sub(self, step: TemperatureDifference) -> Self {
        Self(self.0 - step.k())
    }
}

/// Relative humidity, a fraction kept within 0..=1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(from = "f64", into = "f64")]
pub struct Humidity(f64);

impl From<f64> for Humidity {
    fn from(fraction: f64) -> Self {
        Self::from_fraction(fraction)
    }
}

impl From<Humidity> for f64 {
    fn from(humidity: Humidity) -> Self {
        humidity.fraction()
    }
}

impl Humidity {
    /// A fraction; what lies outside 0..=1 becomes the nearer end.
    #[must_use]
    pub const fn from_fraction(fraction: f64) -> Self {
        Self(fraction.clamp(0.0, 1.0))
    }

    /// A fraction 0..=1.
    #[must_use]
    pub const fn fraction(self) -> f64 {
        self.0
    }

    /// Per cent; what lies outside 0..=100 becomes the nearer end.
    #[must_use]
    pub const fn from_percent(percent: f64) -> Self {
        Self::from_fraction(percent / 100.0)
    }

    /// Per cent 0..=100.
    #[must_use]
    pub const fn percent(self) -> f64 {
        self.0 * 100.0
    }

    /// A total order (IEEE 754), for sorting; a NaN sorts last.
    #[must_use]
    pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}
