//! Tables cover their enums, ranges make sense, ids are unique.

use std::collections::BTreeSet;

use trade::finish_rows::{DryModel, Flammability};
use trade::methods::{Detail, Method};
use trade::solvents::Substance;
use trade::{
    FinishClass, PrepClass, Species, abrasives, finish_rows, law, methods, prep_rows, solvents, species_rows,
    wood_rules,
};

#[test]
fn each_table_has_one_row_for_each_member_in_order() {
    assert!(
        finish_rows::all()
            .iter()
            .map(|row| row.class)
            .eq(FinishClass::EVERY.iter().copied())
    );
    assert!(
        prep_rows::all()
            .iter()
            .map(|row| row.class)
            .eq(PrepClass::EVERY.iter().copied())
    );
    assert!(
        species_rows::all()
            .iter()
            .map(|row| row.species)
            .eq(Species::EVERY.iter().copied())
    );
    assert!(
        methods::all()
            .iter()
            .map(|row| row.method)
            .eq(Method::EVERY.iter().copied())
    );
    assert!(
        methods::details()
            .iter()
            .map(|row| row.detail)
            .eq(Detail::EVERY.iter().copied())
    );
    assert!(
        solvents::all()
            .iter()
            .map(|row| row.substance)
            .eq(Substance::EVERY.iter().copied())
    );
    assert!(
        abrasives::grits()
            .iter()
            .map(|row| row.grit)
            .eq(trade::Grit::EVERY.iter().copied())
    );
    assert!(
        abrasives::steps()
            .iter()
            .map(|row| row.step)
            .eq(abrasives::SandingStep::EVERY.iter().copied())
    );
}

#[test]
fn numbered_tables_run_without_gaps() {
    let numbers = |prefix: char, n: usize| (1..=n).map(|i| format!("{prefix}{i:02}")).collect::<Vec<_>>();
    assert_eq!(
        law::all().iter().map(|row| row.id.clone()).collect::<Vec<_>>(),
        numbers('L', 28)
    );
    assert_eq!(
        wood_rules::all().iter().map(|row| row.id.clone()).collect::<Vec<_>>(),
        numbers('W', 15)
    );
    assert_eq!(
        trade::compat::rules()
            .iter()
            .map(|row| row.id.clone())
            .collect::<Vec<_>>(),
        numbers('C', 28)
    );
    let names: BTreeSet<&str> = law::all()
        .iter()
        .map(|row| row.name.as_str())
        .chain(wood_rules::all().iter().map(|row| row.name.as_str()))
        .chain(trade::compat::rules().iter().map(|row| row.name.as_str()))
        .collect();
    assert_eq!(names.len(), 28 + 15 + 28);
}

#[test]
fn film_formers_state_a_film_that_their_solids_give() {
    for row in finish_rows::all().iter().filter(|row| row.forms_film) {
        let (Some(dry), Some(solids), Some(wet)) = (row.dry_film_um, row.volume_solids_pct, row.wet_film_um) else {
            unreachable!("{} builds a film without figures for it", row.class)
        };
        let expected_um = dry.typical / (solids.typical / 100.0);
        assert!(
            (wet - expected_um).abs() <= 1.0,
            "{}: {wet} against {expected_um}",
            row.class
        );
        if let Some(theory) = row.spread_theory_m2_per_l {
            assert!(
                (theory - 10.0 * solids.typical / dry.typical).abs() <= 0.06,
                "{}: {theory}",
                row.class
            );
            assert!(
                row.spread_brush_m2_per_l.typical <= theory,
                "{}: no brush beats the film",
                row.class
            );
        }
    }
}

#[test]
fn waits_follow_one_another() {
    for row in finish_rows::all() {
        // A spray can is the one that is recoated while still tacky.
        if row.class != FinishClass::AerosolMetallicEnamel {
            assert!(row.touch_h.typical <= row.recoat_min_h.typical, "{}", row.class);
        }
        assert!(
            row.recoat_min_h.typical <= row.full_cure_d.typical * 24.0,
            "{}",
            row.class
        );
        if let Some(light_use_d) = row.light_use_d {
            assert!(light_use_d <= row.full_cure_d.high, "{}", row.class);
        }
        if let Some(window_h) = row.recoat_window_h {
            assert!(
                window_h >= row.recoat_min_h.typical,
                "{}: its recoat window never opens",
                row.class
            );
        }
    }
}

#[test]
fn what_takes_up_oxygen_heats_its_rags() {
    for row in finish_rows::all() {
        let takes_oxygen =
            row.cure.contains(&finish_rows::Cure::Oxidation) && row.class != FinishClass::AerosolMetallicEnamel;
        if row.class.is_choosable() {
            assert_eq!(row.rags_self_heat, takes_oxygen, "{}", row.class);
        }
    }
}

#[test]
fn burning_matches_the_carrier() {
    for row in finish_rows::all() {
        if row.is_waterborne() {
            assert_eq!(row.flammability, Flammability::None, "{}", row.class);
            assert_eq!(row.dry_model, DryModel::Waterborne, "{}", row.class);
        } else {
            assert!(row.burns(), "{}", row.class);
        }
    }
}

#[test]
fn every_stripper_states_its_dwell_and_its_wash() {
    for class in PrepClass::EVERY.iter().filter(|class| class.is_stripper()) {
        assert!(class.row().dwell_min.is_some() && class.row().needs_rinse(), "{class}");
    }
}

#[test]
fn scores_stay_within_their_scale_and_wood_moves_more_along_the_rings() {
    for row in species_rows::all() {
        assert!(row.tannin <= 3 && row.resin <= 3 && row.blotch <= 3, "{}", row.species);
        assert!(row.shrink_radial_pct < row.shrink_tangential_pct, "{}", row.species);
        assert!((300.0..1000.0).contains(&row.density_kg_per_m3), "{}", row.species);
        assert!(
            ["", "I", "II", "III"].contains(&row.paint_class.as_str()),
            "{}",
            row.species
        );
    }
}

#[test]
fn shares_and_factors_stay_shares_and_factors() {
    for row in methods::all() {
        assert!(
            row.transfer_efficiency.low > 0.0 && row.transfer_efficiency.high <= 1.0,
            "{}",
            row.method
        );
    }
    for row in methods::details() {
        assert!(
            row.spray_transfer > 0.0 && row.spray_transfer <= 1.0 && row.brush_time >= 1.0,
            "{}",
            row.detail
        );
    }
}
