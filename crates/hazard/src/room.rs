//! The air of a room with wet coats in it, followed over time.
//!
//! The one idea: each coat lets its solvent go at a rate that halves again and again; the room is one well-mixed volume
//! into which that vapour goes and from which fresh air, divided by the mixing factor, takes it. Between two changes of
//! ventilation this has an exact solution, which is stepped through, so several coats and an opened door cost nothing.
//!
//! Deliberately left out: air that lies in layers, vapour that soaks into walls, and the hand that stands right over the
//! wet coat, where there is more of it.

use std::collections::BTreeMap;

use trade::solvents::Substance;

use crate::facts::{RoomFacts, Ventilation, air_changes_at};
use crate::ventilation::MOLAR_VOLUME_70F_M3;

/// Step of the trace, minutes.
const STEP_MIN: f64 = 5.0;
/// Steps in a quarter of an hour.
const QUARTER_HOUR: u16 = 3;
/// Steps in a working day of eight hours, which limits are averaged over.
const EIGHT_HOURS: u16 = 96;
/// How long after the last coat the room is followed, minutes.
const FOLLOWED_MIN: f64 = 48.0 * 60.0;

/// One substance let go by one coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Release {
    /// When the coat goes on, minutes.
    pub at_min: f64,
    /// What evaporates.
    pub substance: Substance,
    /// How much of it in all, grams.
    pub mass_g: f64,
    /// After so many minutes half of it is gone; above 0.
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

/// What the room's air came to in all.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RoomAir {
    /// Each substance that has a molar mass in the table, in the table's order.
    pub exposures: Vec<Exposure>,
    /// Highest average over 8 hours of the sum of each concentration over its planning limit: above 1, the vapours
    /// together pass what they may.
    pub worst_8_h_of_limits: f64,
    /// When those 8 hours end, minutes.
    pub worst_8_h_ends_min: f64,
    /// Highest sum of each concentration over its lower explosive limit: 1 can ignite.
    pub peak_of_explosive: f64,
}

/// The air of the room from the first release until two days after the last.
///
/// A vapour never rises above what its liquid can keep up at 20 °C (saturation); effects of several vapours add.
///
/// # Source
/// `ventilation-manual`, chapter 2: the well-mixed room, and the addition of effects. The halving release is a planning
/// assumption.
pub fn follow(room: &RoomFacts, releases: &[Release]) -> RoomAir {
    let mut tracks = tracks(room, releases);
    let mut result = RoomAir::default();
    let Some(first) = tracks
        .iter_mut()
        .filter_map(|track| track.air.next_coat_min())
        .min_by(f64::total_cmp)
    else {
        return result;
    };
    let last = releases
        .iter()
        .map(|release| release.at_min)
        .fold(f64::NEG_INFINITY, f64::max);
    let mut of_limits = Worst::new(EIGHT_HOURS);
    let mut now = first;
    while now < last + FOLLOWED_MIN {
        if now > first && tracks.iter().all(|track| track.air.is_clear()) {
            // Nothing wet and the air clean: on to the next coat.
            let next = tracks
                .iter_mut()
                .filter_map(|track| track.air.next_coat_min())
                .min_by(f64::total_cmp);
            let Some(next) = next else { break };
            now = now.max(next);
            of_limits.forget();
            tracks.iter_mut().for_each(Track::forget);
        }
        let (mut limits_sum, mut explosive_sum) = (0.0, 0.0);
        for track in &mut tracks {
            let (mean_ppm, most_ppm) = track.step(room, now);
            limits_sum += track.planning_ppm.map_or(0.0, |limit| mean_ppm / limit);
            explosive_sum += track.explosive_ppm.map_or(0.0, |limit| most_ppm / limit);
        }
        now += STEP_MIN;
        if of_limits.push(limits_sum) {
            result.worst_8_h_ends_min = now;
        }
        result.peak_of_explosive = explosive_sum.max(result.peak_of_explosive);
    }
    result.worst_8_h_of_limits = of_limits.worst();
    result.exposures = tracks.into_iter().map(Track::finish).collect();
    result
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
    let mut air = Air::clean(room, &group);
    if let Some(first) = air.next_coat_min().filter(|first| *first < at_min) {
        air.advance(first, at_min);
    }
    ppm_of(air.vapour_g, molar_mass, room.volume_m3).min(saturation_ppm(substance))
}

