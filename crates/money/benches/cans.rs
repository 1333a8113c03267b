//! How long the shopping list takes: 200 materials of 12 can sizes in three shops, beside a plain program over money.
//!
//! `cargo bench -p money`. The peer is the textbook one: the most that can be had for each amount of money, cent by cent.
//! It must come to the same total.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    missing_docs,
    reason = "a measurement that prints what it finds"
)]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    reason = "made-up figures of known size"
)]

use std::time::Instant;

use money::{Need, Offer, Shop, Wanted, cheapest_cans};
use quantity::{Money, Volume};

const SIZES_ML: [i64; 12] = [118, 237, 250, 473, 500, 750, 946, 1000, 2500, 3785, 5000, 18_927];

/// Spreads a number over 0..most without any pattern that a size could follow.
fn stirred(seed: u64, most: u64) -> i64 {
    let mut x = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    x ^= x >> 29;
    x = x.wrapping_mul(0xbf58_476d_1ce4_e5b9);
    x ^= x >> 32;
    (x % most) as i64
}

fn material(idx: u64) -> Wanted {
    let offer = |(place, size): (usize, &i64)| {
        // A larger can is cheaper by the litre: price ~ size^0.8, with a tenth of scatter.
        let base = 12.0 * (*size as f64).powf(0.8) * (0.5 + stirred(idx, 100) as f64 / 100.0);
        let price = base as i64 + stirred(idx * 97 + place as u64, (base / 10.0) as u64 + 1);
        Offer {
            size: Volume::from_ml(*size as f64),
            price: Money::from_minor(price),
            shop: place % 3,
        }
    };
    Wanted {
        material: format!("material {idx}"),
        needs: vec![Need {
            volume: Volume::from_ml(stirred(idx * 31 + 7, 8000) as f64),
            in_days: 3,
        }],
        shelf: Vec::new(),
        offers: SIZES_ML.iter().enumerate().map(offer).collect(),
        least_useful: Volume::from_ml(60.0),
    }
}

/// The least cost at which the most that money buys is enough.
fn cent_by_cent(material: &Wanted) -> i64 {
    let need: i64 = material.needs.iter().map(|need| need.volume.ml().round() as i64).sum();
    let mut most = vec![0_i64];
    while most[most.len() - 1] < need {
        let cost = most.len() as i64;
        let held = material
            .offers
            .iter()
            .filter(|offer| offer.price.minor() <= cost)
            .map(|offer| most[(cost - offer.price.minor()) as usize] + offer.size.ml().round() as i64)
            .max();
        most.push(held.unwrap_or(0).max(most[most.len() - 1]));
    }
    most.len() as i64 - 1
}

fn median_ms(mut run: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..9)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[4]
}

fn main() {
    let wanted: Vec<Wanted> = (0..200).map(material).collect();
    let near = [Shop::default(); 3];
    let far = [
        Shop::default(),
        Shop {
            visit: Money::from_minor(900),
        },
        Shop {
            visit: Money::from_minor(1500),
        },
    ];
    let ours = cheapest_cans(&wanted, &near).unwrap().total.minor();
    let peer: i64 = wanted.iter().map(cent_by_cent).sum();
    assert_eq!(ours, peer, "both are exact");
    let ours_ms = median_ms(|| {
        cheapest_cans(&wanted, &near).unwrap();
    });
    let far_ms = median_ms(|| {
        cheapest_cans(&wanted, &far).unwrap();
    });
    let peer_ms = median_ms(|| {
        std::hint::black_box(wanted.iter().map(cent_by_cent).sum::<i64>());
    });
    println!("200 materials x 12 sizes: {ours_ms:.2} ms; with two shops that cost a trip: {far_ms:.2} ms");
    println!(
        "the same cent by cent: {peer_ms:.2} ms, {:.0} times as long",
        peer_ms / ours_ms
    );
}
