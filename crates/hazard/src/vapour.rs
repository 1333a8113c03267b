//! Solvent vapour of the planned steps, and what the limits make of it.
//!
//! What a class is made of is typical, not its label: the figures say how near a limit the work comes, and never that it
//! is safe. The air itself is reckoned in [`crate::room`].

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;
use trade::solvents::{Limit, LimitKind, Substance};
use trade::{FinishClass, Material};

use crate::caution::{Caution, Level, Told};
use crate::facts::{Job, RoomFacts, StepFacts};
use crate::room::{Exposure, Release, RoomAir, follow};
use crate::ventilation::{dilution_m3_per_min, mg_per_m3_to_ppm};

/// Share of the lower explosive limit at which work has to stop: a quarter, the usual alarm (common practice).
pub const EXPLOSIVE_SHARE: f64 = 0.25;
/// Shortest half-life reckoned with, minutes: even a spray can takes a while to empty.
const LEAST_HALF_LIFE_MIN: f64 = 1.0;
/// Half-life of what no table knows, minutes.
const USUAL_HALF_LIFE_MIN: f64 = 30.0;
/// A day between steps that have no date yet.
const UNDATED_GAP_MIN: f64 = 24.0 * 60.0;
/// The span over which limits are averaged.
const EIGHT_HOURS_MIN: f64 = 8.0 * 60.0;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Volatile {
    classes: Vec<Material>,
    shares: BTreeMap<Substance, f64>,
    touches: Option<f64>,
    half_life_min: Option<f64>,
    wiped_off_min: Option<f64>,
    g_per_l: Option<f64>,
}

#[derive(Debug, Deserialize)]
struct Volatiles {
    volatile: Vec<Volatile>,
}

fn volatile_of(material: Material) -> Option<&'static Volatile> {
    static TABLE: OnceLock<Volatiles> = OnceLock::new();
    let table = TABLE.get_or_init(|| {
        toml::from_str(include_str!("../data/volatiles.toml")).expect("a test reads the embedded table")
    });
    table.volatile.iter().find(|entry| entry.classes.contains(&material))
}

/// Whether a class lets go anything that the reckoning follows.
pub fn is_followed(class: FinishClass) -> bool {
    volatile_of(Material::Finish(class)).is_some()
}

/// What a step lets go; empty for what does not evaporate or has no known limits.
///
/// A step without a date is taken to start at `undated_min`. A stripper lets go only what leaves before it is scraped off.
pub fn releases(step: &StepFacts, undated_min: f64) -> Vec<Release> {
    let Some((material, volatile)) = step
        .material
        .and_then(|material| Some((material, volatile_of(material)?)))
    else {
        return Vec::new();
    };
    let (class_g_per_l, touch_min) = match material {
        Material::Finish(class) => {
            let row = class.row();
            (
                row.voc_g_per_l.map_or(0.0, |voc| voc.typical),
                Some(row.touch_h.typical * 60.0),
            )
        }
        Material::Prep(class) => (class.row().voc_g_per_l.unwrap_or(0.0), None),
    };
    let by_touch = touch_min
        .zip(volatile.touches)
        .map(|(touch_min, touches)| touch_min * touches);
    let half_life_min = by_touch
        .or(volatile.half_life_min)
        .unwrap_or(USUAL_HALF_LIFE_MIN)
        .max(LEAST_HALF_LIFE_MIN);
    let (leaves, half_life_min) = match volatile.wiped_off_min {
        Some(wiped_off_min) => (
            1.0 - (-wiped_off_min / half_life_min).exp2(),
            half_life_min.min(wiped_off_min / 2.0),
        ),
        None => (1.0, half_life_min),
    };
    let mass_g = step.quantity_l * volatile.g_per_l.unwrap_or(class_g_per_l) * leaves;
    if mass_g <= 0.0 {
        return Vec::new();
    }
    let at_min = step.at_min.unwrap_or(undated_min);
    let of = |(substance, share): (&Substance, &f64)| Release {
        at_min,
        substance: *substance,
        mass_g: mass_g * share,
        half_life_min,
    };
    volatile.shares.iter().map(of).collect()
}

