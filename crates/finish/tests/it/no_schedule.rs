//! Wishes that cannot be met: which wish, against what, and the change that frees it.

use finish::{Contaminant, FoundLayer, Limits, Look, NoSchedule, RoomAir, Sheen, Use, Wish, Without, Zone, plan};
use trade::{FinishClass, Species, Substrate};

fn beech() -> Zone {
    Zone::bare("front", Substrate::Solid(Species::Beech))
}

fn refused(zone: &Zone, wish: &Wish, limits: &Limits) -> NoSchedule {
    *plan(zone, wish, limits).expect_err("this wish cannot be met")
}

fn keys(no: &NoSchedule) -> Vec<&str> {
    no.releases.iter().map(|release| release.key.as_str()).collect()
}

#[test]
fn lacquer_without_a_gun_asks_for_a_gun_or_another_class() {
    let wish = Wish {
        class: Some(FinishClass::NitrocelluloseLacquer),
        ..Wish::of(Look::Clear)
    };
    let no = refused(&beech(), &wish, &Limits::default());
    assert!(
        keys(&no).contains(&"class") && keys(&no).contains(&"has_spray_gun"),
        "{no:?}"
    );
}

#[test]
fn spray_class_stands_against_doing_without_spraying() {
    let wish = Wish {
        class: Some(FinishClass::PrecatalysedLacquer),
        without: vec![Without::Spraying],
        ..Wish::of(Look::Clear)
    };
    let limits = Limits {
        has_spray_gun: true,
        ..Limits::default()
    };
    let no = refused(&beech(), &wish, &limits);
    assert_eq!(no.wish, "`without`");
    assert!(
        no.findings.iter().any(|finding| finding.rule == "excluded-by-wish"),
        "{no:?}"
    );
}

#[test]
fn milk_paint_in_gloss_stands_against_its_sheen() {
    let wish = Wish {
        class: Some(FinishClass::MilkPaint),
        sheen: Some(Sheen::Gloss),
        ..Wish::of(Look::Paint)
    };
    let planned = plan(&beech(), &wish, &Limits::default());
    // A gloss clear coat over it gives the sheen; where that is shut out too, the sheen has to give way.
    assert!(planned.is_ok());
    let only = FinishClass::CHOOSABLE
        .iter()
        .copied()
        .filter(|class| *class != FinishClass::MilkPaint && *class != FinishClass::PasteWax);
    let limits = Limits {
        never: only.collect(),
        ..Limits::default()
    };
    let no = refused(&beech(), &wish, &limits);
    assert!(keys(&no).contains(&"sheen"), "{no:?}");
}

#[test]
fn room_too_cold_for_everything_asks_for_warmer_air() {
    let limits = Limits {
        air: Some(RoomAir {
            warmest_c: 3.0,
            driest_rh: 0.6,
        }),
        ..Limits::default()
    };
    let no = refused(&beech(), &Wish::of(Look::Clear), &limits);
    assert_eq!(no.wish, "`room`");
    assert!(
        no.findings.iter().any(|finding| finding.rule == "air-out-of-range"),
        "{no:?}"
    );
}

#[test]
fn shellac_outdoors_stands_against_the_use() {
    let mut zone = beech();
    zone.use_ = Use::Outdoors;
    let wish = Wish {
        class: Some(FinishClass::DewaxedShellac),
        ..Wish::of(Look::Clear)
    };
    let no = refused(&zone, &wish, &Limits::default());
    assert!(keys(&no).contains(&"use") && keys(&no).contains(&"class"), "{no:?}");
}

#[test]
fn oil_over_a_film_that_must_stay_off_asks_for_nothing_when_it_may_be_stripped() {
    let mut zone = beech();
    zone.found = vec![FoundLayer::of(FinishClass::OilBasedPolyurethane)];
    let wish = Wish {
        class: Some(FinishClass::DryingOil),
        ..Wish::of(Look::Clear)
    };
    let schedules = plan(&zone, &wish, &Limits::default()).unwrap();
    assert!(
        schedules.iter().all(|schedule| !schedule.keeps_old_finish),
        "oil cannot soak into a film"
    );
}

#[test]
fn each_release_names_a_wish_or_a_setting_and_is_said_in_words() {
    let mut zone = beech();
    zone.contaminants = vec![Contaminant::Silicone];
    let wish = Wish {
        class: Some(FinishClass::HardwaxOil),
        ..Wish::of(Look::Clear)
    };
    let no = refused(&zone, &wish, &Limits::default());
    assert!(!no.against.is_empty() && !no.releases.is_empty(), "{no:?}");
    for release in &no.releases {
        assert!(
            release.change.contains(' ') && !release.key.contains(' '),
            "{release:?}"
        );
    }
}
