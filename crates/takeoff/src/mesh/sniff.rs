//! What a file is, by its first bytes.

use super::MeshRefusal;

/// The formats that are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Format {
    Stl,
    Obj,
    Ply,
    Gltf,
}

impl Format {
    const fn name(self) -> &'static str {
        match self {
            Self::Stl => "STL",
            Self::Obj => "OBJ",
            Self::Ply => "PLY",
            Self::Gltf => "glTF",
        }
    }

    fn of_extension(extension: &str) -> Option<Self> {
        match extension {
            "stl" => Some(Self::Stl),
            "obj" => Some(Self::Obj),
            "ply" => Some(Self::Ply),
            "gltf" | "glb" => Some(Self::Gltf),
            _ => None,
        }
    }
}

/// Bytes at the start of what is no mesh.
const OTHERS: [(&[u8], &str, &str); 11] = [
    (b"PK\x03\x04", "a ZIP archive", "; unpack it first"),
    (b"PK\x05\x06", "a ZIP archive", "; unpack it first"),
    (b"\x1f\x8b", "a gzip archive", "; unpack it first"),
    (b"BZh", "a bzip2 archive", "; unpack it first"),
    (b"\xfd7zXZ", "an xz archive", "; unpack it first"),
    (b"7z\xbc\xaf", "a 7z archive", "; unpack it first"),
    (b"Rar!", "a RAR archive", "; unpack it first"),
    (b"\x28\xb5\x2f\xfd", "a Zstandard archive", "; unpack it first"),
    (b"\x89PNG", "a picture", ""),
    (b"\xff\xd8\xff", "a picture", "; measure on a photograph instead"),
    (b"%PDF", "a PDF document", ""),
];

/// The format of a file by its content; its name may not say otherwise.
pub(super) fn format(bytes: &[u8], name: &str) -> Result<Format, MeshRefusal> {
    if bytes.is_empty() {
        return Err(MeshRefusal::Empty);
    }
    for (start, what, hint) in OTHERS {
        if bytes.starts_with(start) {
            return Err(MeshRefusal::NotAMesh { what, hint });
        }
    }
    let extension = name
        .rsplit_once('.')
        .map(|(_, end)| end.to_lowercase())
        .unwrap_or_default();
    let named = Format::of_extension(&extension);
    let found = by_content(bytes, named);
    match (found, named) {
        (Some(found), Some(named)) if found != named => Err(MeshRefusal::WrongExtension {
            extension,
            found: found.name(),
            right: match found {
                Format::Stl => "stl",
                Format::Obj => "obj",
                Format::Ply => "ply",
                Format::Gltf if bytes.starts_with(b"glTF") => "glb",
                Format::Gltf => "gltf",
            },
        }),
        (Some(found), _) => Ok(found),
        (None, _) => Err(MeshRefusal::NotAMesh {
            what: "of no kind that is known here",
            hint: "",
        }),
    }
}

fn by_content(bytes: &[u8], named: Option<Format>) -> Option<Format> {
    if bytes.starts_with(b"ply\n") || bytes.starts_with(b"ply\r") {
        return Some(Format::Ply);
    }
    if bytes.starts_with(b"glTF") {
        return Some(Format::Gltf);
    }
    // A binary STL may start with any word, “solid” included: its length tells.
    if stl_length(bytes).is_some_and(|length| length == bytes.len()) {
        return Some(Format::Stl);
    }
    let head = &bytes[..bytes.len().min(4096)];
    let text = String::from_utf8_lossy(head);
    let first = text.trim_start_matches('\u{feff}').trim_start();
    if first.starts_with('{') && text.contains('"') {
        return Some(Format::Gltf);
    }
    if first.starts_with("solid") {
        return Some(Format::Stl);
    }
    let word = |line: &str| line.split_whitespace().next().unwrap_or_default().to_owned();
    let known = ["v", "vn", "vt", "f", "o", "g", "s", "mtllib", "usemtl"];
    let lines: Vec<String> = first
        .lines()
        .map(word)
        .filter(|w| !w.is_empty() && !w.starts_with('#'))
        .take(8)
        .collect();
    if !lines.is_empty() && !head.contains(&0) && lines.iter().take(4).all(|w| known.contains(&w.as_str())) {
        return Some(Format::Obj);
    }
    // A cut-off or overlong binary STL, or an OBJ that is all remarks at its start: its reader says what is wrong.
    match named {
        Some(Format::Stl) if stl_length(bytes).is_some() && head.contains(&0) => Some(Format::Stl),
        Some(Format::Obj) if lines.is_empty() && !head.contains(&0) => Some(Format::Obj),
        _ => None,
    }
}

/// How long a binary STL file must be by its own count of triangles.
pub(super) fn stl_length(bytes: &[u8]) -> Option<usize> {
    let count = stl_count(bytes)?;
    count.checked_mul(50)?.checked_add(84)
}

/// A binary STL file's own count of triangles.
pub(super) fn stl_count(bytes: &[u8]) -> Option<usize> {
    let count: [u8; 4] = bytes.get(80..84)?.try_into().ok()?;
    Some(u32::from_le_bytes(count) as usize)
}
