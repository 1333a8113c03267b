//! STL, binary and text.

use std::io::Cursor;

use super::sniff::{stl_count, stl_length};
use super::{Building, MeshRefusal};

pub(super) fn read(bytes: &[u8], into: &mut Building) -> Result<(), MeshRefusal> {
    let damaged = |what: String| MeshRefusal::Damaged {
        format: "STL",
        line: None,
        what,
    };
    let is_text = bytes.trim_ascii_start().starts_with(b"solid") && stl_length(bytes) != Some(bytes.len());
    if !is_text {
        let count = stl_count(bytes).unwrap_or(0);
        into.expect_triangles(count)?;
        let needed = stl_length(bytes).unwrap_or(usize::MAX);
        if bytes.len() < needed {
            return Err(damaged(format!(
                "it announces {count} triangles and ends after {}",
                bytes.len().saturating_sub(84) / 50
            )));
        }
    }
    let mut cursor = Cursor::new(bytes);
    let reader = stl_io::create_stl_reader(&mut cursor).map_err(|e| damaged(e.to_string()))?;
    let group = into.group("scan");
    for triangle in reader {
        let triangle = triangle.map_err(|e| damaged(e.to_string()))?;
        let mut corners = [0_u32; 3];
        for (corner, vertex) in corners.iter_mut().zip(&triangle.vertices) {
            let at = |k: usize| f64::from(vertex[k]);
            *corner = into.point([at(0), at(1), at(2)])?;
        }
        into.triangle(corners, group)?;
    }
    Ok(())
}
