//! Drying factors against the proposal's own table, worked out separately, and against the rule they start from.

use climate::{Air, Airflow, DryModel};
use proptest::prelude::*;

/// `drying.csv`: temperature, humidity, deficit, factor by oxidation, by water (at most 6), by solvent; two decimals.
/// The minimum of 0.5 for water is not in the table's own arithmetic where it shows at all.
#[test]
fn factors_agree_with_the_table_of_the_proposal() {
    let text = include_str!("../data/drying.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut rows = 0;
    for row in reader.records() {
        let row = row.unwrap();
        let number = |field: usize| row[field].parse::<f64>().unwrap();
        let air = Air::from_c(number(0), number(1) / 100.0).unwrap();
        assert!((air.deficit_pa() - number(2)).abs() < 1.0, "{row:?}");
        assert!((DryModel::Oxidative.slowdown(air) - number(3)).abs() < 0.006, "{row:?}");
        assert!(
            (DryModel::Waterborne.slowdown(air) - number(4)).abs() < 0.006,
            "{row:?}"
        );
        assert!((DryModel::Solvent.slowdown(air) - number(5)).abs() < 0.006, "{row:?}");
        rows += 1;
    }
    assert_eq!(rows, 72);
}

/// Coating handbooks: at 10 °C twice as long as at 20 °C, at 30 °C half as long.
#[test]
fn chemistry_doubles_its_speed_every_ten_kelvin() {
    let at = |temp_c| DryModel::Reactive.slowdown(Air::from_c(temp_c, 0.5).unwrap());
    assert!((at(10.0) / at(20.0) - 2.0).abs() < 1e-9);
    assert!((at(30.0) / at(20.0) - 0.5).abs() < 1e-9);
}

#[test]
fn a_draught_hastens_evaporation_only() {
    let air = Air::REFERENCE;
    assert!(
        DryModel::Waterborne.slowdown_in(air, Airflow::GentleFan)
            < DryModel::Waterborne.slowdown_in(air, Airflow::Still)
    );
    let oil = |airflow| DryModel::Oxidative.slowdown_in(air, airflow);
    assert!((oil(Airflow::GentleFan) - oil(Airflow::Still)).abs() < 1e-12);
}

#[test]
fn a_film_twice_as_thick_takes_longer_and_oil_most_of_all() {
    assert!((DryModel::Waterborne.thickness_factor(2.0) - 2.0).abs() < 1e-12);
    assert!(DryModel::Oxidative.thickness_factor(2.0) > 3.0);
    assert!((DryModel::Reactive.thickness_factor(2.0) - 1.0).abs() < 1e-12);
}

proptest! {
    #[test]
    fn colder_is_never_faster(temp_c in 5.0..35.0f64, step in 0.1..10.0f64, rh in 0.1..0.9f64) {
        let warm = Air::from_c(temp_c + step, rh).unwrap();
        let cold = Air::from_c(temp_c, rh).unwrap();
        for model in [DryModel::Solvent, DryModel::Waterborne, DryModel::Oxidative, DryModel::Reactive] {
            prop_assert!(model.slowdown(cold) >= model.slowdown(warm) - 1e-12);
        }
    }
}
