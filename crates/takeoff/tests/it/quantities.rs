//! Quantities against published figures and sums by hand.

use proptest::prelude::*;
use quantity::{Area, DryFilm, Length, Mass, Minutes, Range, Spread, Volume, WetFilm};
use takeoff::Detail;
use takeoff::quantities::{
    Absorbency, Coating, Hollow, Mixing, Share, abrasives, batches, brush_wash, coat_volume, filler, grain_ratio,
    prep_volume, rags, shellac_cut_solids, spray_volume, strip_passes, tack_rags, tape, tape_rolls, theoretical_spread,
    thinned_solids, thinned_wet_film,
};
use trade::abrasives::SandingStep;
use trade::methods::Method;
use trade::{FinishClass, Grit, PrepClass};

/// One row of the table of worked examples.
struct Row<'a> {
    id: &'a str,
    what: &'a str,
    a: &'a str,
    b: &'a str,
    c: &'a str,
    expected: f64,
    tolerance: f64,
    unit: &'a str,
}

fn rows() -> Vec<Row<'static>> {
    let lines: Vec<Vec<&str>> = include_str!("../data/films.csv")
        .lines()
        .skip(1)
        .map(|line| line.split(',').collect())
        .collect();
    lines
        .into_iter()
        .map(|f| Row {
            id: f[0],
            what: f[1],
            a: f[2],
            b: f[3],
            c: f[4],
            expected: f[5].parse().unwrap(),
            tolerance: f[6].parse().unwrap(),
            unit: f[7],
        })
        .collect()
}

fn number(text: &str) -> f64 {
    text.parse().unwrap()
}

/// `5.0 mil` or `125 um`, in µm.
fn film_um(text: &str) -> f64 {
    let (value, unit) = text.split_once(' ').unwrap();
    number(value) * if unit == "mil" { 25.4 } else { 1.0 }
}

fn flat(m2: f64) -> [Share; 1] {
    [Share {
        area: Area::from_m2(m2),
        detail: Detail::Flat,
    }]
}

#[test]
fn the_worked_examples_of_the_sources_come_out() {
    let rows = rows();
    assert_eq!(rows.len(), 17);
    for row in rows {
        let dry = || DryFilm::from_um(film_um(row.b));
        let result = match (row.what, row.unit) {
            ("spread", "ft2/gal") => theoretical_spread(number(row.a), dry()).ft2_per_gallon(),
            ("spread", _) => theoretical_spread(number(row.a), dry()).m2_per_litre(),
            ("wet-from-dry", _) => dry().wetted(number(row.a)).mils(),
            ("dry-from-wet", _) => WetFilm::from_um(film_um(row.b)).dried(number(row.a)).mils(),
            ("thinned-solids", _) => 100.0 * thinned_solids(number(row.a), number(row.c)),
            ("thinned-wet", _) => thinned_wet_film(dry(), number(row.a), number(row.c)).um(),
            ("film-of-spread", _) => Spread::from_m2_per_litre(number(row.a)).wet_film().um(),
            ("shellac-solids", _) => {
                100.0 * shellac_cut_solids(Mass::from_pounds(number(row.a)), Volume::from_us_gallons(1.0))
            }
            ("grain-ratio", _) => grain_ratio(Grit::parse(row.a).unwrap(), Grit::parse(row.b).unwrap()),
            ("after-loss", _) => Spread::from_m2_per_litre(number(row.a))
                .after_loss(number(row.b))
                .m2_per_litre(),
            ("sprayed", _) => {
                2.0 * spray_volume(&flat(number(row.a))[0], WetFilm::from_um(film_um(row.b)), number(row.c)).litres()
            }
            other => panic!("{}: no formula for {other:?}", row.id),
        };
        assert!(
            (result - row.expected).abs() <= row.tolerance,
            "{}: {result} {}",
            row.id,
            row.unit
        );
    }
}

