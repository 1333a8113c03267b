//! Which shops to go to: all sets of those that cost a trip are compared, each with its cheapest cans.
//!
//! The materials meet only in the shops they share. For a given set of shops each material is bought by itself; the
//! answer for one material depends only on which of *its* shops are in the set, and is worked out once for each.

use std::collections::BTreeMap;

use crate::Refused;

use super::sizes::{self, Burden, Size};
use super::{Cans, Shop, Wanted};

/// The most shops with a cost of their own: 2¹⁰ sets.
const MOST_SHOPS: usize = 10;

/// A material with what is still to buy of it.
pub(super) struct Rest<'a> {
    pub(super) material: &'a Wanted,
    pub(super) rest_ul: i64,
    pub(super) sizes: Vec<Size>,
}

/// The cheapest choice.
pub(super) struct Choice {
    /// For each material, the cans.
    pub(super) cans: Vec<Vec<Cans>>,
    /// The shops where something is bought, in order.
    pub(super) shops: Vec<usize>,
}

/// What one material costs for each set of its own shops.
type Known = BTreeMap<u32, Option<(Burden, Vec<Cans>)>>;

pub(super) fn cheapest(rests: &[Rest<'_>], shops: &[Shop]) -> Result<Choice, Refused> {
    for shop in shops {
        crate::cost::not_below(shop.visit, "the cost of a visit")?;
    }
    let costly: Vec<usize> = (0..shops.len()).filter(|shop| shops[*shop].visit.minor() > 0).collect();
    if costly.len() > MOST_SHOPS {
        return Err(Refused::TooManyShops {
            count: costly.len(),
            most: MOST_SHOPS,
        });
    }
    if let Some(rest) = rests.iter().find(|rest| rest.rest_ul > 0 && rest.sizes.is_empty()) {
        return Err(Refused::NotSold {
            material: rest.material.material.clone(),
        });
    }
    let mut known: Vec<Known> = vec![Known::new(); rests.len()];
    let mut best: Option<(Burden, u32)> = None;
    for set in 0..1_u32 << costly.len() {
        if let Some(burden) = burden_of(set, rests, shops, &costly, &mut known)
            && best.is_none_or(|(least, _)| burden < least)
        {
            best = Some((burden, set));
        }
    }
    let set = best.map_or(0, |(_, set)| set);
    let cans: Vec<Vec<Cans>> = rests
        .iter()
        .zip(&known)
        .map(|(rest, known)| match known.get(&own_shops(rest, set, &costly)) {
            Some(Some((_, cans))) => cans.clone(),
            _ => Vec::new(),
        })
        .collect();
    let mut visited: Vec<usize> = rests
        .iter()
        .zip(&cans)
        .flat_map(|(rest, cans)| cans.iter().map(|cans| rest.material.offers[cans.offer].shop))
        .collect();
    visited.sort_unstable();
    visited.dedup();
    Ok(Choice { cans, shops: visited })
}

/// The cost of buying everything with the shops of `set` and those that cost nothing to go to; `None` where something
/// cannot be had there.
fn burden_of(set: u32, rests: &[Rest<'_>], shops: &[Shop], costly: &[usize], known: &mut [Known]) -> Option<Burden> {
    let visits: i128 = costly
        .iter()
        .enumerate()
        .filter(|(bit, _)| set >> bit & 1 == 1)
        .map(|(_, shop)| i128::from(shops[*shop].visit.minor()))
        .sum();
    let mut sum = Burden { price: visits, cans: 0 };
    for (rest, known) in rests.iter().zip(known) {
        let own = own_shops(rest, set, costly);
        let answer = known.entry(own).or_insert_with(|| {
            let open = |offer: usize| {
                let shop = rest.material.offers[offer].shop;
                costly
                    .iter()
                    .position(|costly| *costly == shop)
                    .is_none_or(|bit| own >> bit & 1 == 1)
            };
            sizes::cheapest(rest.rest_ul, &rest.sizes, open)
        });
        let (burden, _) = answer.as_ref()?;
        sum = Burden {
            price: sum.price + burden.price,
            cans: sum.cans + burden.cans,
        };
    }
    Some(sum)
}

/// The costly shops of the set that sell this material.
fn own_shops(rest: &Rest<'_>, set: u32, costly: &[usize]) -> u32 {
    costly
        .iter()
        .enumerate()
        .filter(|(_, shop)| rest.material.offers.iter().any(|offer| offer.shop == **shop))
        .fold(0, |own, (bit, _)| own | (set & 1 << bit))
}
