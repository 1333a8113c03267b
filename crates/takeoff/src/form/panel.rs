//! A board or panel by itself.

use serde::{Deserialize, Serialize};

use super::Shape;
use crate::solid::{Model, Named, Side, at};
use crate::{DefaultZone, Detail, Dimension};

/// Which faces of a panel are finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Faces {
    /// The face and the edges.
    One,
    /// Both faces and the edges.
    #[default]
    Both,
}

/// A board, shelf, loose top or panel, standing on its long edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Panel {
    /// Width.
    pub width: Dimension,
    /// Thickness.
    pub thickness: Dimension,
    /// Height.
    pub height: Dimension,
    /// How its face is worked; what is not flat is reckoned from the outline.
    pub detail: Detail,
    /// Which faces are finished.
    pub faces: Faces,
}

impl Panel {
    /// A flat panel of this size.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        Self {
            width,
            thickness: depth,
            height,
            detail: Detail::Flat,
            faces: Faces::Both,
        }
    }
}

impl Shape for Panel {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("width", &mut self.width),
            ("thickness", &mut self.thickness),
            ("height", &mut self.height),
        ]
    }

    fn build(&self, model: &mut Model) {
        let worked = |id: &str| {
            let named = Named::flat(id, DefaultZone::Panel);
            match self.detail {
                Detail::Flat => named,
                detail => named.by_outline(detail),
            }
        };
        let face = model.surface(worked("face"));
        let other = model.surface(worked("other-face").when(self.faces == Faces::Both));
        let edges = model.surface(Named::flat("edges", DefaultZone::Panel));
        model
            .cuboid(
                at(0.0, 0.0, 0.0),
                at(self.width.m(), self.thickness.m(), self.height.m()),
                edges,
            )
            .side(Side::Front, face)
            .side(Side::Back, other);
    }
}
