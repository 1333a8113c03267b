//! Measuring on photographs: rendered views of known geometry, a view worked out by hand, and what is refused.

mod render;

use proptest::prelude::*;
use quantity::Length;
use render::{Chance, Setting, shot, shot_from};
use takeoff::photograph::{Aim, Measured, PhotographRefusal, Picture, Plane, Sheet, Tap};

/// What 200 views of a setting gave.
#[derive(Debug)]
struct Tally {
    measured: usize,
    refused: usize,
    /// Median and 95th percentile of the relative error.
    median: f64,
    most: f64,
    covered: f64,
}

fn tally(setting: &Setting, seed: u64) -> Tally {
    let mut chance = Chance(seed);
    let (mut errors, mut covered, mut refused) = (Vec::new(), 0, 0);
    for view in 0..200 {
        let shot = shot(setting, view % 2 == 0, &mut chance);
        let picture = shot.camera.picture;
        let plane = if setting.rectangle {
            Plane::from_sheet_and_rectangle(picture, setting.sheet, shot.corners, shot.front, setting.aim)
        } else {
            Plane::from_sheet(picture, setting.sheet, shot.corners, setting.aim)
        };
        let plane = match plane {
            Ok(plane) => plane,
            Err(_) => {
                refused += 2;
                continue;
            }
        };
        let sides: [Result<Measured, PhotographRefusal>; 2] = if setting.rectangle {
            plane.rectangle().map_or_else(
                |e| [Err(e.clone()), Err(e)],
                |sides| sides.map(|(w, h)| [Ok(w), Ok(h)]).unwrap(),
            )
        } else {
            shot.spans.map(|([a, b], _)| plane.distance(a, b))
        };
        for (side, (_, truth)) in sides.into_iter().zip(shot.spans) {
            match side {
                Ok(side) => {
                    errors.push((side.length.m() / truth - 1.0).abs());
                    let (low, high) = side.interval_90;
                    covered += i32::from(low.m() <= truth && truth <= high.m());
                }
                Err(_) => refused += 1,
            }
        }
    }
    errors.sort_by(f64::total_cmp);
    let measured = errors.len();
    Tally {
        measured,
        refused,
        median: errors[measured / 2],
        most: errors[measured * 95 / 100],
        covered: f64::from(covered) / f64::from(u32::try_from(measured).unwrap()),
    }
}

/// The target that the project sets itself, on 200 views with lens distortion on half of them.
fn meets_the_target(setting: &Setting, seed: u64) {
    let tally = tally(setting, seed);
    assert_eq!(tally.measured + tally.refused, 400);
    assert!(tally.refused <= 12, "{tally:?}");
    assert!(tally.median < 0.01, "{tally:?}");
    assert!(tally.most < 0.03, "{tally:?}");
    assert!((0.85..=0.95).contains(&tally.covered), "{tally:?}");
}

const FURNITURE: Setting = Setting {
    sheet: Sheet::Letter,
    width_m: (0.4, 1.2),
    askew: (35.0, 25.0),
    aim: Aim::Loupe,
    rectangle: false,
};

#[test]
fn a_paper_sheet_measures_fronts_of_furniture() {
    meets_the_target(&FURNITURE, 5);
    meets_the_target(
        &Setting {
            sheet: Sheet::A4,
            ..FURNITURE
        },
        6,
    );
}

#[test]
fn a_card_measures_small_drawer_fronts() {
    meets_the_target(
        &Setting {
            sheet: Sheet::Card,
            width_m: (0.1, 0.2),
            ..FURNITURE
        },
        7,
    );
}

#[test]
fn a_rectangular_front_measures_itself_even_with_coarser_taps() {
    let rectangle = Setting {
        rectangle: true,
        ..FURNITURE
    };
    meets_the_target(&rectangle, 8);
    meets_the_target(
        &Setting {
            aim: Aim::Enlarged,
            ..rectangle
        },
        9,
    );
    meets_the_target(
        &Setting {
            sheet: Sheet::Card,
            width_m: (0.15, 0.4),
            ..rectangle
        },
        10,
    );
}

