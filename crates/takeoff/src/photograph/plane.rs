//! The plane of a front, found from a sheet on it, and lengths measured there.

use super::PhotographRefusal;
use super::fit::{Corners, Fit, Scene};
use super::linear::{inner, norm};
use super::measured::{Measured, Reading, mixed};
use super::sheet::Sheet;
use super::solve::{Weighted, solve};
use super::tap::{Aim, Picture, Spot, Tap, distance, shortest_side};
use super::view::View;

/// How far a corner of a sheet lies from where it should, in metres: cut, curl, round corners (`common-practice`).
const CORNER_SE_M: f64 = 0.0003;
/// How far the sheet lies in front of the plane or behind it, in metres (`common-practice`).
const OFF_PLANE_SE_M: f64 = 0.0015;
/// How far a corner of a front lies from where a true rectangle has it, in metres (`common-practice`).
const OUT_OF_SQUARE_SE_M: f64 = 0.001;
/// The least length of the sheet's shortest side, in standard errors of a tap.
const LEAST_SIDE_SE: f64 = 40.0;
/// The most that the front may be seen from the side, in degrees.
const MOST_OBLIQUE_DEGREES: f64 = 50.0;
/// The worst condition number of the equations for the view.
const WORST_CONDITION: f64 = 80.0;
/// The largest standard error of a length, as a share of it.
const MOST_UNCERTAIN: f64 = 0.04;
/// Whatever the share, this standard error is as good as a tape's and good enough, in metres.
const GOOD_ENOUGH_M: f64 = 0.002;

/// How far off square the front is seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Obliqueness {
    /// Angle between the line of sight to the sheet and the front's normal, in degrees: 0 is square, 50 the limit.
    pub angle_degrees: f64,
    /// Its standard error in degrees.
    pub standard_error_degrees: f64,
    /// Condition number of the normalised equations for the view: 10 is as good as it gets, above 80 it is refused.
    pub condition: f64,
}

/// The plane of a front as a camera saw it.
#[derive(Debug, Clone)]
pub struct Plane {
    picture: Picture,
    /// Standard error of a tap, in half diagonals.
    tap_se: f64,
    condition: f64,
    /// Nearly always one; two where a small sheet could be tilted to either side.
    fits: Weighted,
}

impl Plane {
    /// The plane on which a sheet of known size lies, from its four corners tapped in any order.
    ///
    /// # Errors
    /// A [`PhotographRefusal`] that says what to do: sizes or taps that are none, corners in a line, a sheet too small in the
    /// picture for this aim, a view too oblique, corners that the named sheet cannot have.
    pub fn from_sheet(picture: Picture, sheet: Sheet, corners: [Tap; 4], aim: Aim) -> Result<Self, PhotographRefusal> {
        Self::from_taps(picture, sheet, corners, None, aim)
    }

    /// The same with the four corners of a rectangle of unknown size on that plane, mostly the front itself, tapped in any
    /// order: see [`Plane::rectangle`]. The larger it is, the surer everything measured on the plane.
    ///
    /// # Errors
    /// As [`Plane::from_sheet`], and [`PhotographRefusal::NoRectangle`].
    pub fn from_sheet_and_rectangle(
        picture: Picture,
        sheet: Sheet,
        corners: [Tap; 4],
        rectangle: [Tap; 4],
        aim: Aim,
    ) -> Result<Self, PhotographRefusal> {
        Self::from_taps(picture, sheet, corners, Some(rectangle), aim)
    }

