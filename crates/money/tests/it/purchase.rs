//! The most to pay for a piece, against hand calculation and simulation.

use money::{Estimate, HourlyRates, Job, Refused, Resale, most_to_pay};
use quantity::{BasisPoints, Minutes, Money};

use crate::draws::Draws;
use crate::usd;

fn job(materials_sd: f64, time_sd: f64) -> Job {
    Job {
        materials: Estimate::new(usd("40"), materials_sd),
        hands_on: Estimate::new(Minutes::new(360), time_sd),
        purchase: Money::ZERO,
        rates: HourlyRates {
            wage: usd("28"),
            overhead: usd("4.50"),
        },
    }
}

fn resale(sale_sd: f64) -> Resale {
    Resale {
        sale: Estimate::new(usd("480"), sale_sd),
        selling_share: BasisPoints::from_whole_percent(10),
        selling_cost: usd("25"),
        margin: BasisPoints::from_whole_percent(15),
        loss_chance: 0.1,
    }
}

#[test]
fn with_all_certain_the_margin_decides() {
    let most = most_to_pay(&job(0.0, 0.0), &resale(0.0)).unwrap();
    // 480 × 0.75 − 25 − 40 − 168 − 27 = 100; without the margin 480 × 0.9 − 260 = 172.
    assert_eq!(most.by_margin, usd("100"));
    assert!((most.by_risk.minor() - 17_200).abs() <= 1, "{:?}", most.by_risk);
    assert_eq!(most.amount, usd("100"));
}

#[test]
fn paying_the_ceiling_by_risk_loses_as_often_as_said() {
    for (materials_sd, time_sd, sale_sd, seed) in [(0.2, 0.3, 0.2, 1), (0.0, 0.0, 0.25, 2), (0.3, 0.6, 0.05, 3)] {
        let most = most_to_pay(&job(materials_sd, time_sd), &resale(sale_sd)).unwrap();
        let paid = most.by_risk.minor() as f64 / 100.0;
        let mut draws = Draws::new(seed);
        let lost = (0..100_000)
            .filter(|_| {
                let sale = 0.9 * 480.0 * (sale_sd * draws.normal()).exp();
                let materials = 40.0 * (materials_sd * draws.normal()).exp();
                let time = 195.0 * (time_sd * draws.normal()).exp();
                sale - 25.0 - materials - time - paid < 0.0
            })
            .count();
        assert!((9_600..=10_400).contains(&lost), "{lost} of 100000 lose at {paid}");
    }
}

#[test]
fn a_piece_that_cannot_pay_says_so_with_an_amount_below_nothing() {
    let long = Job {
        hands_on: Estimate::new(Minutes::new(1200), 0.3),
        ..job(0.2, 0.3)
    };
    assert!(most_to_pay(&long, &resale(0.2)).unwrap().amount < Money::ZERO);
}

#[test]
fn shares_that_leave_nothing_and_chances_that_are_none_are_refused() {
    let greedy = Resale {
        margin: BasisPoints::from_whole_percent(95),
        ..resale(0.2)
    };
    assert!(matches!(
        most_to_pay(&job(0.2, 0.3), &greedy),
        Err(Refused::MarginTooHigh { .. })
    ));
    let sure = Resale {
        loss_chance: 0.0,
        ..resale(0.2)
    };
    assert_eq!(most_to_pay(&job(0.2, 0.3), &sure), Err(Refused::Chance { chance: 0.0 }));
    assert!(
        most_to_pay(
            &job(0.2, 0.3),
            &Resale {
                loss_chance: f64::NAN,
                ..resale(0.2)
            }
        )
        .is_err()
    );
}
