//! Markup and margin: the same profit, set against the cost or against the price.
//!
//! margin = (price − cost) / price and markup = (price − cost) / cost (definitions, `business-definitions`), so a markup of 50 % is a margin of
//! a third. All four functions round once, to the nearest minor unit or hundredth of a per cent.

use quantity::{BasisPoints, Money};

use crate::Refused;
use crate::cost::not_below;

/// The price that leaves `margin` of itself over the cost: cost / (1 − margin).
///
/// # Errors
/// When the margin is 100 % or more, the cost is below nothing, or the price does not fit.
///
/// ```
/// use quantity::{BasisPoints, Money};
/// let price = money::price_from_margin(Money::from_minor(240_00), BasisPoints::from_whole_percent(40))?;
/// assert_eq!(price, Money::from_minor(400_00));
/// # Ok::<(), money::Refused>(())
/// ```
pub fn price_from_margin(cost: Money, margin: BasisPoints) -> Result<Money, Refused> {
    not_below(cost, "the cost")?;
    let left = BasisPoints::ONE.basis_points().saturating_sub(margin.basis_points());
    if left <= 0 {
        return Err(Refused::MarginTooHigh {
            percent: margin.percent(),
        });
    }
    Ok(cost.share(BasisPoints::ONE.basis_points(), left)?)
}

/// The price with `markup` of the cost on top of it: cost × (1 + markup).
///
/// # Errors
/// When the cost is below nothing or the price does not fit.
pub fn price_from_markup(cost: Money, markup: BasisPoints) -> Result<Money, Refused> {
    not_below(cost, "the cost")?;
    Ok(cost.plus(cost.at(markup)?)?)
}

/// The share of the price that is not cost; negative where the price does not cover it.
///
/// # Errors
/// When there is no price to have a share of, or the share does not fit.
pub fn margin_of(cost: Money, price: Money) -> Result<BasisPoints, Refused> {
    rate(price.minus(cost)?, price, "the price")
}

/// What the price adds, as a share of the cost; negative where the price does not cover it.
///
/// # Errors
/// When there is no cost to have a share of, or the share does not fit.
pub fn markup_of(cost: Money, price: Money) -> Result<BasisPoints, Refused> {
    rate(price.minus(cost)?, cost, "the cost")
}

fn rate(part: Money, whole: Money, what: &'static str) -> Result<BasisPoints, Refused> {
    if whole <= Money::ZERO {
        return Err(Refused::Nothing { what });
    }
    let points = Money::from_minor(BasisPoints::ONE.basis_points()).share(part.minor(), whole.minor())?;
    Ok(BasisPoints::from_basis_points(points.minor()))
}
