//! The grid over the two spreads, and what follows in each of its points.
//!
//! A *world* is one pair of σ (from step to step) and τ (from operation to operation), with its posterior weight and what
//! is then known of the shop's mean μ. Worlds that the log has made all but impossible are dropped.

use super::{Evidence, Rate};
use crate::normal;

/// The prior of the shop's mean: centred on the plan.
const SHOP_SD: f64 = 0.5;
/// The prior of σ is log-normal about this, with this spread of its logarithm.
const STEP_SD: (f64, f64) = (0.3, 0.5);
/// The prior of τ is the upper half of a normal with this standard deviation.
const OPERATION_SD: f64 = 0.3;
/// The grid: from, to, and points, evenly spaced in the logarithm.
const STEP_GRID: (f64, f64, i32) = (0.04, 1.4, 20);
const OPERATION_GRID: (f64, f64, i32) = (0.01, 1.4, 12);
/// Worlds below this share of the likeliest are dropped.
const LEAST_WEIGHT: f64 = 1e-4;

/// One pair of spreads, how much is to be said for it, and the shop's mean in it.
#[derive(Debug, Clone, Copy)]
pub(super) struct World {
    weight: f64,
    step_variance: f64,
    operation_variance: f64,
    shop_mean: f64,
    shop_variance: f64,
}

/// What one world says of one operation's mean.
#[derive(Debug, Clone, Copy)]
struct Belief {
    mean: f64,
    /// Its variance, that of the shop's mean included.
    variance: f64,
    /// How much of it hangs on the shop's mean, 0..=1.
    leaning: f64,
}

impl World {
    fn belief(&self, evidence: &Evidence) -> Belief {
        let own = evidence.count * self.operation_variance;
        let leaning = self.step_variance / (self.step_variance + own);
        Belief {
            mean: (1.0 - leaning) * evidence.mean + leaning * self.shop_mean,
            variance: self.operation_variance * leaning + leaning * leaning * self.shop_variance,
            leaning,
        }
    }
}

fn log_grid((from, to, points): (f64, f64, i32)) -> impl Iterator<Item = f64> {
    let step = (to / from).ln() / f64::from(points - 1);
    (0..points).map(move |idx| from * (f64::from(idx) * step).exp())
}

/// All worlds with their weights after the evidence, likely ones only; the weights sum to one.
pub(super) fn weighed(evidence: &[Evidence]) -> Vec<World> {
    let mut worlds = Vec::new();
    for step_sd in log_grid(STEP_GRID) {
        let off = (step_sd / STEP_SD.0).ln() / STEP_SD.1;
        for operation_sd in log_grid(OPERATION_GRID) {
            let scaled = operation_sd / OPERATION_SD;
            // Densities over the logarithm, as the grid is spaced: the half-normal one gains a factor τ.
            let prior = -0.5 * off * off - 0.5 * scaled * scaled + operation_sd.ln();
            worlds.push(world(evidence, step_sd * step_sd, operation_sd * operation_sd, prior));
        }
    }
    let likeliest = worlds
        .iter()
        .map(|world| world.weight)
        .fold(f64::NEG_INFINITY, f64::max);
    for world in &mut worlds {
        world.weight = (world.weight - likeliest).exp();
    }
    worlds.retain(|world| world.weight > LEAST_WEIGHT);
    let sum: f64 = worlds.iter().map(|world| world.weight).sum();
    for world in &mut worlds {
        world.weight /= sum;
    }
    worlds
}

/// One world with the logarithm of its weight: the likelihood with every μᵢ and μ integrated out.
fn world(evidence: &[Evidence], step_variance: f64, operation_variance: f64, log_prior: f64) -> World {
    let (mut precision, mut weighted) = (1.0 / (SHOP_SD * SHOP_SD), 0.0);
    let (mut log_weight, mut squares) = (log_prior, 0.0);
    for heard in evidence {
        // The mean of the group is N(μ, τ² + σ²/n); within the group there are n − 1 free values.
        let variance = operation_variance + step_variance / heard.count;
        precision += 1.0 / variance;
        weighted += heard.mean / variance;
        squares += heard.mean * heard.mean / variance;
        log_weight -= 0.5 * ((heard.count - 1.0) * step_variance.ln() + heard.squares / step_variance + variance.ln());
    }
    log_weight -= 0.5 * (squares - weighted * weighted / precision + precision.ln());
    World {
        weight: log_weight,
        step_variance,
        operation_variance,
        shop_mean: weighted / precision,
        shop_variance: 1.0 / precision,
    }
}

