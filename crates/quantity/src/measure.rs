//! The quantities themselves: thin wrappers over an SI number, so that a wet film is never taken for a dry one.
//!
//! Constructors and accessors carry the unit in their name. Only products that mean something exist.

use serde::{Deserialize, Serialize};
use std::ops::{Add, Div, Mul, Sub};

/// Defines one quantity: its doc, its name, and `from/accessor/factor` for each unit (factor: SI for one of that unit).
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident { $($(#[$unit_doc:meta])* $from:ident / $get:ident = $factor:expr;)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// None of it.
            pub const ZERO: Self = Self(0.0);
            $(
                $(#[$unit_doc])*
                #[must_use]
                pub const fn $from(value: f64) -> Self { Self(value * $factor) }
                $(#[$unit_doc])*
                #[must_use]
                pub const fn $get(self) -> f64 { self.0 / $factor }
            )+
            /// The order of two values, not-a-number last.
            #[must_use]
            pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering { self.0.total_cmp(&other.0) }
            /// The larger of two.
            #[must_use]
            pub fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }
            /// The smaller of two.
            #[must_use]
            pub fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }
        }

        impl Add for $name { type Output = Self; fn add(self, other: Self) -> Self { Self(self.0 + other.0) } }
        impl Sub for $name { type Output = Self; fn sub(self, other: Self) -> Self { Self(self.0 - other.0) } }
        impl Mul<f64> for $name { type Output = Self; fn mul(self, times: f64) -> Self { Self(self.0 * times) } }
        impl Div<f64> for $name { type Output = Self; fn div(self, by: f64) -> Self { Self(self.0 / by) } }
        impl Div for $name { type Output = f64; fn div(self, other: Self) -> f64 { self.0 / other.0 } }
        impl std::iter::Sum for $name { fn sum<I: Iterator<Item = Self>>(all: I) -> Self { Self(all.map(|one| one.0).sum()) } }
    };
}

quantity! {
    /// A length; metres inside.
    Length {
        /// Metres.
        from_m / m = 1.0;
        /// Centimetres.
        from_cm / cm = 0.01;
        /// Millimetres.
        from_mm / mm = 0.001;
        /// Inches.
        from_inches / inches = 0.0254;
        /// Feet.
        from_feet / feet = 0.3048;
    }
}
quantity! {
    /// An area; square metres inside.
    Area {
        /// Square metres.
        from_m2 / m2 = 1.0;
        /// Square feet.
        from_ft2 / ft2 = 0.092_903_04;
        /// Square inches.
        from_in2 / in2 = 0.000_645_16;
    }
}
quantity! {
    /// A volume; cubic metres inside. Pints, quarts and gallons are the United States' liquid ones.
    Volume {
        /// Cubic metres.
        from_m3 / m3 = 1.0;
        /// Litres.
        from_litres / litres = 0.001;
        /// Millilitres.
        from_ml / ml = 1e-6;
        /// US gallons.
        from_us_gallons / us_gallons = 0.003_785_411_784;
        /// US quarts.
        from_us_quarts / us_quarts = 0.000_946_352_946;
        /// US pints.
        from_us_pints / us_pints = 0.000_473_176_473;
        /// US fluid ounces.
        from_us_fluid_ounces / us_fluid_ounces = 0.000_029_573_529_562_5;
        /// Cubic feet (rooms).
        from_ft3 / ft3 = 0.028_316_846_592;
    }
}
quantity! {
    /// A mass; kilograms inside.
    Mass {
        /// Kilograms.
        from_kg / kg = 1.0;
        /// Grams.
        from_g / g = 0.001;
        /// Pounds.
        from_pounds / pounds = 0.453_592_37;
        /// Ounces.
        from_ounces / ounces = 0.028_349_523_125;
    }
}
quantity! {
    /// The thickness of a film as it is put on; metres inside.
    WetFilm {
        /// Micrometres.
        from_um / um = 1e-6;
        /// Mils, thousandths of an inch.
        from_mils / mils = 25.4e-6;
    }
}
quantity! {
    /// The thickness of a film once dry; metres inside.
    DryFilm {
        /// Micrometres.
        from_um / um = 1e-6;
        /// Mils, thousandths of an inch.
        from_mils / mils = 25.4e-6;
    }
}
quantity! {
    /// A spreading rate: the area that a volume covers in one coat; square metres for each cubic metre inside.
    Spread {
        /// Square metres for each litre.
        from_m2_per_litre / m2_per_litre = 1000.0;
        /// Square feet for each US gallon.
        from_ft2_per_gallon / ft2_per_gallon = 0.092_903_04 / 0.003_785_411_784;
    }
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area::from_m2(self.m() * other.m())
    }
}

impl Mul<WetFilm> for Area {
    type Output = Volume;
    fn mul(self, film: WetFilm) -> Volume {
        Volume::from_m3(self.m2() * film.um() * 1e-6)
    }
}

impl Div<Spread> for Area {
    type Output = Volume;
    fn div(self, spread: Spread) -> Volume {
        Volume::from_litres(self.m2() / spread.m2_per_litre())
    }
}

/// A temperature on a scale; °C inside.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Temperature(f64);

impl Temperature {
    /// From °C.
    #[must_use]
    pub const fn from_c(c: f64) -> Self {
        Self(c)
    }
    /// From °F.
    #[must_use]
    pub const fn from_f(f: f64) -> Self {
        Self((f - 32.0) / 1.8)
    }
    /// In °C.
    #[must_use]
    pub const fn c(self) -> f64 {
        self.0
    }
    /// In °F.
    #[must_use]
    pub const fn f(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
    /// In kelvin.
    #[must_use]
    pub const fn kelvin(self) -> f64 {
        self.0 + 273.15
    }
}

/// A relative humidity, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Humidity(f64);

impl Humidity {
    /// From a fraction, kept within 0 to 1.
    #[must_use]
    pub const fn from_fraction(fraction: f64) -> Self {
        Self(fraction.clamp(0.0, 1.0))
    }
    /// From percent, kept within 0 to 100.
    #[must_use]
    pub const fn from_percent(percent: f64) -> Self {
        Self::from_fraction(percent / 100.0)
    }
    /// As a fraction.
    #[must_use]
    pub const fn fraction(self) -> f64 {
        self.0
    }
    /// In percent.
    #[must_use]
    pub const fn percent(self) -> f64 {
        self.0 * 100.0
    }
}

/// A stretch of time in whole minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Minutes(i64);

impl Minutes {
    /// No time.
    pub const ZERO: Self = Self(0);
    /// From whole minutes.
    #[must_use]
    pub const fn new(minutes: i64) -> Self {
        Self(minutes)
    }
    /// In minutes.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }
}

impl Add for Minutes {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

/// A figure with its low, typical and high value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Range<T> {
    /// The low value.
    pub low: T,
    /// What to plan with.
    pub typical: T,
    /// The high value.
    pub high: T,
}

impl<T> Range<T> {
    /// A range from its three values.
    pub const fn new(low: T, typical: T, high: T) -> Self {
        Self { low, typical, high }
    }
}
