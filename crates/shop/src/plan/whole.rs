//! The work on one piece as a whole: its zones, what comes off first, and what puts it together again.

use finish::RoomAir;
use quantity::Money;
use trade::{FinishClass, Operation, Substrate};

use super::air::ShopAir;
use super::choose;
use super::failure::{NoPlan, PlanFailure};
use super::measure::{self, Measured};
use super::output::Because;
use super::steps::{self, Consent, NoZonePlan, PlannedWork};
use super::work::{WorkPiece, WorkStep, WorkZone};
use crate::model::{ForWhom, FoundLayer, Kind, Piece, Placement, Shop, Wish, Zone};

/// What is kept of a piece beside its work.
pub(crate) struct PieceFacts {
    /// The zones as the finish crate saw them, with the steps it gave, in the order of the work's zones.
    pub(crate) zones: Vec<(finish::Zone, Vec<finish::Step>)>,
    /// What it cost us.
    pub(crate) paid: Money,
    /// Whether it is ours to sell.
    pub(crate) is_for_sale: bool,
    /// What it may bring, where the user has an idea.
    pub(crate) sells_for: Option<Money>,
    /// What was taken for granted of it.
    pub(crate) assumed: Vec<String>,
    /// What the check says of the chosen schedules.
    pub(crate) notes: Vec<finish::Finding>,
    /// The warnings that the user goes on in spite of, in the order of the work's zones.
    pub(crate) consents: Vec<Vec<Consent>>,
}

/// The piece with zones: those that its form proposes where the user named none.
pub(crate) fn with_default_zones(piece: &Piece, assumed: &mut Vec<String>) -> Piece {
    let mut piece = piece.clone();
    if !piece.zones.is_empty() {
        return piece;
    }
    let names = measure::default_zones(&piece);
    assumed.push(format!(
        "{}: nothing was said of its surface, so it is taken as wood of unknown species under two coats of a sound old oil-based varnish, to be painted",
        piece.name
    ));
    piece.zones = names
        .into_iter()
        .map(|name| Zone {
            found: vec![FoundLayer::of(FinishClass::OilBasedPolyurethane, 2)],
            wish: Wish {
                colour: Some("#f4f3ee".to_owned()),
                ..Wish::for_look(finish::Look::Paint)
            },
            ..Zone::new(&name, Substrate::Wood)
        })
        .collect();
    piece
}

/// Plans the work on a piece.
///
/// # Errors
/// What of it cannot be used, or which wishes no schedule meets.
pub(crate) fn plan_piece(shop: &Shop, piece: &Piece, air: &ShopAir) -> Result<(WorkPiece, PieceFacts), PlanFailure> {
    let measured = measure::measure(piece).map_err(PlanFailure::Refused)?;
    let room_idx = piece
        .room
        .as_ref()
        .and_then(|wanted| shop.settings.rooms.iter().position(|room| room.name == *wanted))
        .unwrap_or(0);
    let best_air = air.best(room_idx);
    let mut planned = Vec::new();
    let mut no_plans = Vec::new();
    let mut refusals = Vec::new();
    for (zone, measured_zone) in piece.zones.iter().zip(&measured.zones) {
        match steps::plan_zone(shop, piece, zone, measured_zone, best_air) {
            Ok(work) => planned.push(work),
            Err(NoZonePlan::NoSchedule(no_schedule)) => no_plans.push(NoPlan::Zone {
                piece: piece.name.clone(),
                no_schedule: *no_schedule,
            }),
            Err(NoZonePlan::Refused(more)) => refusals.extend(more),
        }
    }
    if !refusals.is_empty() {
        return Err(PlanFailure::Refused(refusals));
    }
    if !no_plans.is_empty() {
        return Err(PlanFailure::NoSchedule(no_plans));
    }
    Ok(put_together(shop, piece, measured, planned, room_idx))
}

