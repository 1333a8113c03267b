//! What the shelf can serve: cans that are still good on the day, those that go off first used first.
//!
//! A can good enough for a late day is good enough for every earlier one. So the latest need is served first, from any
//! can that lasts that long, and as much as possible is served in all: the part that is left is the least possible.

use crate::Refused;
use crate::cost::microlitres;

use super::{Taken, Wanted, planned_ul, volume};

/// What the shelf gives to one material.
pub(super) struct Served {
    pub(super) need_ul: i64,
    pub(super) unserved_ul: i64,
    pub(super) taken: Vec<Taken>,
    pub(super) not_counted: Vec<usize>,
}

/// A can that can be counted on.
struct Good {
    can: usize,
    /// The last day, from today, on which it can be used.
    last_day: u32,
    left_ul: i64,
    taken_ul: i64,
}

pub(super) fn serve(material: &Wanted) -> Result<Served, Refused> {
    let mut needs = Vec::with_capacity(material.needs.len());
    for need in &material.needs {
        needs.push((need.in_days, planned_ul(need.volume, "the quantity needed")?));
    }
    let need_ul: i64 = needs.iter().map(|(_, ul)| ul).sum();
    if need_ul > super::MOST_UL {
        return Err(Refused::TooMuch {
            what: "the quantity needed",
            most: "1000 litres",
        });
    }
    let least_ul = microlitres(material.least_useful, "the least useful remainder")?;
    let first_day = needs.iter().map(|(day, _)| *day).min().unwrap_or(0);
    let mut good = Vec::new();
    let mut not_counted = Vec::new();
    for (can, on_shelf) in material.shelf.iter().enumerate() {
        let left_ul = microlitres(on_shelf.left, "what is left in a can")?;
        let last_day = match on_shelf.shelf_life_days {
            None => Some(u32::MAX),
            Some(life) => life.checked_sub(on_shelf.age_days),
        };
        match last_day {
            Some(last_day) if last_day >= first_day && left_ul > 0 && left_ul >= least_ul => {
                good.push(Good {
                    can,
                    last_day,
                    left_ul,
                    taken_ul: 0,
                });
            }
            _ => not_counted.push(can),
        }
    }
    good.sort_by_key(|can| (can.last_day, can.left_ul, can.can));
    needs.sort_by_key(|(day, _)| std::cmp::Reverse(*day));
    let mut unserved_ul = 0;
    for (day, mut wanted_ul) in needs {
        for can in good.iter_mut().filter(|can| can.last_day >= day) {
            let taken_ul = wanted_ul.min(can.left_ul);
            can.left_ul -= taken_ul;
            can.taken_ul += taken_ul;
            wanted_ul -= taken_ul;
        }
        unserved_ul += wanted_ul;
    }
    good.sort_by_key(|can| can.can);
    let taken = good
        .iter()
        .filter(|can| can.taken_ul > 0)
        .map(|can| Taken {
            can: can.can,
            volume: volume(can.taken_ul),
        })
        .collect();
    Ok(Served {
        need_ul,
        unserved_ul,
        taken,
        not_counted,
    })
}
