//! How the shop sees a quantity: inches to the sixteenth, pints and quarts to the eighth, or centimetres and litres.
//!
//! What is shown can be typed again: `parse(show(x))` is `x` to the shown precision. A figure that is none shows as
//! “unknown”.

use std::fmt;

use crate::{
    AirChanges, Area, BasisPoints, DryFilm, Flow, Humidity, Length, Mass, Minutes, Spread, Temperature, UnitSystem,
    Volume, WetFilm,
};

const UNKNOWN: &str = "unknown";

/// So many decimals at most, without trailing zeros, and no minus before a zero.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A number to the nearest `1/parts`, written with a vulgar fraction in lowest terms: `18 3/4`.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a float cast saturates, far beyond anything shown"
)]
fn in_fractions(value: f64, parts: i64) -> String {
    let sign = if value < 0.0 { "-" } else { "" };
    let total = (value.abs() * as_f64(parts)).round() as i64;
    let (whole, mut above, mut below) = (total / parts, total % parts, parts);
    while above != 0 && above % 2 == 0 && below % 2 == 0 {
        above /= 2;
        below /= 2;
    }
    match (whole, above) {
        (0, 0) => "0".to_owned(),
        (whole, 0) => format!("{sign}{whole}"),
        (0, above) => format!("{sign}{above}/{below}"),
        (whole, above) => format!("{sign}{whole} {above}/{below}"),
    }
}

#[expect(clippy::cast_precision_loss, reason = "only small whole numbers and shown figures")]
const fn as_f64(whole: i64) -> f64 {
    whole as f64
}

/// Gives each type its `show`, which answers for figures that are none before `$show` sees them.
macro_rules! shown {
    ($($(#[$doc:meta])* $name:ident, $show:ident;)+) => { $(
        impl $name {
            $(#[$doc])*
            #[must_use]
            pub fn show(self, units: UnitSystem) -> String {
                if self.is_finite() { $show(self, units) } else { UNKNOWN.to_owned() }
            }
        }
    )+ };
}

shown! {
    /// `18 3/4"`, from 10 ft on `12' 6 1/2"`, below 1/16" thousandths of an inch; or `3.2 mm`, `46.5 cm`, `12.5 m`.
    Length, length;
    /// `4.8 ft²`, below half a square foot `36 in²`; or `1.25 m²`, below a tenth of a square metre `450 cm²`.
    Area, area;
    /// `6.5 fl oz`, `1 1/4 pt`, `1 1/2 qt`, `2 gal`, from 100 gal on `3200 ft³`; or `250 ml`, `1.5 L`, `90.6 m³`.
    Volume, volume;
    /// `12.5 oz`, `3 lb 4 oz`; or `350 g`, `1.25 kg`.
    Mass, mass;
    /// `4.2 mil` or `107 µm`.
    WetFilm, wet_film;
    /// `1.5 mil` or `38 µm`.
    DryFilm, dry_film;
    /// `300 ft²/gal` or `12.3 m²/L`.
    Spread, spread;
    /// `400 cfm` or `680 m³/h`.
    Flow, flow;
    /// `58 °F` or `14.5 °C`.
    Temperature, temperature;
}

fn length(length: Length, units: UnitSystem) -> String {
    let (inches, mm) = (length.inches(), length.mm());
    match units {
        UnitSystem::Imperial if inches != 0.0 && inches.abs() < 1.0 / 16.0 => format!("{}\"", trimmed(inches, 3)),
        UnitSystem::Imperial if inches.abs() < 120.0 - 1.0 / 32.0 => format!("{}\"", in_fractions(inches, 16)),
        UnitSystem::Imperial => {
            let sixteenths = (inches.abs() * 16.0).round();
            let feet = (sixteenths / 192.0).floor();
            let rest = (sixteenths - feet * 192.0) / 16.0;
            let sign = if inches < 0.0 { "-" } else { "" };
            match in_fractions(rest, 16).as_str() {
                "0" => format!("{sign}{feet:.0}'"),
                rest => format!("{sign}{feet:.0}' {rest}\""),
            }
        }
        UnitSystem::Metric if mm.abs() < 99.95 => format!("{} mm", trimmed(mm, 1)),
        UnitSystem::Metric if mm.abs() < 9999.5 => format!("{} cm", trimmed(length.cm(), 1)),
        UnitSystem::Metric => format!("{} m", trimmed(length.m(), 2)),
    }
}

fn area(area: Area, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial if area.in2().abs() < 71.95 => format!("{} in²", trimmed(area.in2(), 1)),
        UnitSystem::Imperial => format!("{} ft²", trimmed(area.ft2(), 1)),
        UnitSystem::Metric if area.cm2().abs() < 999.5 => format!("{} cm²", trimmed(area.cm2(), 0)),
        UnitSystem::Metric => format!("{} m²", trimmed(area.m2(), 2)),
    }
}

fn volume(volume: Volume, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial => match volume.us_fluid_ounces().abs() {
            ounces if ounces < 1.0 => format!("{} fl oz", trimmed(volume.us_fluid_ounces(), 2)),
            ounces if ounces < 15.75 => format!("{} fl oz", trimmed(volume.us_fluid_ounces(), 1)),
            ounces if ounces < 31.0 => format!("{} pt", in_fractions(volume.us_pints(), 8)),
            ounces if ounces < 126.0 => format!("{} qt", in_fractions(volume.us_quarts(), 8)),
            ounces if ounces < 12_792.0 => format!("{} gal", in_fractions(volume.us_gallons(), 8)),
            _ => format!("{} ft³", trimmed(volume.ft3(), 0)),
        },
        UnitSystem::Metric => match volume.ml().abs() {
            ml if ml < 10.0 => format!("{} ml", trimmed(volume.ml(), 1)),
            ml if ml < 999.5 => format!("{} ml", trimmed(volume.ml(), 0)),
            ml if ml < 999_995.0 => format!("{} L", trimmed(volume.litres(), 2)),
            _ => format!("{} m³", trimmed(volume.m3(), 1)),
        },
    }
}

