//! Which cans to buy: the cheapest set of sizes over all planned pieces, after what still stands good on the shelf.
//!
//! First the shelf serves what it can ([`shelf`]), then for each material the cheapest sizes cover the rest ([`sizes`]),
//! and where going to a shop costs something all sets of shops are compared ([`shops`]). Each of the three is exact, and
//! so is the whole, because a smaller rest never costs more.

mod shelf;
mod shops;
mod sizes;

use quantity::{Money, Volume};
use serde::{Deserialize, Serialize};

use crate::Refused;
use crate::cost::{microlitres, not_below};

/// The most of one material that is planned for, 1000 L: beyond, nobody buys cans.
const MOST_UL: i64 = 1_000_000_000;
/// The smallest can, 1 ml.
const LEAST_SIZE_UL: i64 = 1000;

/// So much of a material, wanted so many days from now.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Need {
    /// How much.
    pub volume: Volume,
    /// The day on which it is put on, counted from today.
    pub in_days: u32,
}

/// A can that stands open, or unopened, on the shelf.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ShelfCan {
    /// What is left in it.
    pub left: Volume,
    /// How long ago it was opened (or bought, if it is still shut).
    pub age_days: u32,
    /// How long it keeps from then on; `None` where it does not go off.
    pub shelf_life_days: Option<u32>,
}

/// A can size on sale.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Offer {
    /// What the can holds.
    pub size: Volume,
    /// What one costs.
    pub price: Money,
    /// The shop that sells it, by its place in the list of shops.
    pub shop: usize,
}

/// A shop, known by its place in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Shop {
    /// What buying there costs once, whatever is bought: the drive, the delivery. Nothing for a shop on the way.
    pub visit: Money,
}

/// One material: what all pieces need of it, what is there, and what is on sale.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Wanted {
    /// The material, as the caller names it in a refusal.
    pub material: String,
    /// What the pieces need, in any order.
    pub needs: Vec<Need>,
    /// The cans on the shelf.
    pub shelf: Vec<ShelfCan>,
    /// The sizes on sale.
    pub offers: Vec<Offer>,
    /// The least remainder worth keeping: shelf cans with less are not counted on, and what is left over below it is
    /// waste.
    pub least_useful: Volume,
}

/// So much taken out of a can of the shelf.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Taken {
    /// The can, by its place on the shelf.
    pub can: usize,
    /// How much is taken.
    pub volume: Volume,
}

/// So many cans of one offer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cans {
    /// The offer, by its place in the list of the material.
    pub offer: usize,
    /// How many cans.
    pub count: i64,
}

/// What to take and what to buy of one material.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bought {
    /// What all pieces need together.
    pub need: Volume,
    /// What comes off the shelf, at most once for each can.
    pub from_shelf: Vec<Taken>,
    /// Cans of the shelf that have gone off before any piece needs them, or hold too little to count on.
    pub not_counted: Vec<usize>,
    /// What to buy, in the order of the offers.
    pub cans: Vec<Cans>,
    /// What these cans cost, without the way to the shop.
    pub cost: Money,
    /// What the bought cans hold over the need.
    pub left_over: Volume,
    /// Whether that is enough to be worth keeping.
    pub left_over_is_useful: bool,
}

/// The whole shopping list.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ShoppingList {
    /// One for each material wanted, in the same order.
    pub materials: Vec<Bought>,
    /// The shops to go to, by their place in the list.
    pub shops: Vec<usize>,
    /// What going there costs.
    pub visits: Money,
    /// Cans and visits together: no other choice of cans and shops costs less.
    pub total: Money,
}