/// The next step of an operation, over all worlds.
pub(super) fn rate(worlds: &[World], evidence: &Evidence, logged: usize) -> Rate {
    let parts: Vec<(f64, f64, f64)> = worlds
        .iter()
        .map(|world| {
            let belief = world.belief(evidence);
            (
                world.weight,
                belief.mean,
                (belief.variance + world.step_variance).sqrt(),
            )
        })
        .collect();
    let mean: f64 = parts.iter().map(|(weight, mean, _)| weight * mean).sum();
    let square: f64 = parts
        .iter()
        .map(|(weight, part, sd)| weight * (sd * sd + (part - mean) * (part - mean)))
        .sum();
    Rate {
        logged,
        typical: quantile(&parts, 0.5).exp(),
        low: quantile(&parts, 0.05).exp(),
        high: quantile(&parts, 0.95).exp(),
        log_sd: square.sqrt(),
    }
}

/// The value that a mixture of normals (weight, mean, standard deviation) stays below with `chance`: between the least
/// and the greatest such value of its parts, found by halving.
fn quantile(parts: &[(f64, f64, f64)], chance: f64) -> f64 {
    let z = normal::quantile(chance);
    let values = parts.iter().map(|(_, mean, sd)| mean + z * sd);
    let (mut low, mut high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (value.min(low), value.max(high))
    });
    while high - low > 1e-7 {
        let middle = 0.5 * (low + high);
        let below: f64 = parts
            .iter()
            .map(|(weight, mean, sd)| weight * normal::cdf((middle - mean) / sd))
            .sum();
        if below < chance {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// The planned minutes of one operation in a job.
#[derive(Debug, Clone, Copy)]
pub(super) struct Planned {
    evidence: Evidence,
    pub(super) sum: f64,
    pub(super) sum_of_squares: f64,
}

impl Planned {
    pub(super) const fn new(evidence: Evidence) -> Self {
        Self {
            evidence,
            sum: 0.0,
            sum_of_squares: 0.0,
        }
    }
}

/// The logarithm of the median and the standard deviation of the logarithm of a job's total minutes.
///
/// In each world the sum is matched by a log-normal of the same mean and variance (Fenton and Wilkinson's way), and the
/// worlds are averaged on the logarithmic scale.
pub(super) fn total(worlds: &[World], planned: &[Planned]) -> (f64, f64) {
    if planned.is_empty() {
        return (f64::NEG_INFINITY, 0.0);
    }
    let parts: Vec<(f64, f64, f64)> = worlds.iter().map(|world| total_in(world, planned)).collect();
    let mean: f64 = parts.iter().map(|(weight, mean, _)| weight * mean).sum();
    let variance: f64 = parts
        .iter()
        .map(|(weight, part, variance)| weight * (variance + (part - mean) * (part - mean)))
        .sum();
    (mean, variance.sqrt())
}

/// Weight, mean and variance of the logarithm of the total in one world.
fn total_in(world: &World, planned: &[Planned]) -> (f64, f64, f64) {
    let noise = world.step_variance;
    let beliefs: Vec<Belief> = planned.iter().map(|planned| world.belief(&planned.evidence)).collect();
    let means: Vec<f64> = planned
        .iter()
        .zip(&beliefs)
        .map(|(planned, belief)| planned.sum * (belief.mean + 0.5 * (belief.variance + noise)).exp())
        .collect();
    let mut square = 0.0;
    for (i, (planned, belief)) in planned.iter().zip(&beliefs).enumerate() {
        // Two steps of one operation share its mean; a step with itself shares its own noise too.
        let shared = (2.0 * belief.mean + 2.0 * belief.variance + noise).exp();
        let others = planned.sum * planned.sum - planned.sum_of_squares;
        square += shared * (others + planned.sum_of_squares * noise.exp());
        for (j, other) in beliefs.iter().enumerate().skip(i + 1) {
            let covariance = belief.leaning * other.leaning * world.shop_variance;
            square += 2.0 * means[i] * means[j] * covariance.exp();
        }
    }
    let mean: f64 = means.iter().sum();
    let variance = (square / (mean * mean)).ln().max(0.0);
    (world.weight, mean.ln() - 0.5 * variance, variance)
}
