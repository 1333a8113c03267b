//! Which pixels are the zone.

use crate::photo::{PhotoError, Picture};

/// For each pixel how much of it is the zone: 0 nothing, 255 all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mask {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) cover: Vec<u8>,
}

impl Mask {
    /// Nothing marked.
    #[must_use]
    pub fn empty(width: usize, height: usize) -> Self {
        Self {
            width,
            height,
            cover: vec![0; width * height],
        }
    }

    /// A mask from one byte a pixel.
    ///
    /// # Errors
    /// [`PhotoError::Shape`] where the bytes are not width × height.
    pub fn from_cover(width: usize, height: usize, cover: Vec<u8>) -> Result<Self, PhotoError> {
        if width.checked_mul(height) != Some(cover.len()) {
            return Err(PhotoError::Shape {
                width,
                height,
                bytes: cover.len(),
            });
        }
        Ok(Self { width, height, cover })
    }

    /// The inside of an outline, corners in pixels (the middle of the first pixel is 0.5, 0.5); where it crosses itself, what
    /// is enclosed twice is outside. Its edge is smooth to a quarter of a pixel.
    #[must_use]
    pub fn polygon(width: usize, height: usize, corners: &[(f64, f64)]) -> Self {
        let mut mask = Self::empty(width, height);
        let mut crossings = Vec::new();
        for y in 0..height {
            let row = &mut mask.cover[y * width..(y + 1) * width];
            let mut sums = vec![0.0_f64; width];
            for quarter in [0.125, 0.375, 0.625, 0.875] {
                crossings_at(corners, count(y) + quarter, &mut crossings);
                for pair in crossings.chunks_exact(2) {
                    add_span(&mut sums, pair[0], pair[1]);
                }
            }
            for (cover, sum) in row.iter_mut().zip(&sums) {
                *cover = level(sum / 4.0);
            }
        }
        mask
    }

    /// Adds a round touch of a brush; see [`Mask::wipe`] for its opposite.
    pub fn touch(&mut self, x: f64, y: f64, radius: f64) {
        self.dab(x, y, radius, |cover, touched| cover.max(touched));
    }

    /// Takes a round touch away.
    pub fn wipe(&mut self, x: f64, y: f64, radius: f64) {
        self.dab(x, y, radius, |cover, touched| cover.min(255 - touched));
    }

    fn dab(&mut self, x: f64, y: f64, radius: f64, change: impl Fn(u8, u8) -> u8) {
        for row in 0..self.height {
            let dy = count(row) + 0.5 - y;
            if dy.abs() > radius + 1.0 {
                continue;
            }
            for column in 0..self.width {
                let away = (count(column) + 0.5 - x).hypot(dy);
                let cover = &mut self.cover[row * self.width + column];
                *cover = change(*cover, level(radius - away + 0.5));
            }
        }
    }

    /// What either marks.
    ///
    /// # Errors
    /// [`PhotoError::MaskSize`] where the two are of different sizes.
    pub fn joined(mut self, other: &Self) -> Result<Self, PhotoError> {
        self.same_size(other.width, other.height)?;
        for (cover, more) in self.cover.iter_mut().zip(&other.cover) {
            *cover = (*cover).max(*more);
        }
        Ok(self)
    }

    /// What this marks and the other does not.
    ///
    /// # Errors
    /// [`PhotoError::MaskSize`] where the two are of different sizes.
    pub fn without(mut self, other: &Self) -> Result<Self, PhotoError> {
        self.same_size(other.width, other.height)?;
        for (cover, less) in self.cover.iter_mut().zip(&other.cover) {
            *cover = (*cover).min(255 - less);
        }
        Ok(self)
    }

    /// Pixels from left to right.
    #[must_use]
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Pixels from top to bottom.
    #[must_use]
    pub const fn height(&self) -> usize {
        self.height
    }

    /// One byte a pixel, row by row.
    #[must_use]
    pub fn cover(&self) -> &[u8] {
        &self.cover
    }

    /// Whether a pixel belongs to the zone by half or more.
    #[must_use]
    pub fn has(&self, x: usize, y: usize) -> bool {
        x < self.width && y < self.height && self.cover[y * self.width + x] >= 128
    }

