//! What a piece costs: materials by what is used of them, hands-on time at the wage, overhead by the hour, the purchase.

use quantity::{Minutes, Money, Volume};
use serde::{Deserialize, Serialize};

use crate::Refused;

/// What an hour at the bench costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct HourlyRates {
    /// What an hour of bench work must earn.
    pub wage: Money,
    /// Rent, power and tools for an hour of bench work.
    pub overhead: Money,
}

/// The cost lines of one piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Cost {
    /// Materials, by what is used of them.
    pub materials: Money,
    /// Hands-on time at the wage.
    pub labour: Money,
    /// Hands-on time at the overhead rate.
    pub overhead: Money,
    /// What was paid for the piece; nothing for a commission.
    pub purchase: Money,
}

impl Cost {
    /// The four lines for `hands_on` minutes, waits not counted. Each line is rounded once, so the lines add up to the
    /// total as printed.
    ///
    /// # Errors
    /// When something is below nothing or an amount does not fit.
    pub fn of(materials: Money, hands_on: Minutes, rates: HourlyRates, purchase: Money) -> Result<Self, Refused> {
        not_below(materials, "the cost of materials")?;
        not_below(purchase, "the purchase price")?;
        Ok(Self {
            materials,
            labour: for_time(rates.wage, hands_on)?,
            overhead: for_time(rates.overhead, hands_on)?,
            purchase,
        })
    }

    /// The sum of the lines.
    ///
    /// # Errors
    /// When it does not fit.
    pub fn total(&self) -> Result<Money, Refused> {
        Ok(Money::sum([self.materials, self.labour, self.overhead, self.purchase])?)
    }
}

/// So many minutes at a rate by the hour, rounded to the nearest minor unit.
///
/// # Errors
/// When the time or the rate is below nothing or the amount does not fit.
pub fn for_time(per_hour: Money, time: Minutes) -> Result<Money, Refused> {
    not_below(per_hour, "the rate of an hour")?;
    if time < Minutes::ZERO {
        return Err(Refused::BelowNothing { what: "the time" });
    }
    Ok(per_hour.share(time.get(), 60)?)
}

/// What is used out of a can of `size` that costs `price`: price × used / size, rounded to the nearest minor unit.
/// Volumes are taken to the microlitre.
///
/// # Errors
/// When the can holds nothing, something is below nothing, or the amount does not fit.
///
/// ```
/// use money::material_by_volume;
/// use quantity::{Money, Volume};
/// let quart = Volume::from_us_quarts(1.0);
/// let cost = material_by_volume(Money::from_minor(24_00), quart, Volume::from_us_fluid_ounces(12.0))?;
/// assert_eq!(cost, Money::from_minor(9_00));
/// # Ok::<(), money::Refused>(())
/// ```
pub fn material_by_volume(price: Money, size: Volume, used: Volume) -> Result<Money, Refused> {
    not_below(price, "the price of a can")?;
    Ok(price.share(
        microlitres(used, "the quantity used")?,
        some(microlitres(size, "the size of a can")?)?,
    )?)
}

/// What is used of a pack of `in_pack` sheets, discs or rags that costs `price`.
///
/// # Errors
/// When the pack holds nothing, the price is below nothing, or the amount does not fit.
pub fn material_by_count(price: Money, in_pack: u32, used: u32) -> Result<Money, Refused> {
    not_below(price, "the price of a pack")?;
    if in_pack == 0 {
        return Err(Refused::Nothing {
            what: "the number in a pack",
        });
    }
    Ok(price.share(i64::from(used), i64::from(in_pack))?)
}

pub(crate) fn not_below(amount: Money, what: &'static str) -> Result<(), Refused> {
    if amount < Money::ZERO {
        Err(Refused::BelowNothing { what })
    } else {
        Ok(())
    }
}

/// A volume in whole microlitres, so that shares and sums of cans are exact.
#[expect(clippy::cast_possible_truncation, reason = "the bounds are tested first")]
pub(crate) fn microlitres(volume: Volume, what: &'static str) -> Result<i64, Refused> {
    /// A thousand cubic metres.
    const MOST: f64 = 1e15;
    let microlitres = (volume.ml() * 1000.0).round();
    if (0.0..=MOST).contains(&microlitres) {
        Ok(microlitres as i64)
    } else {
        Err(Refused::BelowNothing { what })
    }
}

fn some(size: i64) -> Result<i64, Refused> {
    if size > 0 {
        Ok(size)
    } else {
        Err(Refused::Nothing {
            what: "the size of a can",
        })
    }
}
