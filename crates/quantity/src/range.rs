//! Low, typical and high: how a table or a label states a figure that varies.

use std::ops::{Add, Mul};

use serde::{Deserialize, Serialize};

/// A figure with the least and the most that is ordinarily met.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Range<T> {
    /// The least ordinarily met.
    pub low: T,
    /// What to reckon with.
    pub typical: T,
    /// The most ordinarily met.
    pub high: T,
}

/// The three figures of a range do not rise from low over typical to high.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("low, typical and high must not fall in that order")]
pub struct RangeOutOfOrder;

impl<T: Copy> Range<T> {
    /// A range whose order the caller has checked; see [`Range::try_new`].
    #[must_use]
    pub const fn new(low: T, typical: T, high: T) -> Self {
        Self { low, typical, high }
    }

    /// A figure that does not vary.
    #[must_use]
    pub const fn exactly(value: T) -> Self {
        Self {
            low: value,
            typical: value,
            high: value,
        }
    }

    /// The same range of something else, each end by itself. For a falling function swap the ends with
    /// [`Range::reversed`].
    pub fn map<U>(self, change: impl Fn(T) -> U) -> Range<U> {
        Range {
            low: change(self.low),
            typical: change(self.typical),
            high: change(self.high),
        }
    }

    /// Low and high exchanged: what `map` of a falling function needs.
    #[must_use]
    pub const fn reversed(self) -> Self {
        Self {
            low: self.high,
            typical: self.typical,
            high: self.low,
        }
    }
}

impl<T: Copy + PartialOrd> Range<T> {
    /// A range in order.
    ///
    /// # Errors
    /// When low ≤ typical ≤ high does not hold (a NaN never does).
    pub fn try_new(low: T, typical: T, high: T) -> Result<Self, RangeOutOfOrder> {
        if low <= typical && typical <= high {
            Ok(Self { low, typical, high })
        } else {
            Err(RangeOutOfOrder)
        }
    }

    /// Whether the value lies within, ends included.
    pub fn contains(&self, value: T) -> bool {
        self.low <= value && value <= self.high
    }
}

impl<T: Add<Output = T>> Add for Range<T> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            low: self.low + other.low,
            typical: self.typical + other.typical,
            high: self.high + other.high,
        }
    }
}

impl<T: Mul<f64, Output = T>> Mul<f64> for Range<T> {
    type Output = Self;
    fn mul(self, times: f64) -> Self {
        Self {
            low: self.low * times,
            typical: self.typical * times,
            high: self.high * times,
        }
    }
}