#[test]
fn a_brushed_coat_is_area_over_spread_and_the_best_spread_is_the_low_figure() {
    let coating = Coating::of(FinishClass::WaterborneAcrylicEnamel, Method::Brush, 2);
    let volume = coat_volume(&flat(3.0), &coating);
    assert!((volume.product.typical.litres() - 0.5).abs() < 1e-9);
    assert!((volume.product.low.litres() - 6.0 / 14.7).abs() < 1e-9);
    assert!((volume.product.high.litres() - (6.0 / 8.2 + 0.06)).abs() < 1e-9);
    assert_eq!(volume.thinner.typical, Volume::ZERO);
}

#[test]
fn the_labels_spread_wins() {
    let label = Spread::from_ft2_per_gallon(300.0);
    let coating = Coating::of(FinishClass::WaterborneFlatClear, Method::Brush, 1).with_label_spread(label);
    let product = coat_volume(&flat(10.0), &coating).product;
    assert!((product.typical.litres() - 10.0 / label.m2_per_litre()).abs() < 1e-9);
    assert!(product.low < product.typical && product.typical < product.high);
}

#[test]
fn a_richer_paint_covers_more_and_its_label_says_so() {
    // Class: 37 % solids, 12 m²/L by brush. A label of 44.4 % at the same dry film covers 12 × 44.4 / 37 = 14.4 m²/L.
    let rich = Coating::of(FinishClass::WaterborneAcrylicEnamel, Method::Brush, 1).with_label_solids(0.444);
    let brushed = coat_volume(&flat(3.6), &rich).product.typical;
    assert!((brushed.ml() - 250.0).abs() < 1e-6, "{} mL", brushed.ml());
    // Sprayed: 3.6 m² × 30 µm / 0.444 / 0.65, and 100 mL in the cup.
    let sprayed = coat_volume(&flat(3.6), &rich.put_on_by(Method::Hvlp)).product.typical;
    assert!(
        (sprayed.ml() - (3.6 * 30.0 / 0.444 / 0.65 + 100.0)).abs() < 1e-6,
        "{} mL",
        sprayed.ml()
    );
    // The label's spread, where it states one too, is the last word on brushing.
    let stated = rich.with_label_spread(Spread::from_m2_per_litre(9.0));
    assert!((coat_volume(&flat(3.6), &stated).product.typical.ml() - 400.0).abs() < 1e-6);
    // A label that says what cannot be is not believed.
    assert_eq!(rich.with_label_solids(1.7), rich);
}

#[test]
fn spraying_a_turned_leg_wastes_more_than_a_panel() {
    let coating = Coating::of(FinishClass::NitrocelluloseLacquer, Method::Hvlp, 1);
    let on = |detail| {
        let share = Share {
            area: Area::from_m2(2.0),
            detail,
        };
        coat_volume(&[share], &coating).product.typical.ml() - 100.0
    };
    // 20 µm dry at 17 % solids, 65 % arriving, 0.1 L left in cup and hose.
    let panel = 2.0 * 20.0 / 0.17 / 0.65;
    assert!((on(Detail::Flat) - panel).abs() < 1e-6, "{}", on(Detail::Flat));
    assert!((on(Detail::Turned) - panel / 0.45).abs() < 1e-6);
}

#[test]
fn thinning_adds_thinner_and_no_product() {
    let coating = Coating::of(FinishClass::NitrocelluloseLacquer, Method::Hvlp, 3);
    let neat = coat_volume(&flat(2.0), &coating);
    let thinned = coat_volume(&flat(2.0), &coating.thinned(0.25));
    assert!((thinned.thinner.typical.ml() - 0.25 * thinned.product.typical.ml()).abs() < 1e-9);
    // Only what stays in the cup changes: it holds less product.
    let spared = 3.0 * 100.0 * (1.0 - 1.0 / 1.25);
    assert!((neat.product.typical.ml() - thinned.product.typical.ml() - spared).abs() < 1e-6);
    let wet = thinned.wet_film.unwrap().um();
    assert!((wet - 20.0 * 1.25 / 0.17).abs() < 1e-9);
}