fn mass(mass: Mass, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial if mass.ounces().abs() < 15.95 => format!("{} oz", trimmed(mass.ounces(), 1)),
        UnitSystem::Imperial => {
            let ounces = mass.ounces().abs().round();
            let pounds = (ounces / 16.0).floor();
            let sign = if mass.kg() < 0.0 { "-" } else { "" };
            match trimmed(ounces - 16.0 * pounds, 0).as_str() {
                "0" => format!("{sign}{pounds:.0} lb"),
                rest => format!("{sign}{pounds:.0} lb {rest} oz"),
            }
        }
        UnitSystem::Metric if mass.g().abs() < 999.5 => format!("{} g", trimmed(mass.g(), 0)),
        UnitSystem::Metric => format!("{} kg", trimmed(mass.kg(), 2)),
    }
}

fn film(mils: f64, um: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial => format!("{} mil", trimmed(mils, 1)),
        UnitSystem::Metric => format!("{} µm", trimmed(um, 0)),
    }
}

fn wet_film(wet: WetFilm, units: UnitSystem) -> String {
    film(wet.mils(), wet.um(), units)
}

fn dry_film(dry: DryFilm, units: UnitSystem) -> String {
    film(dry.mils(), dry.um(), units)
}

fn spread(spread: Spread, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial => format!("{} ft²/gal", trimmed(spread.ft2_per_gallon(), 0)),
        UnitSystem::Metric => format!("{} m²/L", trimmed(spread.m2_per_litre(), 1)),
    }
}

fn flow(flow: Flow, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial => format!("{} cfm", trimmed(flow.cfm(), 0)),
        UnitSystem::Metric => format!("{} m³/h", trimmed(flow.m3_per_h(), 0)),
    }
}

fn temperature(temperature: Temperature, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial => format!("{} °F", trimmed(temperature.f(), 0)),
        UnitSystem::Metric => format!("{} °C", trimmed(temperature.c(), 1)),
    }
}

impl fmt::Display for AirChanges {
    /// `1.5 /h`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_finite() {
            write!(f, "{} /h", trimmed(self.per_h(), 2))
        } else {
            f.write_str(UNKNOWN)
        }
    }
}

impl fmt::Display for Humidity {
    /// `65 %`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.fraction().is_finite() {
            write!(f, "{} %", trimmed(self.percent(), 0))
        } else {
            f.write_str(UNKNOWN)
        }
    }
}

impl fmt::Display for BasisPoints {
    /// `33.33 %`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", trimmed(self.percent(), 2))
    }
}

impl fmt::Display for Minutes {
    /// `45 min`, `2 h 30 min`, `3 d`, `1 d 2 h 5 min`: exact, with the parts that are nothing left out.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let total = self.get().unsigned_abs();
        let parts = [(total / 1440, "d"), (total / 60 % 24, "h"), (total % 60, "min")];
        let words: Vec<String> = parts
            .iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, unit)| format!("{count} {unit}"))
            .collect();
        let sign = if self.get() < 0 { "-" } else { "" };
        if words.is_empty() {
            f.write_str("0 min")
        } else {
            write!(f, "{sign}{}", words.join(" "))
        }
    }
}
