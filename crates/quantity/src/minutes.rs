//! Whole minutes: hands-on time, and the waits between.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub, SubAssign};

use serde::{Deserialize, Serialize};

const MINUTES_A_DAY: i64 = 24 * 60;

/// A duration in whole minutes. Additions saturate at the ends of `i64`, which no plan comes near.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Minutes(i64);

impl Minutes {
    /// No time.
    pub const ZERO: Self = Self(0);

    /// Whole minutes.
    #[must_use]
    pub const fn new(minutes: i64) -> Self {
        Self(minutes)
    }

    /// Whole minutes.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// Whole hours of 60 minutes.
    #[must_use]
    pub const fn from_whole_hours(hours: i64) -> Self {
        Self(hours.saturating_mul(60))
    }

    /// Whole days of 24 hours.
    #[must_use]
    pub const fn from_whole_days(days: i64) -> Self {
        Self(days.saturating_mul(MINUTES_A_DAY))
    }

    /// Hours of 60 minutes, rounded to the nearest minute (halves away from zero).
    #[must_use]
    pub fn from_hours(hours: f64) -> Self {
        Self::rounded(hours * 60.0)
    }

    /// Minutes with a fraction, rounded to the nearest (halves away from zero). NaN gives zero, and what does not fit the
    /// nearest that does.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a float cast saturates, which is what is promised"
    )]
    pub fn rounded(minutes: f64) -> Self {
        Self(minutes.round() as i64)
    }

    /// Minutes with a fraction, rounded up: for waits, which may not end early.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a float cast saturates, which is what is promised"
    )]
    pub fn rounded_up(minutes: f64) -> Self {
        Self(minutes.ceil() as i64)
    }

    /// Hours of 60 minutes.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "exact below 2^53 minutes, 17 billion years")]
    pub const fn hours(self) -> f64 {
        self.0 as f64 / 60.0
    }

    /// Days of 24 hours.
    #[must_use]
    pub const fn days(self) -> f64 {
        self.hours() / 24.0
    }
}

impl Add for Minutes {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Minutes {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Minutes {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl SubAssign for Minutes {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Sum for Minutes {
    fn sum<I: Iterator<Item = Self>>(durations: I) -> Self {
        durations.fold(Self::ZERO, |sum, minutes| sum + minutes)
    }
}

impl<'a> Sum<&'a Minutes> for Minutes {
    fn sum<I: Iterator<Item = &'a Self>>(durations: I) -> Self {
        durations.copied().sum()
    }
}