/// The limits on a substance as volumes in air; a limit that is only given by mass is turned into one by volume.
pub fn limits(substance: Substance) -> Vec<Limit> {
    let row = substance.row();
    let mut limits = row.limits();
    if let (Some(molar_mass), None, Some(mg)) = (row.molar_mass_g_per_mol, row.rel_ppm, row.rel_mg_per_m3) {
        limits.push(Limit {
            kind: LimitKind::Rel,
            ppm: mg_per_m3_to_ppm(mg, molar_mass),
            status: row.rel_status,
        });
    }
    limits
}

/// The cautions on vapour for all steps that share a room, whatever piece they belong to.
///
/// Steps without a date are judged a day after one another, behind those that have one.
pub fn in_room(room: &RoomFacts, steps: &[StepFacts]) -> Vec<Told> {
    let mut undated_min = steps.iter().filter_map(|step| step.at_min).fold(0.0_f64, f64::max);
    let mut by_step: Vec<(usize, f64)> = Vec::new();
    let mut released = Vec::new();
    for (idx, step) in steps.iter().enumerate() {
        let let_go = releases(step, undated_min + UNDATED_GAP_MIN);
        if let Some(first) = let_go.first() {
            if step.at_min.is_none() {
                undated_min += UNDATED_GAP_MIN;
            }
            by_step.push((idx, first.at_min));
            released.extend(let_go);
        }
    }
    let air = follow(room, &released);
    // What was put on before the worst eight hours still adds to them; what came a day earlier hardly does.
    let from_min = air.worst_8_h_ends_min - EIGHT_HOURS_MIN - UNDATED_GAP_MIN / 2.0;
    let behind_it = |at_min: f64| at_min >= from_min && at_min <= air.worst_8_h_ends_min;
    let at_fault: Vec<usize> = by_step
        .iter()
        .filter(|(_, at_min)| behind_it(*at_min))
        .map(|(idx, _)| *idx)
        .collect();
    let mut told = Vec::new();
    if air.peak_of_explosive >= EXPLOSIVE_SHARE {
        told.push(Told::steps(may_ignite(), at_fault.clone()));
    }
    if let Some(caution) = over_short_limit(&air) {
        told.push(Told::steps(caution, at_fault.clone()));
    }
    if let Some(caution) = over_limit(room, &air) {
        told.push(Told::steps(caution, at_fault));
    }
    told
}

pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    all.extend(in_room(&job.room, &job.steps));
}

fn may_ignite() -> Caution {
    Caution {
        id: "vapour-may-ignite",
        level: Level::Stop,
        text: "So much solvent in so little fresh air comes near a mixture that can ignite. Move fresh air through the room \
               with a fan that is rated for vapour, do fewer coats at a time, or take the work outside; switch off flames, \
               heaters and anything that sparks."
            .to_owned(),
        ask: "your fire authority",
        source: "exposure-limits",
    }
}

/// The warning on the worst of the vapours, if together they pass what they may.
fn over_limit(room: &RoomFacts, air: &RoomAir) -> Option<Caution> {
    if air.worst_8_h_of_limits <= 1.0 {
        return None;
    }
    let worst = air
        .exposures
        .iter()
        .max_by(|a, b| share_of_planning(a).total_cmp(&share_of_planning(b)))?;
    let others = if air.exposures.len() > 1 {
        " The other vapours add to it."
    } else {
        ""
    };
    Some(Caution {
        id: "vapour-over-limit",
        level: Level::Warn,
        text: format!(
            "Reckoned with the typical make-up of the class, the air of this room holds about {} ppm of {} over the worst eight \
             hours, and about {} ppm at its peak: {}.{others} {}",
            two_figures(worst.worst_8_h_ppm),
            worst.substance.row().name,
            two_figures(worst.peak_ppm),
            verdict(worst),
            air_needed(room, worst)
        ),
        ask: "the safety data sheet, section 8; for a measurement, an industrial hygienist",
        source: "exposure-limits",
    })
}

