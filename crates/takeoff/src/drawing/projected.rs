//! A part as it appears on the sheet: its visible patches, its outline, and the box it fills in space.

use std::collections::{BTreeMap, BTreeSet};

use super::Fineness;
use super::view::{Eye, Spot};
use crate::solid::{Axis, Block, Face, Part, Point, Slab, SurfaceIndex, Turning, area_vector};

/// A block of more faces than this is a scan: not convex, and painted face by face.
pub(super) const CONVEX_FACES: usize = 8;

/// How a patch is put on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A flat face with its edges drawn.
    Face,
    /// A face of a swept or round surface: its edges are not drawn.
    Soft,
    /// Glass.
    Glass,
}

/// One visible face.
#[derive(Debug, Clone)]
pub(super) struct Patch {
    pub(super) ring: Vec<Spot>,
    pub(super) surface: SurfaceIndex,
    /// 0 to 1.
    pub(super) light: f64,
    pub(super) kind: Kind,
    /// Of a scan: its sides at which the surface turns sharply.
    pub(super) creases: Vec<[Spot; 2]>,
}

/// What a part puts on the sheet.
#[derive(Debug, Clone)]
pub(super) enum Marks {
    /// Visible faces, in the order in which to paint them.
    Patches(Vec<Patch>),
    /// A turning: its rings, a shaded and a lit strip, and the lines of its beads.
    Turned {
        rings: Vec<Vec<Spot>>,
        shade: Vec<Spot>,
        shine: Vec<Spot>,
        beads: Vec<Vec<Spot>>,
        surface: SurfaceIndex,
    },
}

/// A part on the sheet.
#[derive(Debug, Clone)]
pub(super) struct Drawn {
    pub(super) low: Point,
    pub(super) high: Point,
    /// Convex outline, anticlockwise.
    pub(super) hull: Vec<Spot>,
    pub(super) marks: Marks,
}

impl Drawn {
    pub(super) fn of(part: &Part, eye: &Eye, fineness: Fineness) -> Option<Self> {
        match part {
            Part::Block(block) => Self::block(block, eye),
            Part::Turning(turning) => Self::turning(turning, eye, fineness),
            Part::Slab(slab) => Self::slab(slab, eye),
        }
    }

    fn block(block: &Block, eye: &Eye) -> Option<Self> {
        if !block.drawn {
            return None;
        }
        let seen: Vec<&Face> = block
            .faces
            .iter()
            .filter(|f| f.drawn && area_vector(&f.corners).dot(eye.toward) > 1e-9)
            .collect();
        let mut patches: Vec<Patch> = seen
            .iter()
            .map(|face| {
                let vector = area_vector(&face.corners);
                Patch {
                    ring: face.corners.iter().map(|&p| eye.sees(p)).collect(),
                    surface: face.surface,
                    light: eye.light(vector),
                    kind: match (block.glass, block.smooth) {
                        (true, _) => Kind::Glass,
                        (_, true) => Kind::Soft,
                        _ => Kind::Face,
                    },
                    creases: Vec::new(),
                }
            })
            .collect();
        if patches.is_empty() {
            return None;
        }
        if block.faces.len() > CONVEX_FACES {
            let sharp = sharp_edges(&block.faces);
            for (face, patch) in seen.iter().zip(&mut patches) {
                let sides = sides(&face.corners).filter(|side| sharp.contains(&edge(*side)));
                patch.creases = sides.map(|(a, b)| [eye.sees(a), eye.sees(b)]).collect();
            }
            let depth = |face: &Face| {
                face.corners.iter().map(|p| p.dot(eye.toward)).sum::<f64>() / face.corners.len().max(1) as f64
            };
            let mut order: Vec<usize> = (0..seen.len()).collect();
            order.sort_by(|&a, &b| depth(seen[a]).total_cmp(&depth(seen[b])).then(a.cmp(&b)));
            patches = order.into_iter().map(|i| patches[i].clone()).collect();
        }
        let corners = block.faces.iter().flat_map(|face| face.corners.iter().copied());
        Some(Self::around(corners, eye, Marks::Patches(patches)))
    }

