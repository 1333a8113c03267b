//! Every form as a mesh in STL, for whoever wants to check or use it elsewhere.

use stl_io::{Normal, Triangle, Vertex};

use crate::Form;
use crate::solid::{Point, area_vector, exposed};

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
