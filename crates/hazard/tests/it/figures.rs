//! The ventilation formulas against the worked examples of the manuals.

use hazard::ventilation::{
    Liquid, dilution_cfm, dilution_m3_per_min, growth_ppm, mg_per_m3_to_ppm, ppm_to_mg_per_m3, purge_min,
};

fn close(computed: f64, expected: f64, tolerance: f64) {
    assert!(
        (computed - expected).abs() <= tolerance,
        "{computed} against {expected} ± {tolerance}"
    );
}

/// ACGIH Industrial Ventilation, chapter 2 (examples recalled, MEM; formula READ): methyl chloroform, 1.5 pints in an hour.
#[test]
fn methyl_chloroform_takes_285_cfm_and_five_times_that_when_mixed_badly() {
    let solvent = Liquid {
        specific_gravity: 1.32,
        molar_mass_g_per_mol: 133.4,
    };
    close(dilution_cfm(solvent, 1.5 / 60.0, 350.0, 1.0), 285.0, 1.0);
    close(dilution_cfm(solvent, 1.5 / 60.0, 350.0, 5.0), 1425.0, 6.0);
}

/// ACGIH Industrial Ventilation, combined example (MEM): two pints an hour each of toluene and methyl ethyl ketone, K = 5.
#[test]
fn toluene_and_mek_together_take_ten_thousand_cfm() {
    let toluene = Liquid {
        specific_gravity: 0.866,
        molar_mass_g_per_mol: 92.13,
    };
    let mek = Liquid {
        specific_gravity: 0.805,
        molar_mass_g_per_mol: 72.1,
    };
    let toluene_cfm = dilution_cfm(toluene, 2.0 / 60.0, 100.0, 5.0);
    let mek_cfm = dilution_cfm(mek, 2.0 / 60.0, 200.0, 5.0);
    close(toluene_cfm, 6313.0, 7.0);
    close(mek_cfm, 3750.0, 5.0);
    close(toluene_cfm + mek_cfm, 10_063.0, 10.0);
}

/// COMPUTED: a limit of 20 instead of 100 ppm takes five times the air.
#[test]
fn a_fifth_of_the_limit_takes_five_times_the_air() {
    let toluene = Liquid {
        specific_gravity: 0.866,
        molar_mass_g_per_mol: 92.13,
    };
    close(dilution_cfm(toluene, 2.0 / 60.0, 20.0, 5.0), 31_568.0, 1.0);
}

/// COMPUTED with the build-up formula of the manual: 0.5 cfm of vapour, 100 cfm, 1000 ft³, 10 minutes; 5000 ppm in the end.
#[test]
fn room_fills_towards_its_steady_value() {
    close(growth_ppm(0.5, 100.0, 1000.0, 10.0), 3161.0, 1.0);
    close(growth_ppm(0.5, 100.0, 1000.0, 1e6), 5000.0, 1e-6);
    close(growth_ppm(0.5, 0.0, 1000.0, 10.0), 5000.0, 1e-9);
}

/// COMPUTED with the purge formula (READ): from 1000 to 100 ppm in 1000 ft³ at 100 cfm.
#[test]
fn room_purges_in_twenty_three_minutes() {
    close(purge_min(1000.0, 100.0, 1000.0, 100.0), 23.03, 0.01);
}

/// NIOSH Pocket Guide (READ): 100 ppm of toluene are 375 mg/m³, 1 ppm is 3.77 mg/m³.
#[test]
fn toluene_by_volume_and_by_mass() {
    close(ppm_to_mg_per_m3(100.0, 92.1), 375.0, 3.0);
    close(ppm_to_mg_per_m3(1.0, 92.14), 3.77, 0.005);
    close(mg_per_m3_to_ppm(ppm_to_mg_per_m3(42.0, 92.1), 92.1), 42.0, 1e-9);
}

/// The SI form agrees with the 403 of the imperial one to 0.2 % (a pint is 0.473 L, a cubic foot 0.02832 m³).
#[test]
fn metric_and_imperial_dilution_agree() {
    let toluene = Liquid {
        specific_gravity: 0.866,
        molar_mass_g_per_mol: 92.13,
    };
    let cfm = dilution_cfm(toluene, 2.0 / 60.0, 100.0, 5.0);
    let grams_per_min = 2.0 / 60.0 * 473.176_473 * 0.866;
    let m3_per_min = dilution_m3_per_min(grams_per_min, 92.13, 100.0, 5.0);
    close(m3_per_min / 0.028_316_846_592 / cfm, 1.0, 0.002);
}
