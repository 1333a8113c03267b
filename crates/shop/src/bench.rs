//! The use cases over a shop between two plans: take in, choose, mark, slip, block, pin, hand over.
//!
//! Each changes the shop and nothing else; whoever calls it plans again afterwards, with [`crate::plan::replan`] where an
//! earlier plan is to be kept as far as it may.

use jiff::Timestamp;
use jiff::civil::DateTime;

use crate::model::{
    Block, FormSaid, Mark, MarkKind, MarkedAmount, MarkedStep, Piece, PieceStage, Shop, Spell, Wish, Zone,
};
use crate::plan::{Plan, Progress};

/// Why a use case did nothing.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{field}: {found}; {limit}; {right}")]
pub struct BenchRefusal {
    /// What was meant.
    pub field: String,
    /// What was found.
    pub found: String,
    /// The limit that it breaks.
    pub limit: String,
    /// What would be right.
    pub right: String,
}

pub(crate) fn refusal(field: &str, found: &str, limit: &str, right: &str) -> BenchRefusal {
    BenchRefusal {
        field: field.to_owned(),
        found: found.to_owned(),
        limit: limit.to_owned(),
        right: right.to_owned(),
    }
}

/// Takes a piece in by its name and form, with all else by default, and returns its id.
///
/// # Errors
/// A name that is empty or longer than 80 characters.
pub fn take_in(shop: &mut Shop, name: &str, form: FormSaid) -> Result<String, BenchRefusal> {
    let name = name.trim();
    if name.is_empty() || name.chars().count() > 80 || name.chars().any(char::is_control) {
        return Err(refusal(
            "name",
            name,
            "a piece needs a name of 1 to 80 characters",
            "a name such as \"hall bench\"",
        ));
    }
    let mut piece = Piece::new(name, form);
    piece.id = shop.free_id(name);
    let id = piece.id.clone();
    shop.pieces.push(piece);
    Ok(id)
}

/// Puts a zone in the place of the one of its name, or adds it.
///
/// # Errors
/// No such piece.
pub fn edit_zone(shop: &mut Shop, piece_id: &str, zone: Zone) -> Result<(), BenchRefusal> {
    let piece = find(shop, piece_id)?;
    match piece.zones.iter_mut().find(|other| other.name == zone.name) {
        Some(place) => *place = zone,
        None => piece.zones.push(zone),
    }
    Ok(())
}

/// Sets the wish of a zone; a schedule that was chosen for the old wish is forgotten.
///
/// # Errors
/// No such piece or zone.
pub fn wish(shop: &mut Shop, piece_id: &str, zone_name: &str, wish: Wish) -> Result<(), BenchRefusal> {
    let zone = find_zone(shop, piece_id, zone_name)?;
    zone.wish = wish;
    zone.chosen = None;
    Ok(())
}

/// Chooses a derived schedule of a zone by its key; `None` goes back to the default. One of the user's own is planned no more; it
/// stays as a draft.
///
/// # Errors
/// No such piece or zone.
pub fn choose(shop: &mut Shop, piece_id: &str, zone_name: &str, key: Option<&str>) -> Result<(), BenchRefusal> {
    let zone = find_zone(shop, piece_id, zone_name)?;
    zone.chosen = key.map(str::to_owned);
    if let Some(own) = zone.own.take() {
        zone.draft = Some(own);
    }
    Ok(())
}

/// Says what happened at the bench, and moves the piece to the stage that follows from it.
///
/// # Errors
/// A step that is not in the plan; done before it was begun.
pub fn mark(shop: &mut Shop, plan: &Plan, step_id: &str, what: MarkKind, at: Timestamp) -> Result<(), BenchRefusal> {
    let Some((piece, _, step)) = plan.steps().find(|(_, _, step)| step.id == step_id) else {
        return Err(refusal(
            "step",
            step_id,
            "there is no such step in the plan",
            "a step of the present plan",
        ));
    };
    if matches!(what, MarkKind::StillTacky { .. }) && step.wait.is_none() {
        return Err(refusal(
            "step",
            &step.words,
            "nothing of this step has to dry",
            "the step that put the coat on",
        ));
    }
    if matches!(what, MarkKind::Begun | MarkKind::Pinned { .. }) && step.progress == Progress::Done {
        return Err(refusal("step", &step.words, "this step is done", "undo it first"));
    }
    if let MarkKind::Took { took_ml } = what {
        let is_reasonable = took_ml > 0.0 && took_ml <= MOST_TOOK_ML;
        if step.quantity.is_none() || !is_reasonable {
            return Err(refusal(
                "took",
                &format!("{took_ml:.0} ml"),
                "a step that takes a material took more than nothing of it and at most 100 l",
                "what is gone from the can, such as 200 ml",
            ));
        }
    }
    shop.log.push(Mark {
        step: step_id.to_owned(),
        at,
        what,
        of: trade::Operation::parse(&step.operation)
            .ok()
            .map(|operation| MarkedStep {
                operation,
                table_min: step.pace.map_or(step.hands_on_min, |pace| pace.table_min),
                hand: step.hand,
                amount: step.quantity.as_ref().map(|amount| MarkedAmount {
                    words: step.words.clone(),
                    low_ml: amount.low_ml,
                    likely_ml: amount.likely_ml,
                    high_ml: amount.high_ml,
                }),
            }),
    });
    let stage = match what {
        MarkKind::Begun | MarkKind::Done => {
            let is_last =
                matches!(what, MarkKind::Done) && piece.closing.last().is_some_and(|closing| closing.id == step_id);
            Some(if is_last {
                PieceStage::Curing
            } else {
                PieceStage::OnTheBench
            })
        }
        _ => None,
    };
    if let (Some(stage), Some(piece)) = (stage, shop.piece_mut(&piece.id.clone())) {
        piece.stage = stage;
    }
    Ok(())
}