#[test]
fn the_angle_off_square_is_as_sure_as_it_says() {
    let mut chance = Chance(11);
    let (mut squares, mut count) = (0.0, 0.0);
    for view in 0..200 {
        let shot = shot(&FURNITURE, view % 2 == 0, &mut chance);
        let Ok(plane) = Plane::from_sheet(shot.camera.picture, Sheet::Letter, shot.corners, Aim::Loupe) else {
            continue;
        };
        let seen = plane.obliqueness();
        let truth = shot.camera.off_square_degrees(shot.middle);
        squares += ((seen.angle_degrees - truth) / seen.standard_error_degrees).powi(2);
        count += 1.0;
    }
    // The squares of errors in their own standard errors average one; 200 of them to within a tenth.
    assert!(
        count > 190.0 && (squares / count - 1.0_f64).abs() < 0.3,
        "{squares} of {count}"
    );
}

#[test]
fn a_front_seen_from_the_side_is_refused() {
    let mut chance = Chance(12);
    let (mut oblique, mut refused, mut named) = (0, 0, 0);
    for view in 0..200 {
        let shot = shot_from(&FURNITURE, view % 2 == 0, [65.0, 0.0], &mut chance);
        if shot.camera.off_square_degrees(shot.middle) < 55.0 {
            continue;
        }
        oblique += 1;
        match Plane::from_sheet(shot.camera.picture, Sheet::Letter, shot.corners, Aim::Loupe) {
            Ok(_) => {}
            Err(PhotographRefusal::TooOblique { angle_degrees, .. }) => {
                assert!(angle_degrees > 50.0);
                (refused, named) = (refused + 1, named + 1);
            }
            Err(_) => refused += 1,
        }
    }
    assert!(oblique > 150 && refused * 100 >= oblique * 98 && named * 100 >= oblique * 85);
}

const PICTURE: Picture = Picture {
    width_px: 4000.0,
    height_px: 3000.0,
};

const fn tap(x_px: f64, y_px: f64) -> Tap {
    Tap { x_px, y_px }
}

/// A sheet of 400 by 200 mm, one metre away, turned about its upright axis by the angle of the 3-4-5 triangle, under a
/// focal length of 3000 pixels. Its right edge (x = 200) stands 160 to the right and 120 further off, the left one
/// 160 to the left and 120 nearer: 3000 · 160 / 1120 = 428.57, 3000 · 100 / 1120 = 267.86; 3000 · 160 / 880 = 545.45,
/// 3000 · 100 / 880 = 340.91. From the middle (2000, 1500):
const TURNED: [Tap; 4] = [
    tap(1454.545, 1159.091),
    tap(2428.571, 1232.143),
    tap(2428.571, 1767.857),
    tap(1454.545, 1840.909),
];

fn turned() -> Plane {
    let sheet = Sheet::Stated(Length::from_mm(400.0), Length::from_mm(200.0));
    Plane::from_sheet(PICTURE, sheet, TURNED, Aim::Loupe).unwrap()
}

#[test]
fn a_turned_sheet_worked_out_by_hand_gives_the_metre_beside_it() {
    // The points at x = ±500 stand ±400 across, at 1300 and 700: 3000 · 400 / 1300 = 923.08, 3000 · 400 / 700 = 1714.29.
    let metre = turned().distance(tap(285.714, 1500.0), tap(2923.077, 1500.0)).unwrap();
    assert!((metre.length.mm() - 1000.0).abs() < 3.0, "{metre:?}");
    assert!((turned().obliqueness().angle_degrees - 36.87).abs() < 0.5);
    let (low, high) = metre.interval_90;
    assert!(low.mm() < 1000.0 && high.mm() > 1000.0);
    let half_width = (high - low) / 2.0;
    assert!((half_width / metre.standard_error - 1.645).abs() < 1e-3);
    assert_eq!(metre.dimension().standard_error, metre.standard_error);
}

