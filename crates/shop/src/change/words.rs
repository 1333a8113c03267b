//! A change in the words of the bench, as they stand after "Undo:".

use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;

use super::Part;
use crate::model::{Mark, MarkKind, Piece, Room, Settings, ShelfProduct, ShelfSupply, Shop, Spell};

/// What the parts are, all of them together.
///
/// What was said at the bench moves a piece's stage by the way, so that its words stand for both.
pub(super) fn of(parts: &[Part], shop: &Shop, name_of: &dyn Fn(&str) -> Option<String>) -> String {
    let zone = TimeZone::get(&shop.settings.zone_id).unwrap_or(TimeZone::UTC);
    let is_log = |part: &&Part| matches!(part, Part::Log { .. });
    let told: Vec<String> = match parts.iter().find(is_log) {
        Some(log) => vec![of_part(log, &zone, name_of)],
        None => parts.iter().map(|part| of_part(part, &zone, name_of)).collect(),
    };
    told.join("; ")
}

fn of_part(part: &Part, zone: &TimeZone, name_of: &dyn Fn(&str) -> Option<String>) -> String {
    match part {
        Part::Settings {
            before,
            after,
            readings,
        } => of_settings(before, after, readings.is_some()),
        Part::Shelf { before, after } => of_shelf(before, after),
        Part::Supplies { before, after } => of_supplies(before, after),
        Part::Piece { id, before, after } => match (before, after) {
            (Some((_, before)), Some((_, after))) => of_piece(before, after),
            (None, Some((_, piece))) => format!("{} taken in", piece.name),
            (Some((_, piece)), None) => format!("{} taken out", piece.name),
            (None, None) => id.clone(),
        },
        Part::Log { before, after, .. } => of_log(before, after, zone, name_of),
    }
}

fn of_settings(before: &Settings, after: &Settings, is_air: bool) -> String {
    let mut but_blocks = before.clone();
    but_blocks.blocks.clone_from(&after.blocks);
    if before.sellers != after.sellers {
        but_blocks.sellers.clone_from(&after.sellers);
        if but_blocks == *after && before.blocks == after.blocks && !is_air {
            return "the sellers' prices changed".to_owned();
        }
    }
    let mut but_spells = but_blocks.clone();
    for (room, now) in but_spells.rooms.iter_mut().zip(&after.rooms) {
        room.spells.clone_from(&now.spells);
    }
    if but_blocks != *after && but_spells == *after && !is_air && before.blocks == after.blocks {
        return of_spells(before, after);
    }
    if but_blocks != *after || is_air {
        return "the shop's settings changed".to_owned();
    }
    let new = after.blocks.iter().find(|block| !before.blocks.contains(block));
    let old = before.blocks.iter().find(|block| !after.blocks.contains(block));
    match (new, old) {
        (Some(block), _) => format!("{} taken out", with_reason(block.from, block.to, &block.why)),
        (None, Some(block)) => format!("{} given back", with_reason(block.from, block.to, &block.why)),
        (None, None) => "time taken out".to_owned(),
    }
}

/// `garage at 4 °C, Thu 11 Mar 18:00 to Sat 13 Mar 9:00`, and `… taken back`.
fn of_spells(before: &Settings, after: &Settings) -> String {
    let of = |room: &Room, spell: &Spell| {
        let stretch = stretch(spell.from, spell.to);
        format!("{} at {}, {stretch}", room.name, spell.air(after.units))
    };
    let rooms = || before.rooms.iter().zip(&after.rooms);
    let only_in = |these: &Room, others: &Room| {
        let spell = these.spells.iter().find(|spell| !others.spells.contains(spell));
        spell.map(|spell| of(these, spell))
    };
    let new = rooms().find_map(|(was, is)| only_in(is, was));
    let old = rooms().find_map(|(was, is)| only_in(was, is));
    match (new, old) {
        (Some(new), _) => new,
        (None, Some(old)) => format!("{old} taken back"),
        (None, None) => "the air that is expected changed".to_owned(),
    }
}

