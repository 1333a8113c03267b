//! Which units the shop sees.

use serde::{Deserialize, Serialize};

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