/// What a vapour can reach at most at 20 °C, ppm; without a vapour pressure in the table, all there is.
fn saturation_ppm(substance: Substance) -> f64 {
    const ATMOSPHERE_MMHG: f64 = 760.0;
    substance
        .row()
        .vapour_pressure_mmhg
        .map_or(1e6, |pressure| pressure / ATMOSPHERE_MMHG * 1e6)
}

/// Grams of vapour in a room as ppm by volume.
fn ppm_of(vapour_g: f64, molar_mass_g_per_mol: f64, volume_m3: f64) -> f64 {
    vapour_g / molar_mass_g_per_mol * MOLAR_VOLUME_70F_M3 / volume_m3 * 1e6
}

/// The highest average over so many entries in a row; what came before the first is taken as none.
struct Worst {
    window: std::collections::VecDeque<f64>,
    entries: u16,
    sum: f64,
    worst_sum: f64,
}

impl Worst {
    fn new(entries: u16) -> Self {
        Self {
            window: std::collections::VecDeque::new(),
            entries,
            sum: 0.0,
            worst_sum: 0.0,
        }
    }

    /// Takes the next entry; whether the average now is the worst so far.
    fn push(&mut self, entry: f64) -> bool {
        self.window.push_back(entry);
        self.sum += entry;
        if self.window.len() > usize::from(self.entries) {
            self.sum -= self.window.pop_front().unwrap_or(0.0);
        }
        let is_worst = self.sum > self.worst_sum;
        self.worst_sum = self.worst_sum.max(self.sum);
        is_worst
    }

    /// Starts again after a long clean stretch.
    fn forget(&mut self) {
        self.window.clear();
        self.sum = 0.0;
    }

    fn worst(&self) -> f64 {
        self.worst_sum / f64::from(self.entries)
    }
}

/// One substance being followed.
struct Track {
    air: Air,
    molar_mass: f64,
    saturation_ppm: f64,
    planning_ppm: Option<f64>,
    explosive_ppm: Option<f64>,
    quarter_hour: Worst,
    eight_hours: Worst,
    release: Worst,
    exposure: Exposure,
}

/// The substances that are released, in the order of the table.
fn tracks(room: &RoomFacts, releases: &[Release]) -> Vec<Track> {
    let mut by_substance: BTreeMap<Substance, Vec<Release>> = BTreeMap::new();
    for release in releases.iter().filter(|release| release.mass_g > 0.0) {
        by_substance.entry(release.substance).or_default().push(*release);
    }
    by_substance
        .into_iter()
        .filter_map(|(substance, group)| {
            let row = substance.row();
            Some(Track {
                air: Air::clean(room, &group),
                molar_mass: row.molar_mass_g_per_mol?,
                saturation_ppm: saturation_ppm(substance),
                planning_ppm: row.planning_ppm,
                explosive_ppm: row.lel_pct.map(|pct| pct * 1e4),
                quarter_hour: Worst::new(QUARTER_HOUR),
                eight_hours: Worst::new(EIGHT_HOURS),
                release: Worst::new(EIGHT_HOURS),
                exposure: Exposure {
                    substance,
                    peak_ppm: 0.0,
                    peak_at_min: 0.0,
                    worst_15_min_ppm: 0.0,
                    worst_8_h_ppm: 0.0,
                    worst_8_h_release_g_per_min: 0.0,
                },
            })
        })
        .collect()
}

impl Track {
    /// One step on: the mean concentration over it, and the most it is known to come to, ppm.
    fn step(&mut self, room: &RoomFacts, now_min: f64) -> (f64, f64) {
        let passed = self.air.advance(now_min, now_min + STEP_MIN);
        let ppm = |vapour_g| ppm_of(vapour_g, self.molar_mass, room.volume_m3).min(self.saturation_ppm);
        let mean_ppm = ppm(passed.gram_minutes / STEP_MIN);
        let most_ppm = mean_ppm.max(ppm(self.air.vapour_g));
        self.release.push(passed.released_g / STEP_MIN);
        self.quarter_hour.push(mean_ppm);
        self.eight_hours.push(mean_ppm);
        if most_ppm > self.exposure.peak_ppm {
            (self.exposure.peak_ppm, self.exposure.peak_at_min) = (most_ppm, now_min + STEP_MIN);
        }
        (mean_ppm, most_ppm)
    }

