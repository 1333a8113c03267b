//! The room over time: against the closed formulas, and against what opening a door must do.

use hazard::room::{Exposure, Release, concentration_ppm, follow};
use hazard::vapour::{in_room, limits, releases};
use hazard::ventilation::{growth_ppm, purge_min};
use hazard::{Level, Operation, RoomFacts, StepFacts, Ventilation, ZoneFacts};
use trade::solvents::{LimitKind, Substance};
use trade::{FinishClass, PrepClass, Species, Substrate};

use crate::{find, job};

fn toluene(at_min: f64, mass_g: f64, half_life_min: f64) -> Release {
    Release {
        at_min,
        substance: Substance::Toluene,
        mass_g,
        half_life_min,
    }
}

fn toluene_in(room: &RoomFacts, releases: &[Release]) -> Exposure {
    follow(room, releases).exposures[0]
}

fn well_mixed(volume_m3: f64, air_changes_per_h: f64) -> RoomFacts {
    RoomFacts {
        mixing: 1.0,
        ..RoomFacts::steady(volume_m3, air_changes_per_h)
    }
}

#[test]
fn a_release_that_hardly_fades_builds_up_as_the_manual_says() {
    // 1000 ft³ with 100 cfm: six air changes an hour. A source that halves in 2000 hours is steady over ten minutes.
    let room = well_mixed(28.316_846_592, 6.0);
    let release = toluene(0.0, 1e6, 120_000.0);
    let vapour_m3_per_min = 1e6 * std::f64::consts::LN_2 / 120_000.0 / 92.1 * 0.024_14;
    let expected = growth_ppm(vapour_m3_per_min, room.volume_m3 * 6.0 / 60.0, room.volume_m3, 10.0);
    let computed = concentration_ppm(&room, Substance::Toluene, &[release], 10.0);
    assert!(
        (computed / expected - 1.0).abs() < 1e-4,
        "{computed} against {expected}"
    );
}

#[test]
fn once_all_is_gone_the_room_purges_as_the_manual_says() {
    let room = well_mixed(28.316_846_592, 6.0);
    let release = toluene(0.0, 100.0, 1.0);
    let early = concentration_ppm(&room, Substance::Toluene, &[release], 60.0);
    let after = purge_min(room.volume_m3, room.volume_m3 * 6.0 / 60.0, early, early / 10.0);
    let late = concentration_ppm(&room, Substance::Toluene, &[release], 60.0 + after);
    assert!((late / (early / 10.0) - 1.0).abs() < 1e-3, "{late}");
}

#[test]
fn without_any_air_all_of_it_ends_in_the_room() {
    let room = well_mixed(50.0, 0.0);
    let ppm = concentration_ppm(&room, Substance::Toluene, &[toluene(0.0, 92.1, 10.0)], 600.0);
    // One mole, 24.14 L in 50 m³.
    assert!((ppm - 482.8).abs() < 0.1, "{ppm}");
}

#[test]
fn coats_add_up_and_an_opened_door_takes_them_down() {
    let shut = well_mixed(60.0, 0.5);
    let one = toluene_in(&shut, &[toluene(0.0, 50.0, 30.0)]);
    let two = toluene_in(&shut, &[toluene(0.0, 50.0, 30.0), toluene(120.0, 50.0, 30.0)]);
    assert!(two.worst_8_h_ppm > 1.5 * one.worst_8_h_ppm && two.peak_ppm > one.peak_ppm);
    let opened = RoomFacts {
        ventilation: vec![
            Ventilation {
                from_min: 0.0,
                air_changes_per_h: 0.5,
            },
            Ventilation {
                from_min: 90.0,
                air_changes_per_h: 10.0,
            },
        ],
        ..shut.clone()
    };
    let aired = toluene_in(&opened, &[toluene(0.0, 50.0, 30.0), toluene(120.0, 50.0, 30.0)]);
    assert!(
        aired.worst_8_h_ppm < 0.5 * two.worst_8_h_ppm,
        "{} against {}",
        aired.worst_8_h_ppm,
        two.worst_8_h_ppm
    );
    assert!(
        aired.peak_at_min <= 95.0,
        "the worst is over once the door is open: {}",
        aired.peak_at_min
    );
}

