//! Small dense linear algebra: the inverse of a matrix with its determinant and condition, and three-vectors.
//!
//! Nothing here is larger than fifteen by fifteen, so plain elimination with pivoting is enough.

/// Rows of numbers.
pub(super) type Matrix = Vec<Vec<f64>>;
/// A point or direction in space.
pub(super) type Vec3 = [f64; 3];

/// A matrix turned round, and what the elimination learnt on the way.
#[derive(Debug, Clone)]
pub(super) struct Inverse {
    /// The inverse itself.
    pub(super) matrix: Matrix,
    /// Natural logarithm of the determinant's size.
    pub(super) ln_determinant: f64,
    /// Condition number in the 1-norm: by how much a relative error of the right-hand side may grow.
    pub(super) condition: f64,
}

/// The inverse by Gauss–Jordan elimination with row pivoting; nothing if the matrix is singular or holds no numbers.
pub(super) fn inverse(of: &Matrix) -> Option<Inverse> {
    let n = of.len();
    let mut left = of.clone();
    let mut right: Matrix = (0..n)
        .map(|i| (0..n).map(|j| if i == j { 1.0 } else { 0.0 }).collect())
        .collect();
    let mut ln_determinant = 0.0;
    for column in 0..n {
        let pivot = (column..n).max_by(|&a, &b| left[a][column].abs().total_cmp(&left[b][column].abs()))?;
        let size = left[pivot][column];
        if !size.is_finite() || size.abs() < f64::MIN_POSITIVE {
            return None;
        }
        left.swap(column, pivot);
        right.swap(column, pivot);
        ln_determinant += size.abs().ln();
        for value in left[column].iter_mut().chain(right[column].iter_mut()) {
            *value /= size;
        }
        let (pivot_left, pivot_right) = (left[column].clone(), right[column].clone());
        for row in (0..n).filter(|&row| row != column) {
            let factor = left[row][column];
            subtract(&mut left[row], &pivot_left, factor);
            subtract(&mut right[row], &pivot_right, factor);
        }
    }
    let condition = norm_1(of) * norm_1(&right);
    condition.is_finite().then_some(Inverse {
        matrix: right,
        ln_determinant,
        condition,
    })
}

fn subtract(from: &mut [f64], row: &[f64], times: f64) {
    for (value, other) in from.iter_mut().zip(row) {
        *value -= times * other;
    }
}

/// The largest sum of a column's sizes.
fn norm_1(matrix: &Matrix) -> f64 {
    (0..matrix.len())
        .map(|column| matrix.iter().map(|row| row[column].abs()).sum::<f64>())
        .fold(0.0, f64::max)
}

/// Matrix times column.
pub(super) fn times(matrix: &Matrix, column: &[f64]) -> Vec<f64> {
    matrix.iter().map(|row| inner(row, column)).collect()
}

/// The sum of products.
pub(super) fn inner(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// The length of a vector in space.
pub(super) fn norm(v: Vec3) -> f64 {
    inner(&v, &v).sqrt()
}

/// A vector stretched.
pub(super) fn scaled(v: Vec3, by: f64) -> Vec3 {
    v.map(|x| x * by)
}

/// The sum of two.
pub(super) fn plus(a: Vec3, b: Vec3) -> Vec3 {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

/// The vector at right angles to both, right-handed.
pub(super) fn cross(a: Vec3, b: Vec3) -> Vec3 {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// A vector turned about an axis; the axis's length is the angle in radians (the formula of Rodrigues).
pub(super) fn turned(v: Vec3, about: Vec3) -> Vec3 {
    let angle = norm(about);
    if angle < 1e-300 {
        return v;
    }
    let axis = scaled(about, 1.0 / angle);
    let along = scaled(axis, inner(&axis, &v) * (1.0 - angle.cos()));
    plus(plus(scaled(v, angle.cos()), scaled(cross(axis, v), angle.sin())), along)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_by_two_by_hand() {
        // 4·6 − 7·2 = 10; the inverse is [6 −7; −2 4] / 10; column sums 11 and 1.1 make the condition 14.3.
        let inverse = inverse(&vec![vec![4.0, 7.0], vec![2.0, 6.0]]).unwrap();
        let by_hand = [[0.6, -0.7], [-0.2, 0.4]];
        for (row, hand) in inverse.matrix.iter().zip(by_hand) {
            assert!(row.iter().zip(hand).all(|(a, b)| (a - b).abs() < 1e-12), "{row:?}");
        }
        assert!((inverse.ln_determinant - 10.0_f64.ln()).abs() < 1e-12);
        assert!((inverse.condition - 13.0 * 1.1).abs() < 1e-12);
    }

    #[test]
    fn rows_that_depend_on_each_other_have_no_inverse() {
        assert!(inverse(&vec![vec![1.0, 2.0], vec![2.0, 4.0]]).is_none());
        assert!(inverse(&vec![vec![f64::NAN]]).is_none());
    }

    #[test]
    fn a_quarter_turn_about_the_third_axis_takes_the_first_to_the_second() {
        let turned = turned([1.0, 0.0, 0.0], [0.0, 0.0, std::f64::consts::FRAC_PI_2]);
        assert!((turned[1] - 1.0).abs() < 1e-12 && turned[0].abs() < 1e-12);
    }
}
