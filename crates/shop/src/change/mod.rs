//! What was changed, kept so that it can be taken back: the shop's parts as they were and as they are.
//!
//! A change is whatever differs between the shop before and the shop after; nobody has to say what kind it was. Taking one back puts
//! its parts as they were, and only where they still stand as the change left them, so that nothing done since is lost by the way.

mod words;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::model::{Mark, Piece, Reading, Settings, ShelfProduct, ShelfSupply, Shop};
use crate::plan::PreviousStarts;

/// One change of the shop, with the way back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Change {
    /// When it was made.
    pub at: Timestamp,
    /// What it was, such as `Thu 11 Mar 9:00 to 12:00 taken out`.
    pub words: String,
    /// Where the steps stood before it.
    pub starts: PreviousStarts,
    parts: Vec<Part>,
}

/// Which way a change is gone through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// It is taken back.
    Back,
    /// It is made again after it was taken back.
    Again,
}

/// Why a change cannot be taken back or made again: something else has changed the same part since.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{words}: {part} changed since; only the last change of a part can be taken back; change {part} by hand")]
pub struct Outdated {
    /// What the change was.
    pub words: String,
    /// The part that stands otherwise.
    pub part: String,
}

/// The readings of each room.
type RoomReadings = Vec<Vec<Reading>>;

/// One part of the shop on either side of a change.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "part")]
enum Part {
    /// The settings; `readings` holds those of each room on either side only where they differ.
    Settings {
        before: Box<Settings>,
        after: Box<Settings>,
        readings: Option<(RoomReadings, RoomReadings)>,
    },
    /// The whole shelf.
    Shelf {
        before: Vec<ShelfProduct>,
        after: Vec<ShelfProduct>,
    },
    /// All supplies.
    Supplies {
        before: Vec<ShelfSupply>,
        after: Vec<ShelfSupply>,
    },
    /// One piece with its place among the others; nothing on the side on which it is not there.
    Piece {
        id: String,
        before: Option<(usize, Box<Piece>)>,
        after: Option<(usize, Box<Piece>)>,
    },
    /// The log from the first line that differs on.
    Log {
        from: usize,
        before: Vec<Mark>,
        after: Vec<Mark>,
    },
}

impl Change {
    /// What differs between two states of the shop; `None` where nothing does.
    ///
    /// `name_of` gives the words of a step by its id, where the plan knows it.
    pub fn between(
        before: &Shop,
        after: &Shop,
        at: Timestamp,
        starts: PreviousStarts,
        name_of: &dyn Fn(&str) -> Option<String>,
    ) -> Option<Self> {
        let parts = parts(before, after);
        if parts.is_empty() {
            return None;
        }
        Some(Change {
            at,
            words: words::of(&parts, after, name_of),
            starts,
            parts,
        })
    }

    /// Takes the change back, or makes it again: all of it or nothing.
    ///
    /// # Errors
    /// A part of it was changed since.
    pub fn go(&self, shop: &mut Shop, way: Way) -> Result<(), Outdated> {
        let mut turned = shop.clone();
        for part in &self.parts {
            part.go(&mut turned, way).map_err(|part| Outdated {
                words: self.words.clone(),
                part,
            })?;
        }
        *shop = turned;
        Ok(())
    }

    /// Ids of the pieces that are not in the shop once the change was gone through.
    pub fn takes_away(&self, way: Way) -> Vec<&str> {
        self.parts
            .iter()
            .filter_map(|part| match part {
                Part::Piece { id, before, after } => turned(before, after, way).1.is_none().then_some(id.as_str()),
                _ => None,
            })
            .collect()
    }
}

