//! The search for a recipe: every small set of paints, each solved for its amounts.
//!
//! All sets of one, two and three paints are tried; the best of these are each widened by a fourth. The amounts of a set
//! are found in their logarithms, so that none becomes negative and a drop of a strong paint is as easy to find as a
//! litre of white. Sets are then judged on how far the result may really be off, and each further paint has to earn its
//! place.

use crate::difference;
use crate::film;
use crate::lab::Lab;
use crate::light::{BANDS, Light};
use crate::linear::solve;
use crate::mix::metric::Yardstick;
use crate::mix::pigment::{Pigment, lab_and_slopes, mixed};
use crate::surface::{self, INSIDE};

/// What another paint in the recipe must improve to be worth its tin.
pub(crate) const PAINT_PENALTY: f64 = 0.15;
/// Sets of three that are tried with a fourth.
const WIDENED: usize = 40;
/// Sets that are judged closely.
pub(crate) const JUDGED: usize = 80;
const MOST_STEPS: usize = 14;
/// Below this share a paint is not in the mixture: one drop in half a litre.
const LEAST_SHARE: f64 = 1e-4;

/// A set of paints with its amounts and the difference that the first reading predicts.
#[derive(Debug, Clone)]
pub(crate) struct Candidate {
    pub(crate) parts: Vec<(usize, f64)>,
    pub(crate) left: f64,
}

impl Candidate {
    fn score(&self) -> f64 {
        // Indices below 1000 are far more than a shelf has, so the count is exact.
        self.left + self.parts.iter().map(|_| PAINT_PENALTY).sum::<f64>()
    }
}

/// Searches for mixtures near `target`. `base` is already in the pot with the amount 1 and cannot be taken out.
pub(crate) fn candidates(paints: &[Pigment], base: Option<&Pigment>, target: Lab, most: usize) -> Vec<Candidate> {
    let search = Search {
        paints,
        base,
        target,
        yardstick: Yardstick::around(target),
    };
    let n = paints.len();
    let mut sets: Vec<Vec<usize>> = Vec::new();
    for i in 0..n {
        sets.push(vec![i]);
        for j in i + 1..n {
            sets.push(vec![i, j]);
            sets.extend((j + 1..n).filter(|_| most >= 3).map(|k| vec![i, j, k]));
        }
    }
    sets.retain(|set| set.len() <= most);
    let mut found = search.solve_all(&sets);
    if most >= 4 && n >= 4 {
        let mut wider: Vec<Vec<usize>> = Vec::new();
        for three in found.iter().filter(|c| c.parts.len() == 3).take(WIDENED) {
            let three: Vec<usize> = three.parts.iter().map(|p| p.0).collect();
            for fourth in (0..n).filter(|i| !three.contains(i)) {
                let mut four = [three.as_slice(), &[fourth]].concat();
                four.sort_unstable();
                wider.push(four);
            }
        }
        wider.sort();
        wider.dedup();
        found.extend(search.solve_all(&wider));
        found.sort_by(|a, b| a.score().total_cmp(&b.score()));
    }
    found.truncate(JUDGED);
    found
}

struct Search<'a> {
    paints: &'a [Pigment],
    base: Option<&'a Pigment>,
    target: Lab,
    yardstick: Yardstick,
}

