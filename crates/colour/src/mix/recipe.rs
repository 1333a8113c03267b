//! A recipe: which paints, how much of each, and how near it will come.
//!
//! What the solver has left over is not what will be seen: it is small because the solver made it small. The range that is
//! shown comes from how far other readings of the same swatches disagree about this very mixture, scaled so that nine of
//! ten mixtures of invented paints, read with a meter's error and mixed truly, fall inside (`tests/it/mixtures.rs`).

use quantity::Volume;
use serde::{Deserialize, Serialize};

use crate::difference;
use crate::lab::Lab;
use crate::light::Light;
use crate::mix::search::{Candidate, PAINT_PENALTY, candidates};
use crate::mix::shelf::{Disagreement, Shelf};
use crate::spectrum::Spectrum;

/// How far the dry mixture will be from its target: nine of ten lie within.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Prospect {
    /// One in twenty comes nearer than this.
    pub low: f64,
    /// About as many come nearer as do not.
    pub likely: f64,
    /// One in twenty misses by more than this.
    pub high: f64,
}

/// One paint of a recipe.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RecipeLine {
    /// Its index on the shelf.
    pub paint: usize,
    /// Its share of the volume, 0 to 1.
    pub share: f64,
}

/// A mixture of paints of a shelf. However good it looks here: a dry swatch first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Recipe {
    /// Its paints, most first; shares add up to 1.
    pub lines: Vec<RecipeLine>,
    /// What it should look like by daylight.
    pub by_day: Lab,
    /// What it should look like under a lamp.
    pub by_lamp: Lab,
    /// How far from the target it will be by daylight.
    pub prospect: Prospect,
    /// How far from the target it may be under a lamp: a guess, unless the target was read as a spectrum.
    pub under_lamp: f64,
}

/// One paint of a recipe as it is measured out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measure {
    /// Index on the shelf.
    pub paint: usize,
    /// Name on the shelf.
    pub name: String,
    /// How much of it.
    pub volume: Volume,
    /// The same in drops of [`DROP`], for amounts too small for a measuring cup.
    pub drops: Option<u32>,
    /// Its parts in whole numbers, where whole numbers come near enough; 0 where they do not.
    pub parts: u32,
}

/// A drop from a dropper: 20 make a millilitre (`common-practice`). Paint from a syringe makes larger ones: count yours.
pub const DROP: Volume = Volume::from_ml(0.05);
/// Above this a measuring cup does.
const MOST_BY_DROPS_ML: f64 = 5.0;
/// Whole parts are sought up to this many in all.
const MOST_PARTS: u32 = 40;
/// By how much whole parts may shift the colour.
const PARTS_MAY_SHIFT: f64 = 0.35;

impl Shelf {
    /// The best recipes for a target, best first: at most one for each number of paints up to `most_paints` (1 to 4), and
    /// none of more paints than a better one has.
    ///
    /// Never empty; whether the first is good enough is for its [`Prospect`] to say.
    #[must_use]
    pub fn recipes(&self, target: &Spectrum, most_paints: usize) -> Vec<Recipe> {
        let goal = target.lab(Light::Day);
        let found = candidates(&self.readings[0], None, goal, most_paints.clamp(1, 4));
        let mut judged: Vec<(f64, Recipe)> = found.iter().map(|c| self.judge(c, target, goal)).collect();
        judged.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut kept: Vec<Recipe> = Vec::new();
        for (_, recipe) in judged {
            if kept.iter().all(|k| recipe.lines.len() < k.lines.len()) {
                kept.push(recipe);
            }
        }
        kept
    }

    /// A score (less is better) and the recipe with its prospect.
    fn judge(&self, candidate: &Candidate, target: &Spectrum, goal: Lab) -> (f64, Recipe) {
        let total: f64 = candidate.parts.iter().map(|p| p.1).sum();
        let mut lines: Vec<RecipeLine> = candidate
            .parts
            .iter()
            .map(|(paint, amount)| RecipeLine {
                paint: *paint,
                share: amount / total,
            })
            .collect();
        lines.sort_by(|a, b| b.share.total_cmp(&a.share));
        let spectrum = self.mixture(&candidate.parts);
        let (by_day, by_lamp) = (spectrum.lab(Light::Day), spectrum.lab(Light::Lamp));
        let doubt = self.disagreement(&candidate.parts);
        let left = difference(by_day, goal);
        let score = left.hypot(doubt.with_tint.sqrt()).hypot(doubt.without) + PAINT_PENALTY * count(&lines);
        let under_lamp = difference(by_lamp, target.lab(Light::Lamp));
        (
            score,
            Recipe {
                lines,
                by_day,
                by_lamp,
                prospect: Prospect::of(left, doubt),
                under_lamp,
            },
        )
    }

