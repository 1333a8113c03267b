//! The example shop that the demo opens: the plan files of `examples/garage-in-march`, a day into the work.
//!
//! Nothing of the plan is written down here: the files are read as anybody's would be, planned, and what the plan has put before the
//! demo's moment is said to be done, through the same log that a bench keeps.

use jiff::{SignedDuration, Timestamp};
use shop::file::{Beside, Source};
use shop::model::{Mark, MarkKind, PieceStage, Shop};
use shop::plan::Effort;

/// How far into its plan the demo opens, hours: the beginning of the second day.
const INTO_THE_PLAN_H: i64 = 24;

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

/// Says of every step that the plan puts before the moment that it was begun and done as planned.
pub fn work_until(shop: &mut Shop, first: Timestamp, moment: Timestamp) {
    let Ok(plan) = shop::plan::plan(shop, first, Effort::least()) else {
        return;
    };
    let mut worked = Vec::new();
    for (piece, _, step) in plan.steps().filter(|(_, _, step)| step.ends.timestamp() <= moment) {
        for (at, what) in [(&step.starts, MarkKind::Begun), (&step.ends, MarkKind::Done)] {
            shop.log.push(Mark {
                step: step.id.clone(),
                at: at.timestamp(),
                what,
                // Nobody really worked on it, so there is nothing to learn from it.
                of: None,
            });
        }
        worked.push(piece.id.clone());
    }
    shop.log.sort_by_key(|mark| mark.at);
    for piece in &mut shop.pieces {
        if worked.contains(&piece.id) {
            piece.stage = PieceStage::OnTheBench;
        }
    }
}
