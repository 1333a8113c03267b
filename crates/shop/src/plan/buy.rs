//! What to have and what to buy for all pieces together: the seam to the money crate's cans.
//!
//! Where the sellers' prices of a class are known, these are what is on sale. Else a product that the shop knows is bought
//! again in its own size at its own price. Of any other class the usual sizes are offered at a typical price, which the
//! plan says.

use std::collections::BTreeMap;

use money::{Need, Offer, Refused, ShelfCan, Shop as PaintShop, ShoppingList, Wanted, cheapest_cans};
use quantity::{Money, Range, UnitSystem, Volume};
use trade::finish_rows::Group;
use trade::{FinishClass, Material, Supply};

use super::calendar::PlanClock;
use super::output::{Can, Sum, ToHave, Trip};
use super::work::WorkPiece;
use crate::model::{BuyFor, Seller, ShelfProduct, Shop};

/// Usual sizes in mL, with what a millilitre costs in each beside one out of a quart or litre (common practice).
const IMPERIAL_SIZES: [(f64, f64); 4] = [(236.588, 1.5), (473.176, 1.2), (946.353, 1.0), (3785.412, 0.75)];
const METRIC_SIZES: [(f64, f64); 4] = [(250.0, 1.5), (500.0, 1.2), (1000.0, 1.0), (2500.0, 0.8)];
/// A spray can: 11 oz or 400 mL.
const AEROSOL_SIZES: [(f64, f64); 1] = [(400.0, 1.0)];
/// A remainder below this is not worth keeping, mL (common practice: what wets a brush and no more).
const LEAST_USEFUL_ML: f64 = 60.0;

/// The shopping list.
pub(crate) struct Bought {
    pub(crate) list: Vec<ToHave>,
    pub(crate) trips: Vec<Trip>,
    pub(crate) assumed: Vec<String>,
}

/// What one material in one colour is needed for.
type Key = (Material, Option<String>);

/// Works out what to have and what to buy.
///
/// # Errors
/// An amount that cannot be reckoned with, in words for the user.
pub(crate) fn shopping(
    shop: &Shop,
    work: &[WorkPiece],
    starts_min: &BTreeMap<String, i64>,
    clock: &PlanClock,
) -> Result<Bought, Refused> {
    let needs = needs(work, starts_min);
    let mut typical = Vec::new();
    let wanted: Vec<Wanted> = needs
        .iter()
        .map(|(key, needs)| Wanted {
            material: key.0.label().to_owned(),
            needs: needs.iter().map(|need| need.bought(shop.settings.buy_for)).collect(),
            shelf: on_shelf(shop, key).map(|product| shelf_can(product, clock)).collect(),
            offers: offers(shop, key, &mut typical),
            least_useful: Volume::from_ml(LEAST_USEFUL_ML),
        })
        .collect();
    let bought = cheapest_cans(&wanted, &paint_shops(shop))?;
    let list = needs
        .iter()
        .zip(&wanted)
        .zip(&bought.materials)
        .map(|(((key, need), wanted), bought)| {
            let buy = bought.cans.iter().filter_map(|cans| {
                let offer = wanted.offers.get(cans.offer)?;
                let price = offer.price.times(cans.count).ok()?;
                Some(Can {
                    size_ml: tenths(offer.size.ml()),
                    count: u32::try_from(cans.count).ok()?,
                    price: Sum::new(price, shop.settings.currency),
                    seller: seller_at(shop, offer.shop).map(|seller| seller.name.clone()),
                })
            });
            let all = need.iter().fold(Range::exactly(0.0), |sum, need| sum + need.ml);
            ToHave {
                class: key.0.id().to_owned(),
                words: key.0.label().to_owned(),
                colour: key.1.clone(),
                need_ml: tenths(bought.need.ml()),
                low_ml: tenths(all.low),
                likely_ml: tenths(all.typical),
                high_ml: tenths(all.high),
                bought_for: shop.settings.buy_for.word(),
                on_shelf_ml: tenths(on_shelf(shop, key).fold(0.0, |sum, product| sum + product.left_volume().ml())),
                buy: buy.collect(),
            }
        })
        .collect();
    let mut assumed = Vec::new();
    if !typical.is_empty() {
        assumed.push(format!(
            "no price is known here for {}: typical ones were taken, in {}; put the product on the shelf with its price to have yours",
            typical.join(", "),
            shop.settings.currency.code()
        ));
    }
    let trips = trips(shop, &wanted, &bought)?;
    Ok(Bought { list, trips, assumed })
}

/// The place in the list of shops of whatever is not bought at a certain seller's; the sellers come after it.
const ANYWHERE: usize = 0;

/// The shops as the optimiser knows them: anywhere, which costs no trip, and each seller.
fn paint_shops(shop: &Shop) -> Vec<PaintShop> {
    let sellers = shop
        .settings
        .sellers
        .iter()
        .map(|seller| PaintShop { visit: seller.trip });
    std::iter::once(PaintShop::default()).chain(sellers).collect()
}

fn seller_at(shop: &Shop, place: usize) -> Option<&Seller> {
    shop.settings.sellers.get(place.checked_sub(ANYWHERE + 1)?)
}

