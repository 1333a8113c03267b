//! The doors for what people type: `parse`, and `parse_in` where a bare number can have a meaning.

use crate::amount::guarded;
use crate::kinds::{AIR_CHANGES, AREA, FILM, FLOW, LENGTH, MASS, MINUTES, SHARE, SPREAD, TEMPERATURE, VOLUME};
use crate::typed::Reader;
use crate::{
    AirChanges, Area, BasisPoints, DryFilm, Flow, Humidity, Length, Mass, Minutes, Refusal, Spread, Temperature,
    UnitSystem, Volume, WetFilm,
};

/// The two doors of a quantity whose stored unit is the one of its table.
macro_rules! doors {
    ($($name:ident, $kind:ident, $from:ident;)+) => { $(
        impl $name {
            /// Reads what a person typed, with its unit.
            ///
            /// # Errors
            /// When it has no unit or an unknown one, is below nothing, or is beyond the limit the refusal names.
            pub fn parse(typed: &str) -> Result<Self, Refusal> {
                $kind.read(typed, None).map(Self::$from)
            }

            /// Reads what a person typed; a bare number takes the unit of the shop's system.
            ///
            /// # Errors
            /// When it has an unknown unit, is below nothing, or is beyond the limit the refusal names.
            pub fn parse_in(typed: &str, units: UnitSystem) -> Result<Self, Refusal> {
                $kind.read(typed, Some(units)).map(Self::$from)
            }
        }
    )+ };
}

doors! {
    Length, LENGTH, from_m;
    Area, AREA, from_m2;
    Volume, VOLUME, from_m3;
    Mass, MASS, from_kg;
    WetFilm, FILM, from_m;
    DryFilm, FILM, from_m;
    Spread, SPREAD, from_m2_per_litre;
    Flow, FLOW, from_m3_per_s;
}

impl AirChanges {
    /// Reads what a person typed; a bare number is changes an hour.
    ///
    /// # Errors
    /// When it is no number, below nothing, or more than 1000 an hour.
    pub fn parse(typed: &str) -> Result<Self, Refusal> {
        AIR_CHANGES
            .read(typed, Some(UnitSystem::default()))
            .map(Self::from_per_h)
    }
}

impl Minutes {
    /// Reads what a person typed: `90`, `90 min`, `2 h 30`, `2:30` (hours and minutes), `1 1/2 h`, `3 d`. A bare number
    /// is minutes; parts of a minute round to the nearest.
    ///
    /// ```
    /// use quantity::Minutes;
    /// for typed in ["150", "2 h 30", "2h30", "2:30", "2 1/2 h", "150 min"] {
    ///     assert_eq!(Minutes::parse(typed), Ok(Minutes::new(150)));
    /// }
    /// ```
    ///
    /// # Errors
    /// When it is no time, below nothing, or more than ten years.
    pub fn parse(typed: &str) -> Result<Self, Refusal> {
        let minutes = match clock_form(typed) {
            Some((hours, minutes)) if minutes < 60.0 => MINUTES.within(hours * 60.0 + minutes),
            Some((_, minutes)) => Err(format!("has {minutes} minutes behind the colon, where 59 are the most")),
            None => return MINUTES.read(typed, Some(UnitSystem::default())).map(Self::rounded),
        };
        minutes
            .map(Self::rounded)
            .map_err(|problem| MINUTES.refuse(typed, problem, UnitSystem::default()))
    }
}

/// Hours and minutes of `2:30`.
fn clock_form(typed: &str) -> Option<(f64, f64)> {
    let (hours, minutes) = typed.trim().split_once(':')?;
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit()) && (1..=5).contains(&text.len());
    (digits(hours) && digits(minutes) && minutes.len() == 2).then_some(())?;
    Some((hours.parse().ok()?, minutes.parse().ok()?))
}

impl Temperature {
    /// Reads what a person typed, with its unit: `68F`, `58 °F`, `20 C`, `-5 °C`.
    ///
    /// # Errors
    /// When it has no unit, or lies outside -60 to 700 °C.
    pub fn parse(typed: &str) -> Result<Self, Refusal> {
        Self::read(typed, None)
    }

    /// Reads what a person typed; a bare number (or one with only `°`) takes the unit of the shop's system.
    ///
    /// # Errors
    /// When it has an unknown unit, or lies outside -60 to 700 °C.
    pub fn parse_in(typed: &str, units: UnitSystem) -> Result<Self, Refusal> {
        Self::read(typed, Some(units))
    }

    fn read(typed: &str, bare: Option<UnitSystem>) -> Result<Self, Refusal> {
        Self::value(typed, bare).map_err(|problem| TEMPERATURE.refuse(typed, problem, bare.unwrap_or_default()))
    }

    fn value(typed: &str, bare: Option<UnitSystem>) -> Result<Self, String> {
        let text = guarded(typed)?;
        let mut reader = Reader::new(&text);
        let below_zero = reader.take("-");
        reader.take("+");
        reader.skip_spaces();
        let number = reader
            .number()
            .ok_or_else(|| "does not start with a number".to_owned())??;
        let degrees = if below_zero { -number.value } else { number.value };
        reader.skip_spaces();
        let spelling = match (reader.rest(), bare) {
            ("" | "°" | "deg" | "degrees", Some(UnitSystem::Imperial)) => "f",
            ("" | "°" | "deg" | "degrees", Some(UnitSystem::Metric)) => "c",
            ("", None) => return Err("has no unit".to_owned()),
            (rest, _) => TEMPERATURE
                .units
                .iter()
                .find(|unit| unit.spellings.contains(&rest))
                .map(|unit| unit.spellings[0])
                .ok_or_else(|| format!("has an unknown unit, {rest}"))?,
        };
        let temperature = match spelling {
            "f" => Self::from_f(degrees),
            "k" => Self::from_kelvin(degrees),
            _ => Self::from_c(degrees),
        };
        TEMPERATURE.within(temperature.c())?;
        Ok(temperature)
    }
}

impl Humidity {
    /// Reads what a person typed: `65 %`, `0.65`, `65`. A bare number up to 1 is a fraction, one from 2 to 100 per cent.
    ///
    /// # Errors
    /// When it is no share, lies between 1 and 2 without a unit (it could be either), or is above 100 %.
    pub fn parse(typed: &str) -> Result<Self, Refusal> {
        read_share(typed).map(Self::from_fraction)
    }
}

impl BasisPoints {
    /// Reads what a person typed: `40 %`, `0.4`, `40`. A bare number up to 1 is a fraction, one from 2 to 100 per cent;
    /// rounded to the hundredth of a per cent.
    ///
    /// # Errors
    /// When it is no share, lies between 1 and 2 without a unit (it could be either), or is above 100 %.
    pub fn parse(typed: &str) -> Result<Self, Refusal> {
        read_share(typed).map(Self::from_fraction)
    }
}

fn read_share(typed: &str) -> Result<f64, Refusal> {
    share(typed).map_err(|problem| SHARE.refuse(typed, problem, UnitSystem::default()))
}

fn share(typed: &str) -> Result<f64, String> {
    let text = guarded(typed)?;
    let mut reader = Reader::new(&text);
    match reader.number() {
        Some(Ok(bare)) if reader.is_at_end() => match bare.value {
            fraction if fraction <= 1.0 => Ok(fraction),
            percent if percent >= 2.0 => SHARE.within(percent / 100.0),
            _ => Err("could be a fraction or per cent".to_owned()),
        },
        _ => SHARE.value(typed, None),
    }
}
