//! The cheapest cans, against exhaustive search and hand calculation.

use money::{Need, Offer, Refused, ShelfCan, Shop, Wanted, cheapest_cans};
use quantity::{Money, Volume};

use crate::draws::Draws;
use crate::usd;

fn ml(ml: i64) -> Volume {
    Volume::from_ml(ml as f64)
}

fn wanted(needs: &[(i64, u32)], offers: &[(i64, i64, usize)]) -> Wanted {
    Wanted {
        material: "clear".to_owned(),
        needs: needs
            .iter()
            .map(|(volume, in_days)| Need {
                volume: ml(*volume),
                in_days: *in_days,
            })
            .collect(),
        shelf: Vec::new(),
        offers: offers
            .iter()
            .map(|(size, price, shop)| Offer {
                size: ml(*size),
                price: Money::from_minor(*price),
                shop: *shop,
            })
            .collect(),
        least_useful: ml(60),
    }
}

fn can(left: i64, age_days: u32, shelf_life_days: Option<u32>) -> ShelfCan {
    ShelfCan {
        left: ml(left),
        age_days,
        shelf_life_days,
    }
}

fn shops(visits: &[i64]) -> Vec<Shop> {
    visits
        .iter()
        .map(|visit| Shop {
            visit: Money::from_minor(*visit),
        })
        .collect()
}

/// Every count of every offer that could matter, with the shops it touches: the least price, then the fewest cans.
fn by_trying_all(needs: &[i64], materials: &[Wanted], visits: &[i64]) -> Option<(i64, i64)> {
    let mut per_material: Vec<Vec<(i64, i64, u32)>> = Vec::new();
    for (need, material) in needs.iter().zip(materials) {
        let mut ways = vec![(0_i64, 0_i64, 0_i64, 0_u32)];
        for offer in &material.offers {
            let (size, price) = (offer.size.ml().round() as i64, offer.price.minor());
            let most = (need + size - 1) / size;
            ways = ways
                .iter()
                .flat_map(|(held, cost, cans, shops)| {
                    (0..=most).map(move |count| {
                        let shop = if count > 0 { 1 << offer.shop } else { 0 };
                        (held + size * count, cost + price * count, cans + count, shops | shop)
                    })
                })
                .collect();
        }
        per_material.push(
            ways.into_iter()
                .filter(|way| way.0 >= *need)
                .map(|(_, cost, cans, shops)| (cost, cans, shops))
                .collect(),
        );
    }
    let mut least: Option<(i64, i64)> = None;
    for set in 0..1_u32 << visits.len() {
        let mut sum: Option<(i64, i64)> = Some((
            visits
                .iter()
                .enumerate()
                .filter(|(shop, _)| set >> shop & 1 == 1)
                .map(|(_, visit)| visit)
                .sum(),
            0,
        ));
        for ways in &per_material {
            let cheapest = ways
                .iter()
                .filter(|way| way.2 & !set == 0)
                .map(|way| (way.0, way.1))
                .min();
            sum = sum.zip(cheapest).map(|(sum, way)| (sum.0 + way.0, sum.1 + way.1));
        }
        least = [least, sum].into_iter().flatten().min();
    }
    least
}

fn compare(needs: &[i64], materials: &[Wanted], visits: &[i64]) {
    let list = cheapest_cans(materials, &shops(visits)).unwrap();
    let cans: i64 = list
        .materials
        .iter()
        .flat_map(|material| &material.cans)
        .map(|cans| cans.count)
        .sum();
    assert_eq!(
        Some((list.total.minor(), cans)),
        by_trying_all(needs, materials, visits),
        "{materials:?} {visits:?}"
    );
    // And what the list says is what it costs and holds.
    let mut total = 0;
    let mut visited = vec![false; visits.len()];
    for ((need, material), bought) in needs.iter().zip(materials).zip(&list.materials) {
        let mut held = 0;
        for cans in &bought.cans {
            let offer = &material.offers[cans.offer];
            assert!(cans.count > 0);
            held += offer.size.ml().round() as i64 * cans.count;
            total += offer.price.minor() * cans.count;
            visited[offer.shop] = true;
        }
        assert!(held >= *need);
        assert!((bought.left_over.ml() - (held - need) as f64).abs() < 1e-6);
    }
    let by_list: Vec<usize> = (0..visits.len()).filter(|shop| visited[*shop]).collect();
    assert_eq!(list.shops, by_list);
    assert_eq!(
        list.total.minor(),
        total + by_list.iter().map(|shop| visits[*shop]).sum::<i64>()
    );
}