    fn slab(slab: &Slab, eye: &Eye) -> Option<Self> {
        const N: usize = 48;
        let (low, high) = (slab.rim(0.0, N), slab.rim(slab.thickness, N));
        let all: Vec<Spot> = low.iter().chain(&high).map(|&p| eye.sees(p)).collect();
        let front = eye.light(Point { z: 0.0, ..eye.toward });
        let mut patches = vec![Patch {
            ring: convex(all),
            surface: slab.surface,
            light: front,
            kind: Kind::Face,
            creases: Vec::new(),
        }];
        if eye.toward.z > 0.0 {
            patches.push(Patch {
                ring: high.iter().map(|&p| eye.sees(p)).collect(),
                surface: slab.surface,
                light: eye.light(Point { x: 0.0, y: 0.0, z: 1.0 }),
                kind: Kind::Face,
                creases: Vec::new(),
            });
        }
        Some(Self::around(low.into_iter().chain(high), eye, Marks::Patches(patches)))
    }

    fn turning(turning: &Turning, eye: &Eye, fineness: Fineness) -> Option<Self> {
        let plain = fineness == Fineness::Plain;
        if plain && turning.axis == Axis::Forward {
            return None;
        }
        let largest = turning.profile.iter().map(|p| p.1).fold(0.0, f64::max);
        if turning.profile.len() < 2 || largest <= 0.0 {
            return None;
        }
        let n = match plain {
            true => 10,
            false if largest > 0.03 => 28,
            false => 16,
        };
        let circles: Vec<Vec<Point>> = turning.profile.iter().map(|&p| turning.circle(p, n)).collect();
        let seen = |points: &mut dyn Iterator<Item = &Point>| convex(points.map(|&p| eye.sees(p)).collect());
        let rings = match turning.axis {
            Axis::Up => circles.windows(2).map(|w| seen(&mut w.iter().flatten())).collect(),
            // A knob is small and hides its own neck.
            Axis::Forward => vec![seen(&mut circles.iter().flatten())],
        };
        let (shade, shine, beads) = match turning.axis {
            Axis::Up => (
                strip(turning, eye, (0.0, 52.0)),
                strip(turning, eye, (118.0, 138.0)),
                beads(turning, eye),
            ),
            Axis::Forward => (Vec::new(), Vec::new(), face_beads(turning, eye)),
        };
        let beads = if plain { Vec::new() } else { beads };
        let marks = Marks::Turned {
            rings,
            shade,
            shine,
            beads,
            surface: turning.surface,
        };
        Some(Self::around(circles.into_iter().flatten(), eye, marks))
    }

    fn around(corners: impl Iterator<Item = Point> + Clone, eye: &Eye, marks: Marks) -> Self {
        let fold = |pick: fn(f64, f64) -> f64, start: f64| {
            corners.clone().fold(
                Point {
                    x: start,
                    y: start,
                    z: start,
                },
                |a, p| Point {
                    x: pick(a.x, p.x),
                    y: pick(a.y, p.y),
                    z: pick(a.z, p.z),
                },
            )
        };
        Self {
            low: fold(f64::min, f64::INFINITY),
            high: fold(f64::max, f64::NEG_INFINITY),
            hull: convex(corners.clone().map(|p| eye.sees(p)).collect()),
            marks,
        }
    }
}

/// An edge whichever way it is gone along, to find it by.
type Edge = ([u64; 3], [u64; 3]);

fn edge((a, b): (Point, Point)) -> Edge {
    let key = |p: Point| [p.x, p.y, p.z].map(|v| (v + 0.0).to_bits());
    let (a, b) = (key(a), key(b));
    (a.min(b), a.max(b))
}

fn sides(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    (0..corners.len()).map(|i| (corners[i], corners[(i + 1) % corners.len()]))
}

