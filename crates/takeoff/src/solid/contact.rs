//! What of a model is open to the air: faces less the places where two parts touch.
//!
//! Two faces touch when they lie in one plane square to an axis and look opposite ways; what they have in common is no
//! surface. Joints in slanting planes are not found, and builders hide the ends of such members.

use super::convex::{self, Spot, area, bounds};
use super::{Face, Model, Part, Point, SurfaceIndex, area_vector, at, round::RIM};

/// An open piece of a surface: flat, convex, anticlockwise from outside.
#[derive(Debug, Clone)]
pub(crate) struct Exposed {
    pub(crate) surface: SurfaceIndex,
    pub(crate) corners: Vec<Point>,
}

/// How near two planes must lie to be one, in metres.
const TOUCHING_M: f64 = 1e-6;
/// What is smaller is nothing, in m²: a hundredth of a square millimetre.
const NOTHING_M2: f64 = 1e-8;

/// A convex face in a plane square to an axis.
#[derive(Debug, Clone)]
struct Level {
    axis: usize,
    plane: f64,
    outward: bool,
    /// Anticlockwise in the plane's own two axes.
    ring: Vec<Spot>,
    box_: (Spot, Spot),
    covers: Vec<usize>,
}

/// The two axes within the plane that is square to `axis`, so that anticlockwise there is anticlockwise from `axis`' end.
const fn within(axis: usize) -> [usize; 2] {
    match axis {
        0 => [1, 2],
        1 => [2, 0],
        _ => [0, 1],
    }
}

impl Level {
    fn of(face: &Face) -> Option<Self> {
        let corners = &face.corners;
        let axis = (0..3).find(|&axis| {
            let first = corners.first().map_or(f64::NAN, |p| p.along(axis));
            corners.iter().all(|p| (p.along(axis) - first).abs() < TOUCHING_M)
        })?;
        let [u, v] = within(axis);
        let mut ring: Vec<Spot> = corners.iter().map(|p| (p.along(u), p.along(v))).collect();
        let outward = area_vector(corners).along(axis) > 0.0;
        if !outward {
            ring.reverse();
        }
        (area(&ring) > NOTHING_M2 && convex::is_convex(&ring)).then(|| Self {
            axis,
            plane: corners[0].along(axis),
            outward,
            box_: bounds(&ring),
            ring,
            covers: Vec::new(),
        })
    }

    fn may_meet(&self, other: &Self) -> bool {
        let ((a, b), (c, d)) = (self.box_, other.box_);
        a.0 < d.0 - TOUCHING_M && c.0 < b.0 - TOUCHING_M && a.1 < d.1 - TOUCHING_M && c.1 < b.1 - TOUCHING_M
    }

    /// What remains of it under its covers.
    fn open(&self, all: &[Self]) -> Vec<Vec<Point>> {
        let is_nothing = |ring: &[Spot]| ring.len() < 3 || area(ring) < NOTHING_M2;
        let mut pieces = vec![self.ring.clone()];
        for &cover in &self.covers {
            let cover = &all[cover].ring;
            pieces = pieces
                .iter()
                .flat_map(|piece| convex::without(piece, cover, &is_nothing))
                .collect();
        }
        pieces.into_iter().map(|piece| self.lifted(piece)).collect()
    }

    /// A ring of the plane as a polygon in space, on the face's own side.
    fn lifted(&self, mut ring: Vec<Spot>) -> Vec<Point> {
        if !self.outward {
            ring.reverse();
        }
        let point = |(a, b): Spot| match self.axis {
            0 => at(self.plane, a, b),
            1 => at(b, self.plane, a),
            _ => at(a, b, self.plane),
        };
        ring.into_iter().map(point).collect()
    }
}

/// Finds every pair of faces that lie against each other, and notes on both which the other is.
fn find_contacts(levels: &mut [Level]) {
    let mut order: Vec<usize> = (0..levels.len()).collect();
    order.sort_by(|&a, &b| {
        let (a, b) = (&levels[a], &levels[b]);
        a.axis.cmp(&b.axis).then(a.plane.total_cmp(&b.plane))
    });
    for (place, &i) in order.iter().enumerate() {
        for &j in &order[place + 1..] {
            let (a, b) = (&levels[i], &levels[j]);
            if a.axis != b.axis || b.plane - a.plane > TOUCHING_M {
                break;
            }
            if a.outward != b.outward && a.may_meet(b) {
                levels[i].covers.push(j);
                levels[j].covers.push(i);
            }
        }
    }
}

/// Everything of the model that is open to the air, by flat pieces. Round parts come as facets.
pub(crate) fn exposed(model: &Model) -> Vec<Exposed> {
    let mut open = exposed_flat(model);
    for part in &model.parts {
        round_facets(part, &mut open);
    }
    open
}

/// What of the flat-faced parts is open to the air.
pub(crate) fn exposed_flat(model: &Model) -> Vec<Exposed> {
    let faces: Vec<&Face> = model
        .parts
        .iter()
        .filter_map(|part| match part {
            Part::Block(block) if !block.glass => Some(&block.faces),
            _ => None,
        })
        .flatten()
        .collect();
    let mut levels = Vec::new();
    let places: Vec<Option<usize>> = faces
        .iter()
        .map(|face| {
            levels.push(Level::of(face)?);
            Some(levels.len() - 1)
        })
        .collect();
    find_contacts(&mut levels);
    let mut open = Vec::new();
    for (face, place) in faces.iter().zip(places).filter(|(face, _)| face.counted) {
        let surface = face.surface;
        match place {
            Some(place) => {
                let pieces = levels[place].open(&levels);
                open.extend(pieces.into_iter().map(|corners| Exposed { surface, corners }));
            }
            None => open.push(Exposed {
                surface,
                corners: face.corners.clone(),
            }),
        }
    }
    open
}

/// The facets of a round part.
fn round_facets(part: &Part, open: &mut Vec<Exposed>) {
    match part {
        Part::Block(_) => {}
        Part::Turning(turning) => open.extend(turning.facets(RIM).into_iter().map(|corners| Exposed {
            surface: turning.surface,
            corners,
        })),
        Part::Slab(slab) => {
            let (low, high) = (slab.rim(0.0, RIM), slab.rim(slab.thickness, RIM));
            for i in 0..RIM {
                let j = (i + 1) % RIM;
                open.push(Exposed {
                    surface: slab.surface,
                    corners: vec![low[i], low[j], high[j], high[i]],
                });
            }
            open.push(Exposed {
                surface: slab.surface,
                corners: high,
            });
            open.push(Exposed {
                surface: slab.underside,
                corners: low.into_iter().rev().collect(),
            });
        }
    }
}
