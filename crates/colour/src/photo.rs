//! The piece in its new colour, on the user's own photograph.
//!
//! A [`Picture`] is decoded from a file under strict limits ([`decode`]); a [`Mask`] says which pixels are the zone (drawn as
//! a [`polygon`](Mask::polygon), or [`grow`]n from touches where the colours allow it); [`Repaint`] takes the light on the zone
//! apart once and then lays any colour on it in a few milliseconds. All of it works on pixels in memory.
//!
//! A screen lies: it shows neither the exact colour nor the sheen. A picture for a client says so
//! ([`sheet::choices`]).

mod apart;
pub mod card;
pub mod decode;
pub mod grow;
mod letters;
mod mask;
mod plane;
mod repaint;
pub mod sheet;

pub use card::OldColour;
pub use decode::PhotoError;
pub use mask::Mask;
pub use repaint::{Look, Repaint};

/// A photograph: eight bits a channel, red, green, blue, row by row from the top left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
}

impl Picture {
    /// A picture of pixels that are at hand; `rgb` has three bytes a pixel.
    ///
    /// # Errors
    /// [`PhotoError::Shape`] where the bytes are not width × height × 3 or there are none.
    pub fn from_rgb(width: usize, height: usize, rgb: Vec<u8>) -> Result<Self, PhotoError> {
        let fits = width.checked_mul(height).and_then(|n| n.checked_mul(3)) == Some(rgb.len());
        if !fits || rgb.is_empty() {
            return Err(PhotoError::Shape {
                width,
                height,
                bytes: rgb.len(),
            });
        }
        Ok(Self { width, height, rgb })
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

    /// The bytes, three a pixel.
    #[must_use]
    pub fn rgb(&self) -> &[u8] {
        &self.rgb
    }

    /// One pixel; `None` outside.
    #[must_use]
    pub fn pixel(&self, x: usize, y: usize) -> Option<crate::Srgb> {
        let at = (y * self.width + x) * 3;
        let inside = x < self.width && y < self.height;
        inside.then(|| crate::Srgb::new(self.rgb[at], self.rgb[at + 1], self.rgb[at + 2]))
    }

    /// The same picture made smaller by a whole number, so that its longer side has at most `longest` pixels; each pixel
    /// is the mean of those it stands for.
    #[must_use]
    pub fn shrunk_to(&self, longest: usize) -> Self {
        let step = self.width.max(self.height).div_ceil(longest.max(1)).max(1);
        if step == 1 {
            return self.clone();
        }
        let (width, height) = (self.width.div_ceil(step), self.height.div_ceil(step));
        let mut rgb = vec![0_u8; width * height * 3];
        plane::by_rows(&mut rgb, width * 3, |first, rows| {
            for (dy, row) in rows.chunks_mut(width * 3).enumerate() {
                self.shrink_row((first + dy) * step, step, row);
            }
        });
        Self { width, height, rgb }
    }

    fn shrink_row(&self, top: usize, step: usize, row: &mut [u8]) {
        let mut sums = vec![0_u32; row.len()];
        let bottom = (top + step).min(self.height);
        for y in top..bottom {
            let line = &self.rgb[y * self.width * 3..(y + 1) * self.width * 3];
            for (sum, block) in sums.chunks_exact_mut(3).zip(line.chunks(step * 3)) {
                for pixel in block.chunks_exact(3) {
                    for (s, v) in sum.iter_mut().zip(pixel) {
                        *s += u32::from(*v);
                    }
                }
            }
        }
        for (i, (out, sum)) in row.chunks_exact_mut(3).zip(sums.chunks_exact(3)).enumerate() {
            let across = (self.width - i * step).min(step);
            let count = u32::try_from(across * (bottom - top)).unwrap_or(u32::MAX).max(1);
            for (o, s) in out.iter_mut().zip(sum) {
                *o = u8::try_from((s + count / 2) / count).unwrap_or(u8::MAX);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_smaller_picture_has_the_mean_of_its_pixels() {
        let rgb = [10, 20, 30, 30, 40, 50, 90, 0, 0, 50, 60, 70, 70, 80, 90, 10, 0, 255].to_vec();
        let picture = Picture::from_rgb(3, 2, rgb).unwrap();
        let small = picture.shrunk_to(2);
        assert_eq!((small.width(), small.height()), (2, 1));
        assert_eq!(small.rgb(), [40, 50, 60, 50, 0, 128]);
        assert_eq!(picture.shrunk_to(3), picture);
    }

    #[test]
    fn bytes_must_fit_the_size() {
        assert!(Picture::from_rgb(2, 2, vec![0; 11]).is_err());
        assert!(Picture::from_rgb(0, 0, vec![]).is_err());
        assert!(Picture::from_rgb(usize::MAX, 2, vec![0; 12]).is_err());
    }
}