#[test]
fn no_other_set_of_sizes_is_cheaper_in_500_random_cases() {
    let mut draws = Draws::new(11);
    for case in 0..500 {
        let count = draws.whole(1, 4);
        // Two thirds have prices close to proportional to the size, where choices are closest: real can sizes, any sizes.
        let offers: Vec<(i64, i64, usize)> = (0..count)
            .map(|idx| match case % 3 {
                0 => {
                    let size = [237, 473, 946, 3785][idx as usize];
                    (size, size * 3 + draws.whole(0, 300), 0)
                }
                1 => {
                    let size = draws.whole(200, 900);
                    (size, size * 3 + draws.whole(0, 200), 0)
                }
                _ => (draws.whole(100, 1500), draws.whole(1, 60) * draws.whole(1, 50), 0),
            })
            .collect();
        let need = draws.whole(0, 2600);
        compare(&[need], &[wanted(&[(need, 1)], &offers)], &[0]);
    }
}

#[test]
fn no_other_choice_of_shops_is_cheaper_in_500_random_cases() {
    let mut draws = Draws::new(12);
    for _ in 0..500 {
        let visits: Vec<i64> = (0..3).map(|_| draws.whole(0, 1) * draws.whole(0, 2000)).collect();
        let needs = [draws.whole(0, 1500), draws.whole(0, 1500)];
        let materials: Vec<Wanted> = needs
            .iter()
            .map(|need| {
                let offers: Vec<(i64, i64, usize)> = (0..draws.whole(1, 4))
                    .map(|_| {
                        (
                            draws.whole(200, 1200),
                            draws.whole(300, 3000),
                            draws.whole(0, 2) as usize,
                        )
                    })
                    .collect();
                wanted(&[(*need, 1)], &offers)
            })
            .collect();
        compare(&needs, &materials, &visits);
    }
}

#[test]
fn the_shelf_serves_as_much_as_any_sharing_out_could() {
    let mut draws = Draws::new(13);
    for _ in 0..500 {
        let needs: Vec<(i64, u32)> = (0..draws.whole(1, 5))
            .map(|_| (draws.whole(1, 400), draws.whole(0, 30) as u32))
            .collect();
        let mut material = wanted(&needs, &[(1, 1, 0)]);
        material.least_useful = ml(50);
        material.shelf = (0..draws.whole(0, 5))
            .map(|_| {
                can(
                    draws.whole(0, 400),
                    draws.whole(0, 40) as u32,
                    [None, Some(40), Some(50)][draws.whole(0, 2) as usize],
                )
            })
            .collect();
        // Hall's condition for nested choices: what the needs from some day on lack, at its worst.
        let lasts = |can: &ShelfCan, day: u32| can.shelf_life_days.is_none_or(|life| life >= can.age_days + day);
        let lack = |day: u32| {
            let needed: i64 = needs.iter().filter(|need| need.1 >= day).map(|need| need.0).sum();
            let there: f64 = material
                .shelf
                .iter()
                .filter(|can| can.left.ml() > 49.5 && lasts(can, day))
                .map(|can| can.left.ml())
                .sum();
            needed - there.round() as i64
        };
        let least_to_buy = (0..=30).map(lack).max().unwrap().max(0);
        // With cans of one millilitre for one cent, the total is what is to buy.
        let list = cheapest_cans(std::slice::from_ref(&material), &shops(&[0])).unwrap();
        assert_eq!(list.total.minor(), least_to_buy, "{material:?}");
        let bought = &list.materials[0];
        for taken in &bought.from_shelf {
            assert!(taken.volume.ml() <= material.shelf[taken.can].left.ml() + 1e-6);
            assert!(!bought.not_counted.contains(&taken.can));
        }
        let from_shelf: f64 = bought.from_shelf.iter().map(|taken| taken.volume.ml()).sum();
        assert!((from_shelf + least_to_buy as f64 - bought.need.ml()).abs() < 1e-6);
    }
}

