//! What the user is told when something typed cannot be taken.

use serde::Serialize;

/// Why what was typed is not taken, and what would be. Everything is worded for a craftsperson and ready to show.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("“{typed}” {problem}; {expected}, for example {example}")]
pub struct Refusal {
    /// What was typed, shortened if it is long.
    pub typed: String,
    /// What is wrong, as the end of a sentence that starts with what was typed: “has no unit”.
    pub problem: String,
    /// What is expected, with the limit where there is one.
    pub expected: String,
    /// Something that would be taken.
    pub example: String,
}