#[test]
fn later_coats_of_oil_take_less_and_thirsty_wood_more() {
    let one = Coating::of(FinishClass::DryingOil, Method::Pad, 1);
    let first = coat_volume(&flat(1.5), &one).product.typical;
    assert!((first.litres() - 0.1).abs() < 1e-9);
    let three = Coating::of(FinishClass::DryingOil, Method::Pad, 3);
    assert!((coat_volume(&flat(1.5), &three).product.typical.litres() - 0.22).abs() < 1e-9);
    let open = coat_volume(&flat(1.5), &one.on(Absorbency::Open)).product.typical;
    assert!((open.litres() - 0.13).abs() < 1e-9);
}

#[test]
fn nothing_to_coat_takes_nothing() {
    let coating = Coating::of(FinishClass::AlkydEnamel, Method::Hvlp, 2);
    assert_eq!(coat_volume(&[], &coating).product.high, Volume::ZERO);
    let none = Coating::of(FinishClass::AlkydEnamel, Method::Brush, 0);
    assert_eq!(coat_volume(&flat(2.0), &none).product.high, Volume::ZERO);
}

#[test]
fn no_more_is_mixed_than_can_be_put_on() {
    let mixing = Mixing {
        base_parts: 10.0,
        hardener_parts: 1.0,
        thinner_share: 0.1,
        pot_life: Minutes::new(60),
    };
    let mixes = batches(Volume::from_ml(900.0), 0.5, mixing).unwrap();
    assert_eq!(mixes.count, 3);
    let each = mixes.base + mixes.hardener + mixes.thinner;
    assert!((each.ml() - 300.0).abs() < 1e-9);
    assert!((mixes.base / mixes.hardener - 10.0).abs() < 1e-9);
    assert!((mixes.thinner.ml() - 0.1 * (mixes.base + mixes.hardener).ml()).abs() < 1e-9);
    assert!(mixes.each_takes.get() <= 45);
    let never = Mixing {
        pot_life: Minutes::ZERO,
        ..mixing
    };
    assert_eq!(batches(Volume::from_ml(900.0), 0.5, never), None);
    assert_eq!(batches(Volume::from_ml(900.0), f64::NAN, mixing), None);
    assert_eq!(batches(Volume::ZERO, 0.5, mixing), None);
}

#[test]
fn each_grit_gets_its_own_discs() {
    let step = SandingStep::BareBeforeClear.row();
    let needs = abrasives(&flat(2.7), step);
    assert_eq!(needs.len(), step.grits.len());
    for need in &needs {
        // 2.7 m² with the flat allowance of 5 % on discs that last 0.7, 1.5 and 3 m².
        assert_eq!((need.pieces.low, need.pieces.typical, need.pieces.high), (1, 2, 5));
    }
    assert!((needs[0].worn.typical - 2.7 * 1.05 / 1.5).abs() < 1e-9);
    assert!(needs.windows(2).all(|w| w[0].grit < w[1].grit));
    assert!(abrasives(&[], step).is_empty());
}

#[test]
fn a_stripper_goes_by_its_passes() {
    let row = PrepClass::GelStripper.row();
    let volume = prep_volume(Area::from_m2(5.0), row, Range::new(1, 2, 3)).unwrap();
    assert!((volume.low.litres() - 1.25).abs() < 1e-9);
    assert!((volume.typical.litres() - 4.0).abs() < 1e-9);
    assert!((volume.high.litres() - 10.0).abs() < 1e-9);
    assert_eq!(
        prep_volume(Area::from_m2(5.0), PrepClass::Heat.row(), Range::exactly(1)),
        None
    );
    assert_eq!(strip_passes(1), Range::new(1, 1, 2));
    assert_eq!(strip_passes(3), Range::new(1, 1, 2));
    assert_eq!(strip_passes(7), Range::new(2, 3, 4));
    assert_eq!(strip_passes(0), Range::new(1, 1, 2));
}

