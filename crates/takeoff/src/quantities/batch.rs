//! Mixing no more than can be put on while it stays usable.

use quantity::{Minutes, Volume};

/// How a product is mixed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixing {
    /// Parts by volume of the base.
    pub base_parts: f64,
    /// Parts by volume of hardener or catalyst.
    pub hardener_parts: f64,
    /// Thinner as a share of base and hardener together.
    pub thinner_share: f64,
    /// How long a mix stays usable at the room's temperature.
    pub pot_life: Minutes,
}

/// How to divide a coat into mixes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Batches {
    /// How many, all alike.
    pub count: u32,
    /// Base in each.
    pub base: Volume,
    /// Hardener in each.
    pub hardener: Volume,
    /// Thinner in each.
    pub thinner: Volume,
    /// How long putting one on takes.
    pub each_takes: Minutes,
}

/// Of the pot life, what is left when mixing, straining and filling the tool are done (common practice).
const USABLE_SHARE: f64 = 0.75;
/// More mixes than this a coat is not planned in.
const MOST: f64 = 1000.0;

/// Divides one coat of a mixed product (`coat`, ready to use, thinner included) put on at `litres_per_h` into as few equal
/// mixes as the pot life allows.
///
/// `None` when there is nothing to mix, when the parts or the rate are no positive numbers, or when the pot life is too
/// short to put on a thousandth of the coat.
///
/// ```
/// use quantity::{Minutes, Volume};
/// use takeoff::quantities::{Mixing, batches};
/// let two_part = Mixing { base_parts: 4.0, hardener_parts: 1.0, thinner_share: 0.0, pot_life: Minutes::new(120) };
/// // 1.8 L at 0.6 L an hour takes three hours; 90 min of each pot life are usable.
/// let mixes = batches(Volume::from_litres(1.8), 0.6, two_part).expect("it can be done");
/// assert_eq!(mixes.count, 2);
/// assert!((mixes.base.ml() - 720.0).abs() < 1e-6 && (mixes.hardener.ml() - 180.0).abs() < 1e-6);
/// ```
#[must_use]
pub fn batches(coat: Volume, litres_per_h: f64, mixing: Mixing) -> Option<Batches> {
    let parts = mixing.base_parts + mixing.hardener_parts;
    let sound = coat.litres() > 0.0
        && litres_per_h > 0.0
        && mixing.base_parts > 0.0
        && mixing.hardener_parts >= 0.0
        && mixing.thinner_share >= 0.0
        && [coat.litres(), litres_per_h, parts, mixing.thinner_share]
            .iter()
            .all(|v| v.is_finite());
    if !sound {
        return None;
    }
    let most = litres_per_h * mixing.pot_life.hours() * USABLE_SHARE;
    let count = (coat.litres() / most - 1e-9).ceil().max(1.0);
    if count.is_nan() || count > MOST {
        return None;
    }
    let each = coat / count;
    let active = each / (1.0 + mixing.thinner_share);
    Some(Batches {
        count: (1..=1000_u32).find(|&n| f64::from(n) >= count)?,
        base: active * (mixing.base_parts / parts),
        hardener: active * (mixing.hardener_parts / parts),
        thinner: each - active,
        each_takes: Minutes::from_hours(each.litres() / litres_per_h),
    })
}
