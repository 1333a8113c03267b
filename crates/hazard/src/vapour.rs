//! Solvent vapour in the room: how much there is, when, and what the limits make of it.
//!
//! The one idea: each coat lets its solvent go at a rate that halves again and again; the room is one well-mixed volume
//! into which that vapour goes and from which fresh air, divided by the mixing factor, takes it. Between two changes of
//! ventilation this has an exact solution, which is stepped through, so several coats and an opened door cost nothing.
//!
//! What a class is made of is typical, not its label: the figures say how near a limit the work comes, not that it is safe.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;
use trade::solvents::{Limit, LimitKind, Substance};
use trade::{FinishClass, Material};

use crate::caution::{Caution, Level, Told};
use crate::facts::{Job, RoomFacts, StepFacts};
use crate::ventilation::{MOLAR_VOLUME_70F_M3, dilution_m3_per_min, mg_per_m3_to_ppm};

/// Share of the lower explosive limit at which work has to stop: a quarter, the usual alarm (common practice).
pub const EXPLOSIVE_SHARE: f64 = 0.25;
/// Step of the trace, minutes.
const STEP_MIN: f64 = 5.0;
/// How long after the last coat the room is followed, minutes.
const FOLLOWED_MIN: f64 = 48.0 * 60.0;
/// A coat wet for this long by hand sets what it gives off in its first minutes: none is given off before it is on.
const LEAST_HALF_LIFE_MIN: f64 = 1.0;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Volatile {
    classes: Vec<Material>,
    shares: BTreeMap<Substance, f64>,
    #[serde(default)]
    touches: f64,
    half_life_min: Option<f64>,
    g_per_l: Option<f64>,
}

#[derive(Debug, Deserialize)]
struct Volatiles {
    volatile: Vec<Volatile>,
}

fn volatiles() -> &'static [Volatile] {
    static TABLE: OnceLock<Volatiles> = OnceLock::new();
    let table = TABLE.get_or_init(|| {
        toml::from_str(include_str!("../data/volatiles.toml")).expect("a test reads the embedded table")
    });
    &table.volatile
}

/// One substance let go by one coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Release {
    /// When the coat goes on, minutes.
    pub at_min: f64,
    /// What evaporates.
    pub substance: Substance,
    /// How much of it in all, grams.
    pub mass_g: f64,
    /// After so many minutes half of it is gone.
    pub half_life_min: f64,
}

/// What the room's air came to for one substance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exposure {
    /// The substance.
    pub substance: Substance,
    /// Highest concentration, ppm.
    pub peak_ppm: f64,
    /// When, minutes.
    pub peak_at_min: f64,
    /// Highest average over 15 minutes, ppm.
    pub worst_15_min_ppm: f64,
    /// Highest average over 8 hours, ppm.
    pub worst_8_h_ppm: f64,
    /// Highest rate at which it evaporates, averaged over 8 hours, grams a minute.
    pub worst_8_h_release_g_per_min: f64,
}

