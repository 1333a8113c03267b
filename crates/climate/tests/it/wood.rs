//! Wood moisture against table 4-2 of the Wood Handbook (USDA FPL-GTR-190, 2010).

use climate::{Air, wood};

/// `emc_table_4_2.csv`: relative humidity %, temperature °F, moisture content %, as printed (0.1 points).
#[test]
fn equilibrium_moisture_agrees_with_the_wood_handbook_within_0_06_points() {
    let rows = super::numbers(include_str!("../data/emc_table_4_2.csv"));
    assert_eq!(rows.len(), 193);
    for row in rows {
        let air = Air::from_c((row[1] - 32.0) / 1.8, row[0] / 100.0).unwrap();
        let emc_pct = wood::emc_pct(air);
        assert!((emc_pct - row[2]).abs() <= 0.06, "{row:?} gave {emc_pct:.3}");
    }
}

/// Check G18: the equation's own value at 140 °F (60 °C) and 55 % is 8.4 % (the handbook's example past the table's window).
/// The function stops at 54.4 °C, the fit's edge, and so says a little more.
#[test]
fn beyond_the_fit_the_nearer_edge_is_used() {
    let edge = wood::emc_pct(Air::from_c(54.4, 0.55).unwrap());
    assert!((wood::emc_pct(Air::from_c(60.0, 0.55).unwrap()) - edge).abs() < 1e-12);
    assert!((edge - 8.4).abs() < 0.4);
    // Status READ, tolerance 0.06.
    assert!((wood::equation_pct(60.0, 0.55) - 8.4).abs() <= 0.06);
}

#[test]
fn nothing_moves_above_fibre_saturation() {
    assert!(wood::movement(100.0, 8.0, 60.0, 30.0).abs() < 1e-12);
    assert!(wood::movement(100.0, 8.0, 6.0, 10.0) < 0.0, "taking up moisture swells");
}
