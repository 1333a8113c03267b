//! A door: flat, or a frame of stiles and rails around panels.

use serde::{Deserialize, Serialize};

use super::Shape;
use super::case_front::{door_surface, hardware};
use super::members;
use crate::dimension::assumed_mm;
use crate::solid::{Model, Named, Side, SurfaceIndex, at};
use crate::{DefaultZone, Detail, Dimension};

/// How a door is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DoorStyle {
    /// One board.
    Flat,
    /// A flat panel in a frame.
    #[default]
    Framed,
    /// A panel with a raised field in a frame.
    Raised,
}

/// A door by itself, standing; both faces and all edges are counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Door {
    /// Width.
    pub width: Dimension,
    /// Thickness.
    pub thickness: Dimension,
    /// Height.
    pub height: Dimension,
    /// How it is made.
    pub style: DoorStyle,
    /// Panels one above the other.
    pub panel_rows: u8,
    /// Panels side by side.
    pub panel_columns: u8,
    /// Width of stiles and rails.
    pub stile: Dimension,
    /// Whether the knob is there.
    pub knob: bool,
}

impl Door {
    /// The usual door of this size.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        let (w, h) = (width.length.m(), height.length.m());
        Self {
            width,
            thickness: depth,
            height,
            style: DoorStyle::Raised,
            panel_rows: super::case::count(h / 0.62, 1, 3),
            panel_columns: if w > 0.6 && h > 1.2 { 2 } else { 1 },
            stile: assumed_mm((w * 160.0).clamp(30.0, 110.0)),
            knob: true,
        }
    }
}

impl Shape for Door {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("width", &mut self.width),
            ("thickness", &mut self.thickness),
            ("height", &mut self.height),
            ("stile width", &mut self.stile),
        ]
    }

    fn build(&self, model: &mut Model) {
        let (w, t, h) = (self.width.m(), self.thickness.m(), self.height.m());
        let frame = model.surface(door_surface("frame".to_owned(), self.style));
        let panels = if self.style == DoorStyle::Flat {
            frame
        } else {
            model.surface(Named::flat("panels", DefaultZone::Panel).worked(Detail::Moulded))
        };
        let place = Leaf {
            x: (0.0, w),
            y: (0.0, t),
            z: (0.0, h),
            stile: self.stile.m().min(w / 3.0).min(h / 3.0),
            panels: (self.panel_rows.clamp(1, 8), self.panel_columns.clamp(1, 6)),
            both_faces: true,
        };
        leaf(model, self.style, &place, frame, panels);
        if self.knob {
            let hardware = model.surface(hardware());
            let radius = if h > 1.2 { 0.026 } else { 0.015 };
            let height = if h > 1.2 { 1.0_f64.min(h * 0.5) } else { h * 0.5 };
            members::knob(model, at(w - place.stile / 2.0, 0.0, height), radius, hardware);
        }
    }
}

/// Where a door's leaf is, in metres; `y.0` is its face.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leaf {
    pub(super) x: (f64, f64),
    pub(super) y: (f64, f64),
    pub(super) z: (f64, f64),
    pub(super) stile: f64,
    /// Rows and columns.
    pub(super) panels: (u8, u8),
    /// Whether the inner face is counted as well.
    pub(super) both_faces: bool,
}

/// Builds a leaf.
pub(super) fn leaf(model: &mut Model, style: DoorStyle, leaf: &Leaf, frame: SurfaceIndex, panels: SurfaceIndex) {
    let Leaf { x, y, z, stile, .. } = *leaf;
    let board = |model: &mut Model, x: (f64, f64), z: (f64, f64), surface: SurfaceIndex| {
        let block = model.cuboid(at(x.0, y.0, z.0), at(x.1, y.1, z.1), surface);
        if !leaf.both_faces {
            block.hide(&[Side::Back]);
        }
    };
    if style == DoorStyle::Flat {
        return board(model, x, z, frame);
    }
    let (rows, columns) = leaf.panels;
    board(model, (x.0, x.0 + stile), z, frame);
    board(model, (x.1 - stile, x.1), z, frame);
    let within = (x.0 + stile, x.1 - stile);
    let bar = stile * 0.8;
    let height = (z.1 - z.0 - 2.0 * stile - bar * (f64::from(rows) - 1.0)) / f64::from(rows);
    let width = (within.1 - within.0 - bar * (f64::from(columns) - 1.0)) / f64::from(columns);
    if height < 0.01 || width < 0.01 {
        return board(model, within, z, frame);
    }
    board(model, within, (z.0, z.0 + stile), frame);
    board(model, within, (z.1 - stile, z.1), frame);
    for row in 0..rows {
        let low = z.0 + stile + f64::from(row) * (height + bar);
        if row > 0 {
            board(model, within, (low - bar, low), frame);
        }
        for column in 0..columns {
            let left = within.0 + f64::from(column) * (width + bar);
            if column > 0 {
                board(model, (left - bar, left), (low, low + height), frame);
            }
            let place = Leaf {
                x: (left, left + width),
                z: (low, low + height),
                ..*leaf
            };
            panel(model, style, &place, panels);
        }
    }
}

/// The panel within a frame, set back; raised ones with a bevel around their field.
fn panel(model: &mut Model, style: DoorStyle, place: &Leaf, surface: SurfaceIndex) {
    let Leaf {
        x, y, z, both_faces, ..
    } = *place;
    let thick = y.1 - y.0;
    let back = thick * 0.55;
    let hidden: &[Side] = &[Side::Left, Side::Right, Side::Top, Side::Bottom];
    let (face, rear) = if both_faces {
        (y.0 + thick * 0.36, y.1 - thick * 0.36)
    } else {
        (y.0 + back, y.1)
    };
    let flat = |model: &mut Model| {
        let block = model.cuboid(at(x.0, face, z.0), at(x.1, rear, z.1), surface);
        block.hide(hidden);
        if !both_faces {
            block.hide(&[Side::Back]);
        }
    };
    if style != DoorStyle::Raised {
        return flat(model);
    }
    let bevel = ((x.1 - x.0).min(z.1 - z.0) * 0.16).min(0.045);
    let lift = (face - y.0) * 0.8;
    let core = model.cuboid(at(x.0, face, z.0), at(x.1, rear, z.1), surface);
    core.hide(hidden).hide(&[Side::Front, Side::Back]);
    let mut field = |from: f64, to: f64, front: bool| {
        let outer = [
            at(x.0, from, z.0),
            at(x.1, from, z.0),
            at(x.1, from, z.1),
            at(x.0, from, z.1),
        ];
        let inner = [
            at(x.0 + bevel, to, z.0 + bevel),
            at(x.1 - bevel, to, z.0 + bevel),
            at(x.1 - bevel, to, z.1 - bevel),
            at(x.0 + bevel, to, z.1 - bevel),
        ];
        let mut faces = vec![inner.to_vec()];
        for i in 0..4 {
            let j = (i + 1) % 4;
            faces.push(vec![outer[i], outer[j], inner[j], inner[i]]);
        }
        if !front {
            for face in &mut faces {
                face.reverse();
            }
        }
        model.block(faces, surface);
    };
    field(face, face - lift, true);
    if both_faces {
        field(rear, rear + lift, false);
    }
}
