//! The units of each quantity, as people spell them, and the doors `parse` and `parse_in`.

use crate::amount::{Kind, Then, Unit, guarded};
use crate::typed::Reader;
use crate::{
    AirChanges, Area, BasisPoints, DryFilm, Flow, Humidity, Length, Mass, Minutes, Refusal, Spread, Temperature,
    UnitSystem, Volume, WetFilm,
};

/// A unit with nothing to follow it.
const fn unit(spellings: &'static [&'static str], size: f64) -> Unit {
    Unit {
        spellings,
        size,
        then: Then::Nothing,
    }
}

const fn unit_then(spellings: &'static [&'static str], size: f64, then: Then) -> Unit {
    Unit { spellings, size, then }
}

const LENGTH: Kind = Kind {
    units: &[
        unit(&["in", "inch", "inches", "\""], Length::from_inches(1.0).m()),
        unit_then(&["'"], Length::from_feet(1.0).m(), Then::Unit("in")),
        unit_then(
            &["ft", "foot", "feet"],
            Length::from_feet(1.0).m(),
            Then::UnitAfterSpace("in"),
        ),
        unit(&["yd", "yard", "yards"], Length::from_feet(3.0).m()),
        unit(&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 0.001),
        unit(&["cm", "centimetre", "centimetres", "centimeter", "centimeters"], 0.01),
        unit_then(
            &["m", "metre", "metres", "meter", "meters"],
            1.0,
            Then::UnitAfterSpace("cm"),
        ),
    ],
    expected: "a length in in, ft, yd, mm, cm or m up to 100 m (328 ft)",
    example: ["18 3/4\"", "46 cm"],
    bare: ["in", "cm"],
    least: 0.0,
    most: 100.0,
};

const AREA: Kind = Kind {
    units: &[
        unit(
            &["ft2", "sq ft", "sqft", "sq. ft", "square feet", "square foot", "sf"],
            Area::from_ft2(1.0).m2(),
        ),
        unit(
            &["in2", "sq in", "sqin", "sq. in", "square inches", "square inch"],
            Area::from_in2(1.0).m2(),
        ),
        unit(&["cm2", "sq cm", "square centimetres", "square centimeters"], 1e-4),
        unit(
            &[
                "m2",
                "sq m",
                "sqm",
                "square metres",
                "square meters",
                "square metre",
                "square meter",
            ],
            1.0,
        ),
    ],
    expected: "an area in ft2, in2, cm2 or m2 up to 10000 m2 (107639 ft2)",
    example: ["12 ft2", "1.2 m2"],
    bare: ["ft2", "m2"],
    least: 0.0,
    most: 10_000.0,
};

const VOLUME: Kind = Kind {
    units: &[
        unit(
            &["fl oz", "floz", "fl. oz", "fluid ounce", "fluid ounces", "oz"],
            Volume::from_us_fluid_ounces(1.0).m3(),
        ),
        unit(&["cup", "cups"], Volume::from_us_fluid_ounces(8.0).m3()),
        unit(&["pt", "pint", "pints"], Volume::from_us_pints(1.0).m3()),
        unit(&["qt", "quart", "quarts"], Volume::from_us_quarts(1.0).m3()),
        unit(&["gal", "gallon", "gallons"], Volume::from_us_gallons(1.0).m3()),
        unit(
            &[
                "ml",
                "cc",
                "cm3",
                "millilitre",
                "millilitres",
                "milliliter",
                "milliliters",
            ],
            1e-6,
        ),
        unit(&["cl"], 1e-5),
        unit(&["dl"], 1e-4),
        unit(&["l", "litre", "litres", "liter", "liters"], 1e-3),
        unit(
            &["ft3", "cu ft", "cuft", "cu. ft", "cf", "cubic feet", "cubic foot"],
            Volume::from_ft3(1.0).m3(),
        ),
        unit(
            &[
                "m3",
                "cu m",
                "cubic metres",
                "cubic meters",
                "cubic metre",
                "cubic meter",
            ],
            1.0,
        ),
    ],
    expected: "a volume in fl oz, pt, qt, gal, ft3, ml, l or m3 up to 100000 m3",
    example: ["1 pt", "500 ml"],
    bare: ["fl oz", "ml"],
    least: 0.0,
    most: 100_000.0,
};

const MASS: Kind = Kind {
    units: &[
        unit(&["oz", "ounce", "ounces"], Mass::from_ounces(1.0).kg()),
        unit_then(
            &["lb", "lbs", "pound", "pounds"],
            Mass::from_pounds(1.0).kg(),
            Then::UnitAfterSpace("oz"),
        ),
        unit(&["g", "gram", "grams"], 1e-3),
        unit(&["kg", "kilo", "kilos", "kilogram", "kilograms"], 1.0),
    ],
    expected: "a mass in oz, lb, g or kg up to 100000 kg",
    example: ["1 lb 4 oz", "500 g"],
    bare: ["oz", "g"],
    least: 0.0,
    most: 100_000.0,
};

