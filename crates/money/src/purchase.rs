//! The most to pay for a piece bought to sell.
//!
//! Two ceilings: one keeps the wanted margin on the planned figures, the other keeps the chance of a loss small while the
//! sale price, the materials and the time all vary. The lower of the two is the answer.

use quantity::{BasisPoints, Money};
use serde::{Deserialize, Serialize};

use crate::Refused;
use crate::cost::Cost;
use crate::estimate::{Estimate, minor};
use crate::quote::Job;
use crate::spread::{Part, Spread};

/// What the piece will bring, and what the maker wants of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Resale {
    /// What it will sell for.
    pub sale: Estimate<Money>,
    /// The share of the sale that goes to whoever sells it: commission, market fee.
    pub selling_share: BasisPoints,
    /// What selling costs besides: delivery, a stand.
    pub selling_cost: Money,
    /// The share of the sale that must be left when all is paid.
    pub margin: BasisPoints,
    /// The chance of a loss that is still borne, above 0 and below 1.
    pub loss_chance: f64,
}

/// The answer: the most to pay, and where it comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct MostToPay {
    /// The lower of the two ceilings; nothing or less means: leave it.
    pub amount: Money,
    /// The ceiling that keeps the margin.
    pub by_margin: Money,
    /// The ceiling that keeps the chance of a loss.
    pub by_risk: Money,
}

/// Works out both ceilings. The job's own purchase price is not counted.
///
/// # Errors
/// When a figure is below nothing, a spread, share or chance cannot be reckoned with, or an amount does not fit.
pub fn most_to_pay(job: &Job, resale: &Resale) -> Result<MostToPay, Refused> {
    let (materials, hands_on, sale) = (
        job.materials.checked()?,
        job.hands_on.checked()?,
        resale.sale.checked()?,
    );
    if !(resale.loss_chance > 0.0 && resale.loss_chance < 1.0) {
        return Err(Refused::Chance {
            chance: resale.loss_chance,
        });
    }
    let kept = BasisPoints::ONE
        .basis_points()
        .saturating_sub(resale.selling_share.basis_points());
    let after_margin = kept.saturating_sub(resale.margin.basis_points());
    if after_margin <= 0 {
        let percent = resale.selling_share.percent() + resale.margin.percent();
        return Err(Refused::MarginTooHigh { percent });
    }
    let work = Cost::of(materials.typical, hands_on.typical, job.rates, Money::ZERO)?;
    let spent = work.total()?.plus(resale.selling_cost)?;
    let by_margin = sale
        .typical
        .at(BasisPoints::from_basis_points(after_margin))?
        .minus(spent)?;

    // What is left of the sale when all but the purchase is paid: paying its low quantile loses just that often.
    let kept_sale = minor(sale.typical) * BasisPoints::from_basis_points(kept).fraction();
    let time = minor(work.labour) + minor(work.overhead);
    let left_over = Spread::new(
        -minor(resale.selling_cost),
        &[
            Part {
                median: kept_sale,
                log_sd: sale.log_sd,
            },
            Part {
                median: -minor(work.materials),
                log_sd: materials.log_sd,
            },
            Part {
                median: -time,
                log_sd: hands_on.log_sd,
            },
        ],
    );
    let by_risk = Money::nearest(left_over.quantile(resale.loss_chance))?;
    Ok(MostToPay {
        amount: by_margin.min(by_risk),
        by_margin,
        by_risk,
    })
}
