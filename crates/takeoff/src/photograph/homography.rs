//! The projective map that takes four points of a plane to four places of a picture.
//!
//! With one entry fixed to one, four pairs of points make eight linear equations for the other eight entries. Both sides
//! are first moved to their middle and scaled to a mean distance of √2, which keeps the equations well conditioned.

use super::linear::{inner, inverse, times};
use super::tap::Spot;

/// A map of a plane onto a picture, and how well four points determined it.
#[derive(Debug, Clone)]
pub(super) struct Homography {
    /// Row by row.
    pub(super) rows: [[f64; 3]; 3],
    /// Condition number (1-norm) of the eight normalised equations. A square seen squarely has 10.
    pub(super) condition: f64,
}

/// The map, or nothing if three points of a side are in a line.
///
/// # Source
/// `hartley-zisserman`, section 4.1 and 4.4: the direct linear transformation with normalised points, inhomogeneous for the
/// minimal number of pairs.
pub(super) fn homography(from: &[Spot; 4], to: &[Spot; 4]) -> Option<Homography> {
    let (from_middle, from_scale) = middle_and_scale(from)?;
    let (to_middle, to_scale) = middle_and_scale(to)?;
    let mut equations = Vec::with_capacity(8);
    let mut right = Vec::with_capacity(8);
    for (point, place) in from.iter().zip(to) {
        let [x, y] = moved(*point, from_middle, from_scale);
        let [u, v] = moved(*place, to_middle, to_scale);
        equations.push(vec![x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y]);
        right.push(u);
        equations.push(vec![0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y]);
        right.push(v);
    }
    let solved = inverse(&equations)?;
    let h = times(&solved.matrix, &right);
    let normalised = [[h[0], h[1], h[2]], [h[3], h[4], h[5]], [h[6], h[7], 1.0]];
    let [a, b] = from_middle;
    let into = [
        [from_scale, 0.0, -a * from_scale],
        [0.0, from_scale, -b * from_scale],
        [0.0, 0.0, 1.0],
    ];
    let out = [
        [1.0 / to_scale, 0.0, to_middle[0]],
        [0.0, 1.0 / to_scale, to_middle[1]],
        [0.0, 0.0, 1.0],
    ];
    Some(Homography {
        rows: product(&out, &product(&normalised, &into)),
        condition: solved.condition,
    })
}

fn middle_and_scale(points: &[Spot; 4]) -> Option<(Spot, f64)> {
    let middle = [0, 1].map(|axis| points.iter().map(|point| point[axis]).sum::<f64>() / 4.0);
    let mean = points
        .iter()
        .map(|&point| super::tap::distance(point, middle))
        .sum::<f64>()
        / 4.0;
    (mean > 0.0 && mean.is_finite()).then(|| (middle, std::f64::consts::SQRT_2 / mean))
}

fn moved(point: Spot, middle: Spot, scale: f64) -> Spot {
    [(point[0] - middle[0]) * scale, (point[1] - middle[1]) * scale]
}

fn product(a: &[[f64; 3]; 3], b: &[[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let column = |j: usize| [b[0][j], b[1][j], b[2][j]];
    [0, 1, 2].map(|i: usize| [0, 1, 2].map(|j: usize| inner(&a[i], &column(j))))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Spot; 4] = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];

    #[test]
    fn a_map_worked_out_by_hand_is_found_again() {
        // u = 2x / (1 + x), v = y / (1 + x) takes the square to these, and (3, 2) to (6/4, 2/4).
        let seen = [[0.0, 0.0], [1.0, 0.0], [1.0, 0.5], [0.0, 1.0]];
        let rows = homography(&SQUARE, &seen).unwrap().rows;
        let image = [0, 1, 2].map(|i: usize| inner(&rows[i], &[3.0, 2.0, 1.0]));
        assert!((image[0] / image[2] - 1.5).abs() < 1e-12);
        assert!((image[1] / image[2] - 0.5).abs() < 1e-12);
    }

    #[test]
    fn a_sliver_is_worse_conditioned_than_a_square() {
        let slim = |half_height: f64| {
            [
                [-6.0, -half_height],
                [6.0, -half_height],
                [6.0, half_height],
                [-6.0, half_height],
            ]
        };
        let good = homography(&SQUARE, &SQUARE).unwrap().condition;
        let bad = homography(&slim(1.0), &slim(0.2)).unwrap().condition;
        assert!(bad > 9.0 * good, "{bad} {good}");
        assert!(homography(&SQUARE, &[[0.0, 0.0]; 4]).is_none());
    }
}