    fn forget(&mut self) {
        self.release.forget();
        self.quarter_hour.forget();
        self.eight_hours.forget();
    }

    fn finish(self) -> Exposure {
        Exposure {
            worst_15_min_ppm: self.quarter_hour.worst(),
            worst_8_h_ppm: self.eight_hours.worst(),
            worst_8_h_release_g_per_min: self.release.worst(),
            ..self.exposure
        }
    }
}

/// A coat that is on: its grams still wet, and the share of them that leaves a minute.
struct WetCoat {
    still_wet_g: f64,
    spent_below_g: f64,
    leaves_per_min: f64,
}

/// What went on in a stretch of time.
#[derive(Debug, Clone, Copy, Default)]
struct Passed {
    /// Grams that evaporated.
    released_g: f64,
    /// The grams in the air, summed over the minutes.
    gram_minutes: f64,
}

/// The state of the room for one substance: grams in the air, coats still wet, coats and changes still to come.
struct Air {
    ventilation: Vec<Ventilation>,
    mixing: f64,
    to_come: std::iter::Peekable<std::vec::IntoIter<Release>>,
    wet: Vec<WetCoat>,
    vapour_g: f64,
}

impl Air {
    fn clean(room: &RoomFacts, group: &[Release]) -> Self {
        let mut in_order = group.to_vec();
        in_order.sort_by(|a, b| a.at_min.total_cmp(&b.at_min));
        Self {
            ventilation: room.ventilation.clone(),
            mixing: room.mixing.max(1.0),
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

    /// Brings the state from one moment to a later one, cutting at every new coat and every change of ventilation.
    fn advance(&mut self, from_min: f64, to_min: f64) -> Passed {
        let mut passed = Passed::default();
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
            let change = self.ventilation.iter().map(|entry| entry.from_min).find(|at| *at > now);
            let cut = to_min.min(coat).min(change.unwrap_or(f64::INFINITY));
            let piece = self.run(now, cut - now);
            passed.released_g += piece.released_g;
            passed.gram_minutes += piece.gram_minutes;
            now = cut;
        }
        passed
    }

    /// Exact solution over a stretch without changes. What evaporated and is no longer there was carried out, and what is carried out
    /// tells how much there was on the mean.
    fn run(&mut self, from_min: f64, minutes: f64) -> Passed {
        let exchange_per_min = air_changes_at(&self.ventilation, from_min) / 60.0 / self.mixing;
        let stays = (-exchange_per_min * minutes).exp();
        let before_g = self.vapour_g;
        let mut released_g = 0.0;
        let mut in_still_air = before_g * minutes;
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
            in_still_air += coat.still_wet_g * (minutes - (1.0 - kept) / coat.leaves_per_min);
            coat.still_wet_g *= kept;
        }
        self.wet.retain(|coat| coat.still_wet_g > coat.spent_below_g);
        let gram_minutes = if exchange_per_min * minutes < 1e-6 {
            in_still_air
        } else {
            (before_g + released_g - self.vapour_g) / exchange_per_min
        };
        Passed {
            released_g,
            gram_minutes,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn worst_average_finds_the_worst_window() {
        let mut worst = Worst::new(2);
        for entry in [0.0, 1.0, 5.0, 3.0, 0.0, 0.0] {
            worst.push(entry);
        }
        assert!((worst.worst() - 4.0).abs() < 1e-12);
        let mut short = Worst::new(2);
        short.push(4.0);
        assert!((short.worst() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn vapour_stops_at_saturation() {
        // Mineral spirits at 2 mmHg: 2632 ppm, however much stands open.
        let room = RoomFacts::steady(1.0, 0.0);
        let flood = Release {
            at_min: 0.0,
            substance: Substance::MineralSpirits,
            mass_g: 1e5,
            half_life_min: 10.0,
        };
        let exposure = follow(&room, &[flood]).exposures[0];
        assert!((exposure.peak_ppm - 2631.6).abs() < 0.1, "{}", exposure.peak_ppm);
    }
}