    fn from_taps(
        picture: Picture,
        sheet: Sheet,
        corners: [Tap; 4],
        rectangle: Option<[Tap; 4]>,
        aim: Aim,
    ) -> Result<Self, PhotographRefusal> {
        let picture = picture.checked()?;
        let (long, short) = sheet.checked_m()?;
        let places = picture.corners(corners, "the sheet")?;
        let unit_px = picture.half_diagonal_px();
        let tap_se = aim.standard_error_px(picture) / unit_px;
        if shortest_side(&places) < LEAST_SIDE_SE * tap_se {
            return Err(PhotographRefusal::SheetTooSmall {
                side_px: shortest_side(&places) * unit_px,
                limit_px: LEAST_SIDE_SE * tap_se * unit_px,
            });
        }
        let round = (0..4).map(|i| distance(places[i], places[(i + 1) % 4])).sum::<f64>();
        let seen_per_m = round / (2.0 * (long + short));
        let corners_with = |places, off_m: f64| Corners {
            places,
            standard_error: f64::hypot(tap_se, off_m * seen_per_m),
        };
        let sheet_corners = corners_with(places, CORNER_SE_M);
        let rectangle_corners = rectangle
            .map(|taps| picture.corners(taps, "the rectangle"))
            .transpose()?
            .map(|places| corners_with(places, OUT_OF_SQUARE_SE_M));
        let solved = solve(sheet_corners, long, short, rectangle_corners)
            .ok_or(PhotographRefusal::NoFourCorners { what: "the sheet" })?;
        if solved.condition > WORST_CONDITION {
            return Err(PhotographRefusal::BadlyConditioned {
                condition: solved.condition,
                limit: WORST_CONDITION,
            });
        }
        if solved.sheet_times > 1.0 {
            return Err(PhotographRefusal::NotThatSheet {
                sheet: sheet.words(),
                times: solved.sheet_times,
            });
        }
        match (rectangle, solved.rectangle_times) {
            (Some(_), Some(times)) if times > 1.0 => return Err(PhotographRefusal::NoRectangle { times }),
            (Some([Tap { x_px, y_px }, ..]), None) => return Err(PhotographRefusal::BeyondHorizon { x_px, y_px }),
            _ => {}
        }
        let plane = Self {
            picture,
            tap_se,
            condition: solved.condition,
            fits: solved.fits,
        };
        plane.check_oblique()?;
        if solved.either_way_up {
            return Err(PhotographRefusal::EitherWayUp);
        }
        Ok(plane)
    }

    fn check_oblique(&self) -> Result<(), PhotographRefusal> {
        let seen = self.obliqueness();
        if seen.angle_degrees > MOST_OBLIQUE_DEGREES {
            return Err(PhotographRefusal::TooOblique {
                angle_degrees: seen.angle_degrees,
                limit_degrees: MOST_OBLIQUE_DEGREES,
            });
        }
        Ok(())
    }

    /// How far off square the front is seen.
    #[must_use]
    pub fn obliqueness(&self) -> Obliqueness {
        let angle = |scene: &Scene| Some(scene.view.off_square());
        let (angle_degrees, variance) = self.fits.first().map_or((90.0, f64::INFINITY), |(_, fit)| {
            let variance = fit.variance(angle).unwrap_or(f64::INFINITY);
            (fit.scene.view.off_square().to_degrees(), variance)
        });
        Obliqueness {
            angle_degrees,
            standard_error_degrees: variance.sqrt().to_degrees(),
            condition: self.condition,
        }
    }

    /// The distance of two points of the plane.
    ///
    /// # Errors
    /// [`PhotographRefusal::OutsidePicture`], [`PhotographRefusal::BeyondHorizon`], and
    /// [`PhotographRefusal::TooUncertain`] if the standard error would exceed 4 % of the length and 2 mm.
    pub fn distance(&self, a: Tap, b: Tap) -> Result<Measured, PhotographRefusal> {
        let (from, to) = (self.picture.spot(a)?, self.picture.spot(b)?);
        let beyond = |tap: Tap| PhotographRefusal::BeyondHorizon {
            x_px: tap.x_px,
            y_px: tap.y_px,
        };
        let mut readings = Vec::with_capacity(self.fits.len());
        for (weight, fit) in &self.fits {
            let view = &fit.scene.view;
            let start = view.on_front(from).ok_or_else(|| beyond(a))?;
            let end = view.on_front(to).ok_or_else(|| beyond(b))?;
            let variance = self.variance(fit, [from, to], [start, end]).ok_or_else(|| beyond(b))?;
            readings.push(reading(*weight, fit, distance(start, end), variance));
        }
        useful(mixed(&readings))
    }

