//! Money in whole minor units (cents), and the currency that says how many make one.
//!
//! Integers throughout, `i128` between, and one rounding: to the nearest minor unit, halves away from zero (what a till
//! and an invoice do). What does not fit is refused and never wrapped.

use serde::{Deserialize, Serialize};

use crate::BasisPoints;

/// An amount in minor units of the shop's one currency. It may be negative: a loss is an amount too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Money(i64);

/// A sum of money that is too large to be kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the amount is larger than {limit} minor units, the most that can be kept", limit = i64::MAX)]
pub struct MoneyOverflow;

impl Money {
    /// No money.
    pub const ZERO: Self = Self(0);

    /// Minor units: cents of a dollar, whole yen.
    #[must_use]
    pub const fn from_minor(minor: i64) -> Self {
        Self(minor)
    }

    /// Minor units: cents of a dollar, whole yen.
    #[must_use]
    pub const fn minor(self) -> i64 {
        self.0
    }

    /// The sum.
    ///
    /// # Errors
    /// When it does not fit.
    pub fn plus(self, other: Self) -> Result<Self, MoneyOverflow> {
        self.0.checked_add(other.0).map(Self).ok_or(MoneyOverflow)
    }

    /// The difference.
    ///
    /// # Errors
    /// When it does not fit.
    pub fn minus(self, other: Self) -> Result<Self, MoneyOverflow> {
        self.0.checked_sub(other.0).map(Self).ok_or(MoneyOverflow)
    }

    /// So many times the amount.
    ///
    /// # Errors
    /// When it does not fit.
    pub fn times(self, count: i64) -> Result<Self, MoneyOverflow> {
        self.0.checked_mul(count).map(Self).ok_or(MoneyOverflow)
    }

    /// The amount × `numerator` / `denominator`, rounded once to the nearest minor unit, halves away from zero.
    ///
    /// # Errors
    /// When it does not fit, or the denominator is zero.
    ///
    /// ```
    /// use quantity::Money;
    /// let wage = Money::from_minor(2800);
    /// assert_eq!(wage.share(90, 60)?, Money::from_minor(4200));
    /// # Ok::<(), quantity::MoneyOverflow>(())
    /// ```
    pub fn share(self, numerator: i64, denominator: i64) -> Result<Self, MoneyOverflow> {
        let product = i128::from(self.0) * i128::from(numerator);
        round_half_away(product, i128::from(denominator)).map(Self)
    }

    /// The amount × a rate, rounded once to the nearest minor unit, halves away from zero.
    ///
    /// # Errors
    /// When it does not fit.
    pub fn at(self, rate: BasisPoints) -> Result<Self, MoneyOverflow> {
        self.share(rate.basis_points(), BasisPoints::ONE.basis_points())
    }

    /// The sum of all amounts.
    ///
    /// # Errors
    /// When it does not fit.
    pub fn sum(amounts: impl IntoIterator<Item = Self>) -> Result<Self, MoneyOverflow> {
        let sum: i128 = amounts.into_iter().map(|amount| i128::from(amount.0)).sum();
        i64::try_from(sum).map(Self).map_err(|_| MoneyOverflow)
    }

    /// The nearest whole minor unit to a figure of minor units, halves away from zero: the door for estimates, which are
    /// floats until they become an amount.
    ///
    /// # Errors
    /// When it is not a number or does not fit.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        reason = "the bounds are tested first"
    )]
    pub fn nearest(minor: f64) -> Result<Self, MoneyOverflow> {
        let rounded = minor.round();
        if rounded.is_finite() && rounded.abs() < i64::MAX as f64 {
            Ok(Self(rounded as i64))
        } else {
            Err(MoneyOverflow)
        }
    }
}

/// The one rounding: to the nearest whole, halves away from zero.
fn round_half_away(numerator: i128, denominator: i128) -> Result<i64, MoneyOverflow> {
    let whole = numerator.checked_div(denominator).ok_or(MoneyOverflow)?;
    let rest = numerator % denominator;
    let away = if (numerator < 0) == (denominator < 0) { 1 } else { -1 };
    let rounded = if rest.unsigned_abs() * 2 >= denominator.unsigned_abs() {
        whole + away
    } else {
        whole
    };
    i64::try_from(rounded).map_err(|_| MoneyOverflow)
}

/// A currency by its ISO 4217 code, with the number of decimals of its minor unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Currency {
    code: [u8; 3],
    decimals: u8,
}

impl Currency {
    /// The dollar of the United States.
    pub const USD: Self = Self {
        code: *b"USD",
        decimals: 2,
    };

    /// The three capital letters of ISO 4217.
    #[must_use]
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.code).unwrap_or("XXX")
    }

    /// How many decimals the minor unit has: 2 for cents, 0 for the yen.
    #[must_use]
    pub const fn decimals(self) -> u8 {
        self.decimals
    }

    /// How many minor units make one.
    #[must_use]
    pub const fn minor_per_one(self) -> i64 {
        10_i64.pow(self.decimals as u32)
    }
}

impl Default for Currency {
    fn default() -> Self {
        Self::USD
    }
}
