//! Discs, tape, rags and the rest that is used up beside the cans: what to have, what of it to buy in whole packs.
//!
//! Zones are added up before anything is rounded, for a disc that one zone has not worn out serves the next. Packs are chosen
//! by the same exact search as cans, which counts: one piece, or one metre, stands for a millilitre there. Where no price is
//! known nothing is bought, and the list says so.

use std::collections::BTreeMap;

use money::{Need, Offer, Refused, ShelfCan, Shop as PaintShop, Wanted, cheapest_cans};
use quantity::{Range, Volume};
use trade::{Supply, SupplyKind, Unit};

use super::dated::unit_word;
use super::output::{Pack, Sum, SupplyToHave};
use super::work::WorkPiece;
use crate::model::{ShelfSupply, Shop};

/// The supplies to have and to buy.
pub(crate) struct Supplies {
    pub(crate) list: Vec<SupplyToHave>,
    pub(crate) assumed: Vec<String>,
}

/// Works out what supplies to have and what packs to buy.
///
/// # Errors
/// An amount that cannot be reckoned with, in words for the user.
pub(crate) fn to_have(shop: &Shop, work: &[WorkPiece]) -> Result<Supplies, Refused> {
    let needs = needs(work);
    let mut list = Vec::with_capacity(needs.len());
    for (supply, amount) in &needs {
        list.push(line(shop, *supply, *amount)?);
    }
    let unpriced: Vec<&str> = list
        .iter()
        .filter(|line| !line.is_priced)
        .map(|line| line.words.as_str())
        .collect();
    let mut assumed = Vec::new();
    if !unpriced.is_empty() {
        assumed.push(format!(
            "no price is known here for {}: the cost counts a typical one of each, in {}; put a pack among the supplies with its price to have yours",
            unpriced.join(", "),
            shop.settings.currency.code()
        ));
    }
    Ok(Supplies { list, assumed })
}

/// What all steps take of each supply that is bought by the pack; liquids of the tables are bought with the cans, and water is
/// not bought.
fn needs(work: &[WorkPiece]) -> BTreeMap<Supply, Range<f64>> {
    let mut needs = BTreeMap::new();
    for used in work.iter().flat_map(WorkPiece::steps).flat_map(|step| &step.supplies) {
        if matches!(used.what, Supply::Ware(kind, _) if kind != SupplyKind::Water) {
            let sum = needs.entry(used.what).or_insert(Range::exactly(0.0));
            *sum = *sum + used.amount;
        }
    }
    needs
}

fn line(shop: &Shop, supply: Supply, amount: Range<f64>) -> Result<SupplyToHave, Refused> {
    let held: Vec<&ShelfSupply> = shop.supplies.iter().filter(|held| held.what == supply).collect();
    let on_shelf = held.iter().fold(0.0, |sum, held| sum + held.left.max(0.0));
    let whole = |number: f64| match supply.unit() {
        Unit::Piece => (number - 1e-6).ceil().max(0.0),
        Unit::Metre | Unit::Millilitre => (number * 10.0).round() / 10.0,
    };
    let need = whole(shop.settings.buy_for.of(amount));
    let buy = if held.is_empty() {
        Vec::new()
    } else {
        packs(shop, &held, need)?
    };
    Ok(SupplyToHave {
        id: supply.id(),
        words: supply.label(),
        unit: unit_word(supply.unit()),
        need,
        low: whole(amount.low),
        likely: whole(amount.typical),
        high: whole(amount.high),
        bought_for: shop.settings.buy_for.word(),
        on_shelf,
        buy,
        is_priced: !held.is_empty(),
        is_short: held.is_empty() && need > on_shelf,
    })
}

/// The cheapest packs that cover what the shelf does not.
fn packs(shop: &Shop, held: &[&ShelfSupply], need: f64) -> Result<Vec<Pack>, Refused> {
    let one = |amount: f64| Volume::from_ml(amount);
    let wanted = Wanted {
        material: held.first().map_or_else(String::new, |held| held.what.label()),
        needs: vec![Need {
            volume: one(need),
            in_days: 0,
        }],
        shelf: held
            .iter()
            .map(|held| ShelfCan {
                left: one(held.left.max(0.0)),
                age_days: 0,
                shelf_life_days: None,
            })
            .collect(),
        offers: held
            .iter()
            .map(|held| Offer {
                size: one(held.pack),
                price: held.price,
                shop: 0,
            })
            .collect(),
        least_useful: Volume::ZERO,
    };
    let bought = cheapest_cans(std::slice::from_ref(&wanted), &[PaintShop::default()])?;
    let cans = bought.materials.iter().flat_map(|material| &material.cans);
    let packs = cans.filter_map(|cans| {
        let held = held.get(cans.offer)?;
        Some(Pack {
            name: held.name.clone(),
            holds: held.pack,
            count: u32::try_from(cans.count).ok()?,
            price: Sum::new(held.price.times(cans.count).ok()?, shop.settings.currency),
        })
    });
    Ok(packs.collect())
}