/// The cheapest cans for all materials. At equal cost the fewest cans are taken.
///
/// # Errors
/// When a material is sold nowhere, a size, quantity or price is below nothing or beyond reason, an offer names no shop of
/// the list, or more than ten shops cost something to go to.
///
/// ```
/// use money::{Need, Offer, Shop, ShelfCan, Wanted, cheapest_cans};
/// use quantity::{Money, Volume};
///
/// // 40 fl oz over two pieces; a third of a quart (10 fl oz) is open and good, so 30 fl oz are to buy.
/// let fl_oz = Volume::from_us_fluid_ounces;
/// let enamel = Wanted {
///     material: "waterborne-acrylic-enamel".to_owned(),
///     needs: vec![Need { volume: fl_oz(28.0), in_days: 3 }, Need { volume: fl_oz(12.0), in_days: 10 }],
///     shelf: vec![ShelfCan { left: fl_oz(10.0), age_days: 60, shelf_life_days: Some(365) }],
///     offers: vec![
///         Offer { size: fl_oz(16.0), price: Money::from_minor(19_00), shop: 0 },
///         Offer { size: fl_oz(32.0), price: Money::from_minor(32_00), shop: 0 },
///         Offer { size: fl_oz(128.0), price: Money::from_minor(84_00), shop: 0 },
///     ],
///     least_useful: fl_oz(4.0),
/// };
/// let list = cheapest_cans(&[enamel], &[Shop::default()])?;
/// assert_eq!(list.total, Money::from_minor(32_00));
/// assert!((list.materials[0].left_over.us_fluid_ounces() - 2.0).abs() < 1e-3);
/// assert!(!list.materials[0].left_over_is_useful);
/// # Ok::<(), money::Refused>(())
/// ```
pub fn cheapest_cans(wanted: &[Wanted], shops: &[Shop]) -> Result<ShoppingList, Refused> {
    let mut served = Vec::with_capacity(wanted.len());
    let mut rests = Vec::with_capacity(wanted.len());
    for material in wanted {
        let from_shelf = shelf::serve(material)?;
        rests.push(shops::Rest {
            material,
            rest_ul: from_shelf.unserved_ul,
            sizes: sizes_of(material, shops.len())?,
        });
        served.push(from_shelf);
    }
    let choice = shops::cheapest(&rests, shops)?;
    let materials = wanted
        .iter()
        .zip(served)
        .zip(&choice.cans)
        .map(|((material, served), cans)| bought(material, served, cans))
        .collect::<Result<Vec<_>, Refused>>()?;
    let visits = Money::sum(choice.shops.iter().map(|shop| shops[*shop].visit))?;
    let total = Money::sum(materials.iter().map(|material| material.cost))?.plus(visits)?;
    Ok(ShoppingList {
        materials,
        shops: choice.shops,
        visits,
        total,
    })
}

/// The offers in whole numbers, checked.
fn sizes_of(material: &Wanted, shop_count: usize) -> Result<Vec<sizes::Size>, Refused> {
    material
        .offers
        .iter()
        .map(|offer| {
            not_below(offer.price, "the price of a can")?;
            let size_ul = microlitres(offer.size, "the size of a can")?;
            if size_ul < LEAST_SIZE_UL {
                return Err(Refused::Nothing {
                    what: "the size of a can",
                });
            }
            if offer.shop >= shop_count {
                return Err(Refused::UnknownShop {
                    material: material.material.clone(),
                    shop: offer.shop,
                });
            }
            Ok(sizes::Size {
                ul: size_ul,
                price: i128::from(offer.price.minor()),
            })
        })
        .collect()
}

fn bought(material: &Wanted, served: shelf::Served, cans: &[Cans]) -> Result<Bought, Refused> {
    let mut held_ul = 0_i64;
    let mut cost = Money::ZERO;
    for cans in cans {
        let offer = &material.offers[cans.offer];
        held_ul = held_ul.saturating_add(cans.count.saturating_mul(microlitres(offer.size, "the size of a can")?));
        cost = cost.plus(offer.price.times(cans.count)?)?;
    }
    let left_ul = held_ul.saturating_sub(served.unserved_ul).max(0);
    Ok(Bought {
        need: volume(served.need_ul),
        from_shelf: served.taken,
        not_counted: served.not_counted,
        cans: cans.to_vec(),
        cost,
        left_over: volume(left_ul),
        left_over_is_useful: left_ul > 0
            && left_ul >= microlitres(material.least_useful, "the least useful remainder")?,
    })
}

/// A volume that is within what is planned for, in whole microlitres.
fn planned_ul(volume: Volume, what: &'static str) -> Result<i64, Refused> {
    let ul = microlitres(volume, what)?;
    if ul > MOST_UL {
        Err(Refused::TooMuch {
            what,
            most: "1000 litres",
        })
    } else {
        Ok(ul)
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "exact below 2^53 microlitres, nine thousand cubic metres"
)]
const fn volume(ul: i64) -> Volume {
    Volume::from_ml(ul as f64 / 1000.0)
}
