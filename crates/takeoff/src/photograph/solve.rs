//! From four corners to the possible views of the sheet.
//!
//! Two things are not known beforehand: which of the sheet's sides is which, and, for a small sheet, to which side it
//! tilts. All four combinations are fitted. The way up must be clear; the tilts, where both explain the taps, are kept
//! with their weights.

use super::fit::{Corners, Fit, Rectangle, Scene, Tapped};
use super::homography::homography;
use super::tap::Spot;
use super::view::View;

/// The largest misfit of the sheet's corners. One in a thousand fits with two spare observations is worse than 14, and
/// people tap worse now and then than they say.
const MOST_MISFIT: f64 = 20.0;
/// The same with the five spare observations that a rectangle adds to it: one in a thousand is worse than 21.
const MOST_MISFIT_RECTANGLE: f64 = 28.0;
/// By how much the misfit of the sheet lying the other way up must be larger: odds of twenty to one.
const CLEARLY_WORSE: f64 = 6.0;
/// A possible view less likely than this is left out.
const LEAST_WEIGHT: f64 = 1e-4;

/// The possible views, likeliest first, with their weights, which add to one.
pub(super) type Weighted = Vec<(f64, Fit)>;

/// What the corners say.
#[derive(Debug, Clone)]
pub(super) struct Solved {
    /// Condition number of the normalised equations.
    pub(super) condition: f64,
    pub(super) fits: Weighted,
    /// Whether the sheet could as well lie the other way up.
    pub(super) either_way_up: bool,
    /// How good the fit to the sheet alone is, in multiples of the worst that is taken.
    pub(super) sheet_times: f64,
    /// The same with the rectangle; nothing if there is none or the front's horizon runs through it.
    pub(super) rectangle_times: Option<f64>,
}

/// The views of a sheet of the given sides, in metres, whose corners were tapped at these places, clockwise, and of a
/// rectangle on the same plane.
pub(super) fn solve(sheet: Corners, long: f64, short: f64, rectangle: Option<Corners>) -> Option<Solved> {
    let lying = solve_with_sides(sheet, long, short, rectangle);
    if (long - short).abs() < 1e-6 {
        return lying;
    }
    let upright = solve_with_sides(sheet, short, long, rectangle);
    let (mut best, other) = match (lying, upright) {
        (Some(a), Some(b)) if misfit(&b.fits) < misfit(&a.fits) => (b, Some(a)),
        (Some(a), b) => (a, b),
        (None, b) => (b?, None),
    };
    best.either_way_up = other.is_some_and(|other| misfit(&other.fits) < misfit(&best.fits) + CLEARLY_WORSE);
    Some(best)
}

fn misfit(of: &Weighted) -> f64 {
    of.iter().map(|(_, fit)| fit.misfit).fold(f64::INFINITY, f64::min)
}

fn solve_with_sides(sheet: Corners, first: f64, second: f64, rectangle: Option<Corners>) -> Option<Solved> {
    let (x, y) = (first / 2.0, second / 2.0);
    let sheet_points: [Spot; 4] = [[-x, -y], [x, -y], [x, y], [-x, y]];
    let map = homography(&sheet_points, &sheet.places)?;
    let view = View::from_map(&map.rows)?;
    let alone = Tapped {
        sheet,
        sheet_points,
        rectangle: None,
    };
    let fits: Vec<Fit> = [view, view.tilted_the_other_way()]
        .into_iter()
        .filter_map(|view| alone.fit(Scene { view, rectangle: None }))
        .collect();
    let fits = weighted(fits);
    let mut solved = Solved {
        condition: map.condition,
        sheet_times: (likeliest(&fits)?.misfit / MOST_MISFIT).sqrt(),
        fits,
        either_way_up: false,
        rectangle_times: None,
    };
    if let Some(corners) = rectangle {
        let both = Tapped { rectangle, ..alone };
        solved.fits = weighted(
            solved
                .fits
                .iter()
                .filter_map(|(_, fit)| refit(&both, &corners, fit))
                .collect(),
        );
        solved.rectangle_times = likeliest(&solved.fits).map(|fit| (fit.misfit / MOST_MISFIT_RECTANGLE).sqrt());
    }
    Some(solved)
}

fn likeliest(of: &Weighted) -> Option<&Fit> {
    of.first().map(|(_, fit)| fit)
}

/// The fit to the rectangle too, from the one to the sheet alone.
fn refit(both: &Tapped, corners: &Corners, alone: &Fit) -> Option<Fit> {
    let mut points = [[0.0; 2]; 4];
    for (point, place) in points.iter_mut().zip(corners.places) {
        *point = alone.scene.view.on_front(place)?;
    }
    both.fit(Scene {
        rectangle: Some(Rectangle::around(&points)),
        ..alone.scene
    })
}

/// The fits that differ, likeliest first, with their weights.
fn weighted(mut fits: Vec<Fit>) -> Weighted {
    fits.sort_by(|a, b| b.ln_weight.total_cmp(&a.ln_weight));
    let mut different: Vec<Fit> = Vec::with_capacity(2);
    for fit in fits {
        if !different.iter().any(|kept| kept.same_as(&fit)) {
            different.push(fit);
        }
    }
    let Some(most) = different.first().map(|fit| fit.ln_weight) else {
        return Vec::new();
    };
    different.retain(|fit| (fit.ln_weight - most).exp() >= LEAST_WEIGHT);
    let sum: f64 = different.iter().map(|fit| (fit.ln_weight - most).exp()).sum();
    different
        .into_iter()
        .map(|fit| ((fit.ln_weight - most).exp() / sum, fit))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_sheet_that_may_lean_to_either_side_keeps_both_views() {
        // A card turned by 25° one and a half metres away: its near edge looks 2.4 % longer than its far one, which is
        // 1.4 errors of a tap.
        let (sine, cosine) = 25.0_f64.to_radians().sin_cos();
        let truth = View {
            axes: [[cosine, 0.0, sine], [0.0, 1.0, 0.0], [-sine, 0.0, cosine]],
            shift: [0.0, 0.0, 1.5],
            focal: 1.25,
            centre: [0.0, 0.0],
            bend: 0.0,
        };
        let corners: [Spot; 4] = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
        let corners = Corners {
            places: corners.map(|[x, y]| truth.seen([x * 0.0428, y * 0.02699]).unwrap()),
            standard_error: 0.0008,
        };
        let fits = solve(corners, 0.0856, 0.05398, None).unwrap().fits;
        let leans: Vec<f64> = fits.iter().map(|(_, fit)| fit.scene.view.axes[2][0]).collect();
        assert!(leans.len() == 2 && leans[0] < -0.3 && leans[1] > 0.3, "{leans:?}");
        assert!(fits[0].0 > 0.5 && (fits[0].0 + fits[1].0 - 1.0).abs() < 1e-12);
    }
}
