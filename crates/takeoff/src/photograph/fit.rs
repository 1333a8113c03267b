//! The view that explains the taps best, and how sure that is.
//!
//! Every corner tapped is an observation with the aim's standard error; what is expected of a camera (its focal length, its
//! middle, how much it bends lines) is an observation too. The view is the least-squares fit to both together, and the
//! inverse of the normal equations is its covariance, so one computation carries the errors of tapping and of the lens.
//! Four corners alone fix eight numbers; the expectations supply what is missing and the corners correct them.

use super::linear::{Matrix, inner, inverse, times};
use super::tap::{Spot, distance};
use super::view::{Prior, VIEW_NUMBERS, View};

/// Step of the numerical derivative. All numbers of a scene are of the order of one.
const STEP: f64 = 1e-6;
/// More steps than any fit of a real photograph takes.
const MOST_STEPS: usize = 80;

/// A rectangle of unknown size on the front, in metres from the sheet's middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rectangle {
    pub(super) middle: Spot,
    /// By how much its first side is turned from the sheet's, in radians.
    pub(super) turn: f64,
    /// First (upper as tapped) and second side.
    pub(super) sides: Spot,
}

/// What is fitted: the view and, if one was tapped, the rectangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scene {
    pub(super) view: View,
    pub(super) rectangle: Option<Rectangle>,
}

/// Four points of the front whose places were tapped.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corners {
    pub(super) places: [Spot; 4],
    /// Standard error of each, in half diagonals.
    pub(super) standard_error: f64,
}

/// All that was tapped.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tapped {
    pub(super) sheet: Corners,
    /// Where the sheet's corners are on the front, in the order of the taps.
    pub(super) sheet_points: [Spot; 4],
    pub(super) rectangle: Option<Corners>,
}

/// A fitted scene.
#[derive(Debug, Clone)]
pub(super) struct Fit {
    pub(super) scene: Scene,
    pub(super) covariance: Matrix,
    /// Sum of squared misses, each in its standard errors.
    pub(super) misfit: f64,
    /// Logarithm of the posterior weight of this solution among others.
    pub(super) ln_weight: f64,
}

impl Rectangle {
    /// Its corners in the order of the taps.
    pub(super) fn corners(&self) -> [Spot; 4] {
        let (sine, cosine) = self.turn.sin_cos();
        [[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]].map(|[a, b]| {
            let (x, y) = (a * self.sides[0], b * self.sides[1]);
            [
                self.middle[0] + cosine * x - sine * y,
                self.middle[1] + sine * x + cosine * y,
            ]
        })
    }

    /// The one nearest to four points in order.
    pub(super) fn around(points: &[Spot; 4]) -> Self {
        let [a, b, c, d] = *points;
        Self {
            middle: [0, 1].map(|axis| points.iter().map(|point| point[axis]).sum::<f64>() / 4.0),
            turn: (b[1] - a[1] + c[1] - d[1]).atan2(b[0] - a[0] + c[0] - d[0]),
            sides: [
                f64::midpoint(distance(a, b), distance(d, c)),
                f64::midpoint(distance(b, c), distance(a, d)),
            ],
        }
    }

    fn moved(&self, by: &[f64]) -> Self {
        Self {
            middle: [self.middle[0] + by[0], self.middle[1] + by[1]],
            turn: self.turn + by[2],
            sides: [self.sides[0] * by[3].exp(), self.sides[1] * by[4].exp()],
        }
    }
}

impl Scene {
    pub(super) fn numbers(&self) -> usize {
        VIEW_NUMBERS + if self.rectangle.is_some() { 5 } else { 0 }
    }

    pub(super) fn moved(&self, by: &[f64]) -> Self {
        Self {
            view: self.view.moved(by),
            rectangle: self.rectangle.map(|rectangle| rectangle.moved(&by[VIEW_NUMBERS..])),
        }
    }

