//! What is wrong with a schedule, said so that it can be put right.

use serde::{Deserialize, Serialize};

use trade::vocabulary;

vocabulary! {
    /// How bad a finding is.
    Severity is "severity" {
        Note = "note", "note";
        Warn = "warn", "warning";
        Stop = "stop", "stop";
    }
}

/// One finding of the check.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finding {
    /// The rule that was broken: kebab-case words that stay.
    pub rule: String,
    /// A `stop` cannot be overruled, a `warn` can, a `note` asks for nothing.
    pub severity: Severity,
    /// The step it was found at, from 0; `None` for the end of the schedule.
    pub step: Option<usize>,
    /// What is wrong here.
    pub message: String,
    /// Why it matters.
    pub why: String,
    /// What to do.
    pub do_: String,
    /// Key of the source.
    pub source: String,
    /// The situation it was made in: what this step, this surface, this zone and this wish have to do with it. A consent to a warning
    /// holds for one situation; empty where nothing can be consented to.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub situation: String,
}

impl Finding {
    /// Whether the user may go on although it was found.
    #[must_use]
    pub fn can_be_overruled(&self) -> bool {
        self.severity == Severity::Warn
    }
}
