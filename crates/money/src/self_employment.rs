//! Figures of the United States for people who work for themselves, each bound to its year.
//!
//! A figure that was read in its source is used; one that is only remembered is not in the table, and the caller is told
//! what to look up and where. Nothing here is tax advice: it names the rule and the form.

use quantity::{BasisPoints, Money};
use serde::{Deserialize, Serialize};

use crate::Refused;
use crate::cost::not_below;

/// Share of net profit that is taxed, in hundredths of a per cent: 92.35 %. Source `irs-schedule-se`.
const TAXED_SHARE: BasisPoints = BasisPoints::from_basis_points(9235);
/// The part for social security, 12.4 %, up to the year's base. Source `irs-schedule-se`.
const SOCIAL_SECURITY: BasisPoints = BasisPoints::from_basis_points(1240);
/// The part for Medicare, 2.9 %, without a base. Source `irs-schedule-se`.
const MEDICARE: BasisPoints = BasisPoints::from_basis_points(290);
/// Net earnings below this are not taxed. Source `irs-schedule-se`.
const LEAST_EARNINGS: Money = dollars(400);
/// Above this much earned, a further Medicare tax can apply, depending on the household. Source `irs-schedule-se`.
const FURTHER_MEDICARE_FROM: Money = dollars(200_000);

const fn dollars(whole: i64) -> Money {
    Money::from_minor(whole * 100)
}

/// What was read for one year.
struct Year {
    year: u16,
    /// The most earnings that carry the social security part. Source `ssa-wage-base`.
    wage_base: Option<Money>,
    /// Business mileage in tenths of a cent a mile. Source `irs-mileage`.
    mileage_tenths: Option<i64>,
}

/// The base for 2026 is known from memory only and therefore left open.
const YEARS: [Year; 2] = [
    Year {
        year: 2025,
        wage_base: Some(dollars(176_100)),
        mileage_tenths: Some(700),
    },
    Year {
        year: 2026,
        wage_base: None,
        mileage_tenths: Some(725),
    },
];

/// The tax of the self-employed on a year's net profit, in US dollars.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct SelfEmploymentTax {
    /// The part for social security.
    pub social_security: Money,
    /// The part for Medicare.
    pub medicare: Money,
    /// Both.
    pub total: Money,
    /// The half of it that is deducted from income.
    pub half_deducted: Money,
    /// Whether so much was earned that a further Medicare tax can apply, which is not in these figures.
    pub further_medicare_can_apply: bool,
}

/// The tax of the self-employed on `net_profit` of `year`, earned by nothing but this trade.
///
/// net × 0.9235 × 0.124 up to the year's base, and net × 0.9235 × 0.029. Where the base of the year is not at hand the
/// answer is given only as far as no base on record is reached, because the base has not fallen from one year to the
/// next.
///
/// # Errors
/// When the profit is below nothing, the year is older than the figures, or the base of that year decides and is not at
/// hand.
///
/// # Source
/// `irs-schedule-se`, `ssa-wage-base`.
pub fn self_employment_tax(net_profit: Money, year: u16) -> Result<SelfEmploymentTax, Refused> {
    not_below(net_profit, "the net profit")?;
    let earnings = net_profit.at(TAXED_SHARE)?;
    let ask = Refused::AskTheSource {
        figure: "the contribution and benefit base",
        year,
        ask: "the Social Security Administration",
    };
    let base = match YEARS.iter().find(|row| row.year == year).and_then(|row| row.wage_base) {
        Some(base) => base,
        None => YEARS
            .iter()
            .filter(|row| row.year < year)
            .filter_map(|row| row.wage_base)
            .max()
            .filter(|base| earnings <= *base)
            .ok_or(ask)?,
    };
    let taxed = if earnings < LEAST_EARNINGS {
        Money::ZERO
    } else {
        earnings
    };
    let social_security = taxed.min(base).at(SOCIAL_SECURITY)?;
    let medicare = taxed.at(MEDICARE)?;
    let total = social_security.plus(medicare)?;
    Ok(SelfEmploymentTax {
        social_security,
        medicare,
        total,
        half_deducted: total.share(1, 2)?,
        further_medicare_can_apply: earnings > FURTHER_MEDICARE_FROM,
    })
}

/// What business miles of `year` count for at the standard rate, in US dollars.
///
/// # Errors
/// When the rate of the year is not at hand, or the amount does not fit.
///
/// # Source
/// `irs-mileage`: 70 cents for 2025, 72.5 cents for 2026.
pub fn mileage(miles: u32, year: u16) -> Result<Money, Refused> {
    let tenths = YEARS
        .iter()
        .find(|row| row.year == year)
        .and_then(|row| row.mileage_tenths)
        .ok_or(Refused::AskTheSource {
            figure: "the standard mileage rate",
            year,
            ask: "the Internal Revenue Service",
        })?;
    Ok(Money::from_minor(tenths).share(i64::from(miles), 10)?)
}