#[test]
fn coats_days_apart_do_not_meet() {
    let room = well_mixed(60.0, 1.0);
    let one = toluene_in(&room, &[toluene(0.0, 50.0, 30.0)]);
    let apart = toluene_in(&room, &[toluene(0.0, 50.0, 30.0), toluene(20_000.0, 50.0, 30.0)]);
    assert!((apart.worst_8_h_ppm / one.worst_8_h_ppm - 1.0).abs() < 1e-3);
    assert!((apart.peak_ppm / one.peak_ppm - 1.0).abs() < 1e-3);
}

#[test]
fn a_burst_counts_in_full_whenever_it_falls() {
    // All of it is carried out within the eight hours, so that the mean is what was let go, divided by what carries it out.
    let room = well_mixed(40.0, 12.0);
    let expected_ppm = 30.0 / 92.1 * 0.024_14 / 40.0 * 1e6 / (12.0 / 60.0) / 480.0;
    for at_min in [0.0, 1.3, 2.6, 4.9] {
        let mean_ppm = toluene_in(&room, &[toluene(at_min, 30.0, 1.0)]).worst_8_h_ppm;
        assert!(
            (mean_ppm / expected_ppm - 1.0).abs() < 2e-3,
            "{mean_ppm} against {expected_ppm} at {at_min}"
        );
    }
}

#[test]
fn averages_stand_in_order() {
    let room = well_mixed(60.0, 1.0);
    let exposure = toluene_in(&room, &[toluene(17.0, 80.0, 12.0)]);
    assert!(exposure.peak_ppm >= exposure.worst_15_min_ppm && exposure.worst_15_min_ppm >= exposure.worst_8_h_ppm);
    assert!(exposure.worst_8_h_ppm > 0.0);
}

#[test]
fn limit_by_mass_is_turned_into_one_by_volume() {
    // NIOSH: 350 mg/m³ of mineral spirits, at 140 g/mol 61 ppm.
    let rel = limits(Substance::MineralSpirits)
        .into_iter()
        .find(|limit| limit.kind == LimitKind::Rel)
        .unwrap();
    assert!((rel.ppm - 61.1).abs() < 0.1, "{}", rel.ppm);
}

#[test]
fn waterborne_coat_lets_little_go_and_lacquer_much() {
    let grams = |class: FinishClass| -> f64 {
        let step = StepFacts::new(0, Operation::ClearCoat)
            .with_material(class)
            .with_quantity_l(0.25);
        releases(&step, 0.0).iter().map(|release| release.mass_g).sum()
    };
    // 680 g/L typical, all of it followed.
    assert!((grams(FinishClass::NitrocelluloseLacquer) - 170.0).abs() < 0.1);
    assert!(grams(FinishClass::WaterbornePolyurethane) < 0.15 * grams(FinishClass::NitrocelluloseLacquer));
    assert_eq!(grams(FinishClass::MilkPaint), 0.0);
}

fn oil_varnish_on_a_table(room: RoomFacts, quantity_l: f64) -> Vec<hazard::Told> {
    let zone = ZoneFacts::new("top", Substrate::Solid(Species::HardMaple));
    let step = StepFacts::new(0, Operation::ClearCoat)
        .with_material(FinishClass::OilBasedPolyurethane)
        .with_quantity_l(quantity_l);
    let mut job = job(vec![zone], vec![step]);
    job.room = room;
    hazard::assess(&job)
}

#[test]
fn a_litre_of_varnish_in_a_shut_closet_passes_the_limit_and_a_spoonful_in_a_barn_does_not() {
    let told = oil_varnish_on_a_table(RoomFacts::steady(10.0, 0.3), 1.0);
    let over = find(&told, "vapour-over-limit").unwrap();
    assert_eq!(over.caution.level, Level::Warn);
    assert!(over.caution.text.contains("mineral spirits"), "{}", over.caution.text);
    assert!(over.caution.text.contains("REL"), "{}", over.caution.text);
    assert!(
        find(
            &oil_varnish_on_a_table(RoomFacts::steady(500.0, 4.0), 0.02),
            "vapour-over-limit"
        )
        .is_none()
    );
}

