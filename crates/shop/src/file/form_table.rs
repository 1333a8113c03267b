//! The form of a `[[piece]]`: its kind, three numbers, and whatever else was said.

use quantity::Length;
use takeoff::Scan;
use takeoff::mesh::{Mesh, MeshUnit, UpAxis};

use super::measure_table;
use super::node::{Table, Value};
use super::scan_table;
use super::source::Beside;
use super::values::{self, Bare};
use crate::model::{Details, FormKind, FormSaid, HowMeasured, LegShape, Legs, MeshFile, OutlineMeasured, TopShape};

/// Reads the keys of a piece that say its form; `None` if what has no default was refused.
pub(crate) fn read(table: &Table<'_>, bare: Bare, beside: &dyn Beside) -> Option<FormSaid> {
    let kind = table
        .need(
            "form",
            "one of case, table, chair, bench, bed, frame, door, panel, turned, moulding, mesh",
        )
        .and_then(|value| value.word(&FormKind::WORDS));
    let details = read_details(table, bare, beside);
    let dimensions = measure_table::read_further(table, bare, kind);
    let (width, depth, height) = read_three(table, bare, kind, &details);
    let ((width, by_width), (depth, by_depth), (height, by_height)) = (width?, depth?, height?);
    Some(FormSaid {
        measured: OutlineMeasured {
            width: by_width,
            depth: by_depth,
            height: by_height,
        },
        dimensions,
        details,
        ..FormSaid::of(kind?, [width, depth, height])
    })
}

/// One of the three numbers with how it was measured; `None` if it was refused.
type Number = Option<(Length, HowMeasured)>;

/// The three numbers; a form that says its size another way needs fewer of them.
fn read_three(table: &Table<'_>, bare: Bare, kind: Option<FormKind>, details: &Details) -> (Number, Number, Number) {
    let plain = |length: Length| (length, HowMeasured::default());
    let read = |key: &'static str, default: Option<Length>| -> Number {
        match (table.get(key), default) {
            (Some(value), _) => measure_table::read(&value, bare),
            (None, Some(default)) => Some(plain(default)),
            (None, None) => table
                .need(key, "a length with its unit, such as \"42 in\" or \"107 cm\"")
                .and_then(|value| measure_table::read(&value, bare)),
        }
    };
    let board = details.thickness.or(Some(Length::from_m(0.02)));
    match kind {
        Some(FormKind::Panel | FormKind::Door | FormKind::Frame | FormKind::Moulding) => {
            (read("width", None), read("depth", board), read("height", None))
        }
        Some(FormKind::Turned) if !details.profile.is_empty() => {
            let radius = details.profile.iter().map(|(_, radius)| radius.m()).fold(0.0, f64::max);
            let height = details.profile.iter().map(|(height, _)| height.m()).fold(0.0, f64::max);
            let girth = Some(Length::from_m(2.0 * radius));
            (
                read("width", girth),
                read("depth", girth),
                read("height", Some(Length::from_m(height))),
            )
        }
        Some(FormKind::Mesh) => {
            let unknown = Some(Length::from_m(0.0));
            (read("width", unknown), read("depth", unknown), read("height", unknown))
        }
        Some(FormKind::Table) if details.shape == Some(TopShape::Round) => {
            let width = read("width", None);
            let across = width.map_or(Length::from_m(1.0), |(length, _)| length);
            (width, read("depth", Some(across)), read("height", None))
        }
        _ => (read("width", None), read("depth", None), read("height", None)),
    }
}

fn read_details(table: &Table<'_>, bare: Bare, beside: &dyn Beside) -> Details {
    let length = |key: &'static str| table.get(key).and_then(|value| values::length_or_none(&value, bare));
    let whole = |key: &'static str, most: u32| {
        table
            .get(key)
            .and_then(|value| value.whole(0..=most, "a number such as 2"))
    };
    let flag = |key: &'static str| table.get(key).and_then(|value| value.flag());
    Details {
        drawers: table.get("drawers").and_then(|value| read_drawers(&value)),
        doors: whole("doors", 40),
        shelves: whole("shelves", 60),
        lid: flag("lid"),
        overhang: length("overhang"),
        plinth: length("plinth"),
        back: flag("back"),
        inside: flag("inside"),
        pulls: whole("pulls", 200),
        moulding: length("moulding"),
        shape: table.get("shape").and_then(|value| value.word(&TopShape::WORDS)),
        apron: length("apron"),
        leaves: whole("leaves", 12),
        legs: table.get("legs").and_then(|value| read_legs(&value, bare)),
        seat: length("seat"),
        slats: whole("slats", 60),
        spindles: whole("spindles", 60),
        stretchers: whole("stretchers", 12),
        arms: flag("arms"),
        thickness: length("thickness"),
        member: length("member"),
        profile: table
            .get("profile")
            .map(|value| read_profile(&value, bare))
            .unwrap_or_default(),
        mesh: table.get("mesh").and_then(|value| read_mesh(&value, beside)),
    }
}

