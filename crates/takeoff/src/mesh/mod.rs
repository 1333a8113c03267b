//! Meshes in and out: a scan of a piece as OBJ, STL, PLY or glTF gives its own areas; every form goes out as STL.
//!
//! A file from outside is judged by its content, never by its name alone; sizes are bounded before anything is unpacked,
//! and whatever is wrong is said in words. What comes in stands upright in metres.

mod clip;
mod divide;
mod export;
mod gltf_file;
mod health;
mod obj_file;
mod pick;
mod ply_file;
mod refusal;
mod sketch;
mod sniff;
mod stl_file;

pub(crate) use divide::owner;
pub use export::{solids, stl, stl_of};
pub use health::Health;
pub use pick::Pick;
pub use refusal::MeshRefusal;
pub(crate) use sketch::sketch;

use quantity::Area;
use serde::{Deserialize, Serialize};

use sniff::Format;

/// The largest file that is taken.
pub const MOST_BYTES: usize = 256 * 1024 * 1024;
/// The most triangles that are taken.
pub const MOST_TRIANGLES: usize = 1_500_000;
/// The most groups that are kept apart; those after go into the last.
const MOST_GROUPS: usize = 200;

/// In which unit a mesh file's numbers are. STL, OBJ and PLY do not say; glTF is always in metres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MeshUnit {
    /// Metres.
    Metre,
    /// Centimetres.
    Centimetre,
    /// Millimetres.
    Millimetre,
    /// Inches.
    Inch,
    /// Feet.
    Foot,
}

impl MeshUnit {
    /// All of them, the likeliest of a scan first.
    pub const ALL: [Self; 5] = [Self::Metre, Self::Millimetre, Self::Centimetre, Self::Inch, Self::Foot];

    /// Metres in one of it.
    #[must_use]
    pub const fn metres(self) -> f64 {
        match self {
            Self::Metre => 1.0,
            Self::Centimetre => 0.01,
            Self::Millimetre => 0.001,
            Self::Inch => 0.0254,
            Self::Foot => 0.3048,
        }
    }

    /// Its name, in the plural.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Metre => "metres",
            Self::Centimetre => "centimetres",
            Self::Millimetre => "millimetres",
            Self::Inch => "inches",
            Self::Foot => "feet",
        }
    }
}

/// Which of a file's axes points up. glTF always has y up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum UpAxis {
    /// z, as in most workshops' files.
    #[default]
    Z,
    /// y, as in most phone scans.
    Y,
}

/// A mesh of triangles in metres, z up.
#[derive(Debug, Clone, PartialEq)]
pub struct Mesh {
    pub(crate) points: Vec<[f64; 3]>,
    pub(crate) triangles: Vec<[u32; 3]>,
    pub(crate) group_of: Vec<u16>,
    /// The names of its groups: objects, materials or nodes, as the file has them.
    pub groups: Vec<String>,
}

/// A triangle's points.
pub(crate) type Corners = [[f64; 3]; 3];

impl Mesh {
    /// Reads a mesh from the bytes of a file called `name`.
    ///
    /// At most [`MOST_BYTES`] and [`MOST_TRIANGLES`] are taken, and the piece must measure between 1 cm and 20 m with the unit
    /// given.
    ///
    /// # Errors
    /// [`MeshRefusal`], worded for the one who made the scan.
    pub fn read(bytes: &[u8], name: &str, unit: MeshUnit, up: UpAxis) -> Result<Self, MeshRefusal> {
        if bytes.len() > MOST_BYTES {
            return Err(MeshRefusal::TooLarge {
                megabytes: bytes.len() / (1024 * 1024),
                most: MOST_BYTES / (1024 * 1024),
            });
        }
        let format = sniff::format(bytes, name)?;
        let mut building = Building::default();
        match format {
            Format::Stl => stl_file::read(bytes, &mut building)?,
            Format::Obj => obj_file::read(bytes, &mut building)?,
            Format::Ply => ply_file::read(bytes, &mut building)?,
            Format::Gltf => gltf_file::read(bytes, &mut building)?,
        }
        let (unit, up) = if format == Format::Gltf {
            (MeshUnit::Metre, UpAxis::Y)
        } else {
            (unit, up)
        };
        building.finish(unit, up)
    }

    /// Number of triangles.
    #[must_use]
    pub fn triangle_count(&self) -> usize {
        self.triangles.len()
    }

    /// The area of all triangles.
    #[must_use]
    pub fn area(&self) -> Area {
        Area::from_m2((0..self.triangles.len()).map(|i| area_m2(self.corners(i))).sum())
    }

    /// The area of each group, in the order of [`Mesh::groups`].
    #[must_use]
    pub fn area_by_group(&self) -> Vec<Area> {
        let mut areas = vec![Area::ZERO; self.groups.len()];
        for (i, group) in self.group_of.iter().enumerate() {
            areas[usize::from(*group)] += Area::from_m2(area_m2(self.corners(i)));
        }
        areas
    }

    /// Width, depth and height of the box around it, in metres.
    #[must_use]
    pub fn size_m(&self) -> [f64; 3] {
        let (low, high) = self.bounds();
        [high[0] - low[0], high[1] - low[1], high[2] - low[2]]
    }

