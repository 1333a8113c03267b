//! Definitions and year-bound figures, against the reference list (ids G30 to G36) and hand calculation.

use money::{
    Cost, HourlyRates, Machine, Payback, Refused, for_time, margin_of, markup_of, material_by_count,
    material_by_volume, mileage, payback, price_from_margin, price_from_markup, self_employment_tax,
    straight_line_depreciation,
};
use proptest::prelude::*;
use quantity::{BasisPoints, Minutes, Money, Volume};

use crate::usd;

#[test]
fn g30_and_g31_self_employment_tax_of_a_year() {
    // READ: a worked example after IRS Schedule SE for 2025: 80 000 net gives 11 304 and a deduction of 5 652.
    let tax = self_employment_tax(usd("80000"), 2025).unwrap();
    assert_eq!(tax.total, usd("11303.64"));
    assert_eq!(tax.half_deducted, usd("5651.82"));
    assert_eq!(tax.social_security.plus(tax.medicare).unwrap(), tax.total);
    assert!(!tax.further_medicare_can_apply);
}

#[test]
fn g32_the_social_security_part_stops_at_the_years_base() {
    // READ: base of 2025 176 100, of which 12.4 % is 21 836.40.
    let tax = self_employment_tax(usd("300000"), 2025).unwrap();
    assert_eq!(tax.social_security, usd("21836.40"));
    assert_eq!(tax.medicare, usd("8034.45"), "300 000 × 0.9235 × 0.029");
    assert!(tax.further_medicare_can_apply);
}

#[test]
fn a_base_that_is_only_remembered_is_not_used() {
    let below = self_employment_tax(usd("80000"), 2026).unwrap();
    assert_eq!(below.total, usd("11303.64"), "far below any base on record");
    let refused = self_employment_tax(usd("195000"), 2026).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the contribution and benefit base for 2026 is not at hand; look it up at the Social Security Administration"
    );
    assert!(
        self_employment_tax(usd("80000"), 2024).is_err(),
        "older than the figures"
    );
    assert_eq!(
        self_employment_tax(usd("400"), 2025).unwrap().total,
        Money::ZERO,
        "369.40 is below the least taxed"
    );
}

#[test]
fn g33_mileage_of_the_year() {
    // READ: 72.5 cents a mile in 2026, 70 cents in 2025.
    assert_eq!(mileage(100, 2026).unwrap(), usd("72.50"));
    assert_eq!(mileage(1, 2026).unwrap(), usd("0.73"), "72.5 cents, rounded once");
    assert_eq!(mileage(100, 2025).unwrap(), usd("70.00"));
    assert!(matches!(
        mileage(100, 2031),
        Err(Refused::AskTheSource { year: 2031, .. })
    ));
}

#[test]
fn g34_and_g35_margin_and_markup() {
    assert_eq!(
        margin_of(usd("100"), usd("150")).unwrap(),
        BasisPoints::from_basis_points(3333)
    );
    assert_eq!(
        markup_of(usd("100"), usd("150")).unwrap(),
        BasisPoints::from_whole_percent(50)
    );
    assert_eq!(
        price_from_margin(usd("240"), BasisPoints::from_whole_percent(40)).unwrap(),
        usd("400")
    );
    assert_eq!(
        price_from_markup(usd("100"), BasisPoints::from_whole_percent(50)).unwrap(),
        usd("150")
    );
    assert_eq!(
        price_from_margin(usd("240"), BasisPoints::ONE).unwrap_err().to_string(),
        "a margin of 100 % leaves nothing of the price for the cost; take less than 100 %, for example 40 %"
    );
    assert_eq!(
        margin_of(usd("150"), usd("100")).unwrap(),
        BasisPoints::from_whole_percent(-50)
    );
    assert!(margin_of(usd("100"), Money::ZERO).is_err());
}

