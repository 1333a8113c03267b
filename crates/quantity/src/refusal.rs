//! What the user is told when something typed cannot be taken.

use serde::Serialize;

/// Why what was typed is not taken, and what would be. Everything is worded for a craftsperson and ready to show.
///
/// ```
/// use quantity::Length;
/// let refusal = Length::parse("18 3/4 furlongs").unwrap_err();
/// assert_eq!(
///     refusal.to_string(),
///     "“18 3/4 furlongs” has an unknown unit, furlongs; expected a length in in, ft, yd, mm, cm or m up to 100 m \
///      (328 ft), for example 18 3/4\""
/// );
/// assert!(Length::parse(&refusal.example).is_ok());
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("“{typed}” {problem}; expected {expected}, for example {example}")]
pub struct Refusal {
    /// What was typed, shortened if it is long.
    pub typed: String,
    /// What is wrong, as the end of a sentence that starts with what was typed: “has no unit”.
    pub problem: String,
    /// What is expected, with its units and limit: “a length in in, ft, mm, cm or m, up to 100 m (328 ft)”.
    pub expected: String,
    /// Something that would be taken.
    pub example: String,
}

impl Refusal {
    pub(crate) fn new(typed: &str, problem: String, expected: &str, example: &str) -> Self {
        const SHOWN: usize = 40;
        let visible = |c: char| if c.is_control() { '\u{fffd}' } else { c };
        let mut shown: String = typed.trim().chars().take(SHOWN).map(visible).collect();
        if typed.trim().chars().count() > SHOWN {
            shown.push('…');
        }
        Self {
            typed: shown,
            problem,
            expected: expected.to_owned(),
            example: example.to_owned(),
        }
    }
}
