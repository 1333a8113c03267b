//! What the handbooks say of finishing wood, rule by rule.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::sources::Status;
use crate::table::{csv_rows, maybe_span};

/// A rule on finishing wood.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WoodRule {
    /// Its number, `W01` to `W15`.
    pub id: String,
    /// Its name: kebab-case words that stay.
    pub name: String,
    /// The rule, in our words.
    pub rule: String,
    /// Its figures, least and most; none where it has none.
    #[serde(deserialize_with = "maybe_span")]
    pub figures: Option<(f64, f64)>,
    /// Unit of the figures.
    pub unit: String,
    /// Key of the source.
    pub source: String,
    /// Standing of the rule.
    pub status: Status,
}

/// Every rule, by number.
pub fn all() -> &'static [WoodRule] {
    static ROWS: OnceLock<Vec<WoodRule>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("wood_rules.csv", include_str!("../data/wood_rules.csv")))
}

/// The rule of this name or number.
pub fn by_name(name: &str) -> Option<&'static WoodRule> {
    all().iter().find(|row| row.name == name || row.id == name)
}
