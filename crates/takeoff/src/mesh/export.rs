//! Every form as a mesh in STL, for whoever wants to check or use it elsewhere.

use stl_io::{Normal, Triangle, Vertex};

use crate::Form;
use crate::solid::{Face, Part, Point, Side, area_vector, exposed};

/// The open surfaces of a form as a binary STL file in millimetres, z up. Round parts have 180 facets round.
#[must_use]
pub fn stl(form: &Form) -> Vec<u8> {
    write(form, |_| true)
}

/// One surface of a form, by its id, as [`stl`]; a file without triangles when there is none of it.
#[must_use]
pub fn stl_of(form: &Form, surface: &str) -> Vec<u8> {
    write(form, |id| id == surface)
}

/// The six-sided solids of a form, in metres: four corners below and four above, each front left, front right, back right,
/// back left. Round parts, linings and swept mouldings are not among them.
#[must_use]
pub fn solids(form: &Form) -> Vec<[[f64; 3]; 8]> {
    let model = form.model();
    let corners = |face: &Face| -> Option<[[f64; 3]; 4]> {
        let corners: [Point; 4] = face.corners.as_slice().try_into().ok()?;
        Some(corners.map(|p| [p.x, p.y, p.z]))
    };
    let blocks = model.parts.iter().filter_map(|part| match part {
        Part::Block(block) if block.faces.len() == 6 => Some(block),
        _ => None,
    });
    blocks
        .filter_map(|block| {
            // The lower face runs the other way round, as it is seen from below.
            let [a, d, c, b] = corners(&block.faces[Side::Bottom as usize])?;
            let [e, f, g, h] = corners(&block.faces[Side::Top as usize])?;
            Some([a, b, c, d, e, f, g, h])
        })
        .collect()
}

fn write(form: &Form, wanted: impl Fn(&str) -> bool) -> Vec<u8> {
    let model = form.model();
    let triangles: Vec<Triangle> = exposed(&model)
        .iter()
        .filter(|open| model.surfaces.get(open.surface).is_some_and(|named| wanted(&named.id)))
        .flat_map(|open| fan(&open.corners))
        .collect();
    let mut bytes = Vec::with_capacity(84 + 50 * triangles.len());
    // Writing into memory fails only when there is none; the file is then short, and its readers say so.
    let written = stl_io::write_stl(&mut bytes, triangles.iter());
    if written.is_err() {
        bytes.clear();
    }
    bytes
}

fn fan(corners: &[Point]) -> Vec<Triangle> {
    let normal = area_vector(corners);
    let size = normal.size().max(1e-12);
    let normal = Normal::new([normal.x / size, normal.y / size, normal.z / size].map(single));
    let vertex = |p: Point| Vertex::new([p.x, p.y, p.z].map(|v| single(v * 1000.0)));
    let Some(&first) = corners.first() else {
        return Vec::new();
    };
    corners
        .windows(2)
        .skip(1)
        .map(|w| Triangle {
            normal,
            vertices: [vertex(first), vertex(w[0]), vertex(w[1])],
        })
        .collect()
}

#[expect(clippy::cast_possible_truncation, reason = "STL keeps single precision")]
fn single(v: f64) -> f32 {
    v as f32
}