#[test]
fn litres_of_lacquer_in_a_closet_might_ignite() {
    let zone = ZoneFacts::new("top", Substrate::Solid(Species::HardMaple));
    let step = StepFacts::new(0, Operation::Spray)
        .with_material(FinishClass::NitrocelluloseLacquer)
        .with_quantity_l(2.0);
    let mut job = job(vec![zone], vec![step]);
    job.room = RoomFacts::steady(6.0, 0.2);
    let told = hazard::assess(&job);
    assert_eq!(find(&told, "vapour-may-ignite").unwrap().caution.level, Level::Stop);
    job.room = RoomFacts::steady(300.0, 20.0);
    assert!(find(&hazard::assess(&job), "vapour-may-ignite").is_none());
}

#[test]
fn a_burst_passes_the_short_limit_though_the_day_does_not_pass_the_long_one() {
    // Shellac, nearly all ethanol: 1000 ppm for a quarter of an hour was read, and so was the same for eight hours; gone in minutes.
    let zone = ZoneFacts::new("top", Substrate::Solid(Species::HardMaple));
    let coat = |quantity_l: f64| {
        StepFacts::new(0, Operation::Seal)
            .with_material(FinishClass::DewaxedShellac)
            .with_quantity_l(quantity_l)
    };
    let mut job = job(vec![zone], vec![coat(0.4)]);
    job.room = RoomFacts {
        mixing: 1.0,
        ..RoomFacts::steady(30.0, 3.0)
    };
    let told = hazard::assess(&job);
    let text = &find(&told, "vapour-over-short-limit").unwrap().caution.text;
    assert!(text.contains("1000 ppm") && text.contains("ethanol"), "{text}");
    assert!(find(&told, "vapour-over-limit").is_none());
    job.steps = vec![coat(0.03)];
    assert!(find(&hazard::assess(&job), "vapour-over-short-limit").is_none());
}

#[test]
fn recalled_limit_is_not_printed() {
    // 2-butoxyethanol has only recalled limits.
    let zone = ZoneFacts::new("top", Substrate::Solid(Species::HardMaple));
    let step = StepFacts::new(0, Operation::ClearCoat)
        .with_material(FinishClass::WaterbornePolyurethane)
        .with_quantity_l(2.0);
    let mut job = job(vec![zone], vec![step]);
    job.room = RoomFacts::steady(10.0, 0.2);
    let told = hazard::assess(&job);
    let text = &find(&told, "vapour-over-limit").unwrap().caution.text;
    assert!(
        text.contains("not shown") && !text.contains("limit (REL)") && !text.contains("limit (PEL)"),
        "{text}"
    );
}

#[test]
fn vapours_that_are_not_there_together_are_not_added() {
    let room = well_mixed(60.0, 1.0);
    let xylene = |at_min: f64| Release {
        at_min,
        substance: Substance::Xylene,
        mass_g: 50.0,
        half_life_min: 30.0,
    };
    let together = follow(&room, &[toluene(0.0, 50.0, 30.0), xylene(0.0)]);
    let apart = follow(&room, &[toluene(0.0, 50.0, 30.0), xylene(10_000.0)]);
    let alone = follow(&room, &[toluene(0.0, 50.0, 30.0)]);
    assert!((apart.worst_8_h_of_limits / alone.worst_8_h_of_limits - 1.0).abs() < 0.01);
    assert!(together.worst_8_h_of_limits > 1.8 * alone.worst_8_h_of_limits);
    assert!(together.peak_of_explosive > 1.8 * alone.peak_of_explosive);
    assert!(
        (alone.worst_8_h_of_limits - alone.exposures[0].worst_8_h_ppm / 20.0).abs() < 1e-9,
        "toluene is planned at 20 ppm"
    );
}

