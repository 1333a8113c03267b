//! How long learning from the log and pricing take: 29 operations, 600 logged steps, one quote, one ceiling to pay.
//!
//! `cargo bench -p money --bench quote`. The figures are made up by a fixed rule; there is no peer to set beside them.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    missing_docs,
    reason = "a measurement that prints what it finds"
)]

use std::time::Instant;

use money::{Estimate, HourlyRates, Job, Logged, Pricing, Rates, Resale, most_to_pay, quote};
use quantity::{BasisPoints, Minutes, Money};

fn median_us(mut run: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..21)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[10]
}

fn main() {
    let log: Vec<Logged<u8>> = (0..600_u16)
        .map(|idx| Logged {
            operation: u8::try_from(idx % 29).unwrap(),
            planned: Minutes::new(i64::from(10 + idx * 7 % 50)),
            actual: Minutes::new(i64::from(8 + idx * 11 % 70)),
        })
        .collect();
    let rates = Rates::learn(&log);
    let steps: Vec<(u8, Minutes)> = (0..60)
        .map(|idx| (idx % 29, Minutes::new(i64::from(5 + idx))))
        .collect();
    let job = Job {
        materials: Estimate::new(Money::from_minor(9_000), 0.2),
        hands_on: rates.total(&steps),
        purchase: Money::from_minor(3_500),
        rates: HourlyRates {
            wage: Money::from_minor(2_800),
            overhead: Money::from_minor(450),
        },
    };
    let resale = Resale {
        sale: Estimate::new(Money::from_minor(180_000), 0.2),
        selling_share: BasisPoints::from_whole_percent(10),
        selling_cost: Money::from_minor(2_500),
        margin: BasisPoints::from_whole_percent(15),
        loss_chance: 0.1,
    };
    let nothing: [Logged<u8>; 0] = [];
    println!(
        "learn from nothing: {:.0} us",
        median_us(|| drop(Rates::learn(&nothing)))
    );
    println!("learn from 600 steps: {:.0} us", median_us(|| drop(Rates::learn(&log))));
    println!(
        "total of 60 steps: {:.0} us",
        median_us(|| {
            std::hint::black_box(rates.total(&steps));
        })
    );
    println!("quote: {:.0} us", median_us(|| drop(quote(&job, Pricing::Wage))));
    println!("most to pay: {:.0} us", median_us(|| drop(most_to_pay(&job, &resale))));
}
