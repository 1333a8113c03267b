//! How moments, lengths of time and quantities are shown.

use jiff::civil::Date;
use jiff::{Timestamp, ZonedDateTime};
use maud::{Markup, html};
use quantity::{Area, UnitSystem, Volume};

/// A word with a capital first letter.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `Tue 9 Mar`.
pub(crate) fn day(date: Date) -> String {
    date.strftime("%a %-d %b").to_string()
}

/// `Tue 9 Mar, 14:30`, for machines too.
pub(crate) fn moment(at: &ZonedDateTime) -> Markup {
    html! { time.when datetime=(shop::plan::rfc3339(at)) { (at.strftime("%a %-d %b, %H:%M").to_string()) } }
}

/// `14:30`, for machines too.
pub(crate) fn clock(at: &ZonedDateTime) -> Markup {
    html! { time.when datetime=(shop::plan::rfc3339(at)) { (at.strftime("%H:%M").to_string()) } }
}

/// `14:30` on the same day as `now`, else with the day before it.
pub(crate) fn near(at: &ZonedDateTime, now: &ZonedDateTime) -> Markup {
    if at.date() == now.date() { clock(at) } else { moment(at) }
}

/// `25 min`, `1 h 30 min`, `3 d 4 h`.
pub(crate) fn minutes(minutes: u32) -> String {
    let (days, hours, rest) = (minutes / 1440, minutes % 1440 / 60, minutes % 60);
    match (days, hours, rest) {
        (0, 0, rest) => format!("{rest} min"),
        (0, hours, 0) => format!("{hours} h"),
        (0, hours, rest) => format!("{hours} h {rest} min"),
        (1, 0, _) => "1 day".to_owned(),
        (days, 0, _) => format!("{days} days"),
        (days, hours, _) => format!("{days} d {hours} h"),
    }
}

/// `25 min`, `31 h 5 min`: work is counted in hours, however many.
pub(crate) fn minutes_of_work(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("{rest} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, rest) => format!("{hours} h {rest} min"),
    }
}

/// How long from one moment to a later one; nothing if it is not later.
pub(crate) fn between(from: Timestamp, to: Timestamp) -> u32 {
    u32::try_from(to.duration_since(from).as_mins()).unwrap_or(0)
}

/// `3 1/2 days`, `18 h`.
pub(crate) fn hours(hours: f64) -> String {
    if hours < 48.0 {
        format!("{hours:.0} h")
    } else {
        format!("{:.1} days", hours / 24.0)
    }
}

/// Millilitres in the shop's units.
pub(crate) fn volume(ml: f64, units: UnitSystem) -> String {
    Volume::from_ml(ml).show(units)
}

/// Square metres in the shop's units.
pub(crate) fn area(m2: f64, units: UnitSystem) -> String {
    Area::from_m2(m2).show(units)
}

/// A chance in words and figures.
pub(crate) fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// A share that may be small: `1.9 %`, `14 %`.
pub(crate) fn share(share: f64) -> String {
    if share < 0.0995 {
        format!("{:.1} %", share * 100.0)
    } else {
        percent(share)
    }
}

/// A difference of temperature in the shop's units.
pub(crate) fn margin(kelvin: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial => format!("{:.0} °F", kelvin * 1.8),
        UnitSystem::Metric => format!("{kelvin:.0} K"),
    }
}