#[test]
fn only_the_steps_behind_the_worst_hours_are_named() {
    let coat = |at_min: f64, quantity_l: f64| {
        StepFacts::new(0, Operation::ClearCoat)
            .with_material(FinishClass::OilBasedPolyurethane)
            .with_quantity_l(quantity_l)
            .at_min(at_min)
    };
    let steps = [coat(0.0, 0.02), coat(10_000.0, 1.0), coat(20_000.0, 0.02)];
    let told = in_room(&RoomFacts::steady(20.0, 0.5), &steps);
    assert_eq!(find(&told, "vapour-over-limit").unwrap().steps, [1]);
}

#[test]
fn stripper_that_is_scraped_off_lets_go_only_a_part() {
    let grams = |class: PrepClass| -> f64 {
        let step = StepFacts::new(0, Operation::StripChemical)
            .with_material(class)
            .with_quantity_l(1.0);
        releases(&step, 0.0).iter().map(|release| release.mass_g).sum()
    };
    // 200 g/L, three tenths of it NMP, of which 1 - 2^(-45/480) has left by the time it is scraped off.
    assert!((grams(PrepClass::GelStripper) - 60.0 * (1.0 - (-45.0_f64 / 480.0).exp2())).abs() < 1e-9);
    assert_eq!(grams(PrepClass::CausticStripper), 0.0);
}

/// The same room by small steps of a Runge-Kutta scheme that shares nothing with the exact solution: `dm/dt = G(t) - q(t) m`.
fn by_small_steps_g(coats: &[(f64, f64, f64)], exchange_per_min: impl Fn(f64) -> f64, until_min: f64) -> f64 {
    let slope = |at_min: f64, vapour_g: f64| {
        let given_off: f64 = coats
            .iter()
            .filter(|(start, _, _)| at_min >= *start)
            .map(|(start, mass_g, half)| {
                let rate = std::f64::consts::LN_2 / half;
                mass_g * rate * (-rate * (at_min - start)).exp()
            })
            .sum();
        given_off - exchange_per_min(at_min) * vapour_g
    };
    let step = 0.01;
    let (mut at_min, mut vapour_g) = (0.0, 0.0);
    while at_min < until_min - step / 2.0 {
        let first = slope(at_min, vapour_g);
        let second = slope(at_min + step / 2.0, vapour_g + step / 2.0 * first);
        let third = slope(at_min + step / 2.0, vapour_g + step / 2.0 * second);
        let fourth = slope(at_min + step, vapour_g + step * third);
        vapour_g += step / 6.0 * (first + 2.0 * second + 2.0 * third + fourth);
        at_min += step;
    }
    vapour_g
}

#[test]
fn exact_solution_agrees_with_small_steps_over_coats_and_changes_of_air() {
    let room = RoomFacts {
        mixing: 2.0,
        ventilation: vec![
            Ventilation {
                from_min: 0.0,
                air_changes_per_h: 1.0,
            },
            Ventilation {
                from_min: 47.0,
                air_changes_per_h: 12.0,
            },
            Ventilation {
                from_min: 133.0,
                air_changes_per_h: 2.0,
            },
        ],
        ..RoomFacts::steady(40.0, 1.0)
    };
    let coats = [(0.0, 60.0, 25.0), (31.0, 80.0, 8.0), (120.0, 50.0, 40.0)];
    let releases: Vec<Release> = coats
        .iter()
        .map(|(at, mass, half)| toluene(*at, *mass, *half))
        .collect();
    let exchange = |at_min: f64| {
        let per_h = if at_min < 47.0 {
            1.0
        } else if at_min < 133.0 {
            12.0
        } else {
            2.0
        };
        per_h / 60.0 / 2.0
    };
    for until_min in [20.0, 47.0, 90.0, 200.0, 400.0] {
        let expected_ppm = by_small_steps_g(&coats, exchange, until_min) / 92.1 * 0.024_14 / 40.0 * 1e6;
        let computed_ppm = concentration_ppm(&room, Substance::Toluene, &releases, until_min);
        let tolerance = 0.002 * expected_ppm;
        assert!(
            (computed_ppm - expected_ppm).abs() < tolerance,
            "{until_min} min: {computed_ppm} against {expected_ppm}"
        );
    }
}