/// The warning on the vapour that passes its limit for a quarter of an hour the furthest.
fn over_short_limit(air: &RoomAir) -> Option<Caution> {
    let share = |exposure: &Exposure| {
        let limit_ppm = exposure.substance.row().tlv_stel_ppm?;
        Some(exposure.worst_15_min_ppm / limit_ppm)
    };
    let (worst, past) = air
        .exposures
        .iter()
        .filter_map(|exposure| Some((exposure, share(exposure)?)))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    if past <= 1.0 {
        return None;
    }
    let row = worst.substance.row();
    let limit = match row.tlv_stel_ppm.filter(|_| row.tlv_status.may_be_shown_as_fact()) {
        Some(limit_ppm) => format!("the ACGIH guideline for so short a time, {limit_ppm:.0} ppm"),
        None => {
            "a guideline for so short a time whose figure we could not check; section 8 of the safety data sheet has it"
                .to_owned()
        }
    };
    Some(Caution {
        id: "vapour-over-short-limit",
        level: Level::Warn,
        text: format!(
            "In its worst quarter of an hour the air of this room holds about {} ppm of {}: more than {limit}. It is worst just after the \
             coat: open up and let a fan run before you begin, put on less at a time, and leave the room when the coat is on.",
            two_figures(worst.worst_15_min_ppm),
            row.name,
        ),
        ask: "the safety data sheet, section 8; for a measurement, an industrial hygienist",
        source: "exposure-limits",
    })
}

/// What the limits that were read make of the worst eight hours.
fn verdict(worst: &Exposure) -> String {
    let read: Vec<Limit> = limits(worst.substance)
        .into_iter()
        .filter(|limit| limit.shown().is_some())
        .collect();
    let tightest = read.iter().min_by(|a, b| a.ppm.total_cmp(&b.ppm));
    match tightest {
        Some(limit) if worst.worst_8_h_ppm > limit.ppm => {
            format!("more than the {} of {:.0} ppm", limit.kind.words(), limit.ppm)
        }
        Some(limit) => format!(
            "less than the {} of {:.0} ppm, but there are tighter guidelines, or other vapours beside it; section 8 of the safety data \
             sheet has them",
            limit.kind.words(),
            limit.ppm
        ),
        None => "more than a guideline whose figure is not shown, since we could not check it; section 8 of the safety data sheet has \
                 it"
        .to_owned(),
    }
}

fn share_of_planning(exposure: &Exposure) -> f64 {
    exposure
        .substance
        .row()
        .planning_ppm
        .map_or(0.0, |limit| exposure.worst_8_h_ppm / limit)
}

/// How much fresh air would keep the worst substance at its planning limit, against what there is.
fn air_needed(room: &RoomFacts, worst: &Exposure) -> String {
    const FT3_IN_M3: f64 = 35.315;
    let row = worst.substance.row();
    let (Some(molar_mass), Some(planning_ppm)) = (row.molar_mass_g_per_mol, row.planning_ppm) else {
        return String::new();
    };
    let needed = dilution_m3_per_min(
        worst.worst_8_h_release_g_per_min,
        molar_mass,
        planning_ppm,
        room.mixing.max(1.0),
    );
    let there = room.air_changes_at(worst.peak_at_min) * room.volume_m3 / 60.0;
    format!(
        "About {} m³ ({} ft³) of fresh air a minute would keep it down; this room gets about {} m³ ({} ft³). Open it up and set a fan, \
         spread the coats out, or work outside, and wear what the safety data sheet names.",
        two_figures(needed),
        two_figures(needed * FT3_IN_M3),
        two_figures(there),
        two_figures(there * FT3_IN_M3)
    )
}

/// Two significant figures: a reckoning deserves no more.
fn two_figures(figure: f64) -> String {
    if figure <= 0.0 {
        return "0".to_owned();
    }
    let scale = 10f64.powf(figure.log10().floor() - 1.0);
    let rounded = (figure / scale).round() * scale;
    if rounded >= 10.0 {
        format!("{rounded:.0}")
    } else {
        format!("{rounded:.1}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_figures_are_kept() {
        assert_eq!(two_figures(1234.0), "1200");
        assert_eq!(two_figures(0.456), "0.5");
        assert_eq!(two_figures(7.46), "7.5");
        assert_eq!(two_figures(0.0), "0");
    }

    #[test]
    fn shares_of_a_class_do_not_exceed_the_whole() {
        for material in Material::every() {
            if let Some(entry) = volatile_of(material) {
                assert!(entry.shares.values().sum::<f64>() <= 1.0 + 1e-9, "{material}");
            }
        }
    }

    #[test]
    fn every_solvent_class_is_followed() {
        for class in FinishClass::CHOOSABLE {
            let row = class.row();
            let lets_go = row.voc_g_per_l.is_none_or(|voc| voc.typical > 0.0);
            let has_no_table = [FinishClass::DyeStain, FinishClass::MilkPaint];
            assert!(
                is_followed(*class) || has_no_table.contains(class) || !lets_go,
                "{class}"
            );
        }
    }
}