#[test]
fn points_nearer_the_sheet_are_surer_and_coarser_taps_less_sure() {
    let share = |aim, left, right| {
        let plane = Plane::from_sheet(PICTURE, Sheet::Letter, square(70.0), aim).unwrap();
        let measured = plane.distance(tap(left, 1500.0), tap(right, 1500.0)).unwrap();
        measured.standard_error / measured.length
    };
    let (on_it, far_off) = (share(Aim::Loupe, 1850.0, 2150.0), share(Aim::Loupe, 2900.0, 3200.0));
    assert!(on_it < far_off, "{on_it} {far_off}");
    assert!(on_it < share(Aim::Enlarged, 1850.0, 2150.0));
}

#[test]
fn the_corners_may_be_tapped_in_any_order() {
    let sheet = Sheet::Stated(Length::from_mm(400.0), Length::from_mm(200.0));
    let length = |order: [usize; 4]| {
        let plane = Plane::from_sheet(PICTURE, sheet, order.map(|i| TURNED[i]), Aim::Loupe).unwrap();
        plane
            .distance(tap(285.714, 1500.0), tap(2923.077, 1500.0))
            .unwrap()
            .length
            .mm()
    };
    for order in [[1, 2, 3, 0], [3, 2, 1, 0], [0, 2, 1, 3], [2, 0, 3, 1]] {
        assert!((length(order) - length([0, 1, 2, 3])).abs() < 1e-6, "{order:?}");
    }
}

#[test]
fn the_rectangle_of_a_front_seen_squarely_is_measured_by_proportion() {
    // Letter paper at 100 pixels an inch; a front of 2400 by 1600 pixels round it is 24 by 16 inches.
    let plane = Plane::from_sheet_and_rectangle(PICTURE, Sheet::Letter, square(100.0), FRONT, Aim::Loupe).unwrap();
    let (width, height) = plane.rectangle().unwrap().unwrap();
    assert!((width.length.inches() - 24.0).abs() < 0.02, "{width:?}");
    assert!((height.length.inches() - 16.0).abs() < 0.02, "{height:?}");
    let alone = Plane::from_sheet(PICTURE, Sheet::Letter, square(100.0), Aim::Loupe).unwrap();
    assert_eq!(alone.rectangle().unwrap(), None);
    let by_points = alone.distance(FRONT[0], FRONT[1]).unwrap();
    assert!(width.standard_error < by_points.standard_error * 0.8);
}

const FRONT: [Tap; 4] = [
    tap(800.0, 700.0),
    tap(3200.0, 700.0),
    tap(3200.0, 2300.0),
    tap(800.0, 2300.0),
];

/// Letter paper in the middle, seen squarely, at so many pixels an inch.
fn square(px_per_inch: f64) -> [Tap; 4] {
    let (x, y) = (5.5 * px_per_inch, 4.25 * px_per_inch);
    [[-x, -y], [x, -y], [x, y], [-x, y]].map(|[x, y]| tap(2000.0 + x, 1500.0 + y))
}

fn refusal(sheet: Sheet, corners: [Tap; 4], aim: Aim) -> PhotographRefusal {
    Plane::from_sheet(PICTURE, sheet, corners, aim).unwrap_err()
}

#[test]
fn a_sheet_too_small_in_the_picture_is_refused_with_the_size_needed() {
    let refusal = refusal(Sheet::Letter, square(8.0), Aim::Loupe);
    assert_eq!(
        refusal.to_string(),
        "the sheet is too small in the picture: its shortest side is 68 pixels and 80 are needed at this accuracy of \
         tapping. Step closer, use a larger sheet, or tap under the magnifier"
    );
    assert!(Plane::from_sheet(PICTURE, Sheet::Letter, square(40.0), Aim::Loupe).is_ok());
    assert!(matches!(
        self::refusal(Sheet::Letter, square(40.0), Aim::Thumb),
        PhotographRefusal::SheetTooSmall { limit_px, .. } if (limit_px - 960.0).abs() < 1e-9
    ));
}

