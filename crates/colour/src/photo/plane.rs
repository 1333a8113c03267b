//! One number a pixel, and means over squares of pixels.

/// Splits `data` in bands of whole rows, one for each hand the machine has, and works on them at once.
///
/// `work` gets the index of its first row and its rows.
pub(crate) fn by_rows<T: Send>(data: &mut [T], row: usize, work: impl Fn(usize, &mut [T]) + Sync) {
    let rows = data.len() / row.max(1);
    let hands = std::thread::available_parallelism()
        .map_or(1, std::num::NonZero::get)
        .min(8);
    let share = rows.div_ceil(hands).max(1);
    if hands == 1 || rows < 2 * hands {
        work(0, data);
        return;
    }
    std::thread::scope(|scope| {
        for (i, band) in data.chunks_mut(share * row).enumerate() {
            let work = &work;
            scope.spawn(move || work(i * share, band));
        }
    });
}

/// A picture of one number a pixel.
#[derive(Debug, Clone)]
pub(crate) struct Plane {
    pub(crate) width: usize,
    pub(crate) data: Vec<f32>,
}

impl Plane {
    pub(crate) fn new(width: usize, data: Vec<f32>) -> Self {
        Self { width, data }
    }

    pub(crate) fn height(&self) -> usize {
        self.data.len() / self.width.max(1)
    }

    /// A plane computed pixel by pixel from others.
    pub(crate) fn from_fn(width: usize, pixels: usize, value: impl Fn(usize) -> f32) -> Self {
        Self {
            width,
            data: (0..pixels).map(value).collect(),
        }
    }

    /// Sum over the square of 2·radius + 1 pixels around each pixel, cut off at the borders.
    pub(crate) fn box_sum(&self, radius: usize) -> Self {
        let (width, height) = (self.width, self.height());
        let mut across = vec![0.0_f32; self.data.len()];
        for (out, line) in across.chunks_exact_mut(width).zip(self.data.chunks_exact(width)) {
            let mut sum: f64 = line.iter().take(radius).map(|v| f64::from(*v)).sum();
            for x in 0..width {
                if let Some(v) = line.get(x + radius) {
                    sum += f64::from(*v);
                }
                if x > radius {
                    sum -= f64::from(line[x - radius - 1]);
                }
                out[x] = narrow(sum);
            }
        }
        let mut sums = vec![0.0_f64; width];
        for line in across.chunks_exact(width).take(radius) {
            add(&mut sums, line, 1.0);
        }
        let mut data = vec![0.0_f32; self.data.len()];
        for (y, out) in data.chunks_exact_mut(width).enumerate() {
            if y + radius < height {
                add(&mut sums, &across[(y + radius) * width..(y + radius + 1) * width], 1.0);
            }
            if y > radius {
                add(&mut sums, &across[(y - radius - 1) * width..(y - radius) * width], -1.0);
            }
            for (o, s) in out.iter_mut().zip(&sums) {
                *o = narrow(*s);
            }
        }
        Self { width, data }
    }

    /// Mean over the square around each pixel, of those pixels that `weights` counts; `weight_sums` is its box sum.
    pub(crate) fn mean(&self, weights: &Self, weight_sums: &Self, radius: usize) -> Self {
        let weighted = Self::from_fn(self.width, self.data.len(), |i| self.data[i] * weights.data[i]);
        let mut sums = weighted.box_sum(radius);
        for (sum, weight) in sums.data.iter_mut().zip(&weight_sums.data) {
            *sum = if *weight > 1e-6 { *sum / weight } else { 0.0 };
        }
        sums
    }
}

fn add(sums: &mut [f64], line: &[f32], sign: f64) {
    for (sum, v) in sums.iter_mut().zip(line) {
        *sum += sign * f64::from(*v);
    }
}

/// Pixels need no more than 24 bits.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a pixel's value needs no more than single precision"
)]
pub(crate) const fn narrow(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn box_sums_are_sums() {
        let (width, height) = (7, 5);
        let plane = Plane::from_fn(width, width * height, |i| narrow(((i * 37) % 11) as f64));
        for radius in [0, 1, 2, 6, 20] {
            let sums = plane.box_sum(radius);
            for y in 0..height {
                for x in 0..width {
                    let rows = y.saturating_sub(radius)..(y + radius + 1).min(height);
                    let columns = x.saturating_sub(radius)..(x + radius + 1).min(width);
                    let want: f32 = rows
                        .flat_map(|j| columns.clone().map(move |i| j * width + i))
                        .map(|i| plane.data[i])
                        .sum();
                    assert!((sums.data[y * width + x] - want).abs() < 1e-3, "{radius} {x} {y}");
                }
            }
        }
    }

    #[test]
    fn rows_are_each_worked_on_once() {
        let mut data = vec![0_u32; 3 * 101];
        by_rows(&mut data, 3, |first, band| {
            for (i, row) in band.chunks_mut(3).enumerate() {
                row.fill(u32::try_from(first + i).unwrap() + row[0]);
            }
        });
        assert!(
            data.chunks(3)
                .enumerate()
                .all(|(i, row)| row.iter().all(|v| *v == u32::try_from(i).unwrap()))
        );
    }
}