const FILM: Kind = Kind {
    units: &[
        unit(&["mil", "mils", "thou"], 25.4e-6),
        unit(
            &[
                "um",
                "micron",
                "microns",
                "micrometre",
                "micrometres",
                "micrometer",
                "micrometers",
            ],
            1e-6,
        ),
        unit(&["mm"], 1e-3),
    ],
    expected: "a film thickness in mil, um or mm up to 10 mm (394 mil)",
    example: ["4 mil", "100 um"],
    bare: ["mil", "um"],
    least: 0.0,
    most: 0.01,
};

const SPREAD: Kind = Kind {
    units: &[
        unit(
            &[
                "ft2/gal",
                "sq ft/gal",
                "sqft/gal",
                "sq. ft/gal",
                "square feet/gallon",
                "ft2/gallon",
                "sq ft/gallon",
            ],
            Spread::from_ft2_per_gallon(1.0).m2_per_litre(),
        ),
        unit(
            &["ft2/qt", "sq ft/qt", "sqft/qt", "sq ft/quart"],
            4.0 * Spread::from_ft2_per_gallon(1.0).m2_per_litre(),
        ),
        unit(
            &["m2/l", "sq m/l", "sqm/l", "m2/litre", "m2/liter", "square metres/litre"],
            1.0,
        ),
    ],
    expected: "a spreading rate in ft2/gal, ft2/qt or m2/l between 0.1 and 100 m2/l (4 and 4075 ft2/gal)",
    example: ["300 ft2/gal", "12 m2/l"],
    bare: ["ft2/gal", "m2/l"],
    least: 0.1,
    most: 100.0,
};

const FLOW: Kind = Kind {
    units: &[
        unit(
            &["cfm", "ft3/min", "cu ft/min", "cubic feet/minute"],
            Flow::from_cfm(1.0).m3_per_s(),
        ),
        unit(
            &["m3/h", "m3/hr", "cubic metres/hour", "cubic meters/hour"],
            Flow::from_m3_per_h(1.0).m3_per_s(),
        ),
        unit(&["m3/s"], 1.0),
        unit(&["l/s"], 1e-3),
    ],
    expected: "a stream of air in cfm, m3/h, l/s or m3/s up to 1000 m3/s",
    example: ["400 cfm", "680 m3/h"],
    bare: ["cfm", "m3/h"],
    least: 0.0,
    most: 1000.0,
};

const AIR_CHANGES: Kind = Kind {
    units: &[unit(
        &["/h", "/hr", "/hour", "ach", "air changes", "air changes/hour"],
        1.0,
    )],
    expected: "air changes an hour up to 1000",
    example: ["1 /h", "1 /h"],
    bare: ["/h", "/h"],
    least: 0.0,
    most: 1000.0,
};

const MINUTES: Kind = Kind {
    units: &[
        unit(&["min", "mins", "minute", "minutes", "m"], 1.0),
        unit_then(&["h", "hr", "hrs", "hour", "hours"], 60.0, Then::Unit("min")),
        unit_then(&["d", "day", "days"], 1440.0, Then::UnitAfterSpace("h")),
        unit_then(
            &["wk", "wks", "week", "weeks", "w"],
            7.0 * 1440.0,
            Then::UnitAfterSpace("d"),
        ),
    ],
    expected: "a time in min, h, d or weeks up to 3660 d (10 years)",
    example: ["2 h 30 min", "2 h 30 min"],
    bare: ["min", "min"],
    least: 0.0,
    most: 3660.0 * 1440.0,
};

const TEMPERATURE: Kind = Kind {
    units: &[
        unit(
            &[
                "f",
                "°f",
                "° f",
                "deg f",
                "degrees f",
                "fahrenheit",
                "degrees fahrenheit",
            ],
            0.0,
        ),
        unit(
            &["c", "°c", "° c", "deg c", "degrees c", "celsius", "degrees celsius"],
            0.0,
        ),
        unit(&["k", "kelvin", "kelvins"], 0.0),
    ],
    expected: "a temperature in °F or °C between -60 and 700 °C (-76 and 1292 °F)",
    example: ["58 °F", "20 °C"],
    bare: ["f", "c"],
    least: -60.0,
    most: 700.0,
};

const SHARE: Kind = Kind {
    units: &[unit(&["%", "percent", "per cent", "pct", "% rh", "rh", "%rh"], 0.01)],
    expected: "a share in % up to 100 %, or a fraction of one",
    example: ["65 %", "65 %"],
    bare: ["%", "%"],
    least: 0.0,
    most: 1.0,
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