    /// Derivative of several values by every number of the scene, one row a number.
    pub(super) fn derivatives(&self, of: impl Fn(&Self) -> Option<Vec<f64>>) -> Option<Matrix> {
        let mut by = vec![0.0; self.numbers()];
        let mut rows = Vec::with_capacity(by.len());
        for i in 0..by.len() {
            by[i] = STEP;
            let after = of(&self.moved(&by))?;
            by[i] = -STEP;
            let before = of(&self.moved(&by))?;
            by[i] = 0.0;
            rows.push(
                after
                    .iter()
                    .zip(&before)
                    .map(|(after, before)| (after - before) / (2.0 * STEP))
                    .collect(),
            );
        }
        Some(rows)
    }
}

impl Corners {
    /// By how many standard errors each place misses the one where its point is seen.
    fn misses(&self, view: &View, points: &[Spot; 4], into: &mut Vec<f64>) -> Option<()> {
        for (place, point) in self.places.iter().zip(points) {
            let seen = view.seen(*point)?;
            into.push((seen[0] - place[0]) / self.standard_error);
            into.push((seen[1] - place[1]) / self.standard_error);
        }
        Some(())
    }
}

impl Tapped {
    fn misses(&self, scene: &Scene) -> Option<Vec<f64>> {
        let mut misses = Vec::with_capacity(20);
        self.sheet.misses(&scene.view, &self.sheet_points, &mut misses)?;
        misses.extend(Prior::misses(&scene.view));
        if let (Some(corners), Some(rectangle)) = (&self.rectangle, &scene.rectangle) {
            corners.misses(&scene.view, &rectangle.corners(), &mut misses)?;
        }
        misses.iter().all(|miss| miss.is_finite()).then_some(misses)
    }

    /// The best scene near a first guess, by damped Gauss–Newton steps; nothing if the guess leads nowhere.
    pub(super) fn fit(&self, mut scene: Scene) -> Option<Fit> {
        let mut misses = self.misses(&scene)?;
        let mut misfit = inner(&misses, &misses);
        let mut damping = 1e-3;
        for _ in 0..MOST_STEPS {
            let slopes = scene.derivatives(|scene| self.misses(scene))?;
            let downhill: Vec<f64> = slopes.iter().map(|row| -inner(row, &misses)).collect();
            let mut normal = normal_equations(&slopes);
            for (i, row) in normal.iter_mut().enumerate() {
                row[i] *= 1.0 + damping;
            }
            let step = times(&inverse(&normal)?.matrix, &downhill);
            let next = scene.moved(&step);
            let tried = self
                .misses(&next)
                .map(|misses| (inner(&misses, &misses), misses))
                .filter(|(after, _)| *after < misfit);
            if let Some((after, misses_after)) = tried {
                let gain = misfit - after;
                (scene, misfit, misses) = (next, after, misses_after);
                damping = f64::max(damping / 8.0, 1e-12);
                if gain < 1e-9 {
                    break;
                }
            } else {
                damping *= 6.0;
                if damping > 1e9 {
                    break;
                }
            }
        }
        let normal = normal_equations(&scene.derivatives(|scene| self.misses(scene))?);
        let covariance = inverse(&normal)?;
        Some(Fit {
            scene,
            misfit,
            ln_weight: -0.5 * (misfit + covariance.ln_determinant),
            covariance: covariance.matrix,
        })
    }
}

fn normal_equations(slopes: &Matrix) -> Matrix {
    slopes
        .iter()
        .map(|a| slopes.iter().map(|b| inner(a, b)).collect())
        .collect()
}

impl Fit {
    /// Variance of a value that depends on the scene, to the first order.
    pub(super) fn variance(&self, of: impl Fn(&Scene) -> Option<f64>) -> Option<f64> {
        let slopes: Vec<f64> = self
            .scene
            .derivatives(|scene| Some(vec![of(scene)?]))?
            .into_iter()
            .flatten()
            .collect();
        Some(inner(&slopes, &times(&self.covariance, &slopes)))
    }

    /// Whether two fits ended in the same place.
    pub(super) fn same_as(&self, other: &Self) -> bool {
        let apart = (0..3)
            .map(|axis| 1.0 - inner(&self.scene.view.axes[axis], &other.scene.view.axes[axis]))
            .fold(0.0, f64::max);
        apart < 1e-5
    }
}
