//! Check values of the trade, each with its source.

use trade::{FinishClass, PrepClass};

const US_PINT_L: f64 = 0.473_176_473;

#[test]
fn a_pint_does_the_outside_of_a_dresser_twice() {
    // Common practice: a dresser of about 2.9 m² outside takes a pint of furniture acrylic for two coats.
    let litres = 2.0 * 2.9 / FinishClass::WaterborneAcrylicEnamel.row().spread_brush_m2_per_l.typical;
    assert!((litres / US_PINT_L - 1.0).abs() < 0.1, "{litres} L");
}

#[test]
fn a_quarter_of_a_pint_does_a_small_bedside_cabinet_twice() {
    // Common practice; such a cabinet shows about 0.7 m².
    let litres = 2.0 * 0.7 / FinishClass::WaterborneAcrylicEnamel.row().spread_brush_m2_per_l.typical;
    assert!((litres / (US_PINT_L / 4.0) - 1.0).abs() < 0.1, "{litres} L");
}

#[test]
fn waits_are_those_of_the_bench() {
    // Common practice.
    let acrylic = FinishClass::WaterborneAcrylicEnamel.row();
    assert!(
        (acrylic.recoat_min_h.typical - 2.0).abs() < 1e-9,
        "two hours between coats"
    );
    assert!(
        (acrylic.full_cure_d.typical - 21.0).abs() < 1e-9,
        "three weeks to full hardness"
    );
    let spray_can = FinishClass::AerosolMetallicEnamel.row();
    assert!(
        (spray_can.recoat_min_h.typical * 60.0 - 5.0).abs() < 0.1,
        "thin coats five minutes apart"
    );
    let dwell = PrepClass::GelStripper.row().dwell_min.expect("a stripper dwells");
    assert!(
        (dwell.typical - 30.0).abs() < 1e-9,
        "gel stripper stays on half an hour"
    );
}

#[test]
fn two_pound_cut_of_shellac_holds_the_solids_of_its_row() {
    // COMPUTED: two pounds of shellac (1.10 kg/L, from memory) in a US gallon of alcohol are 17.9 % by volume, within 0.3.
    let shellac_l = 2.0 * 0.453_592_37 / 1.10;
    let solids_pct: f64 = 100.0 * shellac_l / (shellac_l + 3.785_411_784);
    assert!((solids_pct - 17.9).abs() < 0.3, "{solids_pct}");
    let row = FinishClass::DewaxedShellac.row();
    assert!((row.volume_solids_pct.expect("a film former").typical - solids_pct).abs() < 0.3);
}