impl Part {
    /// Goes through the part; where it stands otherwise than it should, its name is given.
    fn go(&self, shop: &mut Shop, way: Way) -> Result<(), String> {
        match self {
            Part::Settings {
                before,
                after,
                readings,
            } => go_settings(
                &mut shop.settings,
                turned(before.as_ref(), after.as_ref(), way),
                readings.as_ref(),
                way,
            ),
            Part::Shelf { before, after } => {
                let (is, wanted) = turned(before, after, way);
                if shop.shelf != *is {
                    return Err("the shelf".to_owned());
                }
                shop.shelf.clone_from(wanted);
                Ok(())
            }
            Part::Supplies { before, after } => {
                let (is, wanted) = turned(before, after, way);
                if shop.supplies != *is {
                    return Err("the supplies".to_owned());
                }
                shop.supplies.clone_from(wanted);
                Ok(())
            }
            Part::Piece { id, before, after } => {
                let (is, wanted) = turned(before, after, way);
                let place = shop.pieces.iter().position(|piece| piece.id == *id);
                let stands = place.map(|place| &shop.pieces[place]);
                if stands != is.as_ref().map(|(_, piece)| piece.as_ref()) {
                    return Err(stands.map_or_else(|| format!("the piece {id}"), |piece| piece.name.clone()));
                }
                if let Some(place) = place {
                    shop.pieces.remove(place);
                }
                if let Some((place, piece)) = wanted {
                    shop.pieces
                        .insert((*place).min(shop.pieces.len()), piece.as_ref().clone());
                }
                Ok(())
            }
            Part::Log { from, before, after } => {
                let (is, wanted) = turned(before, after, way);
                if shop.log.get(*from..) != Some(is.as_slice()) {
                    return Err("the bench log".to_owned());
                }
                shop.log.truncate(*from);
                shop.log.extend(wanted.iter().cloned());
                Ok(())
            }
        }
    }
}

/// What stands now and what is wanted, by the way that is gone.
fn turned<'p, T>(before: &'p T, after: &'p T, way: Way) -> (&'p T, &'p T) {
    match way {
        Way::Back => (after, before),
        Way::Again => (before, after),
    }
}

fn go_settings(
    settings: &mut Settings,
    (is, wanted): (&Settings, &Settings),
    readings: Option<&(RoomReadings, RoomReadings)>,
    way: Way,
) -> Result<(), String> {
    let (mut bare, standing) = bared(settings);
    let is_as_left = bare == *is
        && readings
            .map(|(before, after)| turned(before, after, way).0)
            .is_none_or(|left| *left == standing);
    if !is_as_left {
        return Err("the shop's settings".to_owned());
    }
    let wanted_readings = readings.map_or(standing, |(before, after)| turned(before, after, way).1.clone());
    bare.clone_from(wanted);
    for (room, readings) in bare.rooms.iter_mut().zip(wanted_readings) {
        room.readings = readings;
    }
    *settings = bare;
    Ok(())
}

/// The settings without the readings of the rooms, and these: they are long, and seldom what is changed.
fn bared(settings: &Settings) -> (Settings, RoomReadings) {
    let mut bare = settings.clone();
    let readings = bare
        .rooms
        .iter_mut()
        .map(|room| std::mem::take(&mut room.readings))
        .collect();
    (bare, readings)
}

fn parts(before: &Shop, after: &Shop) -> Vec<Part> {
    let mut parts = Vec::new();
    if before.settings != after.settings {
        let ((bare_before, readings_before), (bare_after, readings_after)) =
            (bared(&before.settings), bared(&after.settings));
        parts.push(Part::Settings {
            before: Box::new(bare_before),
            after: Box::new(bare_after),
            readings: (readings_before != readings_after).then_some((readings_before, readings_after)),
        });
    }
    if before.shelf != after.shelf {
        parts.push(Part::Shelf {
            before: before.shelf.clone(),
            after: after.shelf.clone(),
        });
    }
    if before.supplies != after.supplies {
        parts.push(Part::Supplies {
            before: before.supplies.clone(),
            after: after.supplies.clone(),
        });
    }
    parts.extend(piece_parts(before, after));
    if before.log != after.log {
        let from = before
            .log
            .iter()
            .zip(&after.log)
            .take_while(|(old, new)| old == new)
            .count();
        parts.push(Part::Log {
            from,
            before: before.log[from..].to_vec(),
            after: after.log[from..].to_vec(),
        });
    }
    parts
}

fn piece_parts<'s>(before: &'s Shop, after: &'s Shop) -> impl Iterator<Item = Part> + 's {
    let placed = |shop: &Shop, id: &str| {
        let place = shop.pieces.iter().position(|piece| piece.id == id)?;
        Some((place, Box::new(shop.pieces[place].clone())))
    };
    let changed = before.pieces.iter().filter_map(move |old| {
        let new = after.piece(&old.id);
        (new != Some(old)).then(|| Part::Piece {
            id: old.id.clone(),
            before: placed(before, &old.id),
            after: placed(after, &old.id),
        })
    });
    let added = after
        .pieces
        .iter()
        .filter(|new| before.piece(&new.id).is_none())
        .map(move |new| Part::Piece {
            id: new.id.clone(),
            before: None,
            after: placed(after, &new.id),
        });
    changed.chain(added)
}
