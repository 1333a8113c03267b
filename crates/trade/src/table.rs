//! Reading the embedded tables: CSV and TOML text into typed rows, once.
//!
//! A cell with a range holds three figures, `low typical high`; a cell with a span of two, `least most`. The tables are
//! part of the program, so a malformed one is a fault of the build: every loader is exercised by a test.

use quantity::Range;
use serde::Deserialize;
use serde::de::{DeserializeOwned, Deserializer, Error as _};

/// Parses a CSV table whose rows are in a known good form.
pub(crate) fn csv_rows<T: DeserializeOwned>(name: &str, text: &'static str) -> Vec<T> {
    csv::Reader::from_reader(text.as_bytes())
        .deserialize()
        .enumerate()
        .map(|(idx, row)| match row {
            Ok(row) => row,
            Err(fault) => unreachable!("embedded table {name}, row {}: {fault}", idx + 1),
        })
        .collect()
}

/// Parses a TOML table in a known good form.
pub(crate) fn toml_rows<T: DeserializeOwned>(name: &str, text: &'static str) -> T {
    match toml::from_str(text) {
        Ok(rows) => rows,
        Err(fault) => unreachable!("embedded table {name}: {fault}"),
    }
}

fn figures<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<f64>, D::Error> {
    let cell = String::deserialize(deserializer)?;
    cell.split_whitespace()
        .map(|figure| {
            figure
                .parse()
                .map_err(|_| D::Error::custom(format!("`{figure}` is not a figure")))
        })
        .collect()
}

/// Three figures, `low typical high`, in this order.
pub(crate) fn range<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Range<f64>, D::Error> {
    maybe_range(deserializer)?.ok_or_else(|| D::Error::custom("a range of three figures is missing"))
}

/// Three figures, or nothing.
pub(crate) fn maybe_range<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Range<f64>>, D::Error> {
    match figures(deserializer)?[..] {
        [] => Ok(None),
        [low, typical, high] if low <= typical && typical <= high => Ok(Some(Range { low, typical, high })),
        [low, typical, high] => Err(D::Error::custom(format!(
            "range {low} {typical} {high} is out of order"
        ))),
        _ => Err(D::Error::custom("a range is three figures: low typical high")),
    }
}

/// Two figures, `least most`, or nothing.
pub(crate) fn maybe_span<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<(f64, f64)>, D::Error> {
    match figures(deserializer)?[..] {
        [] => Ok(None),
        [least, most] if least <= most => Ok(Some((least, most))),
        _ => Err(D::Error::custom("a span is two figures, the lesser first")),
    }
}

/// Several words in one cell, each an id of `T`.
pub(crate) fn words<'de, D: Deserializer<'de>, T: DeserializeOwned>(deserializer: D) -> Result<Vec<T>, D::Error> {
    let cell = String::deserialize(deserializer)?;
    cell.split_whitespace()
        .map(|word| T::deserialize(serde::de::value::StrDeserializer::<D::Error>::new(word)))
        .collect()
}

/// `yes` or `no`.
pub(crate) fn yes<'de, D: Deserializer<'de>>(deserializer: D) -> Result<bool, D::Error> {
    match String::deserialize(deserializer)?.as_str() {
        "yes" => Ok(true),
        "no" => Ok(false),
        other => Err(D::Error::custom(format!("`{other}` is neither yes nor no"))),
    }
}
