//! The example shop that the demo opens: the plan files of `examples/garage-in-march`, three days into the work.
//!
//! Nothing of the plan is written down here: the files are read as anybody's would be, planned, and what the plan has put before the
//! demo's moment is said to be done, through the same log that a bench keeps.

use jiff::{SignedDuration, Timestamp};
use shop::file::{Beside, Source};
use shop::model::{Mark, MarkKind, PieceStage, Shop};
use shop::plan::{Effort, Plan, PlannedStep};

/// How far into its plan the demo opens, hours: Thursday at eleven.
const INTO_THE_PLAN_H: i64 = 74;
/// The piece that somebody has asked for, and that nobody has begun.
const ASKED_FOR: &str = "blanket-box";
/// The piece that was worked on in the weeks before and has been delivered.
const DELIVERED: &str = "steel-legged-stool";
/// How many weeks before the demo's own the delivered piece was begun.
const WEEKS_BEFORE: i64 = 4;

const FILES: [(&str, &str); 6] = [
    (
        "shop.toml",
        include_str!("../../../../examples/garage-in-march/shop.toml"),
    ),
    (
        "hall-bench.toml",
        include_str!("../../../../examples/garage-in-march/hall-bench.toml"),
    ),
    (
        "kitchen-chairs.toml",
        include_str!("../../../../examples/garage-in-march/kitchen-chairs.toml"),
    ),
    (
        "sideboard.toml",
        include_str!("../../../../examples/garage-in-march/sideboard.toml"),
    ),
    (
        "blanket-box.toml",
        include_str!("../../../../examples/garage-in-march/blanket-box.toml"),
    ),
    (
        "stool.toml",
        include_str!("../../../../examples/garage-in-march/stool.toml"),
    ),
];

const READINGS: &[u8] = include_bytes!("../../../../examples/garage-in-march/garage.csv");

/// The readings that the shop's file names.
struct Embedded;

impl Beside for Embedded {
    fn bytes(&self, _from: &str, name: &str) -> Result<Vec<u8>, String> {
        if name == "garage.csv" {
            Ok(READINGS.to_vec())
        } else {
            Err(format!("{name} is not among the demo's files"))
        }
    }
}

/// The example shop as its files say, the first moment of its plan, and the moment that the demo's clock shows.
///
/// # Errors
/// What is wrong with the embedded files: a mistake of ours, worded all the same.
pub fn example() -> Result<(Shop, Timestamp, Timestamp), String> {
    let sources: Vec<Source> = FILES.iter().map(|(name, text)| Source::new(*name, *text)).collect();
    let shop = shop::file::read(&sources, &Embedded)
        .map_err(|refusals| format!("The demo's own files are wrong:\n{refusals}\n"))?
        .shop;
    let zone = jiff::tz::TimeZone::get(&shop.settings.zone_id).unwrap_or(jiff::tz::TimeZone::UTC);
    let first = shop
        .settings
        .starts
        .and_then(|starts| zone.to_ambiguous_timestamp(starts).compatible().ok())
        .unwrap_or_else(Timestamp::now);
    let moment = first
        .checked_add(SignedDuration::from_hours(INTO_THE_PLAN_H))
        .unwrap_or(first);
    Ok((shop, first, moment))
}

/// Brings the shop to the demo's moment: one piece asked for and quoted, one delivered with what it took, the others worked on as the
/// plan has it, so that one stands in the middle of its steps and another dries.
pub fn work_until(shop: &mut Shop, first: Timestamp, moment: Timestamp) {
    deliver(shop, DELIVERED, first);
    if let Some(piece) = shop.piece_mut(ASKED_FOR) {
        piece.stage = PieceStage::Considering;
    }
    // Nobody works on what is only asked for.
    let mut taken = shop.clone();
    taken.pieces.retain(|piece| piece.stage != PieceStage::Considering);
    let Ok(plan) = shop::plan::plan(&taken, first, Effort::least()) else {
        return;
    };
    let is_over = |step: &PlannedStep| step.ends.timestamp() <= moment;
    log(shop, &plan, is_over, |_, minutes| minutes);
    let worked: Vec<String> = plan
        .steps()
        .filter(|(_, _, step)| is_over(step))
        .map(|(piece, _, _)| piece.id.clone())
        .collect();
    for piece in &mut shop.pieces {
        if worked.contains(&piece.id) {
            piece.stage = PieceStage::OnTheBench;
        }
    }
}

/// Works a piece to its end in the weeks before, each step somewhat longer than was planned, and hands it over.
fn deliver(shop: &mut Shop, piece_id: &str, first: Timestamp) {
    let weeks = SignedDuration::from_hours(24 * 7 * WEEKS_BEFORE);
    let Ok(before) = first.checked_sub(weeks) else { return };
    let mut alone = shop.clone();
    alone.pieces.retain(|piece| piece.id == piece_id);
    alone.settings.starts = None;
    // The garage was not measured then; a heater warmed it for each coat.
    for room in &mut alone.settings.rooms {
        room.readings.clear();
    }
    let Ok(plan) = shop::plan::plan(&alone, before, Effort::default()) else {
        return;
    };
    if plan.schedule.ends.timestamp() > first {
        return;
    }
    // From nothing more to three tenths more, in turn: hands are slower on some steps than the figures say.
    log(
        shop,
        &plan,
        |_| true,
        |turn, minutes| minutes + minutes * (turn % 4) / 10,
    );
    if let Some(piece) = shop.piece_mut(piece_id) {
        piece.stage = PieceStage::Gone;
    }
}

/// Says of steps that they were begun as planned and done after so many minutes as `took` makes of the planned ones.
fn log(shop: &mut Shop, plan: &Plan, is_over: impl Fn(&PlannedStep) -> bool, took: impl Fn(i64, i64) -> i64) {
    let over = plan.steps().map(|(_, _, step)| step).filter(|step| is_over(step));
    for (turn, step) in (0..).zip(over) {
        let begun = step.starts.timestamp();
        let minutes = took(turn, step.ends.timestamp().duration_since(begun).as_mins());
        let done = begun.checked_add(SignedDuration::from_mins(minutes)).unwrap_or(begun);
        for (at, what) in [(begun, MarkKind::Begun), (done, MarkKind::Done)] {
            let step = step.id.clone();
            // Nobody really worked on it, so there is nothing to learn from it.
            shop.log.push(Mark {
                step,
                at,
                what,
                of: None,
            });
        }
    }
    shop.log.sort_by_key(|mark| mark.at);
}
