//! A piece as a scanned mesh: its parts with the areas that the mesh has, and a coarse likeness to draw.

use quantity::{Area, Length};
use serde::{Deserialize, Serialize};

use super::Shape;
use crate::mesh::{Health, Mesh, sketch};
use crate::solid::{Model, Named, Point, at};
use crate::{DefaultZone, Dimension};

/// How sure a scan's height is before anybody has laid a tape on the piece (common practice for scans by telephone).
const SCAN_SHARE: f64 = 0.015;
/// How sure an area of a scan is for itself: noise makes it larger, smoothing smaller (common practice).
const AREA_SHARE: f64 = 0.03;

/// One part of a scan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ScanPart {
    /// The name of its group, as an id.
    pub id: String,
    /// Its area in the mesh.
    pub area: Area,
    /// The zone it belongs to.
    pub zone: DefaultZone,
}

/// A scanned piece. Taping its height makes all its areas surer: the scan is then stretched to that height.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Scan {
    /// Parts in the order of the file.
    pub parts: Vec<ScanPart>,
    /// Width, depth and height in the mesh.
    pub scanned: [Length; 3],
    /// The true height, as well as it is known.
    pub height: Dimension,
    /// What holes may hide.
    pub missing: Area,
    /// A coarse likeness: corners in metres, and the part's place.
    sketch: Vec<([[f32; 3]; 3], u16)>,
}

impl Scan {
    /// A piece from its mesh; each of the mesh's groups becomes a part.
    #[must_use]
    pub fn of(mesh: &Mesh) -> Self {
        let Health { missing, .. } = mesh.health();
        let [w, d, h] = mesh.size_m().map(Length::from_m);
        let mut parts: Vec<ScanPart> = Vec::new();
        for (name, area) in mesh.groups.iter().zip(mesh.area_by_group()) {
            let id = free_id(name, &parts);
            parts.push(ScanPart {
                id,
                area,
                zone: DefaultZone::Part,
            });
        }
        Self {
            parts,
            scanned: [w, d, h],
            height: Dimension {
                length: h,
                standard_error: h * SCAN_SHARE,
                known: crate::HowKnown::Photographed,
            },
            missing,
            sketch: sketch(mesh)
                .into_iter()
                .map(|(corners, group)| (corners.map(|p| p.map(single)), group))
                .collect(),
        }
    }

    /// How much larger than scanned the piece is.
    fn stretch(&self) -> f64 {
        let scanned = self.scanned[2].m();
        if scanned > 1e-6 { self.height.m() / scanned } else { 1.0 }
    }

    pub(super) fn outline(&self) -> [f64; 3] {
        let stretch = self.stretch();
        self.scanned.map(|side| side.m() * stretch)
    }
}

/// The group's name as an id that no other part has.
fn free_id(name: &str, parts: &[ScanPart]) -> String {
    let id = name
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect::<Vec<_>>()
        .join("-");
    let id = if id.is_empty() { "part".to_owned() } else { id };
    let taken = |id: &str| parts.iter().any(|part| part.id == id);
    if !taken(&id) {
        return id;
    }
    (2..=u16::MAX)
        .map(|n| format!("{id}-{n}"))
        .find(|id| !taken(id))
        .unwrap_or(id)
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a drawing needs no more than single precision"
)]
fn single(v: f64) -> f32 {
    v as f32
}

impl Shape for Scan {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![("height", &mut self.height)]
    }

    fn build(&self, model: &mut Model) {
        let stretch = self.stretch();
        let share = AREA_SHARE.hypot(self.missing.m2() / self.parts.iter().map(|p| p.area.m2()).sum::<f64>().max(1e-9));
        for part in &self.parts {
            let measured = part.area.m2() * stretch * stretch;
            model.surface(Named::flat(part.id.clone(), part.zone).measured(measured, share));
        }
        let mut by_part: Vec<Vec<Vec<Point>>> = vec![Vec::new(); self.parts.len()];
        for (corners, part) in &self.sketch {
            let ring = corners
                .map(|p| p.map(|v| f64::from(v) * stretch))
                .map(|[x, y, z]| at(x, y, z));
            if let Some(faces) = by_part.get_mut(usize::from(*part)) {
                faces.push(ring.to_vec());
            }
        }
        let mut faces = Vec::new();
        let mut owners = Vec::new();
        for (part, rings) in by_part.into_iter().enumerate() {
            owners.extend(std::iter::repeat_n(part, rings.len()));
            faces.extend(rings);
        }
        if faces.is_empty() {
            return;
        }
        let block = model.block(faces, 0);
        block.smooth = true;
        for (face, owner) in block.faces.iter_mut().zip(owners) {
            face.surface = owner;
            face.counted = false;
        }
    }
}
