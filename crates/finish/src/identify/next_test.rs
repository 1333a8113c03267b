//! Which observation tells the most next: the expected gain of information, in bits, less a little for tests that leave a trace.

use super::{Identification, Observation, table};
use serde::Serialize;
use trade::FinishClass;

/// An observation not yet made, with what it may be expected to tell.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Telling {
    /// The observation.
    pub observation: Observation,
    /// Expected gain of information, bits.
    pub bits: f64,
}

/// A test that leaves a trace must tell this many bits more than one that does not.
const TRACE_BITS: f64 = 0.05;
/// Below this a test tells nothing worth its trouble.
const WORTH_BITS: f64 = 0.02;
/// Two classes whose chances of every outcome differ by less than this in sum answer alike.
const ALIKE: f64 = 0.12;

/// The observations not yet made, most telling first.
///
/// The gain is the mutual information of class and outcome, `H(outcome) - Σ p(class) H(outcome | class)`.
#[must_use]
pub fn tests_by_telling(found: &Identification) -> Vec<Telling> {
    let mut tests: Vec<Telling> = open_tests(found)
        .map(|observation| Telling {
            observation,
            bits: expected_bits(found, observation),
        })
        .collect();
    let worth = |telling: &Telling| {
        telling.bits
            - if telling.observation.leaves_a_trace() {
                TRACE_BITS
            } else {
                0.0
            }
    };
    tests.sort_by(|a, b| worth(b).total_cmp(&worth(a)).then(a.observation.cmp(&b.observation)));
    tests
}

/// The most telling observation not yet made; `None` where none is worth its trouble.
#[must_use]
pub fn next_test(found: &Identification) -> Option<Telling> {
    tests_by_telling(found)
        .into_iter()
        .find(|telling| telling.bits >= WORTH_BITS)
}

/// Whether some observation not yet made could part two classes; a class is never parted from itself.
pub(super) fn can_part(found: &Identification, one: FinishClass, other: FinishClass) -> bool {
    one != other && open_tests(found).any(|observation| distance(observation, one, other) >= ALIKE)
}

fn open_tests(found: &Identification) -> impl Iterator<Item = Observation> + '_ {
    Observation::EVERY
        .iter()
        .copied()
        .filter(|observation| !found.answered().contains(observation))
}

/// Half the sum of the differences of the outcomes' chances: 0 for alike, 1 for always different.
fn distance(observation: Observation, one: FinishClass, other: FinishClass) -> f64 {
    let place = |class| table::classes().iter().position(|known| *known == class);
    let (Some(one), Some(other)) = (place(one), place(other)) else {
        return 1.0;
    };
    let differences = table::outcomes(observation).into_iter().map(|outcome| {
        let likely = table::likelihood(observation, outcome);
        (likely[one] - likely[other]).abs()
    });
    differences.sum::<f64>() / 2.0
}

fn expected_bits(found: &Identification, observation: Observation) -> f64 {
    let weights: Vec<f64> = table::classes()
        .iter()
        .map(|class| found.probability_of(*class))
        .collect();
    let mut bits = 0.0;
    for outcome in table::outcomes(observation) {
        let likely = table::likelihood(observation, outcome);
        let overall: f64 = weights.iter().zip(likely).map(|(weight, share)| weight * share).sum();
        bits += entropy_term(overall);
        bits -= weights
            .iter()
            .zip(likely)
            .map(|(weight, share)| weight * entropy_term(*share))
            .sum::<f64>();
    }
    bits.max(0.0)
}

fn entropy_term(share: f64) -> f64 {
    if share > 0.0 { -share * share.log2() } else { 0.0 }
}
