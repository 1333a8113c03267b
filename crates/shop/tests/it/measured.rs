//! How sure a dimension is reaches the areas, and which one to measure next follows from it.

use quantity::Length;
use shop::model::{FormSaid, HowMeasured, Means, Piece};
use shop::plan::{Effort, further_of, next_measure, plan};
use shop::{FormKind, Shop};

fn chest() -> Piece {
    Piece::new(
        "chest",
        FormSaid::of(FormKind::Case, [36.0, 18.0, 30.0].map(Length::from_inches)),
    )
}

/// The standard error of the planned area as a share of it.
fn planned_share(piece: Piece) -> f64 {
    let mut shop = Shop::default();
    shop.pieces.push(piece);
    let now = "2027-03-08T15:00:00Z".parse().unwrap();
    let plan = plan(&shop, now, Effort::least()).unwrap();
    plan.pieces[0].area_se_m2 / plan.pieces[0].area_m2
}

#[test]
fn a_photographs_error_makes_the_planned_area_less_sure() {
    let taped = planned_share(chest());
    let mut photographed = chest();
    let depth = photographed.form.depth;
    // 18 in ± 2 in: two of the three pairs of faces hang on it.
    let how = HowMeasured::with_error(Means::Photograph, Length::from_inches(2.0));
    photographed.form.set("depth", depth, how);
    let share = planned_share(photographed);
    assert!(share > taped + 0.03, "{taped} {share}");
}

#[test]
fn the_dimension_that_is_least_sure_is_the_one_to_measure_next() {
    let mut piece = chest();
    let depth = piece.form.depth;
    piece.form.set("depth", depth, HowMeasured::by(Means::Guess));
    let next = next_measure(&piece).unwrap();
    assert_eq!(next.name, "depth");
    assert!(next.share_then < 0.7 * next.share_now, "{next:?}");
    // Once it is taped, the area is as sure as was promised, and something else comes next.
    piece.form.set("depth", depth, HowMeasured::default());
    let after = next_measure(&piece);
    assert!(after.is_none_or(|after| after.name != "depth" && (after.share_now - next.share_then).abs() < 0.002));
}

#[test]
fn a_beds_length_is_said_as_its_depth_and_a_turnings_girth_as_the_larger_one() {
    let mut bed = Piece::new("bed", FormSaid::of(FormKind::Bed, [1.0, 2.0, 0.9].map(Length::from_m)));
    let depth = bed.form.depth;
    bed.form.set("depth", depth, HowMeasured::by(Means::Guess));
    let next = next_measure(&bed).unwrap();
    assert_eq!((next.name, next.words), ("depth", "length"));
    let mut leg = Piece::new(
        "leg",
        FormSaid::of(FormKind::Turned, [0.05, 0.06, 0.7].map(Length::from_m)),
    );
    let depth = leg.form.depth;
    leg.form.set("depth", depth, HowMeasured::by(Means::Guess));
    assert_eq!(next_measure(&leg).unwrap().name, "depth");
}

#[test]
fn a_further_dimension_is_usual_until_it_is_said_and_then_moves_the_area() {
    let mut piece = chest();
    let usual = further_of(&piece);
    let base = usual.iter().find(|further| further.name == "base height").unwrap();
    assert!(!base.is_said);
    piece.form.set("base height", base.length * 1.5, HowMeasured::default());
    let said = further_of(&piece);
    let again = said.iter().find(|further| further.name == "base height").unwrap();
    assert!(again.is_said && (again.length.m() - 1.5 * base.length.m()).abs() < 1e-9);
    piece.form.set("antenna height", base.length, HowMeasured::default());
    let refused = shop::plan::form_of(&piece.form).unwrap_err();
    assert!(refused.right.contains("base height"), "{refused}");
}
