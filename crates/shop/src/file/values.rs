//! Quantities, money, dates and colours as they stand in a plan file.
//!
//! Whatever is typed may carry its own unit; a bare number is read in the shop's units, and the plan says so.

use std::fmt::Display;
use std::ops::RangeInclusive;

use jiff::civil::{Date, DateTime};
use quantity::{Area, Currency, Length, Minutes, Money, Spread, Temperature, UnitSystem, Volume};

use super::node::Value;

/// What a bare number means in this shop.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bare {
    pub(crate) units: UnitSystem,
    pub(crate) currency: Currency,
}

impl Bare {
    fn unit(self, imperial: &'static str, metric: &'static str) -> &'static str {
        match self.units {
            UnitSystem::Imperial => imperial,
            UnitSystem::Metric => metric,
        }
    }
}

/// What a quantity may be: its reader, its limits in SI, and the words for both.
struct Kind<T, E: Display> {
    parse: fn(&str) -> Result<T, E>,
    si: fn(&T) -> f64,
    range: RangeInclusive<f64>,
    limit: &'static str,
    right: &'static str,
}

fn quantity<T, E: Display>(value: &Value<'_>, bare_unit: &str, kind: &Kind<T, E>) -> Option<T> {
    let text = match (value.as_text(), value.as_number()) {
        (Some(text), _) => text.to_owned(),
        (None, Some(number)) => {
            value.reader.assume(format!(
                "{} has no unit: read as {number} {bare_unit}, the shop's unit",
                value.field
            ));
            format!("{number} {bare_unit}")
        }
        _ => {
            value.refuse(kind.limit, kind.right);
            return None;
        }
    };
    // Long texts are no quantity, and no parser should have to chew them.
    if text.chars().count() > 60 {
        value.refuse(kind.limit, kind.right);
        return None;
    }
    match (kind.parse)(&text) {
        Ok(quantity) if kind.range.contains(&(kind.si)(&quantity)) => Some(quantity),
        Ok(_) => {
            value.refuse(kind.limit, kind.right);
            None
        }
        Err(refusal) => {
            let reason = refusal.to_string();
            value.refuse(&format!("{}; {}", kind.limit, one_line(&reason)), kind.right);
            None
        }
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A length from 0.1 mm to 20 m.
pub(crate) fn length(value: &Value<'_>, bare: Bare) -> Option<Length> {
    let kind = Kind {
        parse: Length::parse,
        si: |length: &Length| length.m(),
        range: 0.0001..=20.0,
        limit: "a length from 0.1 mm to 20 m",
        right: "a number with its unit, such as \"42 in\", \"3'6\\\"\" or \"107 cm\"",
    };
    quantity(value, bare.unit("in", "cm"), &kind)
}

/// A length that may be nothing.
pub(crate) fn length_or_none(value: &Value<'_>, bare: Bare) -> Option<Length> {
    if value.as_number() == Some(0.0) {
        return Some(Length::from_m(0.0));
    }
    length(value, bare)
}

/// An area from 1 cm² to 500 m².
pub(crate) fn area(value: &Value<'_>, bare: Bare) -> Option<Area> {
    let kind = Kind {
        parse: Area::parse,
        si: |area: &Area| area.m2(),
        range: 0.0001..=500.0,
        limit: "an area from 1 cm² to 500 m²",
        right: "a number with its unit, such as \"12 ft2\" or \"1.1 m2\"",
    };
    quantity(value, bare.unit("ft2", "m2"), &kind)
}

/// A container's volume, from 1 mL to 250 L.
pub(crate) fn can(value: &Value<'_>, bare: Bare) -> Option<Volume> {
    let kind = Kind {
        parse: Volume::parse,
        si: |volume: &Volume| volume.ml(),
        range: 1.0..=250_000.0,
        limit: "a volume from 1 mL to 250 L",
        right: "a number with its unit, such as \"1 qt\", \"8 fl oz\" or \"750 ml\"",
    };
    quantity(value, bare.unit("qt", "l"), &kind)
}

/// What stays in a gun and its cup, from 1 mL to 5 L.
pub(crate) fn cup(value: &Value<'_>, bare: Bare) -> Option<Volume> {
    let kind = Kind {
        parse: Volume::parse,
        si: |volume: &Volume| volume.ml(),
        range: 1.0..=5_000.0,
        limit: "a volume from 1 mL to 5 L",
        right: "a number with its unit, such as \"2 fl oz\" or \"50 ml\"",
    };
    quantity(value, bare.unit("fl oz", "ml"), &kind)
}

/// The diameter of a sanding disc, from 25 mm to 300 mm.
pub(crate) fn disc(value: &Value<'_>, bare: Bare) -> Option<Length> {
    let kind = Kind {
        parse: Length::parse,
        si: |length: &Length| length.mm(),
        range: 25.0..=300.0,
        limit: "a diameter from 25 mm to 300 mm",
        right: "a number with its unit, such as \"5 in\" or \"150 mm\"",
    };
    quantity(value, bare.unit("in", "mm"), &kind)
}

/// A room's volume, from 1 m³ to 100 000 m³.
pub(crate) fn room_volume(value: &Value<'_>, bare: Bare) -> Option<Volume> {
    let kind = Kind {
        parse: Volume::parse,
        si: |volume: &Volume| volume.m3(),
        range: 1.0..=100_000.0,
        limit: "a room's volume from 1 m³ to 100000 m³",
        right: "a number with its unit, such as \"3200 ft3\" or \"90 m3\"",
    };
    quantity(value, bare.unit("ft3", "m3"), &kind)
}

/// An air temperature from −40 °C to 60 °C.
pub(crate) fn temperature(value: &Value<'_>, bare: Bare) -> Option<Temperature> {
    let kind = Kind {
        parse: Temperature::parse,
        si: |temperature: &Temperature| temperature.c(),
        range: -40.0..=60.0,
        limit: "a temperature from -40 °C to 60 °C",
        right: "a number with its unit, such as \"58 °F\" or \"14 °C\"",
    };
    quantity(value, bare.unit("°F", "°C"), &kind)
}

/// A stretch of time from none to two years.
pub(crate) fn minutes(value: &Value<'_>) -> Option<Minutes> {
    let kind = Kind {
        parse: Minutes::parse,
        si: |minutes: &Minutes| whole(minutes.get()),
        range: 0.0..=1_051_200.0,
        limit: "a time from 0 min to 2 years",
        right: "a number with its unit, such as \"2 h\", \"45 min\" or \"21 days\"",
    };
    quantity(value, "h", &kind)
}

#[expect(clippy::cast_precision_loss, reason = "compared with a limit of two years only")]
fn whole(minutes: i64) -> f64 {
    minutes as f64
}

/// A spreading rate from 0.5 to 60 m²/L.
pub(crate) fn spread(value: &Value<'_>, bare: Bare) -> Option<Spread> {
    let kind = Kind {
        parse: Spread::parse,
        si: |spread: &Spread| spread.m2_per_litre(),
        range: 0.5..=60.0,
        limit: "a spreading rate from 0.5 to 60 m²/L (20 to 2400 ft²/gal)",
        right: "a number with its unit, such as \"300 ft2/gal\" or \"8 m2/l\"",
    };
    quantity(value, bare.unit("ft2/gal", "m2/l"), &kind)
}

/// A sum of money from nothing to ten million.
pub(crate) fn money(value: &Value<'_>, bare: Bare) -> Option<Money> {
    const LIMIT: &str = "a sum from 0 to 10000000 in the shop's currency";
    const RIGHT: &str = "a plain number such as 28.00";
    let sum = match (value.as_number(), value.as_text()) {
        (Some(number), _) => Money::nearest(number * minor_per_one(bare.currency)).ok(),
        (None, Some(text)) if text.chars().count() <= 40 => Money::parse(text, bare.currency).ok(),
        _ => None,
    };
    let most = 10_000_000 * bare.currency.minor_per_one();
    let sum = sum.filter(|money| (0..=most).contains(&money.minor()));
    if sum.is_none() {
        value.refuse(LIMIT, RIGHT);
    }
    sum
}

#[expect(clippy::cast_precision_loss, reason = "a power of ten below a million")]
fn minor_per_one(currency: Currency) -> f64 {
    currency.minor_per_one() as f64
}

/// A share from 0 to 1, as a number or as a percentage in quotes.
pub(crate) fn share(value: &Value<'_>) -> Option<f64> {
    let number = match value.as_text() {
        Some(text) => text
            .trim()
            .strip_suffix('%')
            .and_then(|percent| percent.trim().parse::<f64>().ok())
            .map(|percent| percent / 100.0),
        None => value.as_number(),
    };
    match number {
        Some(number) if (0.0..=1.0).contains(&number) => Some(number),
        _ => {
            value.refuse("a share from 0 to 1", "a number such as 0.65, or \"65 %\"");
            None
        }
    }
}

/// A day.
pub(crate) fn date(value: &Value<'_>) -> Option<Date> {
    let date = value
        .moment_text()
        .and_then(|text| text.parse::<Date>().ok())
        .filter(|date| in_reach(*date));
    if date.is_none() {
        value.refuse(
            "a day of the calendar from 1970 to 2200",
            "year, month and day, such as \"2027-03-20\"",
        );
    }
    date
}

/// A moment on the shop's clock.
pub(crate) fn date_time(value: &Value<'_>) -> Option<DateTime> {
    let moment = value
        .moment_text()
        .and_then(|text| text.parse::<DateTime>().ok())
        .filter(|moment| in_reach(moment.date()));
    if moment.is_none() {
        value.refuse(
            "a moment of the calendar from 1970 to 2200, on the shop's clock",
            "day and time, such as \"2027-03-08T09:00\"",
        );
    }
    moment
}

/// The years that a plan can be made in: far enough from the ends of the calendar that no sum of days leaves it.
fn in_reach(date: Date) -> bool {
    (1970..=2200).contains(&date.year())
}

/// A colour, `#rgb` or `#rrggbb`, as `#rrggbb` in lower case; or one of a few plain colour words.
pub(crate) fn colour(value: &Value<'_>) -> Option<String> {
    let hit = value.as_text().and_then(read_colour);
    if hit.is_none() {
        value.refuse(
            "a colour",
            "\"#\" and six hexadecimal figures, such as \"#35506b\", or one of white, black, grey, red, green, blue, yellow, brown, cream",
        );
    }
    hit
}

/// A colour as `#rrggbb`, if the text is one.
pub fn read_colour(text: &str) -> Option<String> {
    const WORDS: [(&str, &str); 10] = [
        ("white", "#f4f3ee"),
        ("black", "#1d1c1a"),
        ("grey", "#8b8b86"),
        ("gray", "#8b8b86"),
        ("red", "#9c3a30"),
        ("green", "#4f6b52"),
        ("blue", "#35506b"),
        ("yellow", "#d9b44a"),
        ("brown", "#6b4a32"),
        ("cream", "#efe6d0"),
    ];
    let text = text.trim().to_lowercase();
    if let Some((_, hex)) = WORDS.iter().find(|(word, _)| *word == text) {
        return Some((*hex).to_owned());
    }
    let figures = text.strip_prefix('#')?;
    if !figures.chars().all(|c| c.is_ascii_hexdigit()) {
        return None;
    }
    match figures.len() {
        6 => Some(text),
        3 => Some(figures.chars().fold("#".to_owned(), |mut full, c| {
            full.push(c);
            full.push(c);
            full
        })),
        _ => None,
    }
}
