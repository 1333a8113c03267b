use colour::{Lab, Light, Spectrum, Srgb, Xyz, difference};

use crate::{lab, number, rows};

/// Sharma, Wu, Dalal 2005, table 1, every second pair; 1e-4.
#[test]
fn difference_is_that_of_the_published_pairs() {
    let table = rows(include_str!("../data/ciede2000.csv"));
    assert_eq!(table.len(), 17);
    for row in &table {
        let (one, other) = (lab(row, ["L1", "a1", "b1"]), lab(row, ["L2", "a2", "b2"]));
        let want = number(row, "dE00");
        let (got, back) = (difference(one, other), difference(other, one));
        assert!((got - want).abs() < 1e-4, "pair {}: {got} for {want}", row["pair"]);
        assert!((got - back).abs() < 1e-9, "pair {} is not symmetric", row["pair"]);
    }
}

/// Ten more from three places; to the digits they are given with.
#[test]
fn difference_is_that_of_pairs_from_elsewhere() {
    for row in rows(include_str!("../data/ciede2000_extra.csv")) {
        let got = difference(lab(&row, ["L1", "a1", "b1"]), lab(&row, ["L2", "a2", "b2"]));
        let digits = row["dE00"].split('.').nth(1).map_or(0, str::len).min(4);
        let tolerance = 1.05 * 10_f64.powi(-i32::try_from(digits).unwrap());
        assert!((got - number(&row, "dE00")).abs() < tolerance, "{row:?}: {got}");
    }
}

/// White points of CIE 15 by chromaticity, as the table's author used them.
fn d65() -> Xyz {
    Xyz {
        x: 0.3127 / 0.329,
        y: 1.0,
        z: (1.0 - 0.3127 - 0.329) / 0.329,
    }
}

#[test]
fn spaces_turn_into_one_another_as_published() {
    let mut seen = 0;
    for row in rows(include_str!("../data/lab_xyz_srgb.csv")) {
        let [a, b, c] = ["in1", "in2", "in3"].map(|column| number(&row, column));
        let screen = || Srgb::new(whole(a), whole(b), whole(c));
        let got = match row["conversion"].as_str() {
            "XYZ_to_Lab" => {
                let lab = Xyz { x: a, y: b, z: c }.to_lab(d65());
                [lab.l, lab.a, lab.b]
            }
            "sRGB_to_Lab" => {
                let lab = screen().to_lab();
                [lab.l, lab.a, lab.b]
            }
            "sRGB_to_XYZ" => {
                let xyz = screen().to_lab().to_xyz(Light::Day.white());
                [xyz.x, xyz.y, xyz.z]
            }
            "sRGB_to_LabD50_Bradford" => {
                let lab = screen().to_lab().to_print_reading();
                [lab.l, lab.a, lab.b]
            }
            other => panic!("no such conversion: {other}"),
        };
        seen += 1;
        for (value, column) in got.iter().zip(["out1", "out2", "out3"]) {
            assert!(
                (value - number(&row, column)).abs() < number(&row, "tol"),
                "{row:?}: {got:?}"
            );
        }
    }
    assert_eq!(seen, 27);
}

fn whole(value: f64) -> u8 {
    (0..=255).find(|v| (f64::from(*v) - value).abs() < 1e-9).unwrap()
}

/// Chart spectra under both lights. The table's Lab were computed from unrounded spectra and the rounded whites, ours from
/// four digits and our own whites: 0.02. Source: `astm-e308`.
#[test]
fn chart_spectra_have_their_colour_in_both_lights() {
    let table = rows(include_str!("../data/spectra24.csv"));
    assert_eq!(table.len(), 12);
    for row in &table {
        let spectrum = chart(row);
        for (light, columns) in [
            (Light::Day, ["L_D65", "a_D65", "b_D65"]),
            (Light::Lamp, ["L_A", "a_A", "b_A"]),
        ] {
            let (got, want) = (spectrum.lab(light), lab(row, columns));
            let off = (got.l - want.l)
                .abs()
                .max((got.a - want.a).abs())
                .max((got.b - want.b).abs());
            assert!(off < 0.02, "{} {light:?}: {got:?} for {want:?}", row["name"]);
        }
    }
}

fn chart(row: &crate::Row) -> Spectrum {
    Spectrum(std::array::from_fn(|i| number(row, &format!("R{}", 400 + 10 * i))))
}

/// A smoothest spectrum is exact in the light it was made for, and near the truth in the other: the chart's under lamp
/// light within 3, half of them within 1.2.
#[test]
fn a_spectrum_made_from_three_numbers_is_exact_by_day_and_near_by_lamp() {
    let mut apart = Vec::new();
    for row in rows(include_str!("../data/spectra24.csv")) {
        let truth = chart(&row);
        let made = Spectrum::smoothest(truth.lab(Light::Day)).unwrap();
        assert!(difference(made.lab(Light::Day), truth.lab(Light::Day)) < 1e-6);
        apart.push(difference(made.lab(Light::Lamp), truth.lab(Light::Lamp)));
    }
    apart.sort_by(f64::total_cmp);
    assert!(
        apart[apart.len() / 2] < 1.2 && apart[apart.len() - 1] < 3.0,
        "{apart:?}"
    );
}

#[test]
fn a_grey_under_a_lamp_stays_grey() {
    let grey = Spectrum::smoothest(Lab::new(60.0, 0.0, 0.0)).unwrap().lab(Light::Lamp);
    assert!(grey.chroma() < 1e-3, "{grey:?}");
}
