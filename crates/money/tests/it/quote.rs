//! The quote and its risk, against closed forms and a simulation that shares no code with it.

use money::{Estimate, HourlyRates, Job, Pricing, Refused, log_sd_of, quote};
use quantity::{BasisPoints, Minutes, Money, Range};

use crate::draws::Draws;
use crate::usd;

fn job(materials_sd: f64, time_sd: f64) -> Job {
    Job {
        materials: Estimate::new(usd("120"), materials_sd),
        hands_on: Estimate::new(Minutes::new(600), time_sd),
        purchase: usd("35"),
        rates: HourlyRates {
            wage: usd("28"),
            overhead: usd("4.50"),
        },
    }
}

#[test]
fn with_all_certain_the_price_is_sure() {
    let quote = quote(&job(0.0, 0.0), Pricing::Margin(BasisPoints::from_whole_percent(20))).unwrap();
    assert_eq!(quote.total, usd("480"), "120 + 280 + 45 + 35");
    assert_eq!(quote.price, usd("600"));
    assert_eq!((quote.price_p10, quote.price_p90), (usd("600"), usd("600")));
    assert_eq!(quote.average_cost, usd("480"));
    assert_eq!(quote.loss_chance, 0.0);
    assert_eq!(
        quote.earned_an_hour,
        usd("40"),
        "600 − 120 − 45 − 35 = 400 in ten hours"
    );
}

#[test]
fn with_only_time_uncertain_the_closed_form_holds() {
    let quote = quote(&job(0.0, 0.3), Pricing::Asked(usd("560"))).unwrap();
    // Loss when 325·e^(0.3 z) > 560 − 155 = 405: z > ln(405/325)/0.3 = 0.73353, a chance of 0.23162 (normal table).
    assert!((quote.loss_chance - 0.23162).abs() < 5e-5, "{}", quote.loss_chance);
    // 155 + 325·e^(±0.3 × 1.281552): 376.25 and 632.37.
    assert_eq!((quote.price_p10, quote.price_p90), (usd("376.26"), usd("632.37")));
    // 155 + 325·e^(0.045) = 494.96.
    assert_eq!(quote.average_cost, usd("494.96"));
}

#[test]
fn the_chances_meet_a_simulation() {
    for (materials_sd, time_sd, seed) in [
        (0.15, 0.25, 1),
        (0.6, 0.1, 2),
        (0.3, 1.2, 3),
        (0.02, 0.02, 4),
        (1.0, 0.01, 5),
    ] {
        let mut draws = Draws::new(seed);
        let mut costs: Vec<f64> = (0..200_000)
            .map(|_| 35.0 + 120.0 * (materials_sd * draws.normal()).exp() + 325.0 * (time_sd * draws.normal()).exp())
            .collect();
        costs.sort_by(f64::total_cmp);
        let price = costs[150_000];
        let quote = quote(
            &job(materials_sd, time_sd),
            Pricing::Asked(Money::nearest(price * 100.0).unwrap()),
        )
        .unwrap();
        assert!(
            (quote.loss_chance - 0.25).abs() < 0.005,
            "{materials_sd} {time_sd}: {}",
            quote.loss_chance
        );
        for (priced, simulated) in [(quote.price_p10, costs[20_000]), (quote.price_p90, costs[180_000])] {
            let priced = priced.minor() as f64 / 100.0;
            assert!((priced / simulated - 1.0).abs() < 0.01, "{priced} and {simulated}");
        }
        let mean = costs.iter().sum::<f64>() / 200_000.0;
        assert!((quote.average_cost.minor() as f64 / 100.0 / mean - 1.0).abs() < 0.02);
    }
}

#[test]
fn a_dearer_price_is_never_riskier() {
    let mut before = 1.0;
    for price in (200..1500).step_by(50) {
        let quote = quote(&job(0.2, 0.3), Pricing::Asked(Money::from_minor(price * 100))).unwrap();
        assert!(quote.loss_chance <= before && quote.loss_chance >= 0.0);
        before = quote.loss_chance;
    }
    assert!(before < 1e-3);
}

#[test]
fn what_cannot_be_reckoned_is_refused() {
    assert_eq!(
        quote(&job(-0.1, 0.2), Pricing::Wage),
        Err(Refused::Uncertainty { log_sd: -0.1 })
    );
    assert!(quote(&job(0.1, f64::NAN), Pricing::Wage).is_err());
    assert!(quote(&job(0.1, 0.1), Pricing::Margin(BasisPoints::ONE)).is_err());
    let negative = Job {
        purchase: Money::from_minor(-1),
        ..job(0.1, 0.1)
    };
    assert_eq!(
        quote(&negative, Pricing::Wage),
        Err(Refused::BelowNothing {
            what: "the purchase price"
        })
    );
    let endless = Job {
        hands_on: Estimate::certain(Minutes::new(i64::MAX)),
        ..job(0.1, 0.1)
    };
    assert!(matches!(quote(&endless, Pricing::Wage), Err(Refused::TooLarge(_))));
}

#[test]
fn a_range_gives_its_spread() {
    let range = Range::new(Minutes::new(60), Minutes::new(90), Minutes::new(135));
    let estimate = Estimate::<Minutes>::of_range(range);
    assert!((90.0 * (1.281_551_6 * estimate.log_sd).exp() - 135.0).abs() < 0.001);
    assert_eq!(log_sd_of(0.0, 5.0), 0.0);
    assert_eq!(log_sd_of(5.0, 5.0), 0.0);
    assert_eq!(log_sd_of(1.0, f64::INFINITY), 0.0);
}