impl Search<'_> {
    /// Solves every set, on both hands where the machine has two; best first.
    fn solve_all(&self, sets: &[Vec<usize>]) -> Vec<Candidate> {
        let hands = std::thread::available_parallelism()
            .map_or(1, std::num::NonZero::get)
            .min(4);
        let share = sets.len().div_ceil(hands).max(1);
        let mut found: Vec<Candidate> = if sets.len() < 64 {
            sets.iter().map(|set| self.solve(set)).collect()
        } else {
            std::thread::scope(|scope| {
                let crews: Vec<_> = sets
                    .chunks(share)
                    .map(|chunk| scope.spawn(move || chunk.iter().map(|set| self.solve(set)).collect::<Vec<_>>()))
                    .collect();
                crews
                    .into_iter()
                    .flat_map(|crew| crew.join().unwrap_or_default())
                    .collect()
            })
        };
        found.sort_by(|a, b| a.score().total_cmp(&b.score()));
        found
    }

    /// The amounts of one set that come nearest to the target, from two starts.
    fn solve(&self, set: &[usize]) -> Candidate {
        let paints: Vec<&Pigment> = set.iter().filter_map(|i| self.paints.get(*i)).collect();
        let even = vec![if self.base.is_some() { -2.0 } else { 0.0 }; set.len()];
        // The second start gives each paint the same say in the colour, so that a strong one begins with a drop.
        let by_strength: Vec<f64> = paints
            .iter()
            .zip(&even)
            .map(|(paint, start)| start - strength(paint).ln())
            .collect();
        let starts: &[Vec<f64>] = if set.len() == 1 && self.base.is_none() {
            &[even]
        } else {
            &[even, by_strength]
        };
        let best = starts
            .iter()
            .map(|start| self.descend(&paints, start.clone()))
            .min_by(|one, other| one.1.total_cmp(&other.1))
            .unwrap_or_default();
        let total: f64 = self.base.map_or(0.0, |_| 1.0) + best.0.iter().map(|u| u.exp()).sum::<f64>();
        let unit = if self.base.is_some() { 1.0 } else { total };
        let parts = set
            .iter()
            .zip(&best.0)
            .map(|(i, u)| (*i, u.exp() / unit))
            .filter(|(_, amount)| amount * unit / total >= LEAST_SHARE)
            .collect();
        Candidate { parts, left: best.1 }
    }

    /// Damped Gauss and Newton in the logarithms of the amounts; gives them and the difference left.
    fn descend(&self, paints: &[&Pigment], mut u: Vec<f64>) -> (Vec<f64>, f64) {
        let n = paints.len();
        let mut damping = 1e-2;
        let (mut off, mut slopes) = self.look(paints, &u);
        let mut cost: f64 = off.iter().map(|v| v * v).sum();
        'steps: for _ in 0..MOST_STEPS {
            loop {
                let mut matrix = vec![0.0; n * n];
                let mut right = vec![0.0; n];
                for i in 0..n {
                    right[i] = -(0..3).map(|k| slopes[i][k] * off[k]).sum::<f64>();
                    for j in 0..n {
                        matrix[i * n + j] = (0..3).map(|k| slopes[i][k] * slopes[j][k]).sum();
                    }
                    matrix[i * n + i] += damping;
                }
                if solve(&mut matrix, &mut right).is_none() {
                    break 'steps;
                }
                let trial: Vec<f64> = u
                    .iter()
                    .zip(&right)
                    .map(|(u, step)| (u + step.clamp(-2.0, 2.0)).clamp(-12.0, 6.0))
                    .collect();
                let (trial_off, trial_slopes) = self.look(paints, &trial);
                let trial_cost: f64 = trial_off.iter().map(|v| v * v).sum();
                if trial_cost < cost {
                    let gain = cost - trial_cost;
                    (u, off, slopes, cost) = (trial, trial_off, trial_slopes, trial_cost);
                    damping = (damping / 6.0).max(1e-6);
                    if gain < 1e-4 * cost.max(1e-3) {
                        break 'steps;
                    }
                    break;
                }
                damping *= 6.0;
                if damping > 1e5 {
                    break 'steps;
                }
            }
        }
        let parts: Vec<(&Pigment, f64)> = paints
            .iter()
            .zip(&u)
            .map(|(p, u)| (*p, u.exp()))
            .chain(self.base.map(|b| (b, 1.0)))
            .collect();
        let left = difference(mixed(&parts).lab(Light::Day), self.target);
        (u, left)
    }

    /// How far a mixture is off, on the yardstick, and how that changes with the logarithm of each amount.
    fn look(&self, paints: &[&Pigment], u: &[f64]) -> ([f64; 3], Vec<[f64; 3]>) {
        let amounts: Vec<f64> = u.iter().map(|u| u.exp()).collect();
        let mut reflectance = [0.0; BANDS];
        let mut by_k = [0.0; BANDS];
        let mut ratio = [0.0; BANDS];
        for i in 0..BANDS {
            let (mut k, mut s) = self.base.map_or((0.0, 0.0), |b| (b.k[i], b.s[i]));
            for (paint, amount) in paints.iter().zip(&amounts) {
                k += amount * paint.k[i];
                s += amount * paint.s[i];
            }
            let q = (k / s).max(1e-9);
            let inside = film::opaque(q);
            reflectance[i] = surface::measured(inside, 0.0, INSIDE);
            let by_q = -inside / (q * (q + 2.0)).sqrt() * (1.0 - INSIDE) / (1.0 - INSIDE * inside).powi(2);
            (by_k[i], ratio[i]) = (by_q / s, q);
        }
        let (lab, lab_slopes) = lab_and_slopes(&reflectance);
        let off = [lab.l - self.target.l, lab.a - self.target.a, lab.b - self.target.b];
        let slopes = paints
            .iter()
            .zip(&amounts)
            .map(|(paint, amount)| {
                let mut change = [0.0; 3];
                for i in 0..BANDS {
                    let by_u = amount * (paint.k[i] - ratio[i] * paint.s[i]) * by_k[i];
                    for (total, slope) in change.iter_mut().zip(&lab_slopes) {
                        *total += slope[i] * by_u;
                    }
                }
                self.yardstick.measure(change)
            })
            .collect();
        (self.yardstick.measure(off), slopes)
    }
}

/// What a paint swallows and throws back on the average: its say in a mixture.
fn strength(paint: &Pigment) -> f64 {
    paint.k.iter().zip(&paint.s).map(|(k, s)| k + s).sum::<f64>() / 31.0
}
