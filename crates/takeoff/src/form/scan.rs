//! A piece as a scanned mesh: its parts with the areas that the mesh has, and a coarse likeness to draw.

use quantity::{Area, Length};
use serde::{Deserialize, Serialize};

use super::Shape;
use crate::mesh::{Health, Mesh, Pick, owner, sketch};
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

/// Triangles to draw, each with the place of its part.
type Sketch = Vec<([[f32; 3]; 3], u16)>;
/// Most triangles of a likeness that is read.
const MOST_DRAWN: usize = 400;

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
    sketch: Sketch,
}

impl Scan {
    /// A piece from its mesh; each of the mesh's groups becomes a part.
    #[must_use]
    pub fn of(mesh: &Mesh) -> Self {
        Self::divided(mesh, &[])
    }

    /// A piece from its mesh, divided: a part for each pick, named, and one for what is left of each group. Parts without
    /// area are left out.
    #[must_use]
    pub fn divided(mesh: &Mesh, picks: &[(String, Pick)]) -> Self {
        let Health { missing, .. } = mesh.health();
        let names = picks.iter().map(|(name, _)| name).chain(&mesh.groups);
        let bare: Vec<Pick> = picks.iter().map(|(_, pick)| *pick).collect();
        let mut parts: Vec<ScanPart> = Vec::new();
        // The part of each pick and of each group, where it has one.
        let mut places: Vec<Option<u16>> = Vec::new();
        for (name, area) in names.zip(mesh.divided(&bare)) {
            if area.m2() <= 1e-9 && !picks.is_empty() {
                places.push(None);
                continue;
            }
            places.push(u16::try_from(parts.len()).ok());
            parts.push(ScanPart {
                id: free_id(name, &parts),
                area,
                zone: DefaultZone::Part,
            });
        }
        let sketch = sketch(mesh)
            .into_iter()
            .filter_map(|(corners, group)| {
                let group = usize::from(group);
                let place = owner(corners, group, &bare).unwrap_or(bare.len() + group);
                // A part too small for the likeness lends its triangles to its group.
                let part = places.get(place).copied().flatten();
                let part = part.or_else(|| places.get(bare.len() + group).copied().flatten());
                Some((
                    corners.map(|p| p.map(single)),
                    part.or((!parts.is_empty()).then_some(0))?,
                ))
            })
            .collect();
        Self::upright(parts, mesh.size_m().map(Length::from_m), missing, sketch)
    }

    fn upright(parts: Vec<ScanPart>, scanned: [Length; 3], missing: Area, sketch: Sketch) -> Self {
        let height = scanned[2];
        Self {
            parts,
            scanned,
            height: Dimension {
                length: height,
                standard_error: height * SCAN_SHARE,
                known: crate::HowKnown::Photographed,
            },
            missing,
            sketch,
        }
    }

    /// The likeness as a line of text: for each triangle the place of its part and nine coordinates in tenths of a
    /// millimetre.
    #[must_use]
    pub fn likeness(&self) -> String {
        let tenths = |v: f32| (f64::from(v) * 10_000.0).round();
        let triangles = self.sketch.iter().map(|(corners, part)| {
            let numbers: Vec<String> = corners.iter().flatten().map(|v| format!("{:.0}", tenths(*v))).collect();
            format!("{part} {}", numbers.join(" "))
        });
        triangles.collect::<Vec<_>>().join(";")
    }

    /// A scan as it was written down: its parts by name with their areas, its size, what holes may hide, and its likeness as
    /// [`Scan::likeness`] writes it.
    ///
    /// # Errors
    /// What is wrong with the likeness.
    pub fn written(
        parts: &[(String, Area)],
        scanned: [Length; 3],
        missing: Area,
        likeness: &str,
    ) -> Result<Self, String> {
        let mut named: Vec<ScanPart> = Vec::new();
        for (name, area) in parts {
            named.push(ScanPart {
                id: free_id(name, &named),
                area: *area,
                zone: DefaultZone::Part,
            });
        }
        let lines: Vec<&str> = likeness.split(';').filter(|line| !line.trim().is_empty()).collect();
        if lines.len() > MOST_DRAWN {
            return Err(format!(
                "{} triangles; a likeness has at most {MOST_DRAWN}",
                lines.len()
            ));
        }
        let sketch: Sketch = lines
            .iter()
            .enumerate()
            .map(|(place, line)| {
                drawn(line, named.len()).ok_or_else(|| {
                    format!(
                        "triangle {} is not a part's place and nine whole numbers of tenths of a millimetre",
                        place + 1
                    )
                })
            })
            .collect::<Result<_, _>>()?;
        Ok(Self::upright(named, scanned, missing, sketch))
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

/// A triangle of a likeness, read.
fn drawn(line: &str, part_count: usize) -> Option<([[f32; 3]; 3], u16)> {
    let mut words = line.split_whitespace();
    let part: u16 = words
        .next()?
        .parse()
        .ok()
        .filter(|part| usize::from(*part) < part_count)?;
    let numbers: Vec<f32> = words
        .map(|word| word.parse::<i32>().ok().filter(|tenths| tenths.abs() <= 250_000))
        .map(|tenths| tenths.map(|tenths| single(f64::from(tenths) / 10_000.0)))
        .collect::<Option<_>>()?;
    let [a, b, c, d, e, f, g, h, i] = numbers.try_into().ok()?;
    Some(([[a, b, c], [d, e, f], [g, h, i]], part))
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