/// What is spent at each seller's.
fn trips(shop: &Shop, wanted: &[Wanted], bought: &ShoppingList) -> Result<Vec<Trip>, Refused> {
    let currency = shop.settings.currency;
    let mut trips = Vec::new();
    for place in &bought.shops {
        let Some(seller) = seller_at(shop, *place) else {
            continue;
        };
        let mut cans = Money::ZERO;
        for (wanted, bought) in wanted.iter().zip(&bought.materials) {
            for cans_of in &bought.cans {
                if let Some(offer) = wanted.offers.get(cans_of.offer).filter(|offer| offer.shop == *place) {
                    cans = cans.plus(offer.price.times(cans_of.count)?)?;
                }
            }
        }
        trips.push(Trip {
            seller: seller.name.clone(),
            cans: Sum::new(cans, currency),
            way: Sum::new(seller.trip, currency),
            together: Sum::new(cans.plus(seller.trip)?, currency),
        });
    }
    Ok(trips)
}

/// What one step needs of a material.
struct StepNeed {
    ml: Range<f64>,
    in_days: u32,
}

impl StepNeed {
    /// As much of it as the shop buys for.
    fn bought(&self, buy_for: BuyFor) -> Need {
        Need {
            volume: Volume::from_ml(buy_for.of(self.ml)),
            in_days: self.in_days,
        }
    }
}

/// What the steps take of each material: their own, what thins it, and what washes the tools.
fn needs(work: &[WorkPiece], starts_min: &BTreeMap<String, i64>) -> BTreeMap<Key, Vec<StepNeed>> {
    let mut needs: BTreeMap<Key, Vec<StepNeed>> = BTreeMap::new();
    for step in work.iter().flat_map(WorkPiece::steps) {
        let in_days = starts_min
            .get(&step.id)
            .and_then(|at| u32::try_from(at / 1440).ok())
            .unwrap_or(0);
        let mut add = |key: Key, ml: Range<f64>| {
            if ml.high >= 0.05 {
                needs.entry(key).or_default().push(StepNeed { ml, in_days });
            }
        };
        if let (Some(material), Some(quantity)) = (step.material, &step.quantity) {
            add((material, step.colour.clone()), quantity.ml);
        }
        for used in &step.supplies {
            if let Supply::Liquid(material) = used.what {
                add((material, None), used.amount);
            }
        }
    }
    needs
}

/// The products of the shelf that serve a need: of the class, and of the colour where the class has one.
fn on_shelf<'s>(shop: &'s Shop, key: &'s Key) -> impl Iterator<Item = &'s ShelfProduct> {
    shop.shelf.iter().filter(move |product| {
        let is_coloured = key
            .0
            .finish()
            .is_some_and(|class| matches!(class.row().group, Group::Paint | Group::Stain));
        product.class == key.0 && (!is_coloured || product.colour == key.1)
    })
}

fn shelf_can(product: &ShelfProduct, clock: &PlanClock) -> ShelfCan {
    let today = clock.first().date();
    let good_days = product.goes_off.map(|goes_off| {
        let days = today.until(goes_off).map_or(0, |span| span.get_days());
        u32::try_from(days).unwrap_or(0)
    });
    ShelfCan {
        left: product.left_volume(),
        age_days: 0,
        shelf_life_days: good_days,
    }
}

fn offers(shop: &Shop, key: &Key, typical: &mut Vec<&'static str>) -> Vec<Offer> {
    let sellers = shop.settings.sellers.iter().enumerate();
    let on_sale: Vec<Offer> = sellers
        .flat_map(|(place, seller)| seller.cans.iter().map(move |can| (place, can)))
        .filter(|(_, can)| can.class == key.0)
        .map(|(place, can)| Offer {
            size: can.size,
            price: can.price,
            shop: ANYWHERE + 1 + place,
        })
        .collect();
    if !on_sale.is_empty() {
        return on_sale;
    }
    let known: Vec<Offer> = on_shelf(shop, key)
        .map(|product| Offer {
            size: product.size,
            price: product.price,
            shop: ANYWHERE,
        })
        .collect();
    if !known.is_empty() {
        return known;
    }
    if !typical.contains(&key.0.label()) {
        typical.push(key.0.label());
    }
    typical_offers(key.0, shop.settings.units)
}

/// The usual sizes of a material at typical prices, in minor units of whatever currency the shop counts in.
pub fn typical_offers(material: Material, units: UnitSystem) -> Vec<Offer> {
    let sizes: &[(f64, f64)] = match (material, units) {
        (Material::Finish(FinishClass::AerosolMetallicEnamel), _) => &AEROSOL_SIZES,
        (_, UnitSystem::Imperial) => &IMPERIAL_SIZES,
        (_, UnitSystem::Metric) => &METRIC_SIZES,
    };
    let per_litre = finish::typical_price_minor_per_l(material);
    sizes
        .iter()
        .map(|(size_ml, dearer)| Offer {
            size: Volume::from_ml(*size_ml),
            price: rounded(per_litre * size_ml / 1000.0 * dearer),
            shop: ANYWHERE,
        })
        .collect()
}

/// A typical price, to the next half of a whole unit: more figures would pretend to be somebody's price.
fn rounded(minor: f64) -> Money {
    let halves = (minor / 50.0).ceil().max(1.0);
    Money::nearest(halves * 50.0).unwrap_or(Money::ZERO)
}

fn tenths(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}
