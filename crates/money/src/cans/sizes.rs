//! The cheapest cans of one material that hold at least the rest, exactly.
//!
//! A dynamic program over partial purchases. Sizes are taken up one by one, the worst price a litre first. Of all partial
//! purchases only those are kept that no other beats in both cost and content, and only while what they must at least
//! come to is less than the cheapest full purchase known. The size with the best price a litre comes last and completes
//! each partial purchase directly.

use std::collections::BTreeMap;

use super::Cans;

/// A can size: whole microlitres and whole minor units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Size {
    pub(super) ul: i64,
    pub(super) price: i128,
}

/// What a purchase costs: money first, then the number of cans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Burden {
    pub(super) price: i128,
    pub(super) cans: i64,
}

impl Burden {
    const NONE: Self = Self { price: 0, cans: 0 };

    fn with(self, size: Size, count: i64) -> Self {
        Self {
            price: self.price + size.price * i128::from(count),
            cans: self.cans + count,
        }
    }
}

/// A partial purchase: what it costs and holds, and the purchase that one more can of `offer` made it from.
#[derive(Debug, Clone, Copy)]
struct Partial {
    burden: Burden,
    held_ul: i64,
    grown_from: usize,
    offer: usize,
}

/// The cheapest full purchase known so far: a partial one, completed with so many cans of the best size.
struct Best {
    burden: Burden,
    partial: usize,
    completed_with: i64,
}

/// The cheapest cans among the offers `open` that hold at least `rest_ul`; `None` when there are none.
pub(super) fn cheapest(rest_ul: i64, sizes: &[Size], open: impl Fn(usize) -> bool) -> Option<(Burden, Vec<Cans>)> {
    if rest_ul <= 0 {
        return Some((Burden::NONE, Vec::new()));
    }
    let offers = worth_buying(rest_ul, sizes, open);
    let (&best_offer, others) = offers.split_last()?;
    let largest_ul = offers.iter().map(|offer| sizes[*offer].ul).max()?;
    let mut search = Search::new(rest_ul, sizes[best_offer], largest_ul);
    let mut front = vec![0];
    for &offer in others {
        front = search.with_more_of(offer, sizes[offer], &front);
    }
    Some((search.best.burden, search.cans(best_offer)))
}

/// All partial purchases made, and the best full one.
struct Search {
    rest_ul: i64,
    best_size: Size,
    largest_ul: i64,
    all: Vec<Partial>,
    best: Best,
}

impl Search {
    fn new(rest_ul: i64, best_size: Size, largest_ul: i64) -> Self {
        let nothing = Partial {
            burden: Burden::NONE,
            held_ul: 0,
            grown_from: 0,
            offer: 0,
        };
        let full = cans_for(rest_ul, best_size.ul);
        let best = Best {
            burden: Burden::NONE.with(best_size, full),
            partial: 0,
            completed_with: full,
        };
        Self {
            rest_ul,
            best_size,
            largest_ul,
            all: vec![nothing],
            best,
        }
    }

    /// The unbeaten partial purchases with any number of cans of one more offer, the lightest burden first.
    ///
    /// Those before are merged with the new ones, each of which is an earlier one of the same list and one more can. As
    /// the list is in order of burden, a purchase is beaten exactly when an earlier one holds as much.
    fn with_more_of(&mut self, offer: usize, size: Size, before: &[usize]) -> Vec<usize> {
        let mut merged: Vec<usize> = Vec::with_capacity(before.len() * 2);
        let (mut old, mut grown) = (0, 0);
        let mut most_held_ul = -1;
        loop {
            let next_old = before.get(old).map(|at| (*at, self.all[*at]));
            let next_grown = merged
                .get(grown)
                .map(|at| self.all[*at].with_one_more(*at, offer, size));
            match (next_old, next_grown) {
                (Some((at, partial)), other) if other.is_none_or(|other| partial.comes_before(&other)) => {
                    old += 1;
                    if partial.held_ul > most_held_ul && self.may_lead_to_better(&partial) {
                        most_held_ul = partial.held_ul;
                        merged.push(at);
                    }
                }
                (_, Some(partial)) => {
                    grown += 1;
                    if partial.held_ul > most_held_ul && self.may_lead_to_better(&partial) {
                        most_held_ul = partial.held_ul;
                        let at = self.take_up(partial);
                        if partial.held_ul < self.rest_ul {
                            merged.push(at);
                        }
                    }
                }
                (_, None) => return merged,
            }
        }
    }

