//! What a person typed into a form: kept as it was, read field by field, with every refusal beside its own field.

use std::collections::BTreeMap;
use std::fmt::Display;

use quantity::{Length, UnitSystem};
use shop::model::HowMeasured;

/// The entries of one form, and what is wrong with them.
#[derive(Debug, Clone, Default)]
pub(crate) struct Typed {
    entries: BTreeMap<String, String>,
    refusals: BTreeMap<String, String>,
}

impl From<Vec<(String, String)>> for Typed {
    fn from(entries: Vec<(String, String)>) -> Self {
        Typed {
            entries: entries.into_iter().collect(),
            refusals: BTreeMap::new(),
        }
    }
}

impl Typed {
    /// What stands in a field; empty if nothing does.
    pub(crate) fn text(&self, field: &str) -> &str {
        self.entries.get(field).map_or("", |text| text.trim())
    }

    /// Whether a box is ticked.
    pub(crate) fn is_ticked(&self, field: &str) -> bool {
        self.entries.contains_key(field)
    }

    /// Whether anything was sent at all.
    pub(crate) fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Puts words into a field, as if they had been typed.
    pub(crate) fn set(&mut self, field: &str, text: impl Into<String>) {
        self.entries.insert(field.to_owned(), text.into());
    }

    /// Puts words into a field that was left empty.
    pub(crate) fn unless_said(&mut self, field: &str, text: &str) {
        if self.text(field).is_empty() {
            self.set(field, text);
        }
    }

    /// What is wrong with a field.
    pub(crate) fn refusal(&self, field: &str) -> Option<&str> {
        self.refusals.get(field).map(String::as_str)
    }

    /// Says what is wrong with a field.
    pub(crate) fn refuse(&mut self, field: &str, why: impl Display) {
        self.refusals.entry(field.to_owned()).or_insert_with(|| why.to_string());
    }

    /// Whether nothing is wrong.
    pub(crate) fn is_sound(&self) -> bool {
        self.refusals.is_empty()
    }

    /// Reads a field; a refusal is kept beside it.
    pub(crate) fn read<T, E: Display>(&mut self, field: &str, read: impl FnOnce(&str) -> Result<T, E>) -> Option<T> {
        let text = self.text(field).to_owned();
        match read(&text) {
            Ok(value) => Some(value),
            Err(why) => {
                self.refuse(field, why);
                None
            }
        }
    }

    /// Reads a field that may be left empty.
    pub(crate) fn read_if_said<T, E: Display>(
        &mut self,
        field: &str,
        read: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        if self.text(field).is_empty() {
            None
        } else {
            self.read(field, read)
        }
    }

    /// Reads a length as a person writes it down, with how it was measured: `31 1/2`, `31 1/2 ± 1/8`, `about 31`.
    ///
    /// Where the words are still those that `kept` shows, it stays as it was kept.
    pub(crate) fn measure(
        &mut self,
        field: &str,
        units: UnitSystem,
        kept: Option<(Length, HowMeasured)>,
    ) -> Option<(Length, HowMeasured)> {
        if let Some((length, how)) = kept
            && how.show(length, units) == self.text(field)
        {
            return Some((length, how));
        }
        self.read(field, |text| {
            let read = |part: &str| Length::parse_in(part, units).map_err(|refusal| refusal.to_string());
            let (length, how) = HowMeasured::parse(text, read)?;
            furniture(length, units)?;
            Ok::<_, String>((length, how))
        })
    }

    /// Reads a whole number within limits.
    pub(crate) fn count(&mut self, field: &str, least: u32, most: u32) -> Option<u32> {
        self.read_if_said(field, |text| {
            text.parse::<u32>()
                .ok()
                .filter(|count| (least..=most).contains(count))
                .ok_or_else(|| format!("“{text}” is not a whole number from {least} to {most}"))
        })
    }
}

/// Whether a length is one that furniture has.
fn furniture(length: Length, units: UnitSystem) -> Result<(), String> {
    if (3.0..=10_000.0).contains(&length.mm()) {
        return Ok(());
    }
    let least = Length::from_mm(3.0).show(units);
    let most = Length::from_m(10.0).show(units);
    Err(format!(
        "{} is outside what furniture has: {least} to {most}",
        length.show(units)
    ))
}