/// What a step lets go; empty for what does not evaporate or has no known limits.
///
/// A step without a date is taken to start at `undated_min`.
pub fn releases(step: &StepFacts, undated_min: f64) -> Vec<Release> {
    let Some(material) = step.material else {
        return Vec::new();
    };
    let Some(volatile) = volatiles().iter().find(|entry| entry.classes.contains(&material)) else {
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
    let mass_g = step.quantity_l * volatile.g_per_l.unwrap_or(class_g_per_l);
    let half_life_min = match touch_min {
        Some(touch_min) if volatile.touches > 0.0 => touch_min * volatile.touches,
        _ => volatile.half_life_min.unwrap_or(30.0),
    };
    if mass_g <= 0.0 {
        return Vec::new();
    }
    volatile
        .shares
        .iter()
        .map(|(substance, share)| Release {
            at_min: step.at_min.unwrap_or(undated_min),
            substance: *substance,
            mass_g: mass_g * share,
            half_life_min: half_life_min.max(LEAST_HALF_LIFE_MIN),
        })
        .collect()
}

/// The air of the room from the first release until two days after the last, one entry for each substance.
///
/// # Source
/// `ventilation-manual`, chapter 2, the well-mixed room; the halving release is a planning assumption.
pub fn in_room(room: &RoomFacts, releases: &[Release]) -> Vec<Exposure> {
    let mut by_substance: BTreeMap<Substance, Vec<Release>> = BTreeMap::new();
    for release in releases.iter().filter(|release| release.mass_g > 0.0) {
        by_substance.entry(release.substance).or_default().push(*release);
    }
    by_substance
        .into_iter()
        .filter_map(|(substance, group)| follow(room, substance, &group))
        .collect()
}

/// Concentration of one substance at one moment, ppm, by the exact solution from the first release on.
pub fn concentration_ppm(room: &RoomFacts, substance: Substance, releases: &[Release], at_min: f64) -> f64 {
    let group: Vec<Release> = releases
        .iter()
        .copied()
        .filter(|release| release.substance == substance)
        .collect();
    let Some(molar_mass) = substance.row().molar_mass_g_per_mol else {
        return 0.0;
    };
    let first = group.iter().map(|release| release.at_min).fold(f64::INFINITY, f64::min);
    let mut air = Air::clean(room, &group);
    if first < at_min {
        air.advance(first, at_min);
    }
    ppm_of(air.vapour_g, molar_mass, room.volume_m3)
}

/// Grams of vapour in a room as ppm by volume.
fn ppm_of(vapour_g: f64, molar_mass_g_per_mol: f64, volume_m3: f64) -> f64 {
    vapour_g / molar_mass_g_per_mol * MOLAR_VOLUME_70F_M3 / volume_m3 * 1e6
}

/// A coat that is on: its grams still wet, and the share of them that leaves a minute.
struct WetCoat {
    still_wet_g: f64,
    spent_below_g: f64,
    leaves_per_min: f64,
}

/// The state of the room for one substance: grams in the air, coats still wet, coats and changes still to come.
struct Air<'a> {
    room: &'a RoomFacts,
    to_come: std::iter::Peekable<std::vec::IntoIter<Release>>,
    wet: Vec<WetCoat>,
    vapour_g: f64,
}

impl<'a> Air<'a> {
    fn clean(room: &'a RoomFacts, group: &[Release]) -> Self {
        let mut in_order = group.to_vec();
        in_order.sort_by(|a, b| a.at_min.total_cmp(&b.at_min));
        Self {
            room,
            to_come: in_order.into_iter().peekable(),
            wet: Vec::new(),
            vapour_g: 0.0,
        }
    }

    /// When the next coat goes on.
    fn next_coat_min(&mut self) -> Option<f64> {
        self.to_come.peek().map(|release| release.at_min)
    }

    /// Whether there is nothing left that could change the air.
    fn is_clear(&self) -> bool {
        self.wet.is_empty() && self.vapour_g < 1e-3
    }

    /// Brings the state from one moment to a later one, cutting at every new coat and every change of ventilation;
    /// returns the grams that evaporated.
    fn advance(&mut self, from_min: f64, to_min: f64) -> f64 {
        let mut released_g = 0.0;
        let mut now = from_min;
        while now < to_min {
            while let Some(coat) = self.to_come.next_if(|release| release.at_min <= now) {
                self.wet.push(WetCoat {
                    still_wet_g: coat.mass_g,
                    spent_below_g: coat.mass_g * 1e-4,
                    leaves_per_min: std::f64::consts::LN_2 / coat.half_life_min,
                });
            }
            let coat = self.next_coat_min().unwrap_or(f64::INFINITY);
            let change = self
                .room
                .ventilation
                .iter()
                .map(|entry| entry.from_min)
                .find(|at| *at > now);
            let cut = to_min.min(coat).min(change.unwrap_or(f64::INFINITY));
            released_g += self.run(now, cut - now);
            now = cut;
        }
        released_g
    }

