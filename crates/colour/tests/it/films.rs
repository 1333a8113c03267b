use colour::film::{from_two_backings, k_over_s, opaque, over};
use colour::surface::{internal, measured};

use crate::{number, rows};

/// Computed to 40 digits, stated to 12.
#[test]
fn film_over_a_backing_is_the_computed_one() {
    let table = rows(include_str!("../data/km_film.csv"));
    assert_eq!(table.len(), 81);
    for row in &table {
        let [k, s, x, backing] = ["K", "S", "X", "Rg"].map(|column| number(row, column));
        let got = over(k, s, x, backing);
        assert!((got - number(row, "R")).abs() < 1e-10, "{row:?}: {got}");
    }
}

/// SX at which a film has contrast ratio 0.98 over 0 and 0.80.
#[test]
fn hiding_power_is_the_computed_one() {
    for row in rows(include_str!("../data/hiding_SX98.csv")) {
        let (r, sx) = (number(&row, "R_inf"), number(&row, "SX_98"));
        let q = k_over_s(r);
        assert!((opaque(q) - r).abs() < 1e-12);
        let (dark, light) = (over(q, 1.0, sx, 0.0), over(q, 1.0, sx, 0.8));
        assert!((dark - number(&row, "R_over_black")).abs() < 1e-7, "{row:?}: {dark}");
        assert!(
            (light - number(&row, "R_over_white080")).abs() < 1e-7,
            "{row:?}: {light}"
        );
        assert!((dark / light - number(&row, "CR")).abs() < 1e-7);
        let (k, s) = from_two_backings((dark, 0.0), (light, 0.8)).unwrap();
        assert!(
            (s - sx).abs() < 1e-6 * sx && (k - q * sx).abs() < 1e-6 * sx,
            "{row:?}: {k} {s}"
        );
    }
}

#[test]
fn skin_of_the_film_is_the_computed_one() {
    let table = rows(include_str!("../data/saunderson.csv"));
    assert_eq!(table.len(), 27);
    for row in &table {
        let [k1, k2, inside, outside] = ["k1", "k2", "R_internal", "R_measured"].map(|column| number(row, column));
        assert!((measured(inside, k1, k2) - outside).abs() < 1e-9, "{row:?}");
        assert!((internal(outside, k1, k2) - inside).abs() < 1e-8, "{row:?}");
    }
}