    /// Variance of the distance of two points, along it, from the view's errors and from those of the two taps.
    fn variance(&self, fit: &Fit, places: [Spot; 2], points: [Spot; 2]) -> Option<f64> {
        let length = distance(points[0], points[1]);
        let direction = if length > 0.0 {
            [0, 1].map(|axis| (points[1][axis] - points[0][axis]) / length)
        } else {
            [1.0, 0.0]
        };
        let along = |point: Spot| inner(&point, &direction);
        let of_view = fit
            .variance(|scene| Some(along(scene.view.on_front(places[1])?) - along(scene.view.on_front(places[0])?)))?;
        let mut of_taps = 0.0;
        for place in places {
            for axis in [0, 1] {
                of_taps += (self.tap_se * slope(&fit.scene.view, place, axis, along)?).powi(2);
            }
        }
        Some(of_view + of_taps)
    }

    /// Width and height of the tapped rectangle, if there is one; the width is the side that runs across the picture.
    ///
    /// # Errors
    /// [`PhotographRefusal::TooUncertain`].
    pub fn rectangle(&self) -> Result<Option<(Measured, Measured)>, PhotographRefusal> {
        let side = |which: usize| -> Option<Measured> {
            let mut readings = Vec::with_capacity(self.fits.len());
            for (weight, fit) in &self.fits {
                let length = fit.scene.rectangle?.sides[which];
                let variance = fit.variance(|scene| Some(scene.rectangle?.sides[which]))?;
                readings.push(reading(*weight, fit, length, variance));
            }
            Some(mixed(&readings))
        };
        let (Some(first), Some(second), Some((_, fit))) = (side(0), side(1), self.fits.first()) else {
            return Ok(None);
        };
        let (first, second) = (useful(first)?, useful(second)?);
        let across = first_side_runs_across(fit).unwrap_or(true);
        Ok(Some(if across { (first, second) } else { (second, first) }))
    }
}

/// Whether the rectangle's first side runs more across the picture than up and down.
fn first_side_runs_across(fit: &Fit) -> Option<bool> {
    let corners = fit.scene.rectangle?.corners();
    let (a, b) = (fit.scene.view.seen(corners[0])?, fit.scene.view.seen(corners[1])?);
    Some((b[0] - a[0]).abs() >= (b[1] - a[1]).abs())
}

/// How fast a point of the front moves along a direction as its place moves along one axis of the picture.
fn slope(view: &View, place: Spot, axis: usize, along: impl Fn(Spot) -> f64) -> Option<f64> {
    const STEP: f64 = 1e-6;
    let (mut before, mut after) = (place, place);
    before[axis] -= STEP;
    after[axis] += STEP;
    Some((along(view.on_front(after)?) - along(view.on_front(before)?)) / (2.0 * STEP))
}

/// A reading with the error of a sheet that does not lie quite on the plane: as a share, its offset over the distance.
fn reading(weight: f64, fit: &Fit, length: f64, variance: f64) -> Reading {
    let off_plane = length * OFF_PLANE_SE_M / norm(fit.scene.view.shift);
    Reading {
        weight,
        length,
        variance: variance + off_plane * off_plane,
    }
}

/// The measurement, unless it is too uncertain to be of use.
fn useful(measured: Measured) -> Result<Measured, PhotographRefusal> {
    let share = measured.standard_error / measured.length;
    let fine = measured.standard_error.m() <= GOOD_ENOUGH_M || share <= MOST_UNCERTAIN;
    if fine && measured.length.is_finite() {
        Ok(measured)
    } else {
        Err(PhotographRefusal::TooUncertain {
            length: measured.length,
            share,
            limit: MOST_UNCERTAIN,
        })
    }
}
