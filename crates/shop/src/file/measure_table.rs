//! A measure of a form: a length, and how it was measured.
//!
//! `"42 in"` is a tape's; `"42 in ± 1/4 in"` states how far it may be off; `"about 42 in"` is by eye; and a table says it
//! all: `{ length = "42 in", by = "photograph", give_or_take = "1/4 in" }`.

use quantity::Length;

use super::nearest::one_of;
use super::node::{Table, Value};
use super::values::{self, Bare};
use crate::model::{Dimensions, FormKind, HowMeasured, Means, SaidDimension, check_within};
use crate::plan::further_dimensions;

/// What would be right, in every refusal of a measure.
const RIGHT: &str = "a length such as \"42 in\" or \"107 cm\", \"42 in ± 1/4 in\", \"about 42 in\", \
                     or { length = \"42 in\", by = \"photograph\", give_or_take = \"1/4 in\" }";

/// Reads a measure.
pub(crate) fn read(value: &Value<'_>, bare: Bare) -> Option<(Length, HowMeasured)> {
    if value.is_table() {
        return read_table(value, bare);
    }
    match value.as_text() {
        Some(text) if says_how(text) && text.chars().count() <= 60 => {
            let parse = |part: &str| Length::parse_in(part, bare.units).map_err(|refusal| refusal.to_string());
            match HowMeasured::parse(text, parse) {
                Ok((length, how)) if (0.0001..=20.0).contains(&length.m()) => Some((length, how)),
                Ok(_) => {
                    value.refuse("a length from 0.1 mm to 20 m", RIGHT);
                    None
                }
                Err(reason) => {
                    value.refuse(&reason.split_whitespace().collect::<Vec<_>>().join(" "), RIGHT);
                    None
                }
            }
        }
        _ => values::length(value, bare).map(|length| (length, HowMeasured::default())),
    }
}

fn says_how(text: &str) -> bool {
    let text = text.trim();
    text.contains('±') || text.contains("+/-") || text.to_lowercase().starts_with("about ") || text.starts_with('~')
}

fn read_table(value: &Value<'_>, bare: Bare) -> Option<(Length, HowMeasured)> {
    let table = value.table(RIGHT)?;
    let length = table
        .need("length", "a length such as \"42 in\"")
        .and_then(|value| values::length(&value, bare));
    let means = table
        .get("by")
        .map_or(Some(Means::Tape), |value| value.word(&Means::WORDS));
    let within = table.get("give_or_take");
    if means == Some(Means::Photograph) && within.is_none() {
        value.refuse(
            "a length from a photograph states how far it may be off",
            "give_or_take = \"1/4 in\": within it the true length lies in nine cases of ten",
        );
    }
    let is_stated = within.is_some();
    let within = within.and_then(|within| {
        let size = values::length(&within, bare)?;
        match length.map_or(Ok(()), |length| check_within(length, size)) {
            Ok(()) => Some(size),
            Err(reason) => {
                within.refuse(&reason, "give_or_take = \"1/4 in\"");
                None
            }
        }
    });
    table.close();
    let (length, means) = (length?, means?);
    match (within, is_stated) {
        (Some(within), _) => Some((length, HowMeasured::give_or_take(means, within))),
        (None, true) => None,
        (None, false) if means == Means::Photograph => None,
        (None, false) => Some((length, HowMeasured::by(means))),
    }
}

/// Reads `dimensions`: further dimensions of the form by name.
pub(crate) fn read_further(table: &Table<'_>, bare: Bare, kind: Option<FormKind>) -> Dimensions {
    let mut dimensions = Dimensions::new();
    let Some(value) = table.get("dimensions") else {
        return dimensions;
    };
    let known = kind.map(further_dimensions).unwrap_or_default();
    let ids: Vec<String> = known.iter().map(|name| name.replace(' ', "-")).collect();
    let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
    for (key, entry) in value.entries("a table such as { leg-thickness = \"1 3/4 in\" }") {
        let word = key.trim().to_lowercase().replace(['_', ' '], "-");
        let name = known
            .iter()
            .zip(&ids)
            .find(|(_, id)| **id == word)
            .map(|(name, _)| *name);
        match name {
            // Without a form nothing can be said of its dimensions; the form's own refusal is enough.
            None if kind.is_none() => {}
            None => entry.refuse("this form has no dimension of this name", &one_of(&word, &ids)),
            Some(name) => {
                if let Some((length, measured)) = read(&entry, bare) {
                    dimensions.insert(name.to_owned(), SaidDimension { length, measured });
                }
            }
        }
    }
    dimensions
}
