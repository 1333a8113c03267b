//! A machine: what it loses in value a year, and how many pieces until it has paid for itself.

use quantity::{Minutes, Money};
use serde::{Deserialize, Serialize};

use crate::Refused;
use crate::cost::{HourlyRates, for_time, not_below};

/// What a machine costs and what it saves on each piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Machine {
    /// What it costs to buy.
    pub cost: Money,
    /// What it can be sold for in the end.
    pub salvage: Money,
    /// Hands-on time that it saves on a piece.
    pub saves_time: Minutes,
    /// Materials that it saves on a piece; negative where it uses more (overspray).
    pub saves_materials: Money,
    /// What running it costs on a piece: consumables, cleaning, filters.
    pub running_cost: Money,
}

/// When a machine has paid for itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Payback {
    /// After so many pieces, each saving so much.
    Pieces {
        /// The first whole number of pieces whose savings cover the cost less the salvage.
        count: i64,
        /// What one piece saves.
        saved_on_each: Money,
    },
    /// Never: a piece saves nothing, or costs this much more.
    Never {
        /// What one piece saves: nothing or less.
        saved_on_each: Money,
    },
}

/// Pieces until the machine has paid for itself, saved time counted at wage and overhead.
///
/// # Errors
/// When a figure is below nothing or an amount does not fit.
pub fn payback(machine: &Machine, rates: HourlyRates) -> Result<Payback, Refused> {
    not_below(machine.cost, "the cost of the machine")?;
    not_below(machine.salvage, "the salvage value")?;
    not_below(machine.running_cost, "the running cost")?;
    let hour = rates.wage.plus(rates.overhead)?;
    let saved_on_each = for_time(hour, machine.saves_time)?
        .plus(machine.saves_materials)?
        .minus(machine.running_cost)?;
    if saved_on_each <= Money::ZERO {
        return Ok(Payback::Never { saved_on_each });
    }
    let to_earn = machine.cost.minus(machine.salvage)?.max(Money::ZERO).minor();
    let each = saved_on_each.minor();
    let count = to_earn / each + i64::from(to_earn % each != 0);
    Ok(Payback::Pieces { count, saved_on_each })
}

/// Straight-line depreciation a year: (cost − salvage) / life in years.
///
/// # Errors
/// When the life is no time, a figure is below nothing, or the salvage is above the cost.
///
/// # Source
/// `business-definitions`: the definition of the straight-line method.
///
/// ```
/// use quantity::Money;
/// let a_year = money::straight_line_depreciation(Money::from_minor(1200_00), Money::from_minor(200_00), 5)?;
/// assert_eq!(a_year, Money::from_minor(200_00));
/// # Ok::<(), money::Refused>(())
/// ```
pub fn straight_line_depreciation(cost: Money, salvage: Money, life_years: u16) -> Result<Money, Refused> {
    not_below(cost, "the cost of the machine")?;
    not_below(salvage, "the salvage value")?;
    not_below(cost.minus(salvage)?, "the cost less the salvage value")?;
    if life_years == 0 {
        return Err(Refused::Nothing {
            what: "the life of the machine",
        });
    }
    Ok(cost.minus(salvage)?.share(1, i64::from(life_years))?)
}