#[test]
fn quarts_or_a_gallon_by_what_is_needed() {
    // By hand: a quart 24.00, a gallon 70.00. Up to two quarts go quarts, from 2 quarts on the gallon is cheaper.
    let offers = [(946, 2400, 0), (3785, 7000, 0)];
    let total = |need| {
        cheapest_cans(&[wanted(&[(need, 1)], &offers)], &shops(&[0]))
            .unwrap()
            .total
    };
    assert_eq!(total(0), Money::ZERO);
    assert_eq!(total(900), usd("24"));
    assert_eq!(total(1892), usd("48"));
    assert_eq!(total(1893), usd("70"));
    assert_eq!(total(3786), usd("94"));
}

#[test]
fn a_cheap_can_far_away_is_left_there() {
    // 10.00 nearer by 6.00: not worth a drive for 12.00, but for three cans it is.
    let offers = [(500, 1600, 0), (500, 1000, 1)];
    let list = |need| cheapest_cans(&[wanted(&[(need, 1)], &offers)], &shops(&[0, 1200])).unwrap();
    assert_eq!((list(500).shops, list(500).total), (vec![0], usd("16")));
    assert_eq!(
        (list(1500).shops, list(1500).total, list(1500).visits),
        (vec![1], usd("42"), usd("12"))
    );
}

#[test]
fn what_has_gone_off_or_is_a_dreg_is_not_counted_on() {
    let mut material = wanted(&[(200, 5), (100, 40)], &[(250, 900, 0)]);
    material.shelf = vec![
        can(500, 400, Some(365)),
        can(20, 1, None),
        can(150, 340, Some(365)),
        can(80, 0, None),
    ];
    let list = cheapest_cans(&[material], &shops(&[0])).unwrap();
    let bought = &list.materials[0];
    assert_eq!(bought.not_counted, vec![0, 1]);
    // The can that goes off in 25 days serves only the first piece; the other 80 ml go to the later one.
    let taken: Vec<(usize, i64)> = bought
        .from_shelf
        .iter()
        .map(|taken| (taken.can, taken.volume.ml().round() as i64))
        .collect();
    assert_eq!(taken, vec![(2, 150), (3, 80)]);
    assert_eq!(list.total, usd("9"));
    assert!((bought.left_over.ml() - 180.0).abs() < 1e-6, "250 − 70");
    assert!(bought.left_over_is_useful);
}

#[test]
fn what_cannot_be_bought_or_meant_is_refused() {
    let refused = |material: Wanted| cheapest_cans(&[material], &shops(&[0])).unwrap_err();
    assert_eq!(
        refused(wanted(&[(500, 1)], &[])).to_string(),
        "no shop on the list sells clear; add a can size with its price"
    );
    assert_eq!(
        refused(wanted(&[(500, 1)], &[(0, 100, 0)])),
        Refused::Nothing {
            what: "the size of a can"
        }
    );
    assert_eq!(
        refused(wanted(&[(500, 1)], &[(500, -1, 0)])),
        Refused::BelowNothing {
            what: "the price of a can"
        }
    );
    assert_eq!(
        refused(wanted(&[(500, 1)], &[(500, 1, 4)])),
        Refused::UnknownShop {
            material: "clear".to_owned(),
            shop: 4
        }
    );
    assert!(matches!(
        refused(wanted(&[(2_000_000, 1)], &[(500, 1, 0)])),
        Refused::TooMuch { .. }
    ));
    let nan = Wanted {
        needs: vec![Need {
            volume: Volume::from_ml(f64::NAN),
            in_days: 0,
        }],
        ..wanted(&[], &[(500, 1, 0)])
    };
    assert!(cheapest_cans(&[nan], &shops(&[0])).is_err());
    assert!(matches!(
        cheapest_cans(&[], &shops(&[1; 11])),
        Err(Refused::TooManyShops { count: 11, most: 10 })
    ));
    let free = cheapest_cans(&[wanted(&[(500, 1)], &[(200, 0, 0), (300, 0, 0)])], &shops(&[0])).unwrap();
    assert_eq!(free.total, Money::ZERO, "cans given away");
}
