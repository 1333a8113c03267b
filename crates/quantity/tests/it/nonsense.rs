//! Whatever is typed, there is no panic: a value within its limits, or a worded refusal whose example is itself taken.

use proptest::prelude::*;
use quantity::{
    AirChanges, Area, BasisPoints, Currency, DryFilm, Flow, Humidity, Length, Mass, Minutes, Money, Refusal, Spread,
    Temperature, UnitSystem, Volume, WetFilm,
};

fn is_worded<T>(
    typed: &str,
    refusal: &Refusal,
    parse: impl Fn(&str) -> Result<T, Refusal>,
) -> Result<(), TestCaseError> {
    prop_assert!(
        parse(&refusal.example).is_ok(),
        "{}: the example {} is refused",
        typed,
        refusal.example
    );
    prop_assert!(!refusal.problem.is_empty() && !refusal.expected.is_empty());
    prop_assert!(refusal.typed.chars().count() <= 41);
    prop_assert!(!refusal.to_string().chars().any(char::is_control));
    Ok(())
}

macro_rules! value_or_worded {
    ($typed:expr, $get:ident in $range:expr, $($parse:expr),+) => { $(
        match $parse($typed) {
            Ok(value) => prop_assert!($range.contains(&value.$get()), "{} gave {:?}", $typed, value),
            Err(refusal) => is_worded($typed, &refusal, $parse)?,
        }
    )+ };
}

fn every_door(typed: &str) -> Result<(), TestCaseError> {
    for units in [UnitSystem::Imperial, UnitSystem::Metric] {
        value_or_worded!(typed, m in (0.0..=100.0), Length::parse, |t: &str| Length::parse_in(t, units));
        value_or_worded!(typed, m2 in (0.0..=10_000.0), Area::parse, |t: &str| Area::parse_in(t, units));
        value_or_worded!(typed, m3 in (0.0..=100_000.0), Volume::parse, |t: &str| Volume::parse_in(t, units));
        value_or_worded!(typed, kg in (0.0..=100_000.0), Mass::parse, |t: &str| Mass::parse_in(t, units));
        value_or_worded!(typed, m in (0.0..=0.01), WetFilm::parse, |t: &str| WetFilm::parse_in(t, units));
        value_or_worded!(typed, m in (0.0..=0.01), DryFilm::parse, |t: &str| DryFilm::parse_in(t, units));
        value_or_worded!(typed, m2_per_litre in (0.1..=100.0), Spread::parse, |t: &str| Spread::parse_in(t, units));
        value_or_worded!(typed, m3_per_s in (0.0..=1000.0), Flow::parse, |t: &str| Flow::parse_in(t, units));
        value_or_worded!(typed, c in (-60.0..=700.0), Temperature::parse, |t: &str| Temperature::parse_in(t, units));
    }
    value_or_worded!(typed, per_h in (0.0..=1000.0), AirChanges::parse);
    value_or_worded!(typed, fraction in (0.0..=1.0), Humidity::parse);
    value_or_worded!(typed, basis_points in (0..=10_000), BasisPoints::parse);
    value_or_worded!(typed, get in (0..=3660 * 1440), Minutes::parse);
    for code in ["USD", "JPY", "KWD", "CHF"] {
        let currency = Currency::parse(code).unwrap();
        value_or_worded!(typed, minor in (0..=1_000_000_000_000), |t: &str| Money::parse(t, currency));
    }
    value_or_worded!(typed, decimals in (0..=3), Currency::parse);
    if let Err(refusal) = UnitSystem::parse(typed) {
        is_worded(typed, &refusal, UnitSystem::parse)?;
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn any_text_at_all(typed in any::<String>()) {
        every_door(&typed)?;
    }

    #[test]
    fn text_of_the_right_letters(typed in r#"[-0-9 ./,:'"°%$€½⅛²³a-z]{0,24}"#) {
        every_door(&typed)?;
    }

    #[test]
    fn numbers_and_units_in_any_order(
        parts in prop::collection::vec("[0-9]{1,4}|[0-9]/[0-9]|\\.|,|-| |'|\"|ft|in|m|cm|mm|pt|qt|gal|ml|l|oz|h|min|d|F|C|%|ft2/gal|\\$", 0..9)
    ) {
        every_door(&parts.concat())?;
    }
}

#[test]
fn entries_that_once_looked_dangerous() {
    let entries = [
        ".",
        ",",
        "-",
        "--1",
        "''",
        "1//2",
        "1/2/3",
        "½½",
        "1 ½½ in",
        "0/1 in",
        "²",
        "5²",
        "99999999999999999999 m",
    ];
    for typed in entries {
        every_door(typed).unwrap();
    }
}
