//! Rates as whole basis points, so that money never meets a float.

use serde::{Deserialize, Serialize};

/// A rate in hundredths of a per cent: 40 % is 4000.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct BasisPoints(i64);

impl BasisPoints {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// The whole: 100 %.
    pub const ONE: Self = Self(10_000);

    /// Hundredths of a per cent.
    #[must_use]
    pub const fn from_basis_points(points: i64) -> Self {
        Self(points)
    }

    /// Hundredths of a per cent.
    #[must_use]
    pub const fn basis_points(self) -> i64 {
        self.0
    }

    /// Whole per cent.
    #[must_use]
    pub const fn from_whole_percent(percent: i64) -> Self {
        Self(percent.saturating_mul(100))
    }

    /// Per cent.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "for showing only")]
    pub const fn percent(self) -> f64 {
        self.0 as f64 / 100.0
    }

    /// As a fraction of one.
    #[must_use]
    pub const fn fraction(self) -> f64 {
        self.percent() / 100.0
    }

    /// The nearest rate to a fraction of one (halves away from zero).
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a float cast saturates at rates nobody means"
    )]
    pub fn from_fraction(fraction: f64) -> Self {
        Self((fraction * 10_000.0).round() as i64)
    }
}
