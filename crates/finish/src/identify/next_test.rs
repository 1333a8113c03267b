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

/// The observation not yet made that parts two classes best; `None` where they answer alike in all that are left.
#[must_use]
pub fn parting(found: &Identification, one: FinishClass, other: FinishClass) -> Option<Observation> {
    let parts = open_tests(found).map(|observation| (observation, distance(observation, one, other)));
    let worth = |(observation, distance): &(Observation, f64)| {
        distance - if observation.leaves_a_trace() { TRACE_BITS } else { 0.0 }
    };
    parts
        .filter(|(_, distance)| one != other && *distance >= ALIKE)
        .max_by(|a, b| worth(a).total_cmp(&worth(b)).then(b.0.cmp(&a.0)))
        .map(|(observation, _)| observation)
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
    let outcomes: Vec<&[f64]> = table::outcomes(observation)
        .into_iter()
        .map(|outcome| table::likelihood(observation, outcome))
        .collect();
    information_bits(&weights, &outcomes)
}

/// Mutual information of class and outcome, bits: `H(outcome) - Σ p(class) H(outcome | class)`.
///
/// `weights`: the probability of each class, summing to 1. `outcomes`: for each outcome, its probability given each class.
fn information_bits(weights: &[f64], outcomes: &[&[f64]]) -> f64 {
    let mut bits = 0.0;
    for likely in outcomes {
        let overall: f64 = weights.iter().zip(*likely).map(|(weight, share)| weight * share).sum();
        bits += entropy_term(overall);
        bits -= weights
            .iter()
            .zip(*likely)
            .map(|(weight, share)| weight * entropy_term(*share))
            .sum::<f64>();
    }
    bits.max(0.0)
}

fn entropy_term(share: f64) -> f64 {
    if share > 0.0 { -share * share.log2() } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::identify::{Answer, Era, Outcome, identify};

    /// Two classes as likely as each other. A test that the one passes nine times in ten and the other twice: half of all pass, and a
    /// little more, H(0.55) = 0.9928 bits; what stays open once the class is known is half of H(0.9) = 0.4690 and half of
    /// H(0.2) = 0.7219. So it brings 0.9928 - 0.5954 = 0.3973 bits. Worked with a pocket calculator.
    #[test]
    fn a_test_of_two_classes_brings_what_was_worked_by_hand() {
        let passes: [f64; 2] = [0.9, 0.2];
        let fails = [0.1, 0.8];
        let bits = information_bits(&[0.5, 0.5], &[&passes, &fails]);
        assert!((bits - 0.3973).abs() < 5e-5, "{bits}");
        // One that always tells them apart brings the whole bit, one that both answer alike brings nothing.
        assert!((information_bits(&[0.5, 0.5], &[&[1.0, 0.0], &[0.0, 1.0]]) - 1.0).abs() < 1e-12);
        assert!(information_bits(&[0.5, 0.5], &[&[0.7, 0.7], &[0.3, 0.3]]).abs() < 1e-12);
        // Nine to one before: H(0.83) = 0.6577 less 0.9 H(0.9) = 0.4221 and 0.1 H(0.2) = 0.0722 leave 0.1634 bits.
        let bits = information_bits(&[0.9, 0.1], &[&passes, &fails]);
        assert!((bits - 0.1634).abs() < 5e-5, "{bits}");
    }

    /// A clear film of before 1900 is shellac or oil varnish, hardly anything else, and alcohol is what parts those two (92 in 100
    /// against 1): no other test may be put before it.
    #[test]
    fn shellac_or_varnish_is_put_to_alcohol() {
        let look = Answer::new(Observation::Look, Outcome::ClearFilm).unwrap();
        let found = identify(Era::Before1900, &[look]);
        assert_eq!(next_test(&found).unwrap().observation, Observation::Alcohol);
    }
}