    pub(crate) fn bounds(&self) -> ([f64; 3], [f64; 3]) {
        let mut bounds = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
        for corner in self.triangles.iter().flatten() {
            let point = self.point(*corner);
            for (k, value) in point.into_iter().enumerate() {
                bounds.0[k] = bounds.0[k].min(value);
                bounds.1[k] = bounds.1[k].max(value);
            }
        }
        bounds
    }

    fn point(&self, index: u32) -> [f64; 3] {
        self.points[index as usize]
    }

    pub(crate) fn corners(&self, triangle: usize) -> Corners {
        self.triangles[triangle].map(|corner| self.point(corner))
    }
}

/// Half the cross product of two sides: the triangle's area along its normal.
pub(crate) fn area_vector([a, b, c]: Corners) -> [f64; 3] {
    let (u, v) = (
        [b[0] - a[0], b[1] - a[1], b[2] - a[2]],
        [c[0] - a[0], c[1] - a[1], c[2] - a[2]],
    );
    [
        0.5 * (u[1] * v[2] - u[2] * v[1]),
        0.5 * (u[2] * v[0] - u[0] * v[2]),
        0.5 * (u[0] * v[1] - u[1] * v[0]),
    ]
}

pub(crate) fn area_m2(corners: Corners) -> f64 {
    let v = area_vector(corners);
    (v[0] * v[0] + v[1] * v[1] + v[2] * v[2]).sqrt()
}

/// A mesh on its way in: as the file has it, with limits kept at every addition.
#[derive(Debug, Default)]
pub(crate) struct Building {
    points: Vec<[f64; 3]>,
    triangles: Vec<[u32; 3]>,
    group_of: Vec<u16>,
    groups: Vec<String>,
}

impl Building {
    /// Refuses a file that says it has too many triangles, before they are read.
    fn expect_triangles(&self, count: usize) -> Result<(), MeshRefusal> {
        if count > MOST_TRIANGLES {
            return Err(MeshRefusal::TooManyTriangles {
                count,
                most: MOST_TRIANGLES,
            });
        }
        Ok(())
    }

    fn point(&mut self, point: [f64; 3]) -> Result<u32, MeshRefusal> {
        // A mesh has about half as many points as triangles; three times as many is a soup without any shared.
        let index = u32::try_from(self.points.len()).unwrap_or(u32::MAX);
        if self.points.len() >= 3 * MOST_TRIANGLES {
            return Err(MeshRefusal::TooManyTriangles {
                count: self.points.len() / 3,
                most: MOST_TRIANGLES,
            });
        }
        self.points.push(point);
        Ok(index)
    }

    fn group(&mut self, name: &str) -> u16 {
        let name: String = name.chars().filter(|c| !c.is_control()).take(60).collect();
        let place = self.groups.iter().position(|known| *known == name).unwrap_or_else(|| {
            if self.groups.len() < MOST_GROUPS {
                self.groups.push(name);
            }
            self.groups.len() - 1
        });
        u16::try_from(place).unwrap_or(u16::MAX)
    }

    fn triangle(&mut self, corners: [u32; 3], group: u16) -> Result<(), MeshRefusal> {
        self.expect_triangles(self.triangles.len() + 1)?;
        if let Some(&beyond) = corners.iter().find(|&&c| c as usize >= self.points.len()) {
            return Err(MeshRefusal::NoSuchPoint {
                triangle: self.triangles.len() + 1,
                point: beyond as usize,
                points: self.points.len(),
            });
        }
        self.triangles.push(corners);
        self.group_of.push(group);
        Ok(())
    }

    /// A polygon as a fan of triangles.
    fn polygon(&mut self, corners: &[u32], group: u16) -> Result<(), MeshRefusal> {
        for pair in corners.windows(2).skip(1) {
            self.triangle([corners[0], pair[0], pair[1]], group)?;
        }
        Ok(())
    }

    fn finish(mut self, unit: MeshUnit, up: UpAxis) -> Result<Mesh, MeshRefusal> {
        if self.triangles.is_empty() {
            return Err(MeshRefusal::Empty);
        }
        let metres = unit.metres();
        let mut used = vec![false; self.points.len()];
        for &corner in self.triangles.iter().flatten() {
            used[corner as usize] = true;
        }
        for (place, point) in self.points.iter_mut().enumerate() {
            if used[place] && !point.iter().all(|v| v.is_finite()) {
                return Err(MeshRefusal::NotANumber { point: place + 1 });
            }
            let [x, y, z] = point.map(|v| v * metres);
            *point = match up {
                UpAxis::Z => [x, y, z],
                UpAxis::Y => [x, -z, y],
            };
        }
        let mut mesh = Mesh {
            points: self.points,
            triangles: self.triangles,
            group_of: self.group_of,
            groups: self.groups,
        };
        let size = mesh.size_m();
        let longest = size.into_iter().fold(0.0, f64::max);
        if !(0.01..=20.0).contains(&longest) {
            let fits = MeshUnit::ALL
                .into_iter()
                .find(|other| (0.1..=5.0).contains(&(longest / metres * other.metres())));
            return Err(MeshRefusal::Size {
                metres: longest,
                unit: unit.name(),
                rather: fits.map(MeshUnit::name),
            });
        }
        let (low, _) = mesh.bounds();
        for point in &mut mesh.points {
            for (value, least) in point.iter_mut().zip(low) {
                *value -= least;
            }
        }
        Ok(mesh)
    }
}