    /// What to measure out for `job` of the mixture.
    #[must_use]
    pub fn measure_out(&self, recipe: &Recipe, job: Volume) -> Vec<Measure> {
        let parts = self.whole_parts(recipe);
        let measure = |(i, line): (usize, &RecipeLine)| {
            let volume = job * line.share;
            let name = self
                .paints()
                .get(line.paint)
                .map(|paint| paint.name.clone())
                .unwrap_or_default();
            Measure {
                paint: line.paint,
                name,
                volume,
                drops: drops(volume),
                parts: parts.get(i).copied().unwrap_or(0),
            }
        };
        recipe.lines.iter().enumerate().map(measure).collect()
    }

    /// The smallest whole numbers that keep the colour; empty where none up to [`MOST_PARTS`] do.
    fn whole_parts(&self, recipe: &Recipe) -> Vec<u32> {
        let least = u32::try_from(recipe.lines.len()).unwrap_or(MOST_PARTS);
        for total in least..=MOST_PARTS {
            let parts: Vec<u32> = recipe
                .lines
                .iter()
                .map(|line| nearest_whole(line.share * f64::from(total)).max(1))
                .collect();
            let mixture: Vec<(usize, f64)> = recipe
                .lines
                .iter()
                .zip(&parts)
                .map(|(line, n)| (line.paint, f64::from(*n)))
                .collect();
            if difference(self.mixture(&mixture).lab(Light::Day), recipe.by_day) <= PARTS_MAY_SHIFT {
                return parts;
            }
        }
        Vec::new()
    }
}

impl Prospect {
    /// From what the solver left and how far the readings disagree.
    ///
    /// The figures were fitted to mixtures of twelve invented paints, of which all, half or none had a tint; paints that
    /// do not obey Kubelka and Munk (metallic, pearl, fluorescent) fall outside.
    pub(crate) fn of(left: f64, doubt: Disagreement) -> Self {
        let Disagreement { with_tint, without } = doubt;
        let reach = (0.5 + 0.9 * with_tint.sqrt() + 0.25 * with_tint).hypot(2.6 * without);
        let middle = (0.35 + 0.25 * with_tint.sqrt()).hypot(0.9 * without);
        let least = 0.1_f64.hypot(0.2 * without);
        Self {
            low: least.hypot((left - 0.6 * reach).max(0.0)),
            likely: left.hypot(middle),
            high: (left + 0.6 * reach).hypot(0.8 * reach),
        }
    }
}

fn count(lines: &[RecipeLine]) -> f64 {
    lines.iter().map(|_| 1.0).sum()
}

fn drops(volume: Volume) -> Option<u32> {
    (volume.ml() <= MOST_BY_DROPS_ML).then(|| nearest_whole(volume.ml() / DROP.ml()))
}

/// The nearest whole number of a value between 0 and a few hundred.
fn nearest_whole(value: f64) -> u32 {
    (0..=1000_u32).find(|n| f64::from(*n) + 0.5 > value).unwrap_or(1000)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mix::ShelfPaint;

    fn shelf() -> Shelf {
        let paint = |name: &str, l, a, b, tint: Option<(f64, f64, f64)>| ShelfPaint {
            name: name.to_owned(),
            colour: Lab::new(l, a, b),
            tint_with_white: tint.map(|(l, a, b)| Lab::new(l, a, b)),
        };
        let paints = vec![
            paint("white", 96.0, -0.8, 2.5, None),
            paint("black", 15.0, 0.0, -0.5, Some((27.0, -0.2, -0.8))),
            paint("ochre", 34.0, 21.5, 28.5, Some((54.0, 19.5, 28.0))),
        ];
        Shelf::try_new(paints, Some(0)).unwrap()
    }

    #[test]
    fn a_paint_of_the_shelf_is_its_own_recipe() {
        let shelf = shelf();
        let recipes = shelf.recipes(&Spectrum::nearest(Lab::new(34.0, 21.5, 28.5)).0, 4);
        let first = &recipes[0];
        assert_eq!(first.lines.len(), 1, "{recipes:?}");
        assert_eq!(first.lines[0].paint, 2);
    }

    #[test]
    fn parts_millilitres_and_drops_say_the_same() {
        let shelf = shelf();
        let target = shelf.mixture(&[(0, 0.75), (1, 0.25)]);
        let recipe = &shelf.recipes(&target, 4)[0];
        let measured = shelf.measure_out(recipe, Volume::from_ml(12.0));
        assert_eq!(
            measured.iter().map(|m| (m.name.as_str(), m.parts)).collect::<Vec<_>>(),
            [("white", 3), ("black", 1)]
        );
        assert!((measured.iter().map(|m| m.volume.ml()).sum::<f64>() - 12.0).abs() < 1e-9);
        assert_eq!(measured[0].drops, None);
        let black_drops = measured[1].drops.unwrap();
        assert!((55..=65).contains(&black_drops), "{black_drops}");
    }

    #[test]
    fn more_doubt_widens_the_range() {
        let of = |with_tint, without| Prospect::of(1.0, Disagreement { with_tint, without });
        let (sure, unsure, blind) = (of(0.1, 0.0), of(2.0, 0.0), of(2.0, 3.0));
        assert!(sure.high < unsure.high && unsure.high < blind.high);
        for p in [sure, unsure, blind] {
            assert!(p.low < p.likely && p.likely < p.high, "{p:?}");
        }
    }
}
