//! A run moulding: girth × length.

use quantity::Length;
use serde::{Deserialize, Serialize};

use super::Shape;
use crate::dimension::assumed_mm;
use crate::solid::{Model, Named, Point, at};
use crate::{DefaultZone, Detail, Dimension};

/// A length of moulding; its face is the girth (a string laid over the profile) times the length.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Moulding {
    /// Length of the run.
    pub length: Dimension,
    /// How far it stands out from the wall.
    pub projection: Dimension,
    /// Height of its face.
    pub face_height: Dimension,
    /// Girth over the profile. What is less than the straight line from edge to edge is taken as that line.
    pub girth: Dimension,
}

/// Points of the profile, from the lower edge up: how far out and how high, as shares, for a relief of 0 (straight).
const STEPS: u8 = 16;

impl Moulding {
    /// An ogee of this length, projection and height, with the girth that such a profile has.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        let (out, high) = (depth.m(), height.m());
        Self {
            length: width,
            projection: depth,
            face_height: height,
            girth: assumed_mm(1000.0 * girth_m(&profile(out, high, 0.22))),
        }
    }

    /// The profile whose girth is the measured one.
    fn fitted(&self) -> Vec<(f64, f64)> {
        let (out, high, girth) = (self.projection.m(), self.face_height.m(), self.girth.m());
        let (mut low, mut most) = (0.0, 4.0);
        for _ in 0..60 {
            let middle = (low + most) / 2.0;
            if girth_m(&profile(out, high, middle)) < girth {
                low = middle;
            } else {
                most = middle;
            }
        }
        profile(out, high, low)
    }

    /// Girth × length, as it is reckoned by hand.
    #[must_use]
    pub fn area(&self) -> quantity::Area {
        Length::from_m(girth_m(&self.fitted())) * self.length.length
    }
}

/// An ogee over the straight line from (0, 0) to (out, high): one wave of a sine across it, `relief` as a share of the line.
fn profile(out: f64, high: f64, relief: f64) -> Vec<(f64, f64)> {
    let line = out.hypot(high).max(1e-9);
    let across = (high / line, -out / line);
    (0..=STEPS)
        .map(|i| {
            let s = f64::from(i) / f64::from(STEPS);
            let wave = relief * line * 0.5 * (std::f64::consts::TAU * s).sin();
            (out * s + across.0 * wave, high * s + across.1 * wave)
        })
        .collect()
}

fn girth_m(profile: &[(f64, f64)]) -> f64 {
    profile
        .windows(2)
        .map(|w| (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1))
        .sum()
}

impl Shape for Moulding {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("length", &mut self.length),
            ("projection", &mut self.projection),
            ("face height", &mut self.face_height),
            ("girth", &mut self.girth),
        ]
    }

    fn build(&self, model: &mut Model) {
        let (length, out, high) = (self.length.m(), self.projection.m(), self.face_height.m());
        let face = model.surface(Named::flat("moulding-face", DefaultZone::Mouldings).worked(Detail::Moulded));
        let ends = model.surface(Named::flat("moulding-ends", DefaultZone::Mouldings).when(false));
        let fitted = self.fitted();
        let lip = 0.12 * high;
        let wall = out * 1.25;
        let edge = |&(o, z): &(f64, f64), x: f64| at(x, wall - out * 0.15 - o, lip + z);
        for (place, w) in fitted.windows(2).enumerate() {
            let corners = vec![
                edge(&w[0], 0.0),
                edge(&w[0], length),
                edge(&w[1], length),
                edge(&w[1], 0.0),
            ];
            let block = model.block(vec![corners], face);
            block.smooth = place > 0 && place + 1 < usize::from(STEPS);
        }
        let top = lip + high * 1.1;
        // The flat lips below and above, the top and the ends: drawn, so that it reads as a piece of wood.
        let low_y = wall - out * 0.15;
        let high_y = low_y - out;
        let mut plain = |corners: Vec<Point>| {
            let block = model.block(vec![corners], ends);
            for f in &mut block.faces {
                f.counted = false;
            }
        };
        plain(vec![
            at(0.0, low_y, 0.0),
            at(length, low_y, 0.0),
            at(length, low_y, lip),
            at(0.0, low_y, lip),
        ]);
        plain(vec![
            at(0.0, high_y, lip + high),
            at(length, high_y, lip + high),
            at(length, high_y, top),
            at(0.0, high_y, top),
        ]);
        plain(vec![
            at(0.0, high_y, top),
            at(length, high_y, top),
            at(length, wall, top),
            at(0.0, wall, top),
        ]);
        plain(vec![
            at(0.0, wall, 0.0),
            at(0.0, wall, top),
            at(length, wall, top),
            at(length, wall, 0.0),
        ]);
        let mut strips = Vec::new();
        for (x, right) in [(0.0, false), (length, true)] {
            let mut outline = vec![at(x, wall, 0.0), at(x, low_y, 0.0)];
            outline.extend(fitted.iter().map(|p| edge(p, x)));
            outline.extend([at(x, high_y, top), at(x, wall, top)]);
            // Seen from the right, y runs away to the right: this order is clockwise there.
            if right {
                outline.reverse();
            }
            plain(outline);
            // Counted as strips from the profile to the wall, which are convex.
            let mut line = vec![at(x, low_y, 0.0)];
            line.extend(fitted.iter().map(|p| edge(p, x)));
            line.push(at(x, high_y, top));
            for w in line.windows(2) {
                let mut strip = vec![at(x, wall, w[0].z), w[0], w[1], at(x, wall, w[1].z)];
                if right {
                    strip.reverse();
                }
                strips.push(strip);
            }
        }
        for strip in strips {
            model.block(vec![strip], ends).unseen();
        }
    }
}
