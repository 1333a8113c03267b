//! The products that exist, against figures worked by hand, and the sources of their constants.

use quantity::{AirChanges, Area, Length, Minutes, Money, Range, Spread, Temperature, Volume, WetFilm};

fn close(got: f64, want: f64, tolerance: f64) {
    assert!(
        (got - want).abs() <= tolerance,
        "{got} is not {want} within {tolerance}"
    );
}

#[test]
fn films_and_rates_meet_worked_examples() {
    // Status READ in the project's reference list G07 to G10 and G13: film and coverage examples of coating notes.
    let um = |dry_mils: f64, solids: f64| quantity::DryFilm::from_mils(dry_mils).wetted(solids).mils();
    close(um(4.0, 0.65), 6.15, 0.01);
    close(um(1.5, 0.42), 3.57, 0.005);
    close(um(6.0, 0.30), 20.0, 0.001);
    close(WetFilm::from_mils(9.2).dried(0.65).mils(), 5.98, 0.005);
    close(Spread::from_m2_per_litre(10.0).wet_film().um(), 100.0, 0.001);
    // G02 and G06: 65 % solids at 125 µm dry is 5.2 m²/L; 37 % solids at one mil is 593 ft²/gal.
    close(
        quantity::DryFilm::from_um(125.0).wetted(0.65).spread().m2_per_litre(),
        5.2,
        0.001,
    );
    close(
        quantity::DryFilm::from_mils(1.0).wetted(0.37).spread().ft2_per_gallon(),
        593.0,
        1.0,
    );
    // G40: 15 % lost from 10 m²/L.
    close(
        Spread::from_m2_per_litre(10.0).after_loss(0.15).m2_per_litre(),
        8.5,
        0.001,
    );
}

#[test]
fn area_by_film_and_by_rate_agree() {
    let top = Length::from_m(1.2) * Length::from_m(0.5);
    let rate = Spread::from_m2_per_litre(8.0);
    close((top * rate.wet_film()).ml(), 75.0, 1e-9);
    close((top / rate).ml(), 75.0, 1e-9);
    close((Volume::from_ml(75.0) * rate).m2(), 0.6, 1e-12);
    close((Volume::from_ml(75.0) / top).um(), 125.0, 1e-9);
    close((top / Volume::from_ml(75.0)).m2_per_litre(), 8.0, 1e-12);
    close((top / Length::from_m(0.5)).m(), 1.2, 1e-12);
}

#[test]
fn air_changes_of_a_room_are_a_flow() {
    let room = Length::from_feet(20.0) * Length::from_feet(20.0) * Length::from_feet(8.0);
    close(room.ft3(), 3200.0, 1e-9);
    close((room * AirChanges::from_per_h(3.0)).cfm(), 160.0, 1e-9);
    close((room * AirChanges::from_per_h(3.0) / room).per_h(), 3.0, 1e-12);
}

#[test]
fn temperatures_have_differences_and_no_sum() {
    let step = Temperature::from_f(68.0) - Temperature::from_f(50.0);
    close(step.k(), 10.0, 1e-9);
    close((Temperature::from_c(5.0) + step).c(), 15.0, 1e-9);
}

#[test]
fn minutes_never_wrap() {
    assert_eq!(Minutes::new(i64::MAX) + Minutes::new(1), Minutes::new(i64::MAX));
    assert_eq!(Minutes::rounded(f64::NAN), Minutes::ZERO);
    assert_eq!(Minutes::rounded_up(90.01), Minutes::new(91));
    assert_eq!(Minutes::from_hours(1.5), Minutes::new(90));
}

#[test]
fn ranges_keep_their_order() {
    assert!(Range::try_new(1.0, 3.0, 2.0).is_err());
    assert!(Range::try_new(1.0, f64::NAN, 2.0).is_err());
    let rate = Range::try_new(8.0, 10.0, 12.0).unwrap();
    let need = rate
        .map(|m2_per_litre| Area::from_m2(2.4) / Spread::from_m2_per_litre(m2_per_litre))
        .reversed();
    close(need.low.ml(), 200.0, 1e-9);
    close(need.high.ml(), 300.0, 1e-9);
    assert!(Range::exactly(Money::ZERO).contains(Money::ZERO));
}

#[test]
fn quantities_are_plain_numbers_in_json_terms() {
    // One f64 in the stored unit: what other crates write to files.
    let text = format!("{:?}", Length::from_mm(250.0));
    assert_eq!(text, "Length(0.25)");
}
