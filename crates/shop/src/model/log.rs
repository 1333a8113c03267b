//! What really happened at the bench: begun, done, still tacky, ran late; and what was pinned.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// One line of the bench log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// The step, by its id in the plan.
    pub step: String,
    /// When it was said.
    pub at: Timestamp,
    /// What was said.
    pub what: MarkKind,
}

/// What can be said of a step.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum MarkKind {
    /// Hands began on it at the moment of the mark.
    Begun,
    /// Hands ended on it at the moment of the mark.
    Done,
    /// What it put on was not dry at the moment of the mark: it needs this much longer from then on.
    StillTacky {
        /// Minutes more to wait, from the mark on.
        more_min: u32,
    },
    /// Work on it goes on longer than planned by this much.
    RanLate {
        /// Minutes more of hands-on work.
        more_min: u32,
    },
    /// The step is to begin at this moment and no other.
    Pinned {
        /// When it is to begin.
        to: Timestamp,
    },
    /// A pin no longer holds.
    Unpinned,
    /// A mark of begun or done was a slip of the thumb.
    Undone,
}
