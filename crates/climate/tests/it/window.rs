//! When a coat may be put on. Each reason: one air that gives it, one that just does not.

use climate::{Air, DryModel, Unfit, Window};

fn unfit(temp_c: f64, rh: f64) -> Vec<Unfit> {
    Window::of_model(DryModel::Waterborne).unfit(Air::from_c(temp_c, rh).unwrap(), DryModel::Waterborne)
}

#[test]
fn every_family_and_way_of_drying_has_its_window() {
    for family in [
        "waterborne",
        "oxidative",
        "wiped",
        "hardwax-oil",
        "lacquer",
        "shellac",
        "acid-cured",
        "two-part-waterborne",
    ] {
        let window = Window::of_family(family).unwrap();
        assert!(
            window.temp_min_c < window.temp_max_c && window.rh_min_pct < window.rh_max_pct,
            "{family}"
        );
    }
    assert!(Window::of_family("whitewash").is_none());
    for model in [
        DryModel::Solvent,
        DryModel::Waterborne,
        DryModel::Oxidative,
        DryModel::Reactive,
    ] {
        assert!(Window::of_model(model).is_open(Air::from_c(22.0, 0.5).unwrap(), model));
    }
}

#[test]
fn a_cold_garage_is_closed_to_waterborne_coats() {
    assert!(matches!(unfit(9.9, 0.5)[..], [Unfit::TooCold { .. }]));
    assert!(unfit(10.0, 0.5).is_empty());
}

#[test]
fn heat_drought_and_damp_close_it_too() {
    assert!(matches!(unfit(32.5, 0.5)[..], [Unfit::TooHot { .. }]));
    assert!(matches!(unfit(20.0, 0.19)[..], [Unfit::TooDry { .. }]));
    assert!(unfit(20.0, 0.2).is_empty());
    assert!(matches!(
        unfit(20.0, 0.86)[..],
        [Unfit::TooDamp { .. }, Unfit::NearDew { .. }]
    ));
}

/// UFC 3-190-06, 8.3.3: 5 °F above the dew point. At 20 °C and 84 % the margin is 2.8 K, at 80 % 3.6 K.
#[test]
fn near_the_dew_point_nothing_is_painted() {
    assert!(matches!(unfit(20.0, 0.84)[..], [Unfit::NearDew { is_k, .. }] if (2.5..3.0).contains(&is_k)));
    assert!(unfit(20.0, 0.80).is_empty());
}

#[test]
fn a_reason_says_what_is_and_what_would_be_right() {
    let words = unfit(7.0, 0.5)[0].to_string();
    assert_eq!(words, "the air is at 7 °C and must be at least 10 °C");
}

#[test]
fn a_label_narrows_the_class() {
    let window = Window::of_model(DryModel::Waterborne).narrowed(Some(13.0), None, Some(70.0));
    assert!(!window.is_open(Air::from_c(12.0, 0.5).unwrap(), DryModel::Waterborne));
    assert!(!window.is_open(Air::from_c(20.0, 0.75).unwrap(), DryModel::Waterborne));
}
