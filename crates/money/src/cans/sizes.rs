//! The cheapest cans of one material that hold at least the rest, exactly.
//!
//! A dynamic program over partial purchases. Sizes are taken up one by one, the worst price a litre first. Of all partial
//! purchases only those are kept that no other beats in both cost and content, and only while their cost plus what the
//! missing content costs at the best price a litre does not exceed the cheapest full purchase known. The size with the
//! best price a litre comes last and completes each partial purchase directly.
//!
//! So many cans of a size as could be exchanged for cans of the best one at no more cost are never needed: that bounds
//! the count of each size and keeps the program small, whatever the need.

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

/// A partial purchase: what it costs and holds, and the purchase it grew from.
#[derive(Debug, Clone, Copy)]
struct Partial {
    burden: Burden,
    held_ul: i64,
    grown_from: usize,
    offer: usize,
    count: i64,
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
    let best_size = sizes[best_offer];
    let start = Partial {
        burden: Burden::NONE,
        held_ul: 0,
        grown_from: 0,
        offer: best_offer,
        count: 0,
    };
    let mut all = vec![start];
    let full = cans_for(rest_ul, best_size);
    let mut best = Best {
        burden: Burden::NONE.with(best_size, full),
        partial: 0,
        completed_with: full,
    };
    let mut front = vec![0];
    for &offer in others {
        let most = most_of(sizes[offer], best_size, rest_ul);
        let mut grown = front.clone();
        for &from in &front {
            for count in 1..=most {
                let before = all[from];
                let partial = Partial {
                    burden: before.burden.with(sizes[offer], count),
                    held_ul: before.held_ul + sizes[offer].ul * count,
                    grown_from: from,
                    offer,
                    count,
                };
                let missing_ul = (rest_ul - partial.held_ul).max(0);
                if partial.burden.price + least_price(missing_ul, best_size) > best.burden.price {
                    break;
                }
                let completed_with = cans_for(missing_ul, best_size);
                let burden = partial.burden.with(best_size, completed_with);
                all.push(partial);
                if burden < best.burden {
                    best = Best {
                        burden,
                        partial: all.len() - 1,
                        completed_with,
                    };
                }
                if missing_ul == 0 {
                    break;
                }
                grown.push(all.len() - 1);
            }
        }
        front = unbeaten(grown, &all);
    }
    Some((best.burden, cans_of(&best, &all, best_offer)))
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
        .map(|offer| sizes[*offer].price * i128::from(cans_for(rest_ul, sizes[*offer])))
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

fn cans_for(ul: i64, size: Size) -> i64 {
    (ul + size.ul - 1) / size.ul
}

/// No purchase of so much costs less: the best price a litre, rounded up to a whole minor unit.
fn least_price(ul: i64, best: Size) -> i128 {
    let (price, size) = (i128::from(ul) * best.price, i128::from(best.ul));
    (price + size - 1) / size
}

/// The most cans of `size` that can be needed beside the best size.
fn most_of(size: Size, best: Size, rest_ul: i64) -> i64 {
    let enough = cans_for(rest_ul, size);
    let exchangeable = |count: i64| {
        let instead = Burden::NONE.with(best, cans_for(size.ul * count, best));
        instead <= Burden::NONE.with(size, count)
    };
    (1..=enough)
        .find(|count| exchangeable(*count))
        .map_or(enough, |count| count - 1)
}

/// The partial purchases that no other beats in both burden and content.
fn unbeaten(mut partials: Vec<usize>, all: &[Partial]) -> Vec<usize> {
    partials.sort_by(|one, other| {
        let (a, b) = (&all[*one], &all[*other]);
        a.burden.cmp(&b.burden).then(b.held_ul.cmp(&a.held_ul))
    });
    let mut most_held_ul = -1;
    partials.retain(|partial| {
        let held_ul = all[*partial].held_ul;
        let unbeaten = held_ul > most_held_ul;
        most_held_ul = most_held_ul.max(held_ul);
        unbeaten
    });
    partials
}

fn cans_of(best: &Best, all: &[Partial], best_offer: usize) -> Vec<Cans> {
    let mut cans = Vec::new();
    if best.completed_with > 0 {
        cans.push(Cans {
            offer: best_offer,
            count: best.completed_with,
        });
    }
    let mut at = best.partial;
    while at != 0 {
        cans.push(Cans {
            offer: all[at].offer,
            count: all[at].count,
        });
        at = all[at].grown_from;
    }
    cans.sort_by_key(|cans| cans.offer);
    cans
}
