use colour::harmony::harmony;

use crate::{lab, number, rows};

/// Computed from the published equations, given to six digits.
#[test]
fn pairs_have_the_published_score() {
    let table = rows(include_str!("../data/harmony.csv"));
    assert_eq!(table.len(), 30);
    for row in &table {
        let got = harmony(lab(row, ["L1", "a1", "b1"]), lab(row, ["L2", "a2", "b2"]));
        for (value, column) in [(got.score, "CH"), (got.by_chroma, "HC"), (got.by_lightness, "HL")] {
            assert!(
                (value - number(row, column)).abs() < 2e-6,
                "{column}: {value} in {row:?}"
            );
        }
    }
}
