//! Moist air against PsychroLib (ASHRAE Handbook Fundamentals 2017, chapter 1) and worked examples.

use climate::{Air, AirError, air};

/// `moist_air.csv`: 22 rows computed with PsychroLib 2.5; temperatures printed to 0.01 K, pressures to 1 Pa.
#[test]
fn moist_air_agrees_with_psychrolib_within_0_05_k() {
    let rows = super::numbers(include_str!("../data/moist_air.csv"));
    assert_eq!(rows.len(), 22);
    for row in rows {
        let air = Air::from_c(row[0], row[1] / 100.0).unwrap();
        assert!(
            (air.dew_point_c() - row[3]).abs() < 0.05,
            "dew point at {row:?}: {}",
            air.dew_point_c()
        );
        assert!(
            (air.wet_bulb_c() - row[4]).abs() < 0.05,
            "wet bulb at {row:?}: {}",
            air.wet_bulb_c()
        );
        assert!(
            (air.humidity_ratio() * 1000.0 - row[5]).abs() < 0.011,
            "humidity ratio at {row:?}"
        );
        assert!(
            (air.vapour_pressure_pa() - row[6]).abs() < 1.0,
            "vapour pressure at {row:?}"
        );
        assert!((air.deficit_pa() - row[8]).abs() < 1.0, "deficit at {row:?}");
    }
}

/// Check G19: a paint inspection example, dry bulb 21 °C, wet bulb 17 °C, dew point 15 °C read off a chart (tolerance 0.5 K).
#[test]
fn dew_point_from_a_sling_psychrometer() {
    let air = air::from_wet_bulb_c(21.0, 17.0).unwrap();
    assert!((air.dew_point_c() - 15.0).abs() < 0.5);
}

/// Check G20: 16 °C and 71 % have their dew point at 11 °C (tolerance 0.5 K).
#[test]
fn dew_point_of_a_damp_room() {
    assert!((Air::from_c(16.0, 0.71).unwrap().dew_point_c() - 11.0).abs() < 0.5);
}

/// Check G21: 100 °F dry, 65 °F wet bulb: 0.00523 by the chart (ASHRAE Fundamentals, chapter 1, from memory).
#[test]
fn humidity_ratio_of_a_hot_dry_air() {
    let celsius = |f: f64| (f - 32.0) / 1.8;
    let air = air::from_wet_bulb_c(celsius(100.0), celsius(65.0)).unwrap();
    assert!((air.humidity_ratio() - 0.00523).abs() < 6e-5);
}

#[test]
fn heating_a_room_dries_its_air_and_leaves_its_dew_point() {
    let cold = Air::from_c(5.0, 0.85).unwrap();
    let warm = cold.heated_to_c(20.0).unwrap();
    assert!(warm.rh() < 0.35);
    assert!((warm.dew_point_c() - cold.dew_point_c()).abs() < 0.01);
}

#[test]
fn air_that_no_workshop_has_is_refused() {
    assert_eq!(Air::from_c(75.0, 0.5), Err(AirError::Temperature(75.0)));
    assert_eq!(Air::from_c(20.0, 50.0), Err(AirError::Humidity(50.0)));
    assert!(Air::from_c(f64::NAN, 0.5).is_err());
    assert!(Air::from_c(20.0, f64::NAN).is_err());
}