#[test]
fn g36_straight_line_depreciation() {
    assert_eq!(
        straight_line_depreciation(usd("1200"), usd("200"), 5).unwrap(),
        usd("200")
    );
    assert!(straight_line_depreciation(usd("1200"), usd("200"), 0).is_err());
    assert!(straight_line_depreciation(usd("1200"), usd("1300"), 5).is_err());
}

#[test]
fn a_sprayer_pays_for_itself_in_pieces() {
    // By hand: saves 45 min at 32.50 = 24.38 (24.375), less 6.00 more paint and 2.50 to clean: 15.88 a piece;
    // 1200 − 200 = 1000, and 1000 / 15.88 = 62.97, so with the 63rd piece.
    let sprayer = Machine {
        cost: usd("1200"),
        salvage: usd("200"),
        saves_time: Minutes::new(45),
        saves_materials: Money::from_minor(-600),
        running_cost: usd("2.50"),
    };
    let rates = HourlyRates {
        wage: usd("28"),
        overhead: usd("4.50"),
    };
    assert_eq!(
        payback(&sprayer, rates),
        Ok(Payback::Pieces {
            count: 63,
            saved_on_each: usd("15.88")
        })
    );
    let idle = Machine {
        saves_time: Minutes::new(10),
        ..sprayer
    };
    assert_eq!(
        payback(&idle, rates),
        Ok(Payback::Never {
            saved_on_each: Money::from_minor(542 - 850)
        })
    );
    let free = Machine {
        salvage: usd("1500"),
        ..sprayer
    };
    assert_eq!(
        payback(&free, rates),
        Ok(Payback::Pieces {
            count: 0,
            saved_on_each: usd("15.88")
        })
    );
}

#[test]
fn lines_by_quantity_and_time() {
    let quart = Volume::from_us_quarts(1.0);
    assert_eq!(
        material_by_volume(usd("24"), quart, Volume::from_us_pints(1.0)).unwrap(),
        usd("12")
    );
    assert_eq!(material_by_count(usd("19.99"), 50, 3).unwrap(), usd("1.20"));
    assert_eq!(for_time(usd("28"), Minutes::new(50)).unwrap(), usd("23.33"));
    assert_eq!(
        material_by_volume(usd("24"), Volume::ZERO, quart).unwrap_err(),
        Refused::Nothing {
            what: "the size of a can"
        }
    );
    assert!(material_by_volume(usd("24"), quart, Volume::from_ml(-1.0)).is_err());
    assert!(material_by_volume(usd("24"), quart, Volume::from_ml(f64::NAN)).is_err());
    assert!(for_time(usd("28"), Minutes::new(-1)).is_err());
    let huge = HourlyRates {
        wage: Money::from_minor(i64::MAX),
        overhead: Money::ZERO,
    };
    assert!(matches!(
        Cost::of(Money::ZERO, Minutes::new(90), huge, Money::ZERO),
        Err(Refused::TooLarge(_))
    ));
}

proptest! {
    #[test]
    fn the_margin_of_a_price_from_a_margin_is_that_margin(cost in 100_000_i64..100_000_000, points in 0_i64..9000) {
        let margin = BasisPoints::from_basis_points(points);
        let price = price_from_margin(Money::from_minor(cost), margin).unwrap();
        let back = margin_of(Money::from_minor(cost), price).unwrap();
        prop_assert!((back.basis_points() - points).abs() <= 1);
    }

    #[test]
    fn lines_add_up_to_the_total(
        materials in 0_i64..10_000_000, minutes in 0_i64..100_000, wage in 0_i64..100_000, purchase in 0_i64..10_000_000
    ) {
        let rates = HourlyRates { wage: Money::from_minor(wage), overhead: Money::from_minor(wage / 7) };
        let cost = Cost::of(Money::from_minor(materials), Minutes::new(minutes), rates, Money::from_minor(purchase)).unwrap();
        let by_hand = materials + purchase + (2 * wage * minutes + 60) / 120 + (2 * (wage / 7) * minutes + 60) / 120;
        prop_assert_eq!(cost.total().unwrap().minor(), by_hand);
    }
}