fn put_together(
    shop: &Shop,
    piece: &Piece,
    measured: Measured,
    planned: Vec<PlannedWork>,
    room_idx: usize,
) -> (WorkPiece, PieceFacts) {
    let mut assumed = measured.assumed;
    for (zone, work) in piece.zones.iter().zip(&planned) {
        if let Some(lost) = &work.lost_choice {
            assumed.push(format!(
                "{}, {}: the schedule chosen as \"{lost}\" no longer exists; the default was taken",
                piece.name, zone.name
            ));
        }
    }
    if piece.zones.iter().any(|zone| zone.chosen.is_none()) {
        assumed.push(choose::stated(piece.prefer.unwrap_or(shop.settings.prefer)));
    }
    if piece.placement.is_none() && piece.placement() == Placement::BuiltIn {
        assumed.push(format!("{} is taken as part of the house, by its name", piece.name));
    }
    if piece.kind.is_none() && piece.kind() != Kind::Ordinary {
        assumed.push(format!(
            "{} is taken as {}, by its name",
            piece.name,
            piece.kind().label()
        ));
    }
    assumed.push(
        "finishes with an isocyanate hardener or an acid cure were left out, as no wish and no product on the shelf asks for one".to_owned(),
    );
    let remove_min: u32 = planned.iter().map(|work| work.remove_min).sum();
    let refit_min: u32 = planned.iter().map(|work| work.refit_min).sum();
    let comes_off = planned.iter().any(|work| work.zone.comes_off);
    let mut zones: Vec<WorkZone> = Vec::new();
    let mut facts = Vec::new();
    let mut notes = Vec::new();
    let mut consents = Vec::new();
    for work in planned {
        zones.push(work.zone);
        facts.push((work.finish_zone, work.finish_steps));
        notes.extend(work.notes);
        consents.push(work.consents);
    }
    let piece_work = WorkPiece {
        id: piece.id.clone(),
        name: piece.name.clone(),
        count: piece.count,
        room_idx,
        area_m2: measured.area_m2,
        area_se_m2: measured.area_se_m2,
        due: piece.due,
        // A day promised to a client weighs twice one that we set ourselves.
        due_weight: if piece.for_whom == ForWhom::Client { 2 } else { 1 },
        opening: comes_off.then(|| take_off(piece, remove_min.max(10))),
        closing: if comes_off {
            refit(piece, refit_min.max(15))
        } else {
            look_over(piece)
        },
        zones,
    };
    let facts = PieceFacts {
        zones: facts,
        paid: piece.paid.unwrap_or(Money::ZERO),
        is_for_sale: piece.for_whom == ForWhom::Sale,
        sells_for: piece.sells_for,
        assumed,
        notes,
        consents,
    };
    (piece_work, facts)
}

fn whole_step(
    piece: &Piece,
    id: &str,
    operation: Operation,
    hands_on_min: u32,
    words: &str,
    rule: &str,
    text: &str,
) -> WorkStep {
    WorkStep {
        id: format!("{}.{id}", piece.id),
        operation,
        material: None,
        product: None,
        colour: None,
        grit: None,
        coat: None,
        hands_on_min,
        pace: None,
        quantity: None,
        mixes: None,
        supplies: Vec::new(),
        wait: None,
        wet_min: 0,
        because: vec![Because {
            rule: rule.to_owned(),
            text: text.to_owned(),
            source: "common-practice".to_owned(),
        }],
        cautions: Vec::new(),
        words: words.to_owned(),
    }
}

fn take_off(piece: &Piece, hands_on_min: u32) -> WorkStep {
    whole_step(
        piece,
        "00-remove-hardware",
        Operation::RemoveHardware,
        hands_on_min,
        "take off the hardware, bag and label it",
        "hardware-off-first",
        "What comes off is finished by itself, and what it sat on can be worked without going round it.",
    )
}

fn refit(piece: &Piece, hands_on_min: u32) -> WorkStep {
    whole_step(
        piece,
        "99-refit-hardware",
        Operation::RefitHardware,
        hands_on_min,
        "refit the hardware, look the piece over",
        "hardware-on-when-hard",
        "Hardware goes back last, once its own finish and the finish below it are hard enough not to print or stick.",
    )
}

fn look_over(piece: &Piece) -> WorkStep {
    whole_step(
        piece,
        "99-dust-off",
        Operation::DustOff,
        5 + 5 * piece.count,
        "put together, dust off and look the piece over",
        "last-look",
        "A piece is looked over in good light before it counts as ready; whatever is missed now comes back.",
    )
}

impl ShopAir {
    /// The best air that a room offers over the first sixty days: what a class must be able to be put on in.
    pub(crate) fn best(&self, room_idx: usize) -> RoomAir {
        let room = self.room(room_idx);
        let mut best = RoomAir {
            warmest_c: f64::NEG_INFINITY,
            driest_rh: f64::INFINITY,
        };
        for hour in (0..60 * 24).step_by(3) {
            let air = room.air_at(hour * 60);
            best.warmest_c = best.warmest_c.max(air.temp_c());
            best.driest_rh = best.driest_rh.min(air.rh());
        }
        best
    }
}
