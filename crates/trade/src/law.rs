//! Law that a refinisher meets, and limits on volatile compounds.
//!
//! Half of it is recalled, not read. Such a row is never shown as fact: [`LawRow::shown`] names the rule and sends the
//! reader to it.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::sources::Status;
use crate::table::csv_rows;

/// A rule of law, or the gate the shop sets itself where law leaves off.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LawRow {
    /// Its number, `L01` to `L28`.
    pub id: String,
    /// Its name: kebab-case words that stay.
    pub name: String,
    /// Where it holds: `US`, `US-CA`, `EU` …
    pub jurisdiction: String,
    /// The rule's own reference, to look it up by.
    pub rule: String,
    /// What it says, in our words.
    pub says: String,
    /// Its figure; empty where it has none.
    pub figure: String,
    /// The figure's unit.
    pub unit: String,
    /// Since when; may be empty.
    pub since: String,
    /// Whether it bears on movable furniture.
    pub furniture: String,
    /// What to do.
    pub action: String,
    /// Key of the source.
    pub source: String,
    /// Standing of what it says.
    pub rule_status: Status,
    /// Standing of its figure and date.
    pub figure_status: Status,
}

impl LawRow {
    /// What may be put before a user: what the rule says and its figure where they were read, else only where to look.
    ///
    /// # Examples
    /// ```
    /// let read = trade::law::by_name("lead-in-new-paint").expect("in the table");
    /// assert!(read.shown().contains("0.009 percent by weight"));
    /// let recalled = trade::law::by_name("lead-in-workplace-air").expect("in the table");
    /// assert!(!recalled.shown().contains("50"));
    /// assert!(recalled.shown().contains("29 CFR 1910.1025"));
    /// ```
    pub fn shown(&self) -> String {
        if self.rule_status == Status::CommonPractice {
            return format!("{} (common practice)", self.says);
        }
        if !self.rule_status.may_be_shown_as_fact() {
            return format!(
                "look up {} ({}): it bears on this, and no figure is given here since we could not check it against the rule",
                self.rule, self.jurisdiction
            );
        }
        let figure = if self.figure_status.may_be_shown_as_fact() && !self.figure.is_empty() {
            format!(": {} {}", self.figure, self.unit)
        } else {
            String::new()
        };
        format!("{}{figure} ({}, {})", self.says, self.rule, self.jurisdiction)
    }
}

/// A limit on volatile organic compounds by category of coating.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct VocLimitRow {
    /// Where it holds.
    pub jurisdiction: String,
    /// The category, as the rule calls it.
    pub category: String,
    /// The limit, grams a litre.
    pub limit_g_per_l: f64,
    /// Key of the source.
    pub source: String,
    /// Standing of the figure; all of them are recalled, so none may be shown as fact.
    pub status: Status,
}

/// Every rule, by number.
pub fn all() -> &'static [LawRow] {
    static ROWS: OnceLock<Vec<LawRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("law.csv", include_str!("../data/law.csv")))
}

/// The rule of this name or number.
pub fn by_name(name: &str) -> Option<&'static LawRow> {
    all().iter().find(|row| row.name == name || row.id == name)
}

/// Every limit on volatile compounds.
pub fn voc_limits() -> &'static [VocLimitRow] {
    static ROWS: OnceLock<Vec<VocLimitRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("voc_limits.csv", include_str!("../data/voc_limits.csv")))
}