/// The edges of a scan at which two faces meet at more than forty degrees, or where it is open.
fn sharp_edges(faces: &[Face]) -> BTreeSet<Edge> {
    const COSINE: f64 = 0.766;
    let mut meeting: BTreeMap<Edge, Vec<Point>> = BTreeMap::new();
    for face in faces {
        let vector = area_vector(&face.corners);
        let normal = vector * (1.0 / vector.size().max(1e-12));
        for side in sides(&face.corners) {
            meeting.entry(edge(side)).or_default().push(normal);
        }
    }
    let turns = |normals: &[Point]| normals.len() != 2 || normals[0].dot(normals[1]) < COSINE;
    meeting
        .into_iter()
        .filter(|(_, normals)| turns(normals))
        .map(|(edge, _)| edge)
        .collect()
}

/// The direction square to an upright axis at `degrees` from the sheet's right, 90 being towards the eye.
fn around_axis(eye: &Eye, degrees: f64) -> Point {
    let level = Point { z: 0.0, ..eye.toward };
    let toward = level * (1.0 / level.size().max(1e-9));
    let (sin, cos) = degrees.to_radians().sin_cos();
    eye.right * cos + toward * sin
}

/// A strip of an upright turning between two directions, all the way up.
fn strip(turning: &Turning, eye: &Eye, (from, to): (f64, f64)) -> Vec<Spot> {
    let at = |&(s, r): &(f64, f64), degrees: f64| {
        eye.sees(turning.foot + Point { x: 0.0, y: 0.0, z: s } + around_axis(eye, degrees) * r)
    };
    let mut ring: Vec<Spot> = turning.profile.iter().map(|p| at(p, from)).collect();
    ring.extend(turning.profile.iter().rev().map(|p| at(p, to)));
    ring
}

/// The near half of the circles at which the profile of an upright turning bends sharply.
fn beads(turning: &Turning, eye: &Eye) -> Vec<Vec<Spot>> {
    const SHARP: f64 = 0.62;
    let profile = &turning.profile;
    let half = |&(s, r): &(f64, f64)| {
        (0..=10)
            .map(|i| {
                let out = around_axis(eye, 18.0 * f64::from(i)) * r;
                eye.sees(turning.foot + Point { x: 0.0, y: 0.0, z: s } + out)
            })
            .collect::<Vec<_>>()
    };
    profile
        .windows(3)
        .filter(|w| {
            let angle = |a: (f64, f64), b: (f64, f64)| (b.1 - a.1).atan2(b.0 - a.0);
            (angle(w[1], w[2]) - angle(w[0], w[1])).abs() > SHARP
        })
        .map(|w| half(&w[1]))
        .collect()
}

/// The rim of a knob's face, as one line.
fn face_beads(turning: &Turning, eye: &Eye) -> Vec<Vec<Spot>> {
    if eye.toward.y > 0.0 {
        return Vec::new();
    }
    let face = turning.profile.len().saturating_sub(2);
    let Some(&ring) = turning.profile.get(face) else {
        return Vec::new();
    };
    let mut circle: Vec<Spot> = turning.circle(ring, 12).into_iter().map(|p| eye.sees(p)).collect();
    circle.extend(circle.first().copied());
    vec![circle]
}

/// The convex outline of some spots, anticlockwise with y up (Andrew's monotone chain).
pub(super) fn convex(mut spots: Vec<Spot>) -> Vec<Spot> {
    spots.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    spots.dedup();
    if spots.len() < 3 {
        return spots;
    }
    let left = |o: Spot, a: Spot, b: Spot| (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0) > 1e-12;
    let half = |spots: &mut dyn Iterator<Item = Spot>| {
        let mut chain: Vec<Spot> = Vec::new();
        for spot in spots {
            while chain.len() > 1 && !left(chain[chain.len() - 2], chain[chain.len() - 1], spot) {
                chain.pop();
            }
            chain.push(spot);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut spots.iter().copied());
    hull.extend(half(&mut spots.iter().rev().copied()));
    hull
}