#[test]
fn corners_that_are_none_are_refused() {
    let mut line = square(100.0);
    line[2] = tap(2550.0, 1080.0);
    line[1] = tap(2000.0, 1075.0);
    assert_eq!(
        refusal(Sheet::Letter, line, Aim::Loupe),
        PhotographRefusal::NoFourCorners { what: "the sheet" }
    );
    let mut outside = square(100.0);
    outside[0] = tap(-3.0, 20.0);
    assert!(
        refusal(Sheet::Letter, outside, Aim::Loupe)
            .to_string()
            .starts_with("the tap at -3, 20 is outside")
    );
    outside[0] = tap(f64::NAN, 20.0);
    assert!(matches!(
        refusal(Sheet::Letter, outside, Aim::Loupe),
        PhotographRefusal::OutsidePicture { .. }
    ));
    // A ledge of 6 to 1 seen so much from below that it looks 27 to 1.
    let ledge = Sheet::Stated(Length::from_mm(600.0), Length::from_mm(100.0));
    let sliver = [
        tap(800.0, 1450.0),
        tap(3200.0, 1450.0),
        tap(3200.0, 1540.0),
        tap(800.0, 1540.0),
    ];
    assert!(matches!(
        refusal(ledge, sliver, Aim::Loupe),
        PhotographRefusal::BadlyConditioned { .. }
    ));
}

#[test]
fn a_sheet_that_cannot_look_like_this_is_refused() {
    let refused = refusal(Sheet::A4, square(150.0), Aim::Loupe);
    assert!(
        refused.to_string().contains("cannot be those of an A4 sheet"),
        "{refused}"
    );
    let slim = Sheet::Stated(Length::from_mm(700.0), Length::from_mm(100.0));
    assert!(matches!(
        refusal(slim, square(100.0), Aim::Loupe),
        PhotographRefusal::SheetSize { .. }
    ));
    let nothing = Sheet::Stated(Length::from_mm(f64::NAN), Length::from_mm(100.0));
    assert!(matches!(
        refusal(nothing, square(100.0), Aim::Loupe),
        PhotographRefusal::SheetSize { .. }
    ));
    let tiny = Picture {
        width_px: 40.0,
        height_px: 30.0,
    };
    assert!(matches!(
        Plane::from_sheet(tiny, Sheet::Letter, square(100.0), Aim::Loupe),
        Err(PhotographRefusal::PictureSize { .. })
    ));
}

#[test]
fn a_small_sheet_that_could_lie_either_way_is_refused() {
    // A square of 100 pixels far from the camera: a nearly square sheet leaning either way explains it.
    let corners = [
        tap(1950.0, 1450.0),
        tap(2050.0, 1450.0),
        tap(2050.0, 1550.0),
        tap(1950.0, 1550.0),
    ];
    let nearly_square = Sheet::Stated(Length::from_mm(110.0), Length::from_mm(100.0));
    assert_eq!(
        refusal(nearly_square, corners, Aim::Loupe),
        PhotographRefusal::EitherWayUp
    );
}

#[test]
fn points_too_far_out_are_refused_with_the_error_they_would_have() {
    let corners = seen_from_the_side(Sheet::Card, 0.0, 3000.0, 700.0);
    let plane = Plane::from_sheet(PICTURE, Sheet::Card, corners, Aim::Loupe).unwrap();
    assert!(plane.distance(tap(1900.0, 1500.0), tap(2100.0, 1500.0)).is_ok());
    let far = plane.distance(tap(3300.0, 60.0), tap(3950.0, 60.0)).unwrap_err();
    assert!(far.to_string().contains("lay the sheet nearer to them"), "{far}");
    assert!(matches!(far, PhotographRefusal::TooUncertain { share, .. } if share > 0.04));
}

