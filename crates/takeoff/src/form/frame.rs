//! A picture or mirror frame: a moulded section run round a rectangle with mitred corners.

use serde::{Deserialize, Serialize};

use super::Shape;
use crate::dimension::assumed_mm;
use crate::solid::{Model, Named, Point, at};
use crate::{DefaultZone, Detail, Dimension};

/// What the frame holds; it is drawn and never counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Glazing {
    /// Mirror or glass.
    #[default]
    Mirror,
    /// Nothing.
    Empty,
}

/// Picture frame or mirror, standing; face, outer edge and rebate side of the face are counted, the back is not.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Frame {
    /// Over all.
    pub width: Dimension,
    /// Thickness at its thickest.
    pub thickness: Dimension,
    /// Over all.
    pub height: Dimension,
    /// Width of the members.
    pub member: Dimension,
    /// A stepped and hollowed face, or a flat one.
    pub moulded: bool,
    /// What it holds.
    pub glazing: Glazing,
}

impl Frame {
    /// The usual frame of this size.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        let least = width.length.mm().min(height.length.mm());
        Self {
            width,
            thickness: depth,
            height,
            member: assumed_mm((least * 0.13).clamp(8.0, 90.0)),
            moulded: true,
            glazing: Glazing::Mirror,
        }
    }
}

/// The section of a moulded member from the outer edge inwards: share of its width, share of its thickness.
const MOULDED: [(f64, f64); 9] = [
    (0.0, 0.62),
    (0.10, 0.92),
    (0.20, 1.0),
    (0.32, 0.96),
    (0.40, 0.80),
    (0.58, 0.58),
    (0.78, 0.50),
    (0.86, 0.62),
    (1.0, 0.54),
];

impl Shape for Frame {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("width", &mut self.width),
            ("thickness", &mut self.thickness),
            ("height", &mut self.height),
            ("member width", &mut self.member),
        ]
    }

    fn build(&self, model: &mut Model) {
        let (w, t, h) = (self.width.m(), self.thickness.m(), self.height.m());
        let member = self.member.m().min(w / 2.5).min(h / 2.5);
        let detail = if self.moulded { Detail::Moulded } else { Detail::Flat };
        let face = model.surface(Named::flat("frame", DefaultZone::Frame).worked(detail));
        let section: Vec<(f64, f64)> = if self.moulded {
            MOULDED.iter().map(|(s, r)| (s * member, r * t)).collect()
        } else {
            vec![(0.0, t), (member, t)]
        };
        // From the wall out along the outer edge, over the face, and back in to the glass.
        let mut line = vec![(0.0, 0.0)];
        line.extend(&section);
        line.push((member, t * 0.25));
        for (place, pair) in line.windows(2).enumerate() {
            let ring = |(inset, out): (f64, f64)| -> [Point; 4] {
                [
                    at(inset, t - out, inset),
                    at(w - inset, t - out, inset),
                    at(w - inset, t - out, h - inset),
                    at(inset, t - out, h - inset),
                ]
            };
            let (outer, inner) = (ring(pair[0]), ring(pair[1]));
            let soft = self.moulded && place > 0 && place + 2 < line.len();
            for i in 0..4 {
                let j = (i + 1) % 4;
                model
                    .block(vec![vec![outer[i], outer[j], inner[j], inner[i]]], face)
                    .smooth = soft;
            }
        }
        self.back(model, (w, t, h), member, face);
        if self.glazing == Glazing::Mirror {
            let y = t * 0.75;
            let corners = [
                at(member, y, member),
                at(w - member, y, member),
                at(w - member, y, h - member),
                at(member, y, h - member),
            ];
            model.block(vec![corners.to_vec()], face).glass();
        }
    }
}

impl Frame {
    /// The back, drawn so that the frame can be turned round: wood, and the board behind the glass.
    fn back(&self, model: &mut Model, (w, t, h): (f64, f64, f64), member: f64, surface: usize) {
        let ring = |inset: f64, y: f64| {
            [
                at(w - inset, y, inset),
                at(inset, y, inset),
                at(inset, y, h - inset),
                at(w - inset, y, h - inset),
            ]
        };
        let (outer, inner) = (ring(0.0, t), ring(member, t));
        let mut faces: Vec<Vec<Point>> = (0..4)
            .map(|i| vec![outer[i], outer[(i + 1) % 4], inner[(i + 1) % 4], inner[i]])
            .collect();
        if self.glazing == Glazing::Mirror {
            faces.push(ring(member, t * 0.8).to_vec());
        }
        for corners in faces {
            for face in &mut model.block(vec![corners], surface).faces {
                face.counted = false;
            }
        }
    }
}
