//! glTF 2.0, as one binary file or as JSON with its buffers inside. Groups are its nodes, parted by material.
//!
//! Only what an area needs is read of it, every index and range checked; the crates for the whole format panic on some
//! damaged files.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde::de::IgnoredAny;

use super::{Building, MeshRefusal};

/// A list of the file; absent lists are empty.
#[derive(Debug, Default, Deserialize)]
#[serde(default, rename_all = "camelCase")]
struct Root {
    scene: Option<usize>,
    scenes: Vec<Scene>,
    nodes: Vec<Node>,
    meshes: Vec<MeshItem>,
    materials: Vec<Material>,
    accessors: Vec<Accessor>,
    buffer_views: Vec<View>,
    buffers: Vec<Buffer>,
    extensions_required: Vec<String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Scene {
    nodes: Vec<usize>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Node {
    name: Option<String>,
    mesh: Option<usize>,
    children: Vec<usize>,
    matrix: Option<[f64; 16]>,
    translation: Option<[f64; 3]>,
    rotation: Option<[f64; 4]>,
    scale: Option<[f64; 3]>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct MeshItem {
    name: Option<String>,
    primitives: Vec<Primitive>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Primitive {
    attributes: BTreeMap<String, usize>,
    indices: Option<usize>,
    mode: Option<u8>,
    material: Option<usize>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Material {
    name: Option<String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default, rename_all = "camelCase")]
struct Accessor {
    buffer_view: Option<usize>,
    byte_offset: usize,
    component_type: u32,
    count: usize,
    r#type: String,
    sparse: Option<IgnoredAny>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default, rename_all = "camelCase")]
struct View {
    buffer: usize,
    byte_offset: usize,
    byte_stride: Option<usize>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Buffer {
    uri: Option<String>,
}

const TRIANGLES: u8 = 4;
const TRIANGLE_STRIP: u8 = 5;
const TRIANGLE_FAN: u8 = 6;
const FLOAT: u32 = 5126;

pub(super) fn read(bytes: &[u8], into: &mut Building) -> Result<(), MeshRefusal> {
    let (json, binary) = if bytes.starts_with(b"glTF") {
        chunks(bytes)?
    } else {
        (bytes, None)
    };
    let root: Root = serde_json::from_slice(json).map_err(|e| damaged(e.to_string()))?;
    // What changes how points are stored must be understood; looks need not.
    if let Some(name) = root
        .extensions_required
        .iter()
        .find(|n| n.contains("compression") || n.contains("quantization"))
    {
        let name: String = name
            .chars()
            .filter(|c| c.is_alphanumeric() || *c == '_')
            .take(60)
            .collect();
        return Err(kind(format!("is compressed ({name})")));
    }
    into.expect_triangles(announced(&root))?;
    let file = File {
        buffers: buffers(&root, binary)?,
        root,
    };
    file.walk(into)
}

fn damaged(what: impl Into<String>) -> MeshRefusal {
    MeshRefusal::Damaged {
        format: "glTF",
        line: None,
        what: what.into().chars().take(160).collect(),
    }
}

fn kind(what: impl Into<String>) -> MeshRefusal {
    MeshRefusal::GltfKind { what: what.into() }
}

/// The JSON and the binary part of a binary file (glTF 2.0, section 4.4).
fn chunks(bytes: &[u8]) -> Result<(&[u8], Option<&[u8]>), MeshRefusal> {
    let word = |at: usize| {
        let word: Option<[u8; 4]> = bytes.get(at..at + 4).and_then(|w| w.try_into().ok());
        word.map(u32::from_le_bytes)
    };
    if word(4) != Some(2) {
        return Err(kind("is not of version 2"));
    }
    let (mut json, mut binary, mut at) = (None, None, 12_usize);
    while let (Some(length), Some(kind)) = (word(at), word(at + 4)) {
        let end = (at + 8).checked_add(length as usize);
        let Some(chunk) = end.and_then(|end| bytes.get(at + 8..end)) else {
            return Err(damaged("it ends in the middle of a part"));
        };
        match kind {
            0x4e4f_534a => json = json.or(Some(chunk)),
            0x004e_4942 => binary = binary.or(Some(chunk)),
            _ => {}
        }
        at += 8 + chunk.len();
    }
    Ok((json.ok_or_else(|| damaged("its description is missing"))?, binary))
}

/// About how many triangles the file will give, if each mesh is used once.
fn announced(root: &Root) -> usize {
    root.meshes
        .iter()
        .flat_map(|mesh| &mesh.primitives)
        .filter_map(|p| {
            root.accessors
                .get(p.indices.or_else(|| p.attributes.get("POSITION").copied())?)
        })
        .fold(0, |sum, accessor| sum.saturating_add(accessor.count / 3))
}

/// The bytes of each buffer: the binary part, or base64 in the JSON.
fn buffers(root: &Root, binary: Option<&[u8]>) -> Result<Vec<Vec<u8>>, MeshRefusal> {
    root.buffers
        .iter()
        .map(|buffer| match &buffer.uri {
            None => binary
                .map(<[u8]>::to_vec)
                .ok_or_else(|| damaged("its binary part is missing")),
            Some(uri) => match uri.split_once(";base64,") {
                Some((start, data)) if start.starts_with("data:") => {
                    base64(data).ok_or_else(|| damaged("its base64 data is broken"))
                }
                _ => Err(kind("keeps its data in another file")),
            },
        })
        .collect()
}

/// Base64 (RFC 4648, section 4), with or without padding.
fn base64(text: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    let (mut bits, mut held) = (0_u32, 0_u8);
    for c in text.trim_end_matches('=').bytes() {
        let six = match c {
            b'A'..=b'Z' => c - b'A',
            b'a'..=b'z' => c - b'a' + 26,
            b'0'..=b'9' => c - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            _ => return None,
        };
        bits = ((bits << 6) | u32::from(six)) & 0xffff;
        held += 6;
        if held >= 8 {
            held -= 8;
            bytes.push(((bits >> held) & 0xff).try_into().ok()?);
        }
    }
    Some(bytes)
}

struct File {
    root: Root,
    buffers: Vec<Vec<u8>>,
}

impl File {
    /// Every node of the scene with its mesh.
    fn walk(&self, into: &mut Building) -> Result<(), MeshRefusal> {
        let root = &self.root;
        let scene = root.scenes.get(root.scene.unwrap_or(0)).or_else(|| root.scenes.first());
        let all: Vec<usize>;
        let starts = match scene {
            Some(scene) => &scene.nodes,
            None => {
                all = (0..root.nodes.len()).collect();
                &all
            }
        };
        let mut waiting: Vec<(usize, Matrix)> = starts.iter().rev().map(|&node| (node, IDENTITY)).collect();
        let mut walked = vec![false; root.nodes.len()];
        while let Some((place, above)) = waiting.pop() {
            let Some(node) = root.nodes.get(place) else {
                return Err(damaged(format!("it names node {place} and has {}", root.nodes.len())));
            };
            // A node has one parent; one met twice is a ring.
            if std::mem::replace(&mut walked[place], true) {
                return Err(damaged("its nodes go round in a ring"));
            }
            let here = times(&above, &node.matrix());
            if let Some(mesh) = node.mesh.and_then(|mesh| root.meshes.get(mesh)) {
                for primitive in &mesh.primitives {
                    let part = node.name.as_deref().or(mesh.name.as_deref()).unwrap_or("scan");
                    let material = primitive.material.and_then(|m| root.materials.get(m)?.name.as_deref());
                    let name = material.map_or_else(|| part.to_owned(), |material| format!("{part} {material}"));
                    let group = into.group(&name);
                    self.primitive(primitive, &here, group, into)?;
                }
            }
            waiting.extend(node.children.iter().rev().map(|&child| (child, here)));
        }
        Ok(())
    }

    /// One primitive's triangles.
    fn primitive(&self, p: &Primitive, here: &Matrix, group: u16, into: &mut Building) -> Result<(), MeshRefusal> {
        let mode = p.mode.unwrap_or(TRIANGLES);
        let Some(&positions) = p.attributes.get("POSITION") else {
            return Ok(());
        };
        if !(TRIANGLES..=TRIANGLE_FAN).contains(&mode) {
            return Ok(());
        }
        let positions = self.accessor(positions)?;
        if positions.component_type != FLOAT || positions.r#type != "VEC3" {
            return Err(kind("packs its points in whole numbers"));
        }
        let first = u32::try_from(into.points.len()).unwrap_or(u32::MAX);
        for bytes in self.elements(positions, 12)? {
            let at = |k: usize| {
                let word: Option<[u8; 4]> = bytes.get(k..k + 4).and_then(|w| w.try_into().ok());
                word.map_or(f64::NAN, |w| f64::from(f32::from_le_bytes(w)))
            };
            into.point(moved(here, [at(0), at(4), at(8)]))?;
        }
        let indices: Vec<u32> = match p.indices {
            None => (0..u32::try_from(positions.count).unwrap_or(u32::MAX)).collect(),
            Some(place) => {
                let accessor = self.accessor(place)?;
                let width = match accessor.component_type {
                    5121 => 1,
                    5123 => 2,
                    5125 => 4,
                    other => return Err(damaged(format!("its corners are numbers of kind {other}"))),
                };
                self.elements(accessor, width)?
                    .map(|bytes| {
                        bytes
                            .iter()
                            .rev()
                            .fold(0_u32, |value, &byte| (value << 8) | u32::from(byte))
                    })
                    .collect()
            }
        };
        let corner = |i: usize| indices[i].saturating_add(first);
        let n = indices.len();
        let corners: Vec<[usize; 3]> = match mode {
            TRIANGLES => (0..n / 3).map(|i| [3 * i, 3 * i + 1, 3 * i + 2]).collect(),
            TRIANGLE_STRIP => (2..n)
                .map(|i| {
                    if i % 2 == 0 {
                        [i - 2, i - 1, i]
                    } else {
                        [i - 1, i - 2, i]
                    }
                })
                .collect(),
            _ => (2..n).map(|i| [0, i - 1, i]).collect(),
        };
        for triangle in corners {
            into.triangle(triangle.map(corner), group)?;
        }
        Ok(())
    }

    fn accessor(&self, place: usize) -> Result<&Accessor, MeshRefusal> {
        let accessors = &self.root.accessors;
        accessors
            .get(place)
            .ok_or_else(|| damaged(format!("it names list {place} and has {}", accessors.len())))
    }

    /// The elements of an accessor, each `width` bytes, or a refusal when they lie outside their buffer.
    fn elements(&self, accessor: &Accessor, width: usize) -> Result<impl Iterator<Item = &[u8]>, MeshRefusal> {
        if accessor.sparse.is_some() {
            return Err(kind("stores its points as changes to others"));
        }
        let Some(view) = accessor.buffer_view else {
            return Err(kind("is compressed"));
        };
        let outside = || damaged("its data ends before its points do");
        let view = self.root.buffer_views.get(view).ok_or_else(outside)?;
        let buffer = self.buffers.get(view.buffer).ok_or_else(outside)?;
        let (stride, count) = (view.byte_stride.unwrap_or(width).max(width), accessor.count);
        let length = match count.checked_sub(1) {
            None => Some(0),
            Some(n) => n.checked_mul(stride).and_then(|n| n.checked_add(width)),
        };
        let from = view.byte_offset.checked_add(accessor.byte_offset);
        let to = from.zip(length).and_then(|(from, length)| from.checked_add(length));
        let data = from
            .zip(to)
            .and_then(|(from, to)| buffer.get(from..to))
            .ok_or_else(outside)?;
        Ok((0..count).filter_map(move |i| data.get(i * stride..i * stride + width)))
    }
}

/// Three rows of four: x, y, z of a moved point.
type Matrix = [[f64; 4]; 3];

const IDENTITY: Matrix = [[1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0]];

impl Node {
    /// Its matrix, which glTF keeps by columns; or translation, rotation (a unit quaternion x y z w) and scale.
    fn matrix(&self) -> Matrix {
        if let Some(m) = self.matrix {
            return std::array::from_fn(|row| std::array::from_fn(|column| m[4 * column + row]));
        }
        let t = self.translation.unwrap_or_default();
        let [x, y, z, w] = self.rotation.unwrap_or([0.0, 0.0, 0.0, 1.0]);
        let s = self.scale.unwrap_or([1.0; 3]);
        let turn = [
            [
                1.0 - 2.0 * (y * y + z * z),
                2.0 * (x * y - w * z),
                2.0 * (x * z + w * y),
            ],
            [
                2.0 * (x * y + w * z),
                1.0 - 2.0 * (x * x + z * z),
                2.0 * (y * z - w * x),
            ],
            [
                2.0 * (x * z - w * y),
                2.0 * (y * z + w * x),
                1.0 - 2.0 * (x * x + y * y),
            ],
        ];
        std::array::from_fn(|row| [turn[row][0] * s[0], turn[row][1] * s[1], turn[row][2] * s[2], t[row]])
    }
}

fn times(a: &Matrix, b: &Matrix) -> Matrix {
    std::array::from_fn(|row| {
        std::array::from_fn(|column| {
            let sum: f64 = (0..3).map(|k| a[row][k] * b[k][column]).sum();
            if column == 3 { sum + a[row][3] } else { sum }
        })
    })
}

fn moved(m: &Matrix, p: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|row| m[row][0] * p[0] + m[row][1] * p[1] + m[row][2] * p[2] + m[row][3])
}