/// A sheet in the middle, turned to the side by an angle, as a straight lens shows it.
fn seen_from_the_side(sheet: Sheet, degrees: f64, focal_px: f64, distance_mm: f64) -> [Tap; 4] {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    let (long, short) = sheet.sides();
    let (x, y) = (long.mm() / 2.0, short.mm() / 2.0);
    [[-x, -y], [x, -y], [x, y], [-x, y]].map(|[x, y]| {
        let depth = distance_mm + sine * x;
        tap(2000.0 + focal_px * cosine * x / depth, 1500.0 + focal_px * y / depth)
    })
}

#[test]
fn points_beyond_the_horizon_are_refused() {
    // At 45° the front vanishes one focal length beside the middle, at 3900.
    let corners = seen_from_the_side(Sheet::Letter, 45.0, 1900.0, 500.0);
    let plane = Plane::from_sheet(PICTURE, Sheet::Letter, corners, Aim::Loupe).unwrap();
    let refused = plane.distance(tap(2000.0, 1500.0), tap(3990.0, 1500.0)).unwrap_err();
    assert!(
        refused.to_string().starts_with("the point at 3990, 1500 is beyond"),
        "{refused}"
    );
}

#[test]
fn a_rectangle_that_is_none_is_refused() {
    let mut crooked = FRONT;
    crooked[1] = tap(3200.0, 900.0);
    let refused = Plane::from_sheet_and_rectangle(PICTURE, Sheet::Letter, square(100.0), crooked, Aim::Loupe);
    let text = refused.unwrap_err().to_string();
    assert!(
        text.starts_with("the four points tapped as a rectangle are none on the plane of the sheet"),
        "{text}"
    );
    let twice = [FRONT[0], FRONT[0], FRONT[1], FRONT[2]];
    assert_eq!(
        Plane::from_sheet_and_rectangle(PICTURE, Sheet::Letter, square(100.0), twice, Aim::Loupe).unwrap_err(),
        PhotographRefusal::NoFourCorners { what: "the rectangle" }
    );
}

#[test]
fn a_short_span_on_the_sheet_is_as_sure_as_its_two_taps() {
    // 300 pixels at 100 an inch; each tap is off by 2 pixels along the span, both together by 2.83: 0.0283 in. The view
    // adds little in the middle of the sheet.
    let plane = Plane::from_sheet(PICTURE, Sheet::Letter, square(100.0), Aim::Loupe).unwrap();
    let span = plane.distance(tap(1850.0, 1500.0), tap(2150.0, 1500.0)).unwrap();
    assert!((0.0283..0.0325).contains(&span.standard_error.inches()), "{span:?}");
}

#[test]
fn the_same_point_twice_is_no_length_and_no_failure() {
    let nothing = turned().distance(tap(2000.0, 1500.0), tap(2000.0, 1500.0)).unwrap();
    assert!(nothing.length.mm() < 1e-9 && nothing.standard_error.mm() > 0.5);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_taps_are_measured_or_refused(
        places in proptest::collection::vec((-50.0..4050.0_f64, -50.0..3050.0_f64), 6),
        sides in (10.0..3000.0_f64, 10.0..3000.0_f64),
    ) {
        let at = |i: usize| tap(places[i].0, places[i].1);
        let sheet = Sheet::Stated(Length::from_mm(sides.0), Length::from_mm(sides.1));
        let plane = Plane::from_sheet(PICTURE, sheet, [at(0), at(1), at(2), at(3)], Aim::Enlarged);
        match plane.and_then(|plane| plane.distance(at(4), at(5))) {
            Ok(measured) => {
                prop_assert!(measured.length.is_finite() && measured.standard_error.is_finite());
                prop_assert!(measured.interval_90.0 <= measured.length && measured.length <= measured.interval_90.1);
            }
            Err(refusal) => {
                let text = refusal.to_string();
                prop_assert!(!text.contains("NaN") && !text.contains("inf"), "{}", text);
            }
        }
    }
}
