//! What really happened at the bench: begun, done, still tacky, ran late; and what was pinned.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use trade::Operation;

/// One line of the bench log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// The step, by its id in the plan.
    pub step: String,
    /// When it was said.
    pub at: Timestamp,
    /// What was said.
    pub what: MarkKind,
    /// What the step was when it was said: what the shop learns from, long after the step has left the plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<MarkedStep>,
}

/// A step as it stood in the plan when something was said of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MarkedStep {
    /// What is done.
    pub operation: Operation,
    /// Minutes of work by the table, before anything was learned.
    pub table_min: u32,
    /// Whose hands, counted from 0.
    pub hand: usize,
    /// How much of its material was planned, where it takes any.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amount: Option<MarkedAmount>,
}

/// How much of a material was planned.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MarkedAmount {
    /// The step in one line.
    pub words: String,
    /// If all goes well, mL.
    pub low_ml: f64,
    /// Likely, mL.
    pub likely_ml: f64,
    /// To have at hand, mL.
    pub high_ml: f64,
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
    /// It took so much of its material.
    Took {
        /// As it came from the can, mL.
        took_ml: f64,
    },
    /// A pin no longer holds.
    Unpinned,
    /// A mark of begun or done was a slip of the thumb.
    Undone,
}
