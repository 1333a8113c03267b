//! `[[piece]]`: a piece with its form, its history and its zones.

use super::form_table;
use super::node::Table;
use super::source::Beside;
use super::values::{self, Bare};
use super::words;
use super::zone_table;
use crate::model::{
    ForWhom, FormKind, FormSaid, Kind, Made, Piece, PieceStage, Placement, Prefer, Settings, ShelfProduct, Use, slug,
};

/// Most zones of one piece.
const MOST_ZONES: usize = 24;

/// Reads one piece; `None` if what has no default was refused.
pub(crate) fn read(
    mut table: Table<'_>,
    settings: &Settings,
    shelf: &[ShelfProduct],
    beside: &dyn Beside,
) -> Option<Piece> {
    let bare = Bare {
        units: settings.units,
        currency: settings.currency,
    };
    let name = table
        .need("name", "a name such as \"hall bench\"")
        .and_then(|value| value.text(80, "a name such as \"hall bench\""));
    let shown = name.clone().unwrap_or_default();
    if !shown.is_empty() {
        table.field = format!("piece \"{shown}\"");
    }
    let form = form_table::read(&table, bare, beside);
    let count = table
        .get("count")
        .map_or(Some(1), |value| value.whole(1..=50, "how many alike, such as 4"));
    let zones = read_zones(&table, bare, &shown, shelf);
    let room = table.get("room").and_then(|value| {
        let wanted = value.as_text().unwrap_or("");
        if settings.rooms.iter().any(|room| room.name == wanted) {
            return Some(wanted.to_owned());
        }
        let rooms: Vec<&str> = settings.rooms.iter().map(|room| room.name.as_str()).collect();
        value.refuse("there is no room of this name", &super::nearest::one_of(wanted, &rooms));
        None
    });
    // A form that was refused stands in for itself, so that every other key is still looked at.
    let stand_in = FormSaid::of(FormKind::Case, [quantity::Length::ZERO; 3]);
    let is_formed = form.is_some();
    let mut piece = Piece {
        count: count.unwrap_or(1),
        stage: table
            .get("stage")
            .and_then(|value| value.word(&PieceStage::WORDS))
            .unwrap_or_default(),
        made: read_made(&table),
        due: table.get("due").and_then(|value| values::date(&value)),
        for_whom: table
            .get("for")
            .and_then(|value| value.word(&ForWhom::WORDS))
            .unwrap_or_default(),
        sells_for: table.get("sells_for").and_then(|value| values::money(&value, bare)),
        paid: table.get("paid").and_then(|value| values::money(&value, bare)),
        used_for: table
            .get("use")
            .and_then(|value| value.kind(Use::parse, &super::words::ids_of!(Use)))
            .unwrap_or(Use::Bedroom),
        placement: table
            .get("placement")
            .and_then(|value| words::trade_word(&value, "\"movable\" or \"built-in\"", Placement::parse)),
        kind: table.get("kind").and_then(|value| {
            words::trade_word(
                &value,
                "one of \"ordinary\", \"crib\", \"toy\", \"high-chair\"",
                Kind::parse,
            )
        }),
        prefer: table.get("prefer").and_then(|value| value.word(&Prefer::WORDS)),
        notes: table
            .get("notes")
            .and_then(|value| value.as_text().map(|text| text.chars().take(4000).collect()))
            .unwrap_or_default(),
        room,
        ..Piece::new(&shown, form.unwrap_or(stand_in))
    };
    piece.zones = zones;
    if let Some(id) = read_id(&table) {
        piece.id = id;
    }
    table.close();
    name.filter(|_| is_formed).map(|_| piece)
}

/// The id of a piece that was renamed since it was taken in; else it follows from the name.
fn read_id(table: &Table<'_>) -> Option<String> {
    let value = table.get("id")?;
    let id = value.as_text().unwrap_or("");
    if !id.is_empty() && slug(id) == id {
        return Some(id.to_owned());
    }
    value.refuse(
        "an id is kebab-case: small letters, figures and hyphens",
        "such as \"hall-bench\", or no id",
    );
    None
}

fn read_made(table: &Table<'_>) -> Made {
    let Some(value) = table.get("made") else {
        return Made::Unknown;
    };
    let text = match (value.as_text(), value.as_number()) {
        (Some(text), _) => text.to_owned(),
        (None, Some(number)) => format!("{number}"),
        _ => String::new(),
    };
    Made::parse(&text).unwrap_or_else(|right| {
        value.refuse("when it was made is a year, a decade, or a limit", &right);
        Made::Unknown
    })
}

fn read_zones(table: &Table<'_>, bare: Bare, piece_name: &str, shelf: &[ShelfProduct]) -> Vec<crate::model::Zone> {
    let tables = table.tables("zone", "[[piece.zone]] with name, substrate, found and wish");
    if tables.len() > MOST_ZONES {
        table.reader.refuse(
            table.span.clone(),
            &table.field_of("zone"),
            &format!("{} zones", tables.len()),
            &format!("a piece has at most {MOST_ZONES} zones"),
            "fewer zones, each with one finish",
        );
        return Vec::new();
    }
    let mut zones: Vec<crate::model::Zone> = Vec::new();
    for zone_table in tables {
        let span = zone_table.span.clone();
        let Some(zone) = zone_table::read(zone_table, bare, piece_name, shelf) else {
            continue;
        };
        if zones.iter().any(|other| other.name == zone.name) {
            table.reader.refuse(
                span,
                &format!("piece \"{piece_name}\", zone \"{}\"", zone.name),
                "",
                "two zones of a piece have the same name",
                "another name for one of them",
            );
            continue;
        }
        zones.push(zone);
    }
    zones
}
