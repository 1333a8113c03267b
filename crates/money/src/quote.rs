//! The quote: cost lines, a price, and how sure the maker may be of it.
//!
//! Money is lost when what the piece really cost, the maker's own hours at the wage included, comes out above the price.

use quantity::{BasisPoints, Minutes, Money};
use serde::{Deserialize, Serialize};

use crate::Refused;
use crate::cost::{Cost, HourlyRates};
use crate::estimate::{Estimate, minor};
use crate::margin::{margin_of, price_from_margin};
use crate::spread::{Part, Spread};

/// What a quote is made from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Job {
    /// Materials, by what is used of them.
    pub materials: Estimate<Money>,
    /// Hands-on time over all steps; waits cost nothing.
    pub hands_on: Estimate<Minutes>,
    /// What was paid for the piece; nothing for a commission.
    pub purchase: Money,
    /// What an hour costs.
    pub rates: HourlyRates,
}

/// How the price is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Pricing {
    /// The price pays the wage and all costs, and nothing more.
    Wage,
    /// The price leaves this share of itself over all costs, the wage among them.
    Margin(BasisPoints),
    /// The price is settled; the quote says what it is worth.
    Asked(Money),
}

/// A price with its cost lines and its risk.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Quote {
    /// The cost lines as planned.
    pub cost: Cost,
    /// Their sum.
    pub total: Money,
    /// What the cost comes to on average: more than planned, since work runs over further than under.
    pub average_cost: Money,
    /// What is asked.
    pub price: Money,
    /// The share of the price over the planned cost; negative where it is not covered.
    pub margin: BasisPoints,
    /// The price the same rule would ask, had the cost come out at its 10th percentile.
    pub price_p10: Money,
    /// The price the same rule would ask, had the cost come out at its 90th percentile.
    pub price_p90: Money,
    /// The chance, 0..=1, that the cost with the wage comes out above the price.
    pub loss_chance: f64,
    /// What a planned hour earns at this price, when everything else is paid; may be negative.
    pub earned_an_hour: Money,
}

/// Works out the price and its risk.
///
/// # Errors
/// When a figure is below nothing, a spread or a margin cannot be reckoned with, or an amount does not fit.
pub fn quote(job: &Job, pricing: Pricing) -> Result<Quote, Refused> {
    let materials = job.materials.checked()?;
    let hands_on = job.hands_on.checked()?;
    let cost = Cost::of(materials.typical, hands_on.typical, job.rates, job.purchase)?;
    let total = cost.total()?;
    let price_for = |cost: Money| match pricing {
        Pricing::Margin(margin) => price_from_margin(cost, margin),
        Pricing::Wage | Pricing::Asked(_) => Ok(cost),
    };
    let price = match pricing {
        Pricing::Asked(price) => price,
        _ => price_for(total)?,
    };
    let time = minor(cost.labour) + minor(cost.overhead);
    let spread = Spread::new(
        minor(cost.purchase),
        &[
            Part {
                median: minor(cost.materials),
                log_sd: materials.log_sd,
            },
            Part {
                median: time,
                log_sd: hands_on.log_sd,
            },
        ],
    );
    let margin = if price > Money::ZERO {
        margin_of(total, price)?
    } else {
        BasisPoints::ZERO
    };
    Ok(Quote {
        cost,
        total,
        average_cost: Money::nearest(spread.mean())?,
        price,
        margin,
        price_p10: price_for(Money::nearest(spread.quantile(0.1))?)?,
        price_p90: price_for(Money::nearest(spread.quantile(0.9))?)?,
        loss_chance: 1.0 - spread.chance_at_most(minor(price)),
        earned_an_hour: earned_an_hour(&cost, price, hands_on.typical)?,
    })
}

fn earned_an_hour(cost: &Cost, price: Money, hands_on: Minutes) -> Result<Money, Refused> {
    if hands_on <= Minutes::ZERO {
        return Ok(Money::ZERO);
    }
    let paid_out = Money::sum([cost.materials, cost.overhead, cost.purchase])?;
    Ok(price.minus(paid_out)?.share(60, hands_on.get())?)
}