/// More than this no step takes, mL.
const MOST_TOOK_ML: f64 = 100_000.0;

/// Minutes that "still tacky" adds unless something else is said: a quarter of the step's wait, half an hour at least.
pub fn usual_more_min(plan: &Plan, step_id: &str) -> u32 {
    let wait = plan
        .step(step_id)
        .and_then(|step| step.wait.as_ref())
        .map_or(0, |wait| wait.min_min);
    (wait / 4).clamp(30, 720)
}

/// Takes a stretch of time out of somebody's hours, or out of everybody's.
///
/// # Errors
/// A stretch that ends before it begins, or hands that do not exist.
pub fn block(
    shop: &mut Shop,
    hand: Option<usize>,
    from: DateTime,
    to: DateTime,
    why: &str,
) -> Result<(), BenchRefusal> {
    if from >= to {
        return Err(refusal(
            "block",
            &format!("{from} to {to}"),
            "it ends after it begins",
            "a later end",
        ));
    }
    if hand.is_some_and(|hand| hand >= shop.settings.hands.len()) {
        return Err(refusal(
            "block",
            "nobody of that number",
            "it is for somebody who works here",
            "one of the shop's hands",
        ));
    }
    shop.settings.blocks.push(Block {
        hand,
        from,
        to,
        why: why.trim().chars().take(120).collect(),
    });
    Ok(())
}

/// Says that a room will be colder, warmer, wetter or drier for a while.
///
/// # Errors
/// No such room, one with too many of them already, or what [`Spell::check`] refuses.
pub fn expect_air(shop: &mut Shop, room_idx: usize, spell: Spell) -> Result<(), BenchRefusal> {
    let units = shop.settings.units;
    let known: Vec<String> = shop.settings.rooms.iter().map(|room| room.name.clone()).collect();
    let Some(room) = shop.settings.rooms.get_mut(room_idx) else {
        let right = format!("one of {}", known.join(", "));
        return Err(refusal(
            "room",
            "no room of the shop",
            "it is about one of the shop's rooms",
            &right,
        ));
    };
    if let Err((field, limit, right)) = spell.check() {
        let found = match field {
            "to" => format!("{} to {}", spell.from, spell.to),
            _ => spell.air(units),
        };
        return Err(refusal(field, &found, &limit, right));
    }
    if room.spells.len() >= Spell::MOST {
        let limit = format!("{} stretches of other air in one room are the most", Spell::MOST);
        return Err(refusal("room", &room.name, &limit, "take back one that is over"));
    }
    room.spells.push(spell);
    Ok(())
}

/// Hands a piece over: it is gone, and its steps are planned no more.
///
/// # Errors
/// No such piece.
pub fn hand_over(shop: &mut Shop, piece_id: &str) -> Result<(), BenchRefusal> {
    find(shop, piece_id)?.stage = PieceStage::Gone;
    Ok(())
}

fn find<'s>(shop: &'s mut Shop, piece_id: &str) -> Result<&'s mut Piece, BenchRefusal> {
    let known: Vec<String> = shop.pieces.iter().map(|piece| piece.id.clone()).collect();
    shop.piece_mut(piece_id).ok_or_else(|| {
        refusal(
            "piece",
            piece_id,
            "there is no such piece in the shop",
            &format!("one of {}", known.join(", ")),
        )
    })
}

pub(crate) fn find_zone<'s>(shop: &'s mut Shop, piece_id: &str, zone_name: &str) -> Result<&'s mut Zone, BenchRefusal> {
    let piece = find(shop, piece_id)?;
    let known: Vec<String> = piece.zones.iter().map(|zone| zone.name.clone()).collect();
    piece.zone_mut(zone_name).ok_or_else(|| {
        refusal(
            "zone",
            zone_name,
            "the piece has no such zone",
            &format!("one of {}", known.join(", ")),
        )
    })
}
