//! The geometry that everything is read from: areas, edges, drawing and mesh.
//!
//! A model is a list of parts in metres: x to the right along the width, y from the front to the back, z up from the
//! floor. A part is convex (a block of flat faces, a round or oval slab) or a solid of revolution; wherever two axis-aligned
//! rectangles touch face to face, that contact is no surface (module `contact`). Builders of forms only put parts
//! together and say to which surface each face belongs.

mod contact;
pub(crate) mod convex;
mod point;
mod round;

pub(crate) use contact::{exposed, exposed_flat};
pub(crate) use point::{Point, area_vector, at};
pub(crate) use round::{Axis, Slab, Turning};

use crate::{DefaultZone, Detail, Developed};

/// Which surface of the model a face belongs to: an index into [`Model::surfaces`].
pub(crate) type SurfaceIndex = usize;

/// What is known of a surface before its faces are added up.
#[derive(Debug, Clone)]
pub(crate) struct Named {
    pub(crate) id: String,
    pub(crate) zone: DefaultZone,
    pub(crate) usual: bool,
    pub(crate) detail: Detail,
    pub(crate) developed: Developed,
    /// An area that was measured and is not in the geometry.
    pub(crate) measured_m2: Option<f64>,
}

impl Named {
    /// A flat surface that is ordinarily finished.
    pub(crate) fn flat(id: impl Into<String>, zone: DefaultZone) -> Self {
        Self {
            id: id.into(),
            zone,
            usual: true,
            detail: Detail::Flat,
            developed: Developed::MODELLED,
            measured_m2: None,
        }
    }

    /// Measured as a whole, within a share of itself.
    pub(crate) fn measured(mut self, area_m2: f64, share: f64) -> Self {
        self.measured_m2 = Some(area_m2);
        self.developed.standard_error = share;
        self
    }

    /// Worked, and modelled as it is.
    pub(crate) fn worked(mut self, detail: Detail) -> Self {
        self.detail = detail;
        self
    }

    /// Worked, with only the outline modelled.
    pub(crate) fn by_outline(mut self, detail: Detail) -> Self {
        self.detail = detail;
        self.developed = detail.developed_from_outline();
        self
    }

    /// Finished only when asked for.
    pub(crate) fn when(mut self, usual: bool) -> Self {
        self.usual = usual;
        self
    }
}

/// The six sides of a block; also the places of its faces in [`Block::faces`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Left,
    Right,
    Front,
    Back,
    Bottom,
    Top,
}

/// One flat face: its corners anticlockwise as seen from outside.
#[derive(Debug, Clone)]
pub(crate) struct Face {
    pub(crate) corners: Vec<Point>,
    pub(crate) surface: SurfaceIndex,
    /// Whether it is a surface at all.
    pub(crate) counted: bool,
    /// Whether it can be seen from outside.
    pub(crate) drawn: bool,
}

/// A convex part with flat faces.
#[derive(Debug, Clone)]
pub(crate) struct Block {
    pub(crate) faces: Vec<Face>,
    /// Whether the drawing shows it; the lining of a closed case is never seen.
    pub(crate) drawn: bool,
    /// Whether edges between its faces are soft, as on a swept moulding.
    pub(crate) smooth: bool,
    /// Glass: drawn, never counted.
    pub(crate) glass: bool,
}

impl Block {
    /// Gives one side to another surface.
    pub(crate) fn side(&mut self, side: Side, surface: SurfaceIndex) -> &mut Self {
        if let Some(face) = self.faces.get_mut(side as usize) {
            face.surface = surface;
        }
        self
    }

    /// Takes sides out of count and drawing: they lie against another part or face the inside of one.
    pub(crate) fn hide(&mut self, sides: &[Side]) -> &mut Self {
        for side in sides {
            if let Some(face) = self.faces.get_mut(*side as usize) {
                face.counted = false;
                face.drawn = false;
            }
        }
        self
    }

    /// Keeps it out of the drawing.
    pub(crate) fn unseen(&mut self) -> &mut Self {
        self.drawn = false;
        self
    }

    /// Glass: in the drawing, not in the take-off.
    pub(crate) fn glass(&mut self) -> &mut Self {
        self.glass = true;
        for face in &mut self.faces {
            face.counted = false;
        }
        self
    }
}

/// One part of a model.
#[derive(Debug, Clone)]
pub(crate) enum Part {
    Block(Block),
    Turning(Turning),
    Slab(Slab),
}

/// A piece as geometry.
#[derive(Debug, Clone, Default)]
pub(crate) struct Model {
    pub(crate) surfaces: Vec<Named>,
    pub(crate) parts: Vec<Part>,
}

impl Model {
    /// The index of the surface with this id; added if it is new.
    pub(crate) fn surface(&mut self, named: Named) -> SurfaceIndex {
        if let Some(found) = self.surfaces.iter().position(|known| known.id == named.id) {
            return found;
        }
        self.surfaces.push(named);
        self.surfaces.len() - 1
    }

    /// A box between two opposite corners, all sides of one surface. A size below nothing becomes nothing.
    pub(crate) fn cuboid(&mut self, low: Point, high: Point, surface: SurfaceIndex) -> &mut Block {
        let high = at(high.x.max(low.x), high.y.max(low.y), high.z.max(low.z));
        let ring = |z: f64| {
            [
                at(low.x, low.y, z),
                at(high.x, low.y, z),
                at(high.x, high.y, z),
                at(low.x, high.y, z),
            ]
        };
        self.hexahedron(ring(low.z), ring(high.z), surface)
    }

    /// Six-sided convex block from four bottom and four top corners, each front left, front right, back right, back left.
    pub(crate) fn hexahedron(&mut self, b: [Point; 4], t: [Point; 4], surface: SurfaceIndex) -> &mut Block {
        let rings = [
            [b[3], b[0], t[0], t[3]],
            [b[1], b[2], t[2], t[1]],
            [b[0], b[1], t[1], t[0]],
            [b[2], b[3], t[3], t[2]],
            [b[0], b[3], b[2], b[1]],
            [t[0], t[1], t[2], t[3]],
        ];
        self.block(rings.into_iter().map(Vec::from).collect(), surface)
    }

    /// A block from its faces, which the caller keeps convex and anticlockwise from outside.
    pub(crate) fn block(&mut self, faces: Vec<Vec<Point>>, surface: SurfaceIndex) -> &mut Block {
        let faces = faces
            .into_iter()
            .map(|corners| Face {
                corners,
                surface,
                counted: true,
                drawn: true,
            })
            .collect();
        self.parts.push(Part::Block(Block {
            faces,
            drawn: true,
            smooth: false,
            glass: false,
        }));
        match self.parts.last_mut() {
            Some(Part::Block(block)) => block,
            _ => unreachable!("a block was pushed in the line before"),
        }
    }

    /// One rectangle that is seen from one side only, such as the lining of a bay.
    pub(crate) fn lining(&mut self, corners: [Point; 4], surface: SurfaceIndex) -> &mut Block {
        self.block(vec![corners.to_vec()], surface)
    }

    /// A solid of revolution.
    pub(crate) fn turning(&mut self, turning: Turning) {
        self.parts.push(Part::Turning(turning));
    }

    /// A round or oval slab.
    pub(crate) fn slab(&mut self, slab: Slab) {
        self.parts.push(Part::Slab(slab));
    }
}