    /// Whether a completion could still beat the best: nothing completes it for less than the missing content at the best
    /// price a litre, nor with fewer cans than the missing content in the largest ones.
    fn may_lead_to_better(&self, partial: &Partial) -> bool {
        let missing_ul = (self.rest_ul - partial.held_ul).max(0);
        let least = Burden {
            price: partial.burden.price + least_price(missing_ul, self.best_size),
            cans: partial.burden.cans + cans_for(missing_ul, self.largest_ul),
        };
        least < self.best.burden
    }

    /// Keeps a partial purchase, and the full one that the best size makes of it if nothing better is known.
    fn take_up(&mut self, partial: Partial) -> usize {
        let at = self.all.len();
        self.all.push(partial);
        let missing_ul = (self.rest_ul - partial.held_ul).max(0);
        let completed_with = cans_for(missing_ul, self.best_size.ul);
        let burden = partial.burden.with(self.best_size, completed_with);
        if burden < self.best.burden {
            self.best = Best {
                burden,
                partial: at,
                completed_with,
            };
        }
        at
    }

    /// The cans of the best full purchase, by offer.
    fn cans(&self, best_offer: usize) -> Vec<Cans> {
        let mut counts = BTreeMap::from([(best_offer, self.best.completed_with)]);
        let mut at = self.best.partial;
        while at != 0 {
            *counts.entry(self.all[at].offer).or_default() += 1;
            at = self.all[at].grown_from;
        }
        counts
            .into_iter()
            .filter(|(_, count)| *count > 0)
            .map(|(offer, count)| Cans { offer, count })
            .collect()
    }
}

impl Partial {
    fn with_one_more(&self, at: usize, offer: usize, size: Size) -> Self {
        Self {
            burden: self.burden.with(size, 1),
            held_ul: self.held_ul + size.ul,
            grown_from: at,
            offer,
        }
    }

    /// The lighter burden first, of equal burdens the fuller one.
    fn comes_before(&self, other: &Self) -> bool {
        (self.burden, -self.held_ul) <= (other.burden, -other.held_ul)
    }
}

/// The open offers that no other makes pointless, the worst price a litre first.
fn worth_buying(rest_ul: i64, sizes: &[Size], open: impl Fn(usize) -> bool) -> Vec<usize> {
    let mut offers: Vec<usize> = (0..sizes.len()).filter(|offer| open(*offer)).collect();
    // The best price a litre last; among equals the larger can last.
    let per_litre = |one: &usize, other: &usize| {
        let (a, b) = (sizes[*one], sizes[*other]);
        (b.price * i128::from(a.ul))
            .cmp(&(a.price * i128::from(b.ul)))
            .then(a.ul.cmp(&b.ul))
            .then(other.cmp(one))
    };
    offers.sort_by(per_litre);
    // One can that costs more than a full purchase of a single size is never bought.
    let enough = offers
        .iter()
        .map(|offer| sizes[*offer].price * i128::from(cans_for(rest_ul, sizes[*offer].ul)))
        .min();
    offers.retain(|offer| enough.is_none_or(|enough| sizes[*offer].price <= enough));
    let all = offers.clone();
    offers.retain(|&offer| {
        let this = sizes[offer];
        !all.iter().any(|&other| {
            let that = sizes[other];
            let as_large = that.ul >= this.ul.min(rest_ul);
            let cheaper = that.price < this.price;
            let same =
                that.price == this.price && (that.ul, std::cmp::Reverse(other)) > (this.ul, std::cmp::Reverse(offer));
            as_large && (cheaper || same)
        })
    });
    offers
}

fn cans_for(ul: i64, size_ul: i64) -> i64 {
    (ul + size_ul - 1) / size_ul
}

/// No purchase of so much costs less: the best price a litre, rounded up to a whole minor unit.
fn least_price(ul: i64, best: Size) -> i128 {
    let (price, size) = (i128::from(ul) * best.price, i128::from(best.ul));
    (price + size - 1) / size
}