    /// Share of the picture that is marked, 0 to 1.
    #[must_use]
    pub fn share(&self) -> f64 {
        let marked = self.cover.iter().filter(|c| **c >= 128).count();
        count(marked) / count(self.cover.len()).max(1.0)
    }

    pub(crate) fn fits(&self, picture: &Picture) -> Result<(), PhotoError> {
        self.same_size(picture.width(), picture.height())?;
        if self.cover.iter().all(|c| *c == 0) {
            Err(PhotoError::EmptyMask)
        } else {
            Ok(())
        }
    }

    fn same_size(&self, width: usize, height: usize) -> Result<(), PhotoError> {
        if (self.width, self.height) == (width, height) {
            return Ok(());
        }
        Err(PhotoError::MaskSize {
            mask_width: self.width,
            mask_height: self.height,
            width,
            height,
        })
    }
}

/// Where the outline crosses a horizontal line, from left to right.
fn crossings_at(corners: &[(f64, f64)], y: f64, crossings: &mut Vec<f64>) {
    crossings.clear();
    for (i, &(x1, y1)) in corners.iter().enumerate() {
        let (x0, y0) = corners[(i + corners.len() - 1) % corners.len()];
        if (y0 <= y) != (y1 <= y) {
            crossings.push(x0 + (y - y0) / (y1 - y0) * (x1 - x0));
        }
    }
    crossings.retain(|x| x.is_finite());
    crossings.sort_by(f64::total_cmp);
}

/// Adds to each pixel of a row the share of it that lies between two places.
fn add_span(sums: &mut [f64], left: f64, right: f64) {
    for (x, sum) in sums.iter_mut().enumerate() {
        let pixel = count(x);
        *sum += (right.min(pixel + 1.0) - left.max(pixel)).max(0.0);
    }
}

/// A pixel count as a number; exact up to 2^53, far more pixels than memory holds.
#[expect(clippy::cast_precision_loss, reason = "counts of pixels are far below 2^53")]
pub(crate) const fn count(n: usize) -> f64 {
    n as f64
}

/// 0..=1 to 0..=255, nearest.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=255 before"
)]
pub(crate) fn level(share: f64) -> u8 {
    (share * 255.0 + 0.5).clamp(0.0, 255.0) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_outline_has_its_area() {
        let mask = Mask::polygon(40, 30, &[(5.0, 5.0), (25.5, 5.0), (25.5, 20.0), (5.0, 20.0)]);
        let area: f64 = mask.cover().iter().map(|c| f64::from(*c) / 255.0).sum();
        assert!((area - 20.5 * 15.0).abs() < 0.2, "{area}");
        assert!(mask.has(5, 5) && !mask.has(4, 5) && !mask.has(5, 20));
    }

    #[test]
    fn an_outline_may_leave_the_picture() {
        let mask = Mask::polygon(
            10,
            10,
            &[(-50.0, -50.0), (100.0, -50.0), (100.0, 100.0), (-50.0, 100.0)],
        );
        assert!(mask.cover().iter().all(|c| *c == 255));
        assert!(Mask::polygon(10, 10, &[(f64::NAN, 1.0), (3.0, 4.0), (5.0, 1.0)]).share() < 0.5);
        assert!((Mask::polygon(10, 10, &[]).share()).abs() < 1e-12);
    }

    #[test]
    fn brush_adds_and_takes_away() {
        let mut mask = Mask::empty(50, 50);
        mask.touch(25.0, 25.0, 10.0);
        let area: f64 = mask.cover().iter().map(|c| f64::from(*c) / 255.0).sum();
        assert!((area - 314.2).abs() < 6.0, "{area}");
        mask.wipe(25.0, 25.0, 12.0);
        assert!(mask.cover().iter().all(|c| *c == 0));
    }

    #[test]
    fn masks_of_two_sizes_do_not_join() {
        let error = Mask::empty(3, 3).joined(&Mask::empty(3, 4)).unwrap_err().to_string();
        assert!(error.contains("3 × 3"), "{error}");
    }
}
