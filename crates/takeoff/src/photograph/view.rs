//! The camera's model: where a point of the front appears in the picture, and back.
//!
//! A pinhole with square pixels. The lens bends straight lines by the one-parameter division model: a place at distance
//! `r` from the lens's middle belongs to the straight one at `r / (1 + bend · r²)`, with `r` in half diagonals, so that
//! `bend` is by what share a corner of the picture is displaced.

use super::linear::{Vec3, cross, inner, norm, plus, scaled, turned};
use super::tap::Spot;

/// Where the camera stands and what it is. Spots are in half diagonals, lengths in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct View {
    /// The front's own two directions and its normal (away from the camera), as the camera sees them: across, down, away.
    pub(super) axes: [Vec3; 3],
    /// The sheet's middle, as the camera sees it.
    pub(super) shift: Vec3,
    /// Focal length.
    pub(super) focal: f64,
    /// The lens's middle.
    pub(super) centre: Spot,
    /// The lens's bending of straight lines.
    pub(super) bend: f64,
}

/// How many numbers a view has.
pub(super) const VIEW_NUMBERS: usize = 10;

/// What is expected of a camera before anything is seen: middle and standard error of each.
pub(super) struct Prior;

impl Prior {
    /// Focal length: 27 mm on 35 mm film, as the main camera of a phone (`common-practice`).
    pub(super) const FOCAL: f64 = 1.25;
    /// Standard error of its logarithm: 19 to 38 mm for two in three.
    const LN_FOCAL_SE: f64 = 0.35;
    /// The lens's middle beside the picture's.
    const CENTRE_SE: f64 = 0.01;
    /// Displacement at a corner: 0.7 % (`common-practice`; most phones straighten their pictures themselves).
    const BEND_SE: f64 = 0.007;

    /// By how many standard errors the view differs from what is expected.
    pub(super) fn misses(of: &View) -> [f64; 4] {
        [
            (of.focal / Self::FOCAL).ln() / Self::LN_FOCAL_SE,
            of.centre[0] / Self::CENTRE_SE,
            of.centre[1] / Self::CENTRE_SE,
            of.bend / Self::BEND_SE,
        ]
    }
}

impl View {
    /// A view from the map of the front onto the picture, for the expected focal length and a straight lens.
    ///
    /// # Source
    /// `hartley-zisserman`, section 8.1.1: for a plane the map's columns are the camera times its two directions and the shift.
    pub(super) fn from_map(rows: &[[f64; 3]; 3]) -> Option<Self> {
        let ray = |j: usize| [rows[0][j] / Prior::FOCAL, rows[1][j] / Prior::FOCAL, rows[2][j]];
        let (across, down, shift) = (ray(0), ray(1), ray(2));
        let size = f64::midpoint(norm(across), norm(down));
        let size = if shift[2] < 0.0 { -size } else { size };
        let across = scaled(across, 1.0 / norm(across) * size.signum());
        let down = scaled(down, 1.0 / size);
        let away = cross(across, down);
        let away = scaled(away, 1.0 / norm(away));
        let view = Self {
            axes: [across, cross(away, across), away],
            shift: scaled(shift, 1.0 / size),
            focal: Prior::FOCAL,
            centre: [0.0, 0.0],
            bend: 0.0,
        };
        let known = view.axes.iter().chain([&view.shift]).flatten().all(|x| x.is_finite());
        known.then_some(view)
    }

    /// The other way in which a small sheet can lie and look nearly the same: tilted as much to the opposite side of the
    /// line of sight.
    pub(super) fn tilted_the_other_way(&self) -> Self {
        let sight = scaled(self.shift, 1.0 / norm(self.shift));
        let away = self.axes[2];
        let along = inner(&away, &sight);
        let tilt = cross(away, sight);
        let sine = norm(tilt);
        if sine < 1e-9 {
            return *self;
        }
        let about = scaled(tilt, 2.0 * sine.atan2(along) / sine);
        Self {
            axes: self.axes.map(|axis| turned(axis, about)),
            ..*self
        }
    }

    /// The view a small step away in each of its numbers: three turns in radians, three shifts as shares of the distance,
    /// the logarithm of the focal length, the lens's middle, its bend.
    pub(super) fn moved(&self, by: &[f64]) -> Self {
        let distance = norm(self.shift);
        Self {
            axes: self.axes.map(|axis| turned(axis, [by[0], by[1], by[2]])),
            shift: plus(self.shift, scaled([by[3], by[4], by[5]], distance)),
            focal: self.focal * by[6].exp(),
            centre: [self.centre[0] + by[7], self.centre[1] + by[8]],
            bend: self.bend + by[9],
        }
    }

