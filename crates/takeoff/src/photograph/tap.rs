//! Taps on a picture, how well they are aimed, and the order of four corners.

use super::PhotographRefusal;

/// The least sine of the angle at a corner: below it three corners are as good as in a line.
const LEAST_SINE: f64 = 0.08;

/// A picture's size. It must be the whole picture as the camera made it, not a cut-out: the middle of the picture is taken
/// for the middle of the lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Picture {
    /// Width in pixels.
    pub width_px: f64,
    /// Height in pixels.
    pub height_px: f64,
}

/// A place on the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tap {
    /// Pixels from the left edge.
    pub x_px: f64,
    /// Pixels from the top edge.
    pub y_px: f64,
}

/// How well a tap is aimed: the standard error in each direction, as a share of the picture's longer side.
///
/// The shares are assumptions (`common-practice`): of a picture of 4000 pixels they are 2, 6 and 24. A bare thumb is
/// accurate to about a millimetre on the glass, which is rarely good enough: show a magnifier.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Aim {
    /// Cross hairs dragged under a magnifier: 0.05 %.
    #[default]
    Loupe,
    /// On a picture enlarged about four times, or with a mouse: 0.15 %.
    Enlarged,
    /// A thumb on the whole picture: 0.6 %.
    Thumb,
}

impl Aim {
    const fn share(self) -> f64 {
        match self {
            Self::Loupe => 0.0005,
            Self::Enlarged => 0.0015,
            Self::Thumb => 0.006,
        }
    }

    /// The standard error in pixels.
    #[must_use]
    pub const fn standard_error_px(self, on: Picture) -> f64 {
        self.share() * on.width_px.max(on.height_px)
    }
}

/// A place measured from the picture's middle, where half its diagonal is one.
pub(super) type Spot = [f64; 2];

impl Picture {
    pub(super) fn checked(self) -> Result<Self, PhotographRefusal> {
        let usable = |px: f64| (200.0..=100_000.0).contains(&px);
        if usable(self.width_px) && usable(self.height_px) {
            Ok(self)
        } else {
            Err(PhotographRefusal::PictureSize {
                width_px: self.width_px,
                height_px: self.height_px,
            })
        }
    }

    pub(super) fn half_diagonal_px(self) -> f64 {
        f64::hypot(self.width_px, self.height_px) / 2.0
    }

    pub(super) fn spot(self, tap: Tap) -> Result<Spot, PhotographRefusal> {
        let inside = (0.0..=self.width_px).contains(&tap.x_px) && (0.0..=self.height_px).contains(&tap.y_px);
        if !inside {
            return Err(PhotographRefusal::OutsidePicture {
                x_px: tap.x_px,
                y_px: tap.y_px,
                width_px: self.width_px,
                height_px: self.height_px,
            });
        }
        let unit = self.half_diagonal_px();
        Ok([
            (tap.x_px - self.width_px / 2.0) / unit,
            (tap.y_px - self.height_px / 2.0) / unit,
        ])
    }

    /// Four corners of `what`, clockwise as seen whatever the order of the taps.
    pub(super) fn corners(self, taps: [Tap; 4], what: &'static str) -> Result<[Spot; 4], PhotographRefusal> {
        let mut spots = [[0.0; 2]; 4];
        for (spot, tap) in spots.iter_mut().zip(taps) {
            *spot = self.spot(tap)?;
        }
        clockwise(spots).ok_or(PhotographRefusal::NoFourCorners { what })
    }
}

/// The four in order round their middle, if they stand round it as the corners of a proper quadrangle.
fn clockwise(mut spots: [Spot; 4]) -> Option<[Spot; 4]> {
    let middle = [0, 1].map(|axis| spots.iter().map(|spot| spot[axis]).sum::<f64>() / 4.0);
    let bearing = |spot: &Spot| (spot[1] - middle[1]).atan2(spot[0] - middle[0]);
    spots.sort_by(|a, b| bearing(a).total_cmp(&bearing(b)));
    (0..4)
        .all(|i| corner_sine(spots[i], spots[(i + 1) % 4], spots[(i + 2) % 4]) > LEAST_SINE)
        .then_some(spots)
}

/// Sine of the turn at the middle one of three; not above nothing where it turns the wrong way or not at all.
fn corner_sine(a: Spot, b: Spot, c: Spot) -> f64 {
    let (to, from) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
    let lengths = f64::hypot(to[0], to[1]) * f64::hypot(from[0], from[1]);
    if lengths > 0.0 {
        (to[0] * from[1] - to[1] * from[0]) / lengths
    } else {
        0.0
    }
}

/// The shortest side of four corners in order.
pub(super) fn shortest_side(corners: &[Spot; 4]) -> f64 {
    (0..4)
        .map(|i| distance(corners[i], corners[(i + 1) % 4]))
        .fold(f64::INFINITY, f64::min)
}

/// The distance of two places.
pub(super) fn distance(a: Spot, b: Spot) -> f64 {
    f64::hypot(a[0] - b[0], a[1] - b[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Spot; 4] = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];

    #[test]
    fn corners_tapped_crosswise_are_put_in_order() {
        let crossed = [SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]];
        assert_eq!(clockwise(crossed), Some(SQUARE));
    }

    #[test]
    fn three_in_a_line_or_one_between_the_others_are_no_corners() {
        assert_eq!(clockwise([[0.0, 0.0], [1.0, 0.0], [2.0, 0.01], [1.0, 1.0]]), None);
        assert_eq!(clockwise([[0.0, 0.0], [2.0, 0.0], [1.0, 0.4], [1.0, 2.0]]), None);
        assert_eq!(clockwise([[0.0, 0.0], [0.0, 0.0], [1.0, 0.0], [1.0, 1.0]]), None);
    }
}
