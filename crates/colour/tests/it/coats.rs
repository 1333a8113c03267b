use colour::coats::{Scrutiny, coats_to_hide_at};
use colour::{Hiding, coats_to_hide};
use quantity::{Spread, WetFilm};

use crate::{lab, number, rows};

/// Invented paints of which the full spectra are known, over eight grounds; here they are known by one colour and one
/// contrast ratio. Exact in 85 % and within one coat in 98 %; 9 stands for more than eight.
#[test]
fn coats_are_counted_as_the_full_spectra_say() {
    let film = WetFilm::from_um(100.0);
    let (mut exact, mut within_one, mut covered) = (0, 0, 0);
    let table = rows(include_str!("../data/coats.csv"));
    for row in &table {
        let hiding = Hiding::ContrastRatio {
            ratio: number(row, "CR_one_coat_black0_white080").min(0.9999),
            at: Spread::from_m2_per_litre(10.0),
        };
        let (old, new) = (
            lab(row, ["L_sub", "a_sub", "b_sub"]),
            lab(row, ["L_full", "a_full", "b_full"]),
        );
        let coats = coats_to_hide(old, new, &hiding, film).unwrap();
        let want: u8 = row["coats_dE1_(9=more_than_8)"].parse().unwrap();
        let got = coats.likely.unwrap_or(9);
        exact += usize::from(got == want);
        within_one += usize::from(got.abs_diff(want) <= 1);
        covered += usize::from(coats.maybe.unwrap_or(9) >= want);
    }
    let share = |n: usize| n * 1000 / table.len();
    println!(
        "exact {} ‰, within one {} ‰, priced enough {} ‰",
        share(exact),
        share(within_one),
        share(covered)
    );
    assert!(share(exact) >= 850, "exact in {} ‰", share(exact));
    assert!(share(within_one) >= 980, "within one in {} ‰", share(within_one));
    // The count to price with is there for this: to be enough.
    assert!(share(covered) >= 950, "enough in {} ‰", share(covered));
}

#[test]
fn coats_at_arms_length_are_counted_as_the_full_spectra_say() {
    let film = WetFilm::from_um(100.0);
    let table = rows(include_str!("../data/coats.csv"));
    let within_one = table
        .iter()
        .filter(|row| {
            let ratio = number(row, "CR_one_coat_black0_white080").min(0.9999);
            let hiding = Hiding::ContrastRatio {
                ratio,
                at: Spread::from_m2_per_litre(10.0),
            };
            let (old, new) = (
                lab(row, ["L_sub", "a_sub", "b_sub"]),
                lab(row, ["L_full", "a_full", "b_full"]),
            );
            let coats = coats_to_hide_at(old, new, &hiding, film, Scrutiny::ArmsLength).unwrap();
            coats.likely.unwrap_or(9).abs_diff(row["coats_dE2"].parse().unwrap()) <= 1
        })
        .count();
    assert!(
        within_one * 1000 >= table.len() * 980,
        "{within_one} of {}",
        table.len()
    );
}
