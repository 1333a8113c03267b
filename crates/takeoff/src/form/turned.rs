//! Something turned on a lathe, by its profile.

use quantity::Length;
use serde::{Deserialize, Serialize};

use super::Shape;
use crate::solid::{Axis, Model, Named, Turning, at};
use crate::{DefaultZone, Detail, Dimension};

/// A solid of revolution, standing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Turned {
    /// Its largest diameter.
    pub diameter: Dimension,
    /// Its height.
    pub height: Dimension,
    /// The profile from the floor up: share of the height (not falling), share of the largest radius, both 0 to 1.
    pub profile: Vec<(f64, f64)>,
    /// Whether the discs at its ends are finished as well.
    pub ends: bool,
}

/// A lamp-like baluster.
const BALUSTER: [(f64, f64); 19] = [
    (0.0, 0.86),
    (0.05, 0.90),
    (0.085, 0.66),
    (0.11, 0.60),
    (0.13, 0.80),
    (0.16, 0.80),
    (0.185, 0.46),
    (0.25, 0.66),
    (0.33, 0.92),
    (0.40, 1.0),
    (0.48, 0.90),
    (0.58, 0.62),
    (0.70, 0.42),
    (0.80, 0.36),
    (0.825, 0.56),
    (0.855, 0.56),
    (0.88, 0.36),
    (0.93, 0.50),
    (1.0, 0.58),
];

impl Turned {
    /// The usual baluster of this size; its diameter is the larger of width and depth.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        Self {
            diameter: if depth.length > width.length { depth } else { width },
            height,
            profile: BALUSTER.to_vec(),
            ends: false,
        }
    }

    /// A turning from measured points (height above the floor, radius there), lowest first.
    ///
    /// Returns `None` with fewer than two points, with heights that fall, or without any height or radius.
    #[must_use]
    pub fn from_points(points: &[(Length, Length)]) -> Option<Self> {
        let (first, last) = (points.first()?.0.m(), points.last()?.0.m());
        let height = last - first;
        let radius = points.iter().map(|p| p.1.m()).fold(0.0, f64::max);
        let sound = points
            .iter()
            .all(|p| p.0.is_finite() && p.1.is_finite() && p.1.m() >= 0.0)
            && points.windows(2).all(|w| w[0].0 <= w[1].0);
        (sound && points.len() > 1 && height > 0.0 && radius > 0.0).then(|| Self {
            diameter: Dimension::taped(Length::from_m(2.0 * radius)),
            height: Dimension::taped(Length::from_m(height)),
            profile: points
                .iter()
                .map(|p| ((p.0.m() - first) / height, p.1.m() / radius))
                .collect(),
            ends: false,
        })
    }
}

impl Shape for Turned {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![("diameter", &mut self.diameter), ("height", &mut self.height)]
    }

    fn build(&self, model: &mut Model) {
        let (radius, height) = (self.diameter.m() / 2.0, self.height.m());
        let surface = model.surface(Named::flat("turning", DefaultZone::Legs).worked(Detail::Turned));
        let share = |v: f64| if v.is_finite() { v.clamp(0.0, 1.0) } else { 0.0 };
        let mut reached = 0.0_f64;
        let profile = self
            .profile
            .iter()
            .map(|&(s, r)| {
                reached = reached.max(share(s));
                (reached * height, share(r) * radius)
            })
            .collect();
        model.turning(Turning {
            foot: at(radius, radius, 0.0),
            axis: Axis::Up,
            profile,
            surface,
            first_disc: self.ends,
            last_disc: self.ends,
        });
    }
}
