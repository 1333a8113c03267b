//! Where figures come from: the list of sources behind every row, and how far each row may be trusted.
//!
//! The list itself is `docs/SOURCES.toml`, one table a key, shared by all crates.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;

/// How a figure came to stand in a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum Status {
    /// Read: a copy of the source was at hand.
    #[serde(rename = "READ")]
    Read,
    /// Recalled from the named source, without a copy in hand.
    #[serde(rename = "MEM")]
    Memory,
    /// Common practice of the trade; nothing was published that we know of.
    #[serde(rename = "CP")]
    CommonPractice,
    /// Worked out from a named equation: it tests the arithmetic, not the world.
    #[serde(rename = "COMPUTED")]
    Computed,
}

impl Status {
    /// The code used in the tables: `READ`, `MEM`, `CP`, `COMPUTED`.
    pub const fn code(self) -> &'static str {
        match self {
            Status::Read => "READ",
            Status::Memory => "MEM",
            Status::CommonPractice => "CP",
            Status::Computed => "COMPUTED",
        }
    }

    /// The words for a reader: "read in the source", "from memory", "common practice", "computed".
    pub const fn words(self) -> &'static str {
        match self {
            Status::Read => "read in the source",
            Status::Memory => "from memory, not checked against the source",
            Status::CommonPractice => "common practice",
            Status::Computed => "computed",
        }
    }

    /// Whether a figure of law or of an exposure limit with this status may be shown as a fact.
    pub const fn may_be_shown_as_fact(self) -> bool {
        matches!(self, Status::Read | Status::Computed)
    }
}

impl serde::Serialize for Status {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code())
    }
}

/// A published (or honestly unpublished) source.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Title, with the body that published it.
    pub title: String,
    /// Edition or year; empty where there is none.
    #[serde(default)]
    pub edition: String,
    /// Table, section or page; empty for the whole.
    #[serde(default, rename = "where")]
    pub place: String,
    /// The best standing of anything taken from it.
    pub status: Status,
    /// What to mind.
    #[serde(default)]
    pub note: String,
}

impl Source {
    /// The one line by which a reader finds it: title, edition, place.
    pub fn cite(&self) -> String {
        [self.title.as_str(), self.edition.as_str(), self.place.as_str()]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// Every source, by key.
pub fn all() -> &'static BTreeMap<String, Source> {
    static ALL: OnceLock<BTreeMap<String, Source>> = OnceLock::new();
    ALL.get_or_init(|| crate::table::toml_rows("SOURCES.toml", include_str!("../../../docs/SOURCES.toml")))
}

/// The source behind a key, if the key is listed.
pub fn get(key: &str) -> Option<&'static Source> {
    all().get(key)
}
