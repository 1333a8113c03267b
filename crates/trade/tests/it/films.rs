//! Solids, films and spreading rates against worked examples of coverage sheets.

use quantity::{Area, DryFilm, WetFilm};
use trade::finish_rows::thinned_solids_pct;
use trade::methods::Method;

fn close(computed: f64, expected: f64, tolerance: f64) {
    assert!(
        (computed - expected).abs() <= tolerance,
        "{computed} against {expected} ± {tolerance}"
    );
}

/// Coverage examples of coating notes and of a marine coverage table (READ): solids, dry film, area a volume.
#[test]
fn spread_follows_from_solids_and_dry_film() {
    // 65 % at 5 mil: 1604 × 0.65 / 5 ft²/gal.
    close(
        DryFilm::from_mils(5.0).wetted(0.65).spread().ft2_per_gallon(),
        208.52,
        0.1,
    );
    close(DryFilm::from_um(125.0).wetted(0.71).spread().m2_per_litre(), 5.7, 0.03);
    close(DryFilm::from_um(75.0).wetted(0.50).spread().m2_per_litre(), 6.7, 0.05);
    close(DryFilm::from_um(125.0).wetted(0.65).spread().m2_per_litre(), 5.2, 0.01);
}

/// Thinning: 25 % cut one to one is 12.5 % (READ); 50 µm dry at 50 %, thinned by a fifth, wants 120 µm wet (formula recalled, MEM).
#[test]
fn thinner_makes_the_wet_film_thicker_for_the_same_dry_one() {
    close(thinned_solids_pct(25.0, 1.0), 12.5, 0.001);
    let wet = DryFilm::from_um(50.0).wetted(thinned_solids_pct(50.0, 0.2) / 100.0);
    close(wet.um(), 120.0, 0.001);
}

/// Two coats of 100 µm wet on 2 m² with two thirds arriving (COMPUTED; transfer efficiency READ, SCAQMD Rule 1136).
#[test]
fn spraying_takes_more_than_the_film_by_what_does_not_arrive() {
    let arrives = Method::Hvlp.row().transfer_efficiency.typical;
    close(arrives, 0.65, 1e-9);
    let litres = 2.0 * (Area::from_m2(2.0) * WetFilm::from_um(100.0)).litres() / arrives;
    close(litres, 0.615, 0.001);
}
