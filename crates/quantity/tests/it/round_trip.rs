//! `parse(show(x))` is `x` to the shown precision, in both systems.

use proptest::prelude::*;
use quantity::{
    AirChanges, Area, BasisPoints, DryFilm, Flow, Humidity, Length, Mass, Minutes, Spread, Temperature, UnitSystem,
    Volume, WetFilm,
};

const SYSTEMS: [UnitSystem; 2] = [UnitSystem::Imperial, UnitSystem::Metric];

/// What is shown reads back within `absolute` (half the coarsest step shown at that size), and shows the same again.
macro_rules! reads_back {
    ($type:ident, $value:expr, $get:ident, $absolute:expr) => {
        for units in SYSTEMS {
            let shown = $value.show(units);
            let back = $type::parse(&shown).map_err(|refusal| TestCaseError::fail(refusal.to_string()))?;
            let off = (back.$get() - $value.$get()).abs();
            prop_assert!(
                off <= $absolute(units) * 1.000_001,
                "{:?} shown as {} is off by {}",
                $value,
                shown,
                off
            );
            prop_assert_eq!(back.show(units), shown);
        }
    };
}

proptest! {
    #[test]
    fn lengths(m in prop_oneof![0.0..0.01, 0.0..0.4, 0.0..4.0, 0.0..99.99_f64]) {
        let length = Length::from_m(m);
        let half_step = |units| match units {
            UnitSystem::Imperial if length.inches() < 1.0 / 16.0 => 0.0005 * 25.4,
            UnitSystem::Imperial => 25.4 / 32.0,
            UnitSystem::Metric if length.mm() < 99.0 => 0.05,
            UnitSystem::Metric if length.m() < 9.9 => 0.5,
            UnitSystem::Metric => 5.0,
        };
        reads_back!(Length, length, mm, half_step);
    }

    #[test]
    fn areas(m2 in prop_oneof![0.0..0.2, 0.0..20.0, 0.0..9999.0_f64]) {
        let area = Area::from_m2(m2);
        let half_step = |units| match units {
            UnitSystem::Imperial if area.ft2() < 0.5 => 0.05 * 6.4516,
            UnitSystem::Imperial => 0.05 * 929.0304,
            UnitSystem::Metric if m2 < 0.1 => 0.5,
            UnitSystem::Metric => 50.0,
        };
        reads_back!(Area, area, cm2, half_step);
    }

    #[test]
    fn volumes(litres in prop_oneof![0.0..0.02, 0.0..1.0, 0.0..6.0, 0.0..99_000_000.0_f64]) {
        let volume = Volume::from_litres(litres);
        let half_step = |units| match units {
            UnitSystem::Imperial => match volume.us_fluid_ounces() {
                ounces if ounces < 1.0 => 0.005 * 29.573_529_6,
                ounces if ounces < 15.75 => 0.05 * 29.573_529_6,
                ounces if ounces < 31.0 => 473.176_473 / 16.0,
                ounces if ounces < 126.0 => 946.352_946 / 16.0,
                ounces if ounces < 12_792.0 => 3_785.411_784 / 16.0,
                _ => 14_158.43,
            },
            UnitSystem::Metric if litres < 0.01 => 0.05,
            UnitSystem::Metric if litres < 0.999 => 0.5,
            UnitSystem::Metric if litres < 999.0 => 5.0,
            UnitSystem::Metric => 50_000.0,
        };
        reads_back!(Volume, volume, ml, half_step);
    }

    #[test]
    fn masses(kg in prop_oneof![0.0..1.0, 0.0..1000.0_f64]) {
        let mass = Mass::from_kg(kg);
        reads_back!(Mass, mass, g, |units| match units {
            UnitSystem::Imperial => 14.175,
            UnitSystem::Metric => 5.0,
        });
    }

    #[test]
    fn films_rates_and_flows(um in 0.0..9000.0_f64, rate in 0.15..99.0_f64, cfm in 0.0..100_000.0_f64) {
        reads_back!(WetFilm, WetFilm::from_um(um), um, |_| 1.27);
        reads_back!(DryFilm, DryFilm::from_um(um), um, |_| 1.27);
        reads_back!(Spread, Spread::from_m2_per_litre(rate), m2_per_litre, |_| 0.05);
        reads_back!(Flow, Flow::from_cfm(cfm), cfm, |_| 0.5);
    }

    #[test]
    fn temperatures(c in -59.0..690.0_f64) {
        reads_back!(Temperature, Temperature::from_c(c), c, |units| match units {
            UnitSystem::Imperial => 0.5 / 1.8,
            UnitSystem::Metric => 0.05,
        });
    }

    #[test]
    fn times_exactly(minutes in 0_i64..=3660 * 1440) {
        let time = Minutes::new(minutes);
        prop_assert_eq!(Minutes::parse(&time.to_string()), Ok(time));
    }

    #[test]
    fn shares(fraction in 0.0..=1.0_f64, points in 0_i64..=10_000, per_h in 0.0..900.0_f64) {
        let humidity = Humidity::from_fraction(fraction);
        let back = Humidity::parse(&humidity.to_string()).unwrap();
        prop_assert!((back.percent() - humidity.percent()).abs() <= 0.500_001);
        let rate = BasisPoints::from_basis_points(points);
        prop_assert_eq!(BasisPoints::parse(&rate.to_string()), Ok(rate));
        let changes = AirChanges::from_per_h(per_h);
        prop_assert!((AirChanges::parse(&changes.to_string()).unwrap().per_h() - per_h).abs() <= 0.005_001);
    }
}

#[test]
fn shown_as_the_trade_says_it() {
    let imperial = |typed: &str| Length::parse(typed).unwrap().show(UnitSystem::Imperial);
    assert_eq!(imperial("18.75 in"), "18 3/4\"");
    assert_eq!(imperial("1.2 m"), "47 1/4\"");
    assert_eq!(imperial("12 ft 6 1/2 in"), "12' 6 1/2\"");
    assert_eq!(imperial("119.99 in"), "10'");
    assert_eq!(imperial("0.5 mm"), "0.02\"");
    let both = |typed: &str| {
        let volume = Volume::parse(typed).unwrap();
        (volume.show(UnitSystem::Imperial), volume.show(UnitSystem::Metric))
    };
    assert_eq!(both("1 pt"), ("1 pt".into(), "473 ml".into()));
    assert_eq!(both("4 oz"), ("4 fl oz".into(), "118 ml".into()));
    assert_eq!(both("1 l"), ("1 qt".into(), "1 L".into()));
    assert_eq!(both("3200 ft3"), ("3200 ft³".into(), "90.6 m³".into()));
    assert_eq!(Length::from_mm(465.0).show(UnitSystem::Metric), "46.5 cm");
    assert_eq!(Length::from_m(f64::NAN).show(UnitSystem::Metric), "unknown");
    assert_eq!(Temperature::from_c(-0.04).show(UnitSystem::Metric), "0 °C");
    assert_eq!(Spread::from_ft2_per_gallon(300.0).show(UnitSystem::Metric), "7.4 m²/L");
    assert_eq!(Minutes::new(-150).to_string(), "-2 h 30 min");
}
