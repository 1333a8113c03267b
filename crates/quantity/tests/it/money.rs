//! Money: exact, refused where it does not fit, and typed back as shown.

use proptest::prelude::*;
use quantity::{BasisPoints, Currency, Money, MoneyOverflow};

fn usd(minor: i64) -> Money {
    Money::from_minor(minor)
}

#[test]
fn the_one_rounding_is_to_the_nearest_with_halves_away_from_zero() {
    assert_eq!(usd(5).share(1, 2), Ok(usd(3)));
    assert_eq!(usd(-5).share(1, 2), Ok(usd(-3)));
    assert_eq!(usd(5).share(-1, 2), Ok(usd(-3)));
    assert_eq!(usd(5).share(1, -2), Ok(usd(-3)));
    assert_eq!(usd(10).share(1, 3), Ok(usd(3)));
    assert_eq!(usd(20).share(1, 3), Ok(usd(7)));
    assert_eq!(usd(-1).share(1, 3), Ok(usd(0)));
    assert_eq!(usd(999).at(BasisPoints::from_whole_percent(50)), Ok(usd(500)));
    assert_eq!(Money::nearest(-2.5), Ok(usd(-3)));
}

#[test]
fn what_does_not_fit_is_refused_and_never_wrapped() {
    assert_eq!(usd(i64::MAX).plus(usd(1)), Err(MoneyOverflow));
    assert_eq!(usd(i64::MIN).minus(usd(1)), Err(MoneyOverflow));
    assert_eq!(usd(i64::MAX).times(2), Err(MoneyOverflow));
    assert_eq!(usd(i64::MAX).share(3, 2), Err(MoneyOverflow));
    assert_eq!(usd(1).share(1, 0), Err(MoneyOverflow));
    assert_eq!(Money::sum([usd(i64::MAX), usd(i64::MAX)]), Err(MoneyOverflow));
    assert_eq!(
        Money::sum([usd(i64::MAX), usd(1), usd(-1)]),
        Ok(usd(i64::MAX)),
        "between, there is room"
    );
    assert_eq!(Money::nearest(f64::NAN), Err(MoneyOverflow));
    assert_eq!(Money::nearest(1e300), Err(MoneyOverflow));
}

#[test]
fn amounts_as_people_type_them() {
    for (typed, minor) in [
        ("24", 2400),
        ("24.00", 2400),
        ("24,5", 2450),
        ("$24", 2400),
        ("$ 24.99", 2499),
        ("24.99 USD", 2499),
        ("usd 24.99", 2499),
        ("1,234", 123_400),
        ("1,234.50", 123_450),
        ("1.234,50", 123_450),
        (".5", 50),
        ("0", 0),
    ] {
        assert_eq!(Money::parse(typed, Currency::USD), Ok(usd(minor)), "{typed}");
    }
    let yen = Currency::parse("JPY").unwrap();
    assert_eq!(Money::parse("¥2,400", yen), Ok(usd(2400)));
    assert_eq!(Money::parse("2400", yen), Ok(usd(2400)));
    let dinar = Currency::parse("KWD").unwrap();
    assert_eq!(Money::parse("2.405", dinar), Ok(usd(2405)));
}

#[test]
fn what_is_no_amount_is_refused_with_the_reason() {
    let problem = |typed: &str| Money::parse(typed, Currency::USD).unwrap_err().problem;
    assert_eq!(problem("-5"), "is below nothing");
    assert_eq!(problem("five"), "has no number in it");
    assert_eq!(problem("24.999"), "has 3 decimals");
    assert_eq!(problem("€24"), "is in another currency than the shop's, USD");
    assert_eq!(problem("24 EUR"), "is in another currency than the shop's, USD");
    assert_eq!(problem("24 bucks"), "has something beside the amount: bucks");
    assert_eq!(problem("2000000000"), "is more than any price");
    assert_eq!(problem("1 2"), "has a number that cannot be read: 1 2");
    let yen = Currency::parse("JPY").unwrap();
    assert_eq!(Money::parse("24.5", yen).unwrap_err().problem, "has 1 decimal");
    assert_eq!(
        Money::parse("x", yen).unwrap_err().expected,
        "an amount in JPY with no decimals up to 1000000000"
    );
    assert_eq!(Currency::parse("XAU").unwrap_err().example, "USD");
}

#[test]
fn amounts_show_in_their_currency() {
    assert_eq!(usd(123_450).show(Currency::USD), "$1,234.50");
    assert_eq!(usd(-5).show(Currency::USD), "-$0.05");
    assert_eq!(usd(2400).show(Currency::parse("JPY").unwrap()), "¥2,400");
    assert_eq!(usd(2400).show(Currency::parse("CHF").unwrap()), "24.00 CHF");
    assert_eq!(usd(i64::MIN).show(Currency::USD), "-$92,233,720,368,547,758.08");
}

proptest! {
    #[test]
    fn an_amount_shown_is_typed_back_exactly(minor in 0_i64..=10_000_000_000, code in "USD|EUR|JPY|CHF|GBP") {
        let currency = Currency::parse(&code).unwrap();
        let amount = usd(minor.min(1_000_000_000 * currency.minor_per_one()));
        prop_assert_eq!(Money::parse(&amount.show(currency), currency), Ok(amount));
    }

    #[test]
    fn shares_of_an_amount_add_up_within_half_a_cent_each(minor in -1_000_000_i64..1_000_000, parts in 1_i64..50) {
        let each = usd(minor).share(1, parts).unwrap();
        prop_assert!((each.minor() * parts - minor).abs() * 2 <= parts);
    }
}
