//! Money in whole minor units (cents).
//!
//! Integers throughout, `i128` between, and one rounding: to the nearest minor unit, halves away from zero (what a till
//! and an invoice do). What does not fit is refused and never wrapped.

use serde::{Deserialize, Serialize};

use crate::amount::guarded;
use crate::currency::SIGNS;
use crate::typed::{LoneComma, decimal_digits};
use crate::{BasisPoints, Currency, Refusal};

/// The most that is taken from a person, in whole units: a slip of the finger, not a price.
const MOST_TYPED: i64 = 1_000_000_000;

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

impl Money {
    /// Reads what a person typed: `24`, `24.00`, `24,00`, `$24`, `1,234.50`, `24 USD`. The currency says how many
    /// decimals there can be.
    ///
    /// ```
    /// use quantity::{Currency, Money};
    /// for typed in ["24", "24.00", "$24", "24,00", "USD 24.0", "24 $"] {
    ///     assert_eq!(Money::parse(typed, Currency::USD), Ok(Money::from_minor(2400)));
    /// }
    /// ```
    ///
    /// # Errors
    /// When it is no amount, is below nothing, is in another currency, has more decimals than the currency, or is above a
    /// thousand million.
    pub fn parse(typed: &str, currency: Currency) -> Result<Self, Refusal> {
        read_amount(typed, currency).map(Self).map_err(|problem| {
            let expected = format!(
                "an amount in {currency} with {} up to {MOST_TYPED}",
                decimals_worded(currency)
            );
            Refusal::new(
                typed,
                problem,
                &expected,
                &Self(24 * currency.minor_per_one()).show(currency),
            )
        })
    }

    /// As written in the shop's currency: `$1,234.50`, `-$24.00`, `24.00 CHF`, `¥2,400`.
    #[must_use]
    pub fn show(self, currency: Currency) -> String {
        let per_one = currency.minor_per_one().unsigned_abs();
        let (whole, rest) = (self.0.unsigned_abs() / per_one, self.0.unsigned_abs() % per_one);
        let decimals = usize::from(currency.decimals());
        let minus = if self.0 < 0 { "-" } else { "" };
        let fraction = if decimals == 0 {
            String::new()
        } else {
            format!(".{rest:0decimals$}")
        };
        let amount = format!("{}{fraction}", grouped(whole));
        match currency.sign() {
            Some(sign) => format!("{minus}{sign}{amount}"),
            None => format!("{minus}{amount} {currency}"),
        }
    }
}

fn decimals_worded(currency: Currency) -> String {
    match currency.decimals() {
        0 => "no decimals".to_owned(),
        decimals => format!("at most {decimals} decimals"),
    }
}

/// Digits in groups of three.
fn grouped(whole: u64) -> String {
    let digits = whole.to_string();
    let mut text = String::new();
    for (idx, digit) in digits.chars().enumerate() {
        if idx > 0 && (digits.len() - idx).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

fn read_amount(typed: &str, currency: Currency) -> Result<i64, String> {
    let text = guarded(typed)?;
    if text.starts_with('-') {
        return Err("is below nothing".to_owned());
    }
    let is_number = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    let start = text.find(is_number).ok_or("has no number in it")?;
    let end = text.rfind(is_number).map_or(start, |last| last + 1);
    let (number, marks) = (&text[start..end], [text[..start].trim(), text[end..].trim()]);
    for mark in marks.iter().filter(|mark| !mark.is_empty()) {
        names_currency(mark, currency)?;
    }
    if !number.chars().all(is_number) {
        return Err(format!("has a number that cannot be read: {number}"));
    }
    let lone_comma = if currency.decimals() == 3 {
        LoneComma::Refused
    } else {
        LoneComma::Thousands
    };
    let (whole, fraction) = decimal_digits(number, lone_comma)?;
    let decimals = usize::from(currency.decimals());
    if fraction.len() > decimals {
        let s = if fraction.len() == 1 { "" } else { "s" };
        return Err(format!("has {} decimal{s}", fraction.len()));
    }
    let minor: i64 = format!("0{whole}{fraction:0<decimals$}")
        .parse()
        .map_err(|_| "has more digits than any price".to_owned())?;
    if minor > MOST_TYPED * currency.minor_per_one() {
        return Err("is more than any price".to_owned());
    }
    Ok(minor)
}

/// Refuses a sign or code that is not this currency's.
fn names_currency(mark: &str, currency: Currency) -> Result<(), String> {
    let by_code = mark.eq_ignore_ascii_case(currency.code());
    let by_sign = currency.sign() == Some(mark);
    if by_code || by_sign {
        return Ok(());
    }
    if Currency::parse(mark).is_ok() || SIGNS.iter().any(|(sign, _)| *sign == mark) {
        return Err(format!("is in another currency than the shop's, {currency}"));
    }
    Err(format!("has something beside the amount: {mark}"))
}
