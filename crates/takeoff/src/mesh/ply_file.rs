//! PLY, text and binary.

use std::io::Cursor;

use ply_rs_bw::parser::{ParseError, Parser, Reader};
use ply_rs_bw::ply::{ElementDef, Property, PropertyAccess, PropertyAccessResult};

use super::{Building, MeshRefusal};

/// One element as far as it matters here: a point's place, or a face's corners.
#[derive(Debug, Default)]
struct Element {
    place: [f64; 3],
    corners: Vec<i64>,
}

impl PropertyAccess for Element {
    fn new() -> Self {
        Self::default()
    }

    fn set_property(&mut self, name: &str, property: Property) -> PropertyAccessResult {
        let axis = match name {
            "x" => Some(0),
            "y" => Some(1),
            "z" => Some(2),
            _ => None,
        };
        if let Some(axis) = axis {
            self.place[axis] = match property {
                Property::Float(v) => f64::from(v),
                Property::Double(v) => v,
                Property::Char(v) => f64::from(v),
                Property::UChar(v) => f64::from(v),
                Property::Short(v) => f64::from(v),
                Property::UShort(v) => f64::from(v),
                Property::Int(v) => f64::from(v),
                Property::UInt(v) => f64::from(v),
                _ => f64::NAN,
            };
            return PropertyAccessResult::Set;
        }
        if name == "vertex_indices" || name == "vertex_index" {
            self.corners = match property {
                Property::ListChar(v) => v.into_iter().map(i64::from).collect(),
                Property::ListUChar(v) => v.into_iter().map(i64::from).collect(),
                Property::ListShort(v) => v.into_iter().map(i64::from).collect(),
                Property::ListUShort(v) => v.into_iter().map(i64::from).collect(),
                Property::ListInt(v) => v.into_iter().map(i64::from).collect(),
                Property::ListUInt(v) => v.into_iter().map(i64::from).collect(),
                _ => Vec::new(),
            };
            return PropertyAccessResult::Set;
        }
        PropertyAccessResult::Ignored
    }
}

pub(super) fn read(bytes: &[u8], into: &mut Building) -> Result<(), MeshRefusal> {
    let parser = Parser::<Element>::new();
    let mut reader = Reader::new(Cursor::new(bytes));
    let header = parser.read_header(&mut reader).map_err(|e| damaged(&e))?;
    let group = into.group("scan");
    for element in header.elements.values() {
        check_count(element, bytes.len(), into)?;
    }
    let mut faces = Vec::new();
    for element in header.elements.values() {
        let rows = parser
            .read_payload_for_element(&mut reader, element, &header)
            .map_err(|e| damaged(&e))?;
        match element.name.as_str() {
            "vertex" => {
                for row in rows {
                    into.point(row.place)?;
                }
            }
            "face" => faces = rows,
            _ => {}
        }
    }
    for (place, face) in faces.into_iter().enumerate() {
        let mut corners = Vec::with_capacity(face.corners.len());
        for corner in face.corners {
            corners.push(u32::try_from(corner).map_err(|_| MeshRefusal::NoSuchPoint {
                triangle: place + 1,
                point: usize::try_from(corner).unwrap_or(usize::MAX),
                points: into.points.len(),
            })?);
        }
        into.polygon(&corners, group)?;
    }
    Ok(())
}

/// Refuses counts that are too many, or more than the file has bytes for.
fn check_count(element: &ElementDef, bytes: usize, into: &Building) -> Result<(), MeshRefusal> {
    match element.name.as_str() {
        "face" => into.expect_triangles(element.count)?,
        "vertex" => into.expect_triangles(element.count / 3)?,
        _ => {}
    }
    if element.count > bytes {
        return Err(MeshRefusal::Damaged {
            format: "PLY",
            line: None,
            what: format!(
                "it announces {} of “{}” and has {bytes} bytes",
                element.count, element.name
            ),
        });
    }
    Ok(())
}

fn damaged(error: &ParseError) -> MeshRefusal {
    // The first line says it; the rest repeats the file.
    let text = error.to_string();
    let first = text.lines().next().unwrap_or_default();
    let what = first
        .split_once(": ")
        .filter(|_| error.line().is_some())
        .map_or(first, |(_, rest)| rest);
    let what = if what.starts_with("Couldn't read element line") {
        "the numbers there are not those that its head announces"
    } else {
        what
    };
    MeshRefusal::Damaged {
        format: "PLY",
        line: error.line(),
        what: what.trim_end_matches('.').chars().take(160).collect(),
    }
}