#[test]
fn deep_hollows_are_filled_in_layers_and_what_shrinks_takes_more() {
    let deep = [Hollow::gouges(2, Length::from_mm(8.0))];
    let water = filler(&deep, PrepClass::WaterBasedFiller.row());
    let epoxy = filler(&deep, PrepClass::EpoxyFiller.row());
    assert_eq!((water.layers, epoxy.layers), (2, 1));
    let boxes_ml = 2.0 * 60.0 * 8.0 * 8.0 / 1000.0;
    assert!((epoxy.volume.typical.ml() - boxes_ml * 0.6 * 1.1 / 0.99 * 1.3).abs() < 1e-9);
    assert!((water.volume.typical / epoxy.volume.typical - 0.99 / 0.9).abs() < 1e-9);
    assert_eq!(filler(&[], PrepClass::EpoxyFiller.row()).layers, 0);
    let bad = [Hollow::holes(3, Length::from_mm(f64::NAN))];
    assert_eq!(filler(&bad, PrepClass::EpoxyFiller.row()).volume.high, Volume::ZERO);
}

#[test]
fn sundries_are_whole_and_in_order() {
    assert_eq!(rags(Area::from_m2(2.4), 2), Range::new(2, 4, 8));
    assert_eq!(rags(Area::ZERO, 2), Range::exactly(0));
    assert_eq!(tack_rags(Area::from_m2(5.0)), Range::new(0.25, 0.5, 1.0));
    let masked = tape(Length::from_m(20.0));
    assert!((masked.typical.m() - 23.0).abs() < 1e-9);
    assert_eq!(tape_rolls(masked.typical), 1);
    assert_eq!(tape_rolls(Length::from_m(50.1)), 2);
    assert_eq!(tape_rolls(Length::ZERO), 0);
    for method in Method::EVERY {
        let wash = brush_wash(*method);
        assert!(wash.low <= wash.typical && wash.typical <= wash.high);
    }
}

proptest! {
    #[test]
    fn more_coats_and_more_area_never_take_less(
        class in 0..FinishClass::EVERY.len(), method in 0..Method::EVERY.len(), coats in 1_u8..6, m2 in 0.01..20.0_f64,
    ) {
        let coating = |coats| Coating::of(FinishClass::EVERY[class], Method::EVERY[method], coats);
        let now = coat_volume(&flat(m2), &coating(coats)).product;
        let more_coats = coat_volume(&flat(m2), &coating(coats + 1)).product;
        let more_area = coat_volume(&flat(m2 * 1.5), &coating(coats)).product;
        prop_assert!(now.low <= now.typical && now.typical <= now.high);
        for (a, b) in [(now.low, more_coats.low), (now.typical, more_coats.typical), (now.high, more_coats.high),
                       (now.low, more_area.low), (now.typical, more_area.typical), (now.high, more_area.high)] {
            prop_assert!(a <= b);
        }
    }

    #[test]
    fn batches_make_up_the_coat_and_each_fits_its_pot_life(
        ml in 10.0..5000.0_f64, rate in 0.1..3.0_f64, minutes in 10_i64..600, hardener in 0.0..4.0_f64,
    ) {
        let mixing = Mixing { base_parts: 4.0, hardener_parts: hardener, thinner_share: 0.1, pot_life: Minutes::new(minutes) };
        if let Some(mixes) = batches(Volume::from_ml(ml), rate, mixing) {
            let all = (mixes.base + mixes.hardener + mixes.thinner) * f64::from(mixes.count);
            prop_assert!((all.ml() - ml).abs() < 1e-6);
            prop_assert!(mixes.each_takes.get() <= (minutes * 3) / 4 + 1);
        }
    }
}
