//! The shop's own figures count: its products, its prices, its tools, the colours it covers.

use finish::{BestAt, CoatsToHide, FinishingSchedule, FoundLayer, Limits, Look, Product, Wish, Zone, plan};
use trade::{FinishClass, Operation, Species, Substrate};

fn front() -> Zone {
    let mut zone = Zone::bare("front", Substrate::Solid(Species::Beech));
    zone.found = vec![FoundLayer::of(FinishClass::AlkydEnamel)];
    zone
}

fn acrylic(name: &str) -> Product {
    Product {
        name: name.to_owned(),
        class: FinishClass::WaterborneAcrylicEnamel.into(),
        spread_m2_per_l: Some(8.0),
        volume_solids: None,
        thinner_share: None,
        touch_min: Some(30),
        recoat_min_min: Some(60),
        recoat_max_min: None,
        full_cure_min: Some(14 * 24 * 60),
        coats: None,
        price_minor_per_l: Some(1_000),
    }
}

fn acrylic_wish() -> Wish {
    Wish {
        class: Some(FinishClass::WaterborneAcrylicEnamel),
        ..Wish::of(Look::Paint)
    }
}

fn count(schedule: &FinishingSchedule, operation: Operation) -> usize {
    schedule.steps.iter().filter(|step| step.operation == operation).count()
}

#[test]
fn label_of_the_product_beats_the_class() {
    let limits = Limits {
        products: vec![acrylic("our white")],
        ..Limits::default()
    };
    let schedule = plan(&front(), &acrylic_wish(), &limits).unwrap().remove(0);
    let paints: Vec<_> = schedule
        .steps
        .iter()
        .filter(|step| step.operation == Operation::Paint)
        .collect();
    assert_eq!(paints[0].product.as_deref(), Some("our white"));
    assert_eq!(paints[0].wait.unwrap().min_min, 60);
    assert_eq!(paints[0].tack_free_min, Some(30));
    assert_eq!(paints[1].wait.unwrap().min_min, 14 * 24 * 60);
    // 1 m² at 8 m²/L.
    assert!((paints[0].quantity.as_ref().unwrap().ml.typical - 125.0).abs() < 0.5);
}

#[test]
fn product_named_in_the_wish_is_taken_before_the_first_of_its_class() {
    let second = Product {
        recoat_min_min: Some(240),
        ..acrylic("the old tin")
    };
    let limits = Limits {
        products: vec![acrylic("our white"), second],
        ..Limits::default()
    };
    let wish = Wish {
        product: Some("the old tin".to_owned()),
        ..acrylic_wish()
    };
    let schedule = plan(&front(), &wish, &limits).unwrap().remove(0);
    let paint = schedule
        .steps
        .iter()
        .find(|step| step.operation == Operation::Paint)
        .unwrap();
    assert_eq!(
        (paint.product.as_deref(), paint.wait.unwrap().min_min),
        (Some("the old tin"), 240)
    );
}

#[test]
fn dearer_materials_make_a_dearer_schedule_by_their_millilitres() {
    let cheap = Limits {
        products: vec![acrylic("tin")],
        ..Limits::default()
    };
    let dear = Product {
        price_minor_per_l: Some(9_000),
        ..acrylic("tin")
    };
    let dear = Limits {
        products: vec![dear],
        ..Limits::default()
    };
    let cost = |limits: &Limits| {
        plan(&front(), &acrylic_wish(), limits).unwrap()[0]
            .measures
            .materials_minor
    };
    // Two coats of 125 mL at 80.00 a litre more.
    assert!((cost(&dear) - cost(&cheap) - 2_000).abs() <= 1);
}

#[test]
fn colour_that_covers_badly_gets_more_coats_and_a_primer_may_spare_them() {
    let hide = CoatsToHide {
        over_found: 4,
        over_primer: 2,
    };
    let limits = Limits {
        coats_to_hide: Some(hide),
        ..Limits::default()
    };
    let wish = Wish {
        class: Some(FinishClass::AlkydEnamel),
        ..Wish::of(Look::Paint)
    };
    let schedules = plan(&front(), &wish, &limits).unwrap();
    for schedule in &schedules {
        let wanted = if count(schedule, Operation::Prime) > 0 { 2 } else { 4 };
        assert_eq!(count(schedule, Operation::Paint), wanted);
    }
    assert!(
        schedules.iter().any(|schedule| count(schedule, Operation::Prime) > 0),
        "priming spares two coats"
    );
}

#[test]
fn what_stands_on_the_shelf_is_among_the_schedules_offered() {
    let flat = Product {
        class: FinishClass::WaterborneFlatClear.into(),
        ..acrylic("our flat clear")
    };
    let flat = Product {
        price_minor_per_l: None,
        recoat_min_min: None,
        full_cure_min: None,
        ..flat
    };
    let zone = Zone::bare("lid", Substrate::Solid(Species::HardMaple));
    let limits = Limits {
        products: vec![flat],
        ..Limits::default()
    };
    let wish = Wish {
        sheen: Some(finish::Sheen::Flat),
        ..Wish::of(Look::Clear)
    };
    let schedules = plan(&zone, &wish, &limits).unwrap();
    let named = schedules
        .iter()
        .find(|schedule| schedule.best_at.contains(&BestAt::FromTheShelf))
        .unwrap();
    assert_eq!(named.steps.last().unwrap().product.as_deref(), Some("our flat clear"));
}
