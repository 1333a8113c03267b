//! The units of each quantity as people spell them, with the limits beyond which nobody means it.
//!
//! Spellings are in plain form (lower case, `'` and `"` for primes, single spaces, none around `/`). The first spelling of
//! a unit is the one that a refusal uses.

use crate::amount::{Kind, Then, Unit};
use crate::{Area, Flow, Length, Mass, Spread, Volume};

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

pub(crate) const LENGTH: Kind = Kind {
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

pub(crate) const AREA: Kind = Kind {
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

pub(crate) const VOLUME: Kind = Kind {
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

pub(crate) const MASS: Kind = Kind {
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

pub(crate) const FILM: Kind = Kind {
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

pub(crate) const SPREAD: Kind = Kind {
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

pub(crate) const FLOW: Kind = Kind {
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

pub(crate) const AIR_CHANGES: Kind = Kind {
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

pub(crate) const MINUTES: Kind = Kind {
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

pub(crate) const TEMPERATURE: Kind = Kind {
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

pub(crate) const SHARE: Kind = Kind {
    units: &[unit(&["%", "percent", "per cent", "pct", "% rh", "rh", "%rh"], 0.01)],
    expected: "a share in % up to 100 %, or a fraction of one",
    example: ["65 %", "65 %"],
    bare: ["%", "%"],
    least: 0.0,
    most: 1.0,
};