    /// Exact solution over a stretch without changes; returns the grams that evaporated in it.
    fn run(&mut self, from_min: f64, minutes: f64) -> f64 {
        let exchange_per_min = self.room.air_changes_at(from_min) / 60.0 / self.room.mixing.max(1.0);
        let stays = (-exchange_per_min * minutes).exp();
        let mut released_g = 0.0;
        self.vapour_g *= stays;
        for coat in &mut self.wet {
            let kept = (-coat.leaves_per_min * minutes).exp();
            let difference = exchange_per_min - coat.leaves_per_min;
            let share = if difference.abs() * minutes < 1e-6 {
                coat.leaves_per_min * minutes * stays
            } else {
                coat.leaves_per_min * (kept - stays) / difference
            };
            self.vapour_g += coat.still_wet_g * share;
            released_g += coat.still_wet_g * (1.0 - kept);
            coat.still_wet_g *= kept;
        }
        self.wet.retain(|coat| coat.still_wet_g > coat.spent_below_g);
        released_g
    }
}

/// Follows one substance step by step.
fn follow(room: &RoomFacts, substance: Substance, group: &[Release]) -> Option<Exposure> {
    let molar_mass = substance.row().molar_mass_g_per_mol?;
    let mut air = Air::clean(room, group);
    let first = air.next_coat_min()?;
    let last = group
        .iter()
        .map(|release| release.at_min)
        .fold(f64::NEG_INFINITY, f64::max);
    let mut trace_ppm = vec![0.0];
    let mut released_g = vec![0.0];
    let mut now = first;
    let mut exposure = Exposure {
        substance,
        peak_ppm: 0.0,
        peak_at_min: first,
        worst_15_min_ppm: 0.0,
        worst_8_h_ppm: 0.0,
        worst_8_h_release_g_per_min: 0.0,
    };
    while now < last + FOLLOWED_MIN {
        if air.is_clear() && now > first {
            // Nothing wet and the air clean: on to the next coat, with eight clean hours between.
            let Some(next) = air.next_coat_min() else { break };
            now = now.max(next);
            trace_ppm.extend([0.0; 96]);
            released_g.extend([0.0; 96]);
        }
        released_g.push(air.advance(now, now + STEP_MIN));
        now += STEP_MIN;
        let ppm = ppm_of(air.vapour_g, molar_mass, room.volume_m3);
        if ppm > exposure.peak_ppm {
            (exposure.peak_ppm, exposure.peak_at_min) = (ppm, now);
        }
        trace_ppm.push(ppm);
    }
    exposure.worst_15_min_ppm = worst_average(&trace_ppm, 3);
    exposure.worst_8_h_ppm = worst_average(&trace_ppm, 96);
    exposure.worst_8_h_release_g_per_min = worst_average(&released_g, 96) / STEP_MIN;
    Some(exposure)
}