fn read_drawers(value: &Value<'_>) -> Option<(u32, u32)> {
    let right = "a table such as { rows = 3, columns = 1 }";
    if value.as_number().is_some() {
        return value.whole(0..=24, right).map(|rows| (rows, 1));
    }
    let table = value.table(right)?;
    let rows = table
        .need("rows", right)
        .and_then(|value| value.whole(0..=24, "a number of rows such as 3"));
    let columns = table
        .get("columns")
        .map_or(Some(1), |value| value.whole(0..=24, "a number of columns such as 1"));
    table.close();
    Some((rows?, columns?))
}

fn read_legs(value: &Value<'_>, bare: Bare) -> Option<Legs> {
    if value.is_text() {
        return value.word(&LegShape::WORDS).map(|shape| Legs {
            shape: Some(shape),
            ..Legs::default()
        });
    }
    let table =
        value.table("one of square, tapered, turned; or a table such as { shape = \"turned\", length = \"16 in\" }")?;
    let legs = Legs {
        shape: table.get("shape").and_then(|value| value.word(&LegShape::WORDS)),
        length: table.get("length").and_then(|value| values::length(&value, bare)),
        thickness: table.get("thickness").and_then(|value| values::length(&value, bare)),
        count: table
            .get("count")
            .and_then(|value| value.whole(1..=24, "a number of legs such as 4")),
    };
    table.close();
    Some(legs)
}

fn read_profile(value: &Value<'_>, bare: Bare) -> Vec<(Length, Length)> {
    let right = "pairs of height and radius from the foot up, such as [[\"0 in\", \"1 in\"], [\"16 in\", \"3/4 in\"]]";
    let rows = value.list(right);
    if rows.len() < 2 || rows.len() > 500 {
        value.refuse("a profile has 2 to 500 points", right);
        return Vec::new();
    }
    let mut profile: Vec<(Length, Length)> = Vec::new();
    for row in &rows {
        let pair = row.list(right);
        if pair.len() != 2 {
            row.refuse("a point is a height and a radius", right);
            return Vec::new();
        }
        let (Some(height), Some(radius)) = (
            values::length_or_none(&pair[0], bare),
            values::length_or_none(&pair[1], bare),
        ) else {
            return Vec::new();
        };
        if profile.last().is_some_and(|(last, _)| last.m() > height.m()) {
            row.refuse("heights rise from the foot up", right);
            return Vec::new();
        }
        profile.push((height, radius));
    }
    profile
}

/// Reads what `mesh` names: the scan's parts with their areas. They stand in the table itself, or the file that it names
/// lies beside the plan file.
fn read_mesh(value: &Value<'_>, beside: &dyn Beside) -> Option<MeshFile> {
    let table = value.table("a table such as { file = \"chair.stl\", unit = \"mm\" }")?;
    let named = table.need("file", "the name of an OBJ, STL, PLY or glTF file");
    let file = named.as_ref().and_then(|value| value.text(200, "a file's name"));
    let unit = table
        .need("unit", "one of mm, cm, m, in, ft")
        .and_then(|value| value.word(&MESH_UNITS));
    let y_up = table
        .get("up")
        .map_or(Some(false), |value| value.word(&[("z", false), ("y", true)]));
    let written = table.get("parts").map(|parts| scan_table::read(&table, &parts));
    table.close();
    let (named, file, unit, y_up) = (named?, file?, unit?, y_up?);
    let scan = match written {
        Some(scan) => scan?,
        None => scan_of_file(&named, &file, unit, y_up, beside)?,
    };
    Some(MeshFile {
        scan: Some(Box::new(scan)),
        file,
        unit_m: unit.metres(),
        y_up,
    })
}

fn scan_of_file(named: &Value<'_>, file: &str, unit: MeshUnit, y_up: bool, beside: &dyn Beside) -> Option<Scan> {
    let right = "an OBJ, STL, PLY or glTF file of the scan, with the unit that it was made in";
    let bytes = match beside.bytes(&named.reader.source.name, file) {
        Ok(bytes) => bytes,
        Err(reason) => {
            named.refuse(&reason, right);
            return None;
        }
    };
    let up = if y_up { UpAxis::Y } else { UpAxis::Z };
    match Mesh::read(&bytes, file, unit, up) {
        Ok(mesh) => {
            for remark in mesh.health().remarks() {
                named.reader.assume(format!("{file}: {remark}"));
            }
            Some(Scan::of(&mesh))
        }
        Err(refused) => {
            named.refuse(&refused.to_string(), right);
            None
        }
    }
}

/// The words for a mesh's unit.
const MESH_UNITS: [(&str, MeshUnit); 5] = [
    ("mm", MeshUnit::Millimetre),
    ("cm", MeshUnit::Centimetre),
    ("m", MeshUnit::Metre),
    ("in", MeshUnit::Inch),
    ("ft", MeshUnit::Foot),
];