/// `Thu 11 Mar 9:00 to 12:00`, with the reason behind it.
fn with_reason(from: DateTime, to: DateTime, why: &str) -> String {
    let why = if why.is_empty() {
        String::new()
    } else {
        format!(" ({why})")
    };
    format!("{}{why}", stretch(from, to))
}

fn stretch(from: DateTime, to: DateTime) -> String {
    let end = if from.date() == to.date() {
        to.strftime("%-H:%M").to_string()
    } else {
        on_wall(to)
    };
    format!("{} to {end}", on_wall(from))
}

fn on_wall(moment: DateTime) -> String {
    moment.strftime("%a %-d %b %-H:%M").to_string()
}

fn of_shelf(before: &[ShelfProduct], after: &[ShelfProduct]) -> String {
    let has = |shelf: &[ShelfProduct], name: &str| shelf.iter().any(|product| product.name == name);
    if let Some(new) = after.iter().find(|product| !has(before, &product.name)) {
        format!("{} put on the shelf", new.name)
    } else if let Some(old) = before.iter().find(|product| !has(after, &product.name)) {
        format!("{} taken off the shelf", old.name)
    } else {
        let other = after.iter().find(|product| !before.contains(product));
        other.map_or_else(
            || "the shelf changed".to_owned(),
            |product| format!("{} changed", product.name),
        )
    }
}

fn of_supplies(before: &[ShelfSupply], after: &[ShelfSupply]) -> String {
    let has = |supplies: &[ShelfSupply], name: &str| supplies.iter().any(|supply| supply.name == name);
    let new = after.iter().find(|supply| !has(before, &supply.name));
    let old = before.iter().find(|supply| !has(after, &supply.name));
    match (new, old) {
        (Some(new), _) => format!("{} put among the supplies", new.name),
        (None, Some(old)) => format!("{} taken out of the supplies", old.name),
        (None, None) => "the supplies changed".to_owned(),
    }
}

fn of_piece(before: &Piece, after: &Piece) -> String {
    let name = &after.name;
    if before.stage != after.stage {
        return format!("{name} is {}", after.stage.words());
    }
    for zone in &after.zones {
        match before.zone(&zone.name) {
            None if !before.zones.is_empty() => return format!("{name}, {} added", zone.name),
            Some(old) if old.chosen != zone.chosen => return format!("{name}, {}: another schedule", zone.name),
            Some(old) if old.wish != zone.wish => return format!("{name}, {}: another wish", zone.name),
            Some(old) if old != zone => return format!("{name}, {} changed", zone.name),
            _ => {}
        }
        if before.zones.is_empty() && zone.chosen.is_some() {
            return format!("{name}, {}: another schedule", zone.name);
        }
    }
    format!("{name} changed")
}

fn of_log(before: &[Mark], after: &[Mark], zone: &TimeZone, name_of: &dyn Fn(&str) -> Option<String>) -> String {
    let Some(mark) = after.last() else {
        let lines = before.len();
        return format!("{lines} of the bench log taken back");
    };
    let step = name_of(&mark.step).unwrap_or_else(|| mark.step.clone());
    match mark.what {
        MarkKind::Begun => format!("{step}: begun"),
        MarkKind::Done => format!("{step}: done"),
        MarkKind::StillTacky { .. } => format!("{step}: still tacky"),
        MarkKind::RanLate { more_min } => format!("{step}: {more_min} min more"),
        MarkKind::Pinned { to } => format!("{step}: moved to {}", in_zone(to, zone)),
        MarkKind::Unpinned => format!("{step}: let go"),
        MarkKind::Took { .. } => format!("{step}: what it took"),
        MarkKind::Undone => format!("{step}: not done after all"),
    }
}

fn in_zone(moment: Timestamp, zone: &TimeZone) -> String {
    on_wall(moment.to_zoned_datetime(zone.clone()).datetime())
}