/// The highest average over so many entries in a row; a shorter trace is taken to be followed by nothing.
fn worst_average(trace: &[f64], entries: u16) -> f64 {
    let window = usize::from(entries);
    let mut sum = 0.0;
    let mut worst = 0.0_f64;
    for (idx, value) in trace.iter().enumerate() {
        sum += value;
        if idx >= window {
            sum -= trace[idx - window];
        }
        worst = worst.max(sum);
    }
    worst / f64::from(entries)
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

/// What the room's air makes of a job: a warning where a limit is passed, a stop where the vapour might ignite.
pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    let mut undated_min = job.steps.iter().filter_map(|step| step.at_min).fold(0.0_f64, f64::max);
    let mut releases_all = Vec::new();
    let mut steps = Vec::new();
    for (idx, step) in job.steps.iter().enumerate() {
        if step.at_min.is_none() {
            // Without dates each coat is judged a day after the one before.
            undated_min += 24.0 * 60.0;
        }
        let let_go = releases(step, undated_min);
        if !let_go.is_empty() {
            steps.push(idx);
            releases_all.extend(let_go);
        }
    }
    let exposures = in_room(&job.room, &releases_all);
    let burning: f64 = exposures
        .iter()
        .filter_map(|exposure| {
            exposure
                .substance
                .row()
                .lel_pct
                .map(|pct| exposure.peak_ppm / (pct * 1e4))
        })
        .sum();
    if burning >= EXPLOSIVE_SHARE {
        all.push(Told::steps(may_ignite(), steps.clone()));
    }
    if let Some(caution) = over_limit(&job.room, &exposures) {
        all.push(Told::steps(caution, steps));
    }
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

/// The warning on the worst of the substances, if any passes a limit; effects of several are added.
fn over_limit(room: &RoomFacts, exposures: &[Exposure]) -> Option<Caution> {
    let added: f64 = exposures
        .iter()
        .filter_map(|exposure| {
            exposure
                .substance
                .row()
                .planning_ppm
                .map(|limit| exposure.worst_8_h_ppm / limit)
        })
        .sum();
    let worst = exposures
        .iter()
        .max_by(|a, b| share_of_planning(a).total_cmp(&share_of_planning(b)))?;
    if added <= 1.0 {
        return None;
    }
    let name = &worst.substance.row().name;
    let read: Vec<Limit> = limits(worst.substance)
        .into_iter()
        .filter(|limit| limit.shown().is_some())
        .collect();
    let passed = read
        .iter()
        .filter(|limit| worst.worst_8_h_ppm > limit.ppm)
        .min_by(|a, b| a.ppm.total_cmp(&b.ppm));
    let verdict = match (passed, read.first()) {
        (Some(limit), _) => format!("over the {} of {:.0} ppm", limit.kind.words(), limit.ppm),
        (None, Some(limit)) => format!(
            "under the {} of {:.0} ppm, but over a tighter guideline that we have not read: see section 8 of the safety data sheet",
            limit.kind.words(),
            limit.ppm
        ),
        (None, None) => {
            "over a guideline that we have not read, so it is not shown: see section 8 of the safety data sheet"
                .to_owned()
        }
    };
    let others = if exposures.len() > 1 {
        ", and the other vapours add to it"
    } else {
        ""
    };
    Some(Caution {
        id: "vapour-over-limit",
        level: Level::Warn,
        text: format!(
            "By a reckoning with typical make-up, {name} in this room averages about {} over the worst eight hours, with a peak of \
             about {}: {verdict}{others}. {}",
            ppm_words(worst.worst_8_h_ppm),
            ppm_words(worst.peak_ppm),
            air_needed_words(room, worst)
        ),
        ask: "the safety data sheet, section 8; for a measurement, an industrial hygienist",
        source: "exposure-limits",
    })
}

fn share_of_planning(exposure: &Exposure) -> f64 {
    exposure
        .substance
        .row()
        .planning_ppm
        .map_or(0.0, |limit| exposure.worst_8_h_ppm / limit)
}

/// How much fresh air would keep the worst substance at its planning limit, against what there is.
fn air_needed_words(room: &RoomFacts, worst: &Exposure) -> String {
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
        "It would take about {} m³ of fresh air a minute ({} ft³); this room gets about {} ({}). Open it up, set a fan, spread the \
         coats out or work outside, and wear what the safety data sheet names.",
        round_words(needed),
        round_words(needed * 35.315),
        round_words(there),
        round_words(there * 35.315)
    )
}

fn ppm_words(ppm: f64) -> String {
    format!("{} ppm", round_words(ppm))
}

/// Two significant figures: a reckoning deserves no more.
fn round_words(figure: f64) -> String {
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

/// Whether a class lets go anything that the reckoning follows.
pub fn is_followed(class: FinishClass) -> bool {
    volatiles()
        .iter()
        .any(|entry| entry.classes.contains(&Material::Finish(class)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_figures_are_kept() {
        assert_eq!(round_words(1234.0), "1200");
        assert_eq!(round_words(0.456), "0.5");
        assert_eq!(round_words(7.46), "7.5");
        assert_eq!(round_words(0.0), "0");
    }

    #[test]
    fn shares_of_a_class_do_not_exceed_the_whole() {
        for entry in volatiles() {
            assert!(entry.shares.values().sum::<f64>() <= 1.0 + 1e-9, "{:?}", entry.classes);
        }
    }

    #[test]
    fn worst_average_finds_the_worst_window() {
        assert!((worst_average(&[0.0, 1.0, 5.0, 3.0, 0.0, 0.0], 2) - 4.0).abs() < 1e-12);
        assert!((worst_average(&[4.0], 2) - 2.0).abs() < 1e-12);
    }
}
