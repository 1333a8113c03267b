//! Round parts: solids of revolution and oval slabs, with their areas in closed form where there is one.

use super::{Point, SurfaceIndex, at};

/// The direction along which a turning's profile runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Axis {
    /// Upwards: legs, posts, spindles.
    Up,
    /// Out of the front, towards the one who looks: knobs.
    Forward,
}

/// A solid of revolution: straight lines between (distance along the axis, radius), in metres, distances not falling.
#[derive(Debug, Clone)]
pub(crate) struct Turning {
    pub(crate) foot: Point,
    pub(crate) axis: Axis,
    pub(crate) profile: Vec<(f64, f64)>,
    pub(crate) surface: SurfaceIndex,
    /// Whether the disc at the first point is open to the air.
    pub(crate) first_disc: bool,
    /// Whether the disc at the last point is.
    pub(crate) last_disc: bool,
}

impl Turning {
    /// The surface by Pappus' first theorem: each straight line of the profile sweeps π (r₁ + r₂) × its length.
    pub(crate) fn area_m2(&self) -> f64 {
        let swept: f64 = self
            .profile
            .windows(2)
            .map(|w| std::f64::consts::PI * (w[0].1 + w[1].1) * (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1))
            .sum();
        let disc = |open: bool, end: Option<&(f64, f64)>| match end {
            Some(&(_, r)) if open => std::f64::consts::PI * r * r,
            _ => 0.0,
        };
        swept + disc(self.first_disc, self.profile.first()) + disc(self.last_disc, self.profile.last())
    }

    /// The circle of radius `r` at distance `s` along the axis, as `n` points anticlockwise seen from the axis' end.
    pub(crate) fn circle(&self, (s, r): (f64, f64), n: usize) -> Vec<Point> {
        (0..n)
            .map(|i| {
                let (sin, cos) = (std::f64::consts::TAU * i as f64 / n as f64).sin_cos();
                match self.axis {
                    Axis::Up => self.foot + at(r * cos, r * sin, s),
                    Axis::Forward => self.foot + at(r * cos, -s, r * sin),
                }
            })
            .collect()
    }

    /// The surface as flat faces, `n` round the axis.
    pub(crate) fn facets(&self, n: usize) -> Vec<Vec<Point>> {
        let mut faces = Vec::new();
        for w in self.profile.windows(2) {
            let (low, high) = (self.circle(w[0], n), self.circle(w[1], n));
            for i in 0..n {
                let j = (i + 1) % n;
                match (w[0].1 > 1e-9, w[1].1 > 1e-9) {
                    (true, true) => {
                        faces.push(vec![low[i], low[j], high[j]]);
                        faces.push(vec![low[i], high[j], high[i]]);
                    }
                    (true, false) => faces.push(vec![low[i], low[j], high[i]]),
                    (false, true) => faces.push(vec![low[i], high[j], high[i]]),
                    (false, false) => {}
                }
            }
        }
        if let (true, Some(&first)) = (self.first_disc, self.profile.first()) {
            let mut disc = self.circle(first, n);
            disc.reverse();
            faces.push(disc);
        }
        if let (true, Some(&last)) = (self.last_disc, self.profile.last()) {
            faces.push(self.circle(last, n));
        }
        faces
    }
}

/// A level round or oval slab: a table top, a stool's seat.
#[derive(Debug, Clone)]
pub(crate) struct Slab {
    /// The middle of its underside.
    pub(crate) middle: Point,
    /// Half its width and half its depth.
    pub(crate) radii: (f64, f64),
    pub(crate) thickness: f64,
    pub(crate) surface: SurfaceIndex,
    pub(crate) underside: SurfaceIndex,
}

/// Into how many straight lines a rim is cut where it is measured or exported; the area is then short by 0.02 %.
pub(crate) const RIM: usize = 180;

impl Slab {
    /// The rim at height `dz` above the underside, `n` points anticlockwise from above.
    pub(crate) fn rim(&self, dz: f64, n: usize) -> Vec<Point> {
        (0..n)
            .map(|i| {
                let (sin, cos) = (std::f64::consts::TAU * i as f64 / n as f64).sin_cos();
                self.middle + at(self.radii.0 * cos, self.radii.1 * sin, dz)
            })
            .collect()
    }

    /// Once round the rim. Ramanujan's second approximation, which is exact for a circle and good to 1 in 10⁵ for
    /// anything that is used as a table.
    pub(crate) fn rim_m(&self) -> f64 {
        let (a, b) = self.radii;
        if a + b <= 0.0 {
            return 0.0;
        }
        let h = ((a - b) / (a + b)).powi(2);
        std::f64::consts::PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()))
    }

    /// The level face, from one side.
    pub(crate) fn face_m2(&self) -> f64 {
        std::f64::consts::PI * self.radii.0 * self.radii.1
    }
}
