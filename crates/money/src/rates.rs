//! Rates learned from the log: how long the work really takes against what was planned.
//!
//! Every finished step gives the logarithm of actual / planned minutes. Operations differ from one another, and all of
//! them share what is true of this shop: an operation with much in the log stands on its own figures, one with little
//! leans on the others, one with nothing takes the shop's (partial pooling). With y the logarithm of a step of operation i,
//!
//! y ~ N(μᵢ, σ²),  μᵢ ~ N(μ, τ²),  μ ~ N(0, 0.5²).
//!
//! Given σ and τ everything is in closed form; over σ and τ the answer is summed on a fixed grid ([`worlds`]), so their
//! own uncertainty widens the interval and nothing is sampled. The three prior widths are judgement, fitted to nothing:
//! a plan is seldom off by more than a factor of two before anything is known.
//!
//! Short steps are not taken to be less even than long ones, and old entries count like new ones.

mod worlds;

use std::collections::BTreeMap;

use quantity::{Minutes, Range};
use serde::{Deserialize, Serialize};

use crate::Estimate;
use worlds::World;

/// A pair that differs by more than this factor is an interruption or a slip of the finger.
const MOST_FACTOR: f64 = 20.0;

/// A finished step: its operation, what was planned and what it took.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Logged<K> {
    /// What was done, by whatever the caller tells operations apart with.
    pub operation: K,
    /// Hands-on minutes as planned from the table, before any learning.
    pub planned: Minutes,
    /// Hands-on minutes as it went.
    pub actual: Minutes,
}

/// How the next step of an operation will go, as factors on the planned minutes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Rate {
    /// How many steps of this operation the log holds.
    pub logged: usize,
    /// As likely to take longer as shorter.
    pub typical: f64,
    /// One in twenty is quicker: the low end of the 90 % interval.
    pub low: f64,
    /// One in twenty is slower: the high end of the 90 % interval.
    pub high: f64,
    /// The standard deviation of the logarithm.
    pub log_sd: f64,
}

/// What the log teaches, for every operation.
///
/// ```
/// use money::{Logged, Rates};
/// use quantity::Minutes;
///
/// let pair = |operation, planned, actual| Logged {
///     operation,
///     planned: Minutes::new(planned),
///     actual: Minutes::new(actual),
/// };
/// let log = [pair("sand", 30, 45), pair("sand", 20, 31), pair("sand", 60, 84), pair("prime", 15, 19)];
/// let rates = Rates::learn(&log);
/// // Three times half as long again: sanding is slower than planned, and so, probably, is everything here.
/// assert!(rates.of(&"sand").typical > 1.25);
/// assert!(rates.of(&"stain").typical > 1.05);
/// let next = rates.minutes(&"sand", Minutes::new(40));
/// assert!(next.low < next.typical && next.typical < next.high);
/// ```
#[derive(Debug, Clone)]
pub struct Rates<K> {
    worlds: Vec<World>,
    operations: BTreeMap<K, Heard>,
    others: Rate,
    left_out: usize,
}

/// What the log holds of one operation.
#[derive(Debug, Clone, Copy)]
struct Heard {
    evidence: Evidence,
    rate: Rate,
}

/// The logarithms of actual / planned of one operation, summed up.
#[derive(Debug, Clone, Copy, Default)]
struct Evidence {
    count: f64,
    mean: f64,
    /// Sum of squares about the mean.
    squares: f64,
}

impl Evidence {
    /// Takes in one more value (Welford's update).
    fn take_in(&mut self, y: f64) {
        self.count += 1.0;
        let off = y - self.mean;
        self.mean += off / self.count;
        self.squares += off * (y - self.mean);
    }
}

impl<K: Ord + Clone> Rates<K> {
    /// Learns from the log. Steps without planned or actual minutes, and those that differ by more than a factor of 20, are
    /// left out and counted.
    #[must_use]
    pub fn learn(log: &[Logged<K>]) -> Self {
        let mut evidence: BTreeMap<K, (usize, Evidence)> = BTreeMap::new();
        let mut left_out = 0;
        for step in log {
            match log_ratio(step.planned, step.actual) {
                Some(y) => {
                    let (count, evidence) = evidence.entry(step.operation.clone()).or_default();
                    *count += 1;
                    evidence.take_in(y);
                }
                None => left_out += 1,
            }
        }
        let all: Vec<Evidence> = evidence.values().map(|(_, evidence)| *evidence).collect();
        let worlds = worlds::weighed(&all);
        let others = worlds::rate(&worlds, &Evidence::default(), 0);
        let operations = evidence
            .into_iter()
            .map(|(operation, (count, evidence))| {
                (
                    operation,
                    Heard {
                        evidence,
                        rate: worlds::rate(&worlds, &evidence, count),
                    },
                )
            })
            .collect();
        Self {
            worlds,
            operations,
            others,
            left_out,
        }
    }

    /// How the next step of this operation will go.
    pub fn of(&self, operation: &K) -> Rate {
        self.operations.get(operation).map_or(self.others, |heard| heard.rate)
    }

    /// Hands-on minutes for the next step of this operation: the 90 % interval about the typical time.
    pub fn minutes(&self, operation: &K, planned: Minutes) -> Range<Minutes> {
        let rate = self.of(operation);
        let times = |factor: f64| Minutes::rounded(planned.hours() * 60.0 * factor);
        Range::new(times(rate.low), times(rate.typical), times(rate.high))
    }

    /// Hands-on minutes for all steps of a job together. What is not known of the shop and of each operation makes its
    /// steps run over together; what differs from step to step evens out.
    pub fn total(&self, steps: &[(K, Minutes)]) -> Estimate<Minutes> {
        let mut planned: BTreeMap<&K, worlds::Planned> = BTreeMap::new();
        for (operation, minutes) in steps.iter().filter(|(_, minutes)| *minutes > Minutes::ZERO) {
            let minutes = minutes.hours() * 60.0;
            let evidence = || {
                self.operations
                    .get(operation)
                    .map(|heard| heard.evidence)
                    .unwrap_or_default()
            };
            let entry = planned
                .entry(operation)
                .or_insert_with(|| worlds::Planned::new(evidence()));
            entry.sum += minutes;
            entry.sum_of_squares += minutes * minutes;
        }
        let planned: Vec<worlds::Planned> = planned.into_values().collect();
        let (log_median, log_sd) = worlds::total(&self.worlds, &planned);
        Estimate::new(Minutes::rounded(log_median.exp()), log_sd)
    }

    /// How many steps of the log were left out, as interruptions or slips of the finger.
    pub const fn left_out(&self) -> usize {
        self.left_out
    }
}

fn log_ratio(planned: Minutes, actual: Minutes) -> Option<f64> {
    (planned > Minutes::ZERO && actual > Minutes::ZERO)
        .then(|| (actual.hours() / planned.hours()).ln())
        .filter(|y| y.abs() <= MOST_FACTOR.ln())
}