    /// Where a point of the front, in metres from the sheet's middle, appears; nothing if it is behind the camera or bent
    /// out of every picture.
    pub(super) fn seen(&self, point: Spot) -> Option<Spot> {
        let [across, down, _] = self.axes;
        let at = plus(plus(scaled(across, point[0]), scaled(down, point[1])), self.shift);
        if at[2] <= 1e-9 {
            return None;
        }
        let straight = [self.focal * at[0] / at[2], self.focal * at[1] / at[2]];
        let room = 1.0 - 4.0 * self.bend * inner(&straight, &straight);
        if room <= 0.0 {
            return None;
        }
        let bent = 2.0 / (1.0 + room.sqrt());
        Some([self.centre[0] + bent * straight[0], self.centre[1] + bent * straight[1]])
    }

    /// Which point of the front appears at a place; nothing at or beyond the front's horizon.
    pub(super) fn on_front(&self, place: Spot) -> Option<Spot> {
        let bent = [place[0] - self.centre[0], place[1] - self.centre[1]];
        let divisor = 1.0 + self.bend * inner(&bent, &bent);
        if divisor <= 0.0 {
            return None;
        }
        let ray = [bent[0] / divisor / self.focal, bent[1] / divisor / self.focal, 1.0];
        let [across, down, away] = self.axes;
        let reach = inner(&away, &self.shift) / inner(&away, &ray);
        if !reach.is_finite() || reach <= 0.0 {
            return None;
        }
        let from_sheet = plus(scaled(ray, reach), scaled(self.shift, -1.0));
        Some([inner(&from_sheet, &across), inner(&from_sheet, &down)])
    }

    /// Angle between the line of sight to the sheet and the front's normal, in radians.
    pub(super) fn off_square(&self) -> f64 {
        let sight = scaled(self.shift, 1.0 / norm(self.shift));
        norm(cross(self.axes[2], sight)).atan2(inner(&self.axes[2], &sight).abs())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Turned about the upright axis by the angle of the 3-4-5 triangle, one metre away.
    fn tilted() -> View {
        View {
            axes: [[0.8, 0.0, 0.6], [0.0, 1.0, 0.0], [-0.6, 0.0, 0.8]],
            shift: [0.0, 0.0, 1.0],
            focal: 1.25,
            centre: [0.0, 0.0],
            bend: 0.0,
        }
    }

    #[test]
    fn a_point_appears_where_it_does_by_hand() {
        // 0.5 m to the right lies 0.4 to the right and 0.3 further: 1.25 · 0.4 / 1.3.
        let seen = tilted().seen([0.5, 0.13]).unwrap();
        assert!((seen[0] - 0.5 / 1.3).abs() < 1e-12 && (seen[1] - 0.125).abs() < 1e-12);
        assert!((tilted().off_square().to_degrees() - 36.869_897_645_844_02).abs() < 1e-9);
    }

    #[test]
    fn what_is_seen_leads_back_to_the_point_through_a_bent_lens() {
        let view = View {
            bend: -0.02,
            centre: [0.01, -0.02],
            ..tilted()
        };
        let back = view.on_front(view.seen([0.31, -0.22]).unwrap()).unwrap();
        assert!((back[0] - 0.31).abs() < 1e-12 && (back[1] + 0.22).abs() < 1e-12);
    }

    #[test]
    fn there_is_nothing_of_the_front_beyond_its_horizon() {
        // The front runs away to the right: its horizon is where the ray has the slope of the front, 0.8 / 0.6.
        let horizon = 1.25 * 0.8 / 0.6;
        assert!(tilted().on_front([horizon - 0.01, 0.0]).is_some());
        assert!(tilted().on_front([horizon + 0.01, 0.0]).is_none());
    }

    #[test]
    fn the_other_tilt_is_as_far_off_square_on_the_other_side() {
        let other = tilted().tilted_the_other_way();
        assert!((other.off_square() - tilted().off_square()).abs() < 1e-12);
        assert!((other.axes[2][0] - 0.6).abs() < 1e-12, "{:?}", other.axes);
    }
}
