//! Which units the shop sees.

use serde::{Deserialize, Serialize};

use crate::Refusal;

/// How results are shown, and what a number without a unit means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum UnitSystem {
    /// Feet and inches, pints and gallons, degrees Fahrenheit.
    #[default]
    Imperial,
    /// Centimetres, litres, degrees Celsius.
    Metric,
}

impl UnitSystem {
    /// Reads `imperial` or `metric`, in either case.
    ///
    /// # Errors
    /// When it is neither.
    pub fn parse(typed: &str) -> Result<Self, Refusal> {
        match typed.trim().to_ascii_lowercase().as_str() {
            "imperial" => Ok(Self::Imperial),
            "metric" => Ok(Self::Metric),
            _ => Err(Refusal::new(
                typed,
                "names no units".to_owned(),
                "imperial or metric",
                "imperial",
            )),
        }
    }
}

impl std::fmt::Display for UnitSystem {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Imperial => "imperial",
            Self::Metric => "metric",
        })
    }
}
