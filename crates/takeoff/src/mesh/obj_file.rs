//! OBJ: groups are its objects or groups, parted by material.

use std::io::{BufReader, Read as _};

use super::{Building, MeshRefusal};

pub(super) fn read(bytes: &[u8], into: &mut Building) -> Result<(), MeshRefusal> {
    let damaged = |line: Option<usize>, what: String| MeshRefusal::Damaged {
        format: "OBJ",
        line,
        what,
    };
    let (faces, materials) = look_over(bytes, &damaged)?;
    into.expect_triangles(faces)?;
    // The library of materials is another file; their names are all that is needed of it.
    let listed: Vec<tobj::Material> = materials
        .iter()
        .map(|name| tobj::Material {
            name: name.clone(),
            ..tobj::Material::default()
        })
        .collect();
    let places = || {
        materials
            .iter()
            .cloned()
            .enumerate()
            .map(|(i, name)| (name, i))
            .collect()
    };
    let options = tobj::LoadOptions {
        triangulate: true,
        ignore_points: true,
        ignore_lines: true,
        ..tobj::LoadOptions::default()
    };
    let mut reader = BufReader::new(b"mtllib materials\n".chain(bytes));
    let (models, _) = tobj::load_obj_buf(&mut reader, &options, |_| Ok((listed.clone(), places())))
        .map_err(|e| damaged(None, e.to_string()))?;
    for model in models {
        let material = model.mesh.material_id.and_then(|id| materials.get(id));
        let unnamed = model.name.is_empty() || model.name == "unnamed_object";
        let name = match material {
            Some(material) if unnamed => material.clone(),
            Some(material) => format!("{} {material}", model.name),
            None if unnamed => "scan".to_owned(),
            None => model.name.clone(),
        };
        let group = into.group(&name);
        let first = into.points.len();
        for p in model.mesh.positions.chunks_exact(3) {
            into.point([f64::from(p[0]), f64::from(p[1]), f64::from(p[2])])?;
        }
        let shift = u32::try_from(first).unwrap_or(u32::MAX);
        for t in model.mesh.indices.chunks_exact(3) {
            into.triangle([t[0], t[1], t[2]].map(|c| c.saturating_add(shift)), group)?;
        }
    }
    Ok(())
}

/// Counts the triangles that the faces will make and lists the materials, refusing what is no text or has endless lines.
fn look_over(
    bytes: &[u8],
    damaged: &dyn Fn(Option<usize>, String) -> MeshRefusal,
) -> Result<(usize, Vec<String>), MeshRefusal> {
    const LONGEST_LINE: usize = 64 * 1024;
    let (mut triangles, mut materials) = (0_usize, Vec::<String>::new());
    for (place, line) in bytes.split(|&b| b == b'\n').enumerate() {
        if line.len() > LONGEST_LINE {
            return Err(damaged(Some(place + 1), format!("the line has {} bytes", line.len())));
        }
        let Ok(text) = std::str::from_utf8(line) else {
            return Err(damaged(Some(place + 1), "it is not text".to_owned()));
        };
        if text.contains('\0') {
            return Err(damaged(Some(place + 1), "it is not text".to_owned()));
        }
        let mut words = text.split_whitespace();
        match words.next() {
            Some("f") => triangles += words.count().saturating_sub(2),
            Some("usemtl") => {
                let name = text.split_once(' ').map_or("", |(_, name)| name.trim()).to_owned();
                if materials.len() < super::MOST_GROUPS && !materials.contains(&name) {
                    materials.push(name);
                }
            }
            _ => {}
        }
    }
    Ok((triangles, materials))
}
