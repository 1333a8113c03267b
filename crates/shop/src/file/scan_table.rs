//! A scan written into the plan file itself: its parts with their areas, its size, and its likeness, so that the mesh's own
//! file is not needed again.

use quantity::{Area, Length};
use takeoff::Scan;

use super::node::{Table, Value};

/// Most parts of a scan.
const MOST_PARTS: usize = 250;

/// Reads the scan of a `mesh` table of which `parts` is there.
pub(crate) fn read(table: &Table<'_>, parts: &Value<'_>) -> Option<Scan> {
    let right = "a list such as [ { name = \"seat\", area_m2 = 0.31 } ]";
    let rows = parts.list(right);
    if rows.is_empty() || rows.len() > MOST_PARTS {
        parts.refuse("a scan has 1 to 250 parts", right);
        return None;
    }
    let read: Vec<Option<(String, Area)>> = rows.iter().map(|row| read_part(row, right)).collect();
    let size = table
        .need("size_m", "width, depth and height in metres, such as [0.6, 0.4, 0.9]")
        .and_then(|value| read_size(&value));
    let missing = table.get("holes_m2").map_or(Some(0.0), |value| {
        value.number(0.0..=500.0, "what holes may hide, in m²")
    });
    let likeness = table.get("likeness");
    let text = match &likeness {
        Some(value) => value.as_text().map(str::to_owned).or_else(|| {
            value.refuse("the likeness is a text", "as it was written");
            None
        }),
        None => Some(String::new()),
    };
    let parts: Option<Vec<(String, Area)>> = read.into_iter().collect();
    let (parts, size, missing, text) = (parts?, size?, missing?, text?);
    match Scan::written(&parts, size, Area::from_m2(missing), &text) {
        Ok(scan) => Some(scan),
        Err(reason) => {
            if let Some(value) = likeness {
                value.refuse(&reason, "the likeness as it was written, or none");
            }
            None
        }
    }
}

fn read_part(row: &Value<'_>, right: &str) -> Option<(String, Area)> {
    let table = row.table(right)?;
    let name = table
        .need("name", "a name such as \"seat\"")
        .and_then(|value| value.text(80, "a name such as \"seat\""));
    let area = table
        .need("area_m2", "its area in m², such as 0.31")
        .and_then(|value| value.number(0.0..=500.0, "its area in m², such as 0.31"));
    table.close();
    Some((name?, Area::from_m2(area?)))
}

fn read_size(value: &Value<'_>) -> Option<[Length; 3]> {
    let right = "width, depth and height in metres, such as [0.6, 0.4, 0.9]";
    let sides: Option<Vec<f64>> = value
        .list(right)
        .iter()
        .map(|side| side.number(0.0..=20.0, right))
        .collect();
    let sides: Option<[f64; 3]> = sides?.try_into().ok();
    if sides.is_none() {
        value.refuse("a size is three numbers", right);
    }
    sides.map(|sides| sides.map(Length::from_m))
}
