//! Linear equations, as many as a spectrum has bands and no more.

/// Solves `matrix · x = right` in place by elimination with row exchange; `right` then holds x.
///
/// `matrix` is n × n by rows. Returns `None` where the matrix is singular to working precision.
pub(crate) fn solve(matrix: &mut [f64], right: &mut [f64]) -> Option<()> {
    let n = right.len();
    for column in 0..n {
        let pivot =
            (column..n).max_by(|&i, &j| matrix[i * n + column].abs().total_cmp(&matrix[j * n + column].abs()))?;
        let size = matrix[pivot * n + column].abs();
        if !size.is_finite() || size < 1e-300 {
            return None;
        }
        if pivot != column {
            for k in column..n {
                matrix.swap(pivot * n + k, column * n + k);
            }
            right.swap(pivot, column);
        }
        for row in column + 1..n {
            let factor = matrix[row * n + column] / matrix[column * n + column];
            if factor != 0.0 {
                let (above, below) = matrix.split_at_mut(row * n);
                let source = &above[column * n + column..column * n + n];
                for (value, from) in below[column..n].iter_mut().zip(source) {
                    *value -= factor * from;
                }
                right[row] -= factor * right[column];
            }
        }
    }
    for row in (0..n).rev() {
        let known: f64 = (row + 1..n).map(|k| matrix[row * n + k] * right[k]).sum();
        right[row] = (right[row] - known) / matrix[row * n + row];
    }
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solves_with_row_exchange() {
        let mut matrix = [0.0, 2.0, 1.0, 1.0, 0.0, 3.0, 4.0, 1.0, 0.0];
        let mut right = [7.0, 10.0, 6.0];
        solve(&mut matrix, &mut right).unwrap();
        assert!(
            right
                .iter()
                .zip([1.0, 2.0, 3.0])
                .all(|(x, want)| (x - want).abs() < 1e-12),
            "{right:?}"
        );
    }

    #[test]
    fn refuses_a_singular_matrix() {
        assert!(solve(&mut [1.0, 2.0, 2.0, 4.0], &mut [1.0, 2.0]).is_none());
    }
}
