//! What of a model is open to the air: faces less the rectangles where two parts touch.

use super::{Face, Model, Part, Point, SurfaceIndex, at, round::RIM};

/// An open piece of a surface: flat, convex, anticlockwise from outside.
#[derive(Debug, Clone)]
pub(crate) struct Exposed {
    pub(crate) surface: SurfaceIndex,
    pub(crate) corners: Vec<Point>,
}

/// How near two planes must lie to be one, in metres.
const TOUCHING_M: f64 = 1e-6;

/// A face that is a rectangle square to the axes.
#[derive(Debug, Clone)]
struct Rectangle {
    axis: usize,
    plane: f64,
    outward: bool,
    low: [f64; 2],
    high: [f64; 2],
    covers: Vec<([f64; 2], [f64; 2])>,
}

/// The two axes within the plane that is square to `axis`.
const fn within(axis: usize) -> [usize; 2] {
    match axis {
        0 => [1, 2],
        1 => [0, 2],
        _ => [0, 1],
    }
}

impl Rectangle {
    fn of(face: &Face) -> Option<Self> {
        let corners = &face.corners;
        if corners.len() != 4 {
            return None;
        }
        let spread = |axis: usize| {
            corners
                .iter()
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
                    (low.min(p.along(axis)), high.max(p.along(axis)))
                })
        };
        let axis = (0..3).find(|&axis| {
            let (low, high) = spread(axis);
            high - low < TOUCHING_M
        })?;
        let [u, v] = within(axis);
        let ((u0, u1), (v0, v1)) = (spread(u), spread(v));
        let on_corner = |p: &Point| {
            let near =
                |value: f64, low: f64, high: f64| (value - low).abs() < TOUCHING_M || (value - high).abs() < TOUCHING_M;
            near(p.along(u), u0, u1) && near(p.along(v), v0, v1)
        };
        corners.iter().all(on_corner).then(|| Self {
            axis,
            plane: corners[0].along(axis),
            outward: super::area_vector(corners).along(axis) > 0.0,
            low: [u0, v0],
            high: [u1, v1],
            covers: Vec::new(),
        })
    }

    /// Where the two lie on each other.
    fn common(&self, other: &Self) -> Option<([f64; 2], [f64; 2])> {
        let low = [self.low[0].max(other.low[0]), self.low[1].max(other.low[1])];
        let high = [self.high[0].min(other.high[0]), self.high[1].min(other.high[1])];
        (high[0] - low[0] > TOUCHING_M && high[1] - low[1] > TOUCHING_M).then_some((low, high))
    }

    /// The rectangle less its covers, as smaller rectangles.
    fn open(&self) -> Vec<[Point; 4]> {
        let cuts = |k: usize| {
            let mut cuts = vec![self.low[k], self.high[k]];
            for (low, high) in &self.covers {
                cuts.extend([low[k], high[k]]);
            }
            cuts.sort_by(f64::total_cmp);
            cuts.dedup_by(|a, b| (*a - *b).abs() < TOUCHING_M);
            cuts
        };
        let (us, vs) = (cuts(0), cuts(1));
        let mut open = Vec::new();
        for u in us.windows(2) {
            for v in vs.windows(2) {
                let middle = [(u[0] + u[1]) / 2.0, (v[0] + v[1]) / 2.0];
                let covered =
                    |(low, high): &([f64; 2], [f64; 2])| (0..2).all(|k| low[k] <= middle[k] && middle[k] <= high[k]);
                if !self.covers.iter().any(covered) {
                    open.push(self.cell(u, v));
                }
            }
        }
        open
    }

    /// A cell of the grid as a polygon with the rectangle's own outward side.
    fn cell(&self, u: &[f64], v: &[f64]) -> [Point; 4] {
        let point = |a: f64, b: f64| match self.axis {
            0 => at(self.plane, a, b),
            1 => at(a, self.plane, b),
            _ => at(a, b, self.plane),
        };
        let ring = [
            point(u[0], v[0]),
            point(u[1], v[0]),
            point(u[1], v[1]),
            point(u[0], v[1]),
        ];
        // u × v points along +axis for x and z, and along −y for y.
        let along = self.axis != 1;
        if along == self.outward {
            ring
        } else {
            [ring[3], ring[2], ring[1], ring[0]]
        }
    }
}

/// Finds every pair of rectangles that lie face to face, and notes on both what the other covers.
fn find_contacts(rectangles: &mut [Rectangle]) {
    let mut order: Vec<usize> = (0..rectangles.len()).collect();
    order.sort_by(|&a, &b| {
        let (a, b) = (&rectangles[a], &rectangles[b]);
        a.axis.cmp(&b.axis).then(a.plane.total_cmp(&b.plane))
    });
    for (place, &i) in order.iter().enumerate() {
        for &j in &order[place + 1..] {
            let (a, b) = (&rectangles[i], &rectangles[j]);
            if a.axis != b.axis || b.plane - a.plane > TOUCHING_M {
                break;
            }
            if a.outward == b.outward {
                continue;
            }
            if let Some(cover) = a.common(b) {
                rectangles[i].covers.push(cover);
                rectangles[j].covers.push(cover);
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
    let mut rectangles = Vec::new();
    let places: Vec<Option<usize>> = faces
        .iter()
        .map(|face| {
            rectangles.push(Rectangle::of(face)?);
            Some(rectangles.len() - 1)
        })
        .collect();
    find_contacts(&mut rectangles);
    let mut open = Vec::new();
    for (face, place) in faces.iter().zip(places) {
        if !face.counted {
            continue;
        }
        let surface = face.surface;
        match place {
            Some(place) => open.extend(rectangles[place].open().map_exposed(surface)),
            None => open.push(Exposed {
                surface,
                corners: face.corners.clone(),
            }),
        }
    }
    open
}

/// Puts a surface to each of many quadrilaterals.
trait MapExposed {
    fn map_exposed(self, surface: SurfaceIndex) -> Vec<Exposed>;
}

impl MapExposed for Vec<[Point; 4]> {
    fn map_exposed(self, surface: SurfaceIndex) -> Vec<Exposed> {
        self.into_iter()
            .map(|cell| Exposed {
                surface,
                corners: cell.to_vec(),
            })
            .collect()
    }
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
