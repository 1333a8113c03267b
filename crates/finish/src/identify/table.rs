//! The two tables behind the identification, read once: odds by era, and how often each class answers so.

use super::{Era, Observation, Outcome};
use std::sync::LazyLock;
use trade::FinishClass;

/// Share of every outcome that is kept for the unforeseen (a slip of the eye, a coat nobody expects), so that no answer excludes a class.
const UNFORESEEN: f64 = 0.01;

struct Tables {
    classes: Vec<FinishClass>,
    priors: Vec<(Era, Vec<f64>)>,
    likelihoods: Vec<(Observation, Outcome, Vec<f64>)>,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| read().expect("the crate's tests read these tables"));

/// The classes that the tables know, in their order.
pub(super) fn classes() -> &'static [FinishClass] {
    &TABLES.classes
}

/// The odds of each class in an era, summing to 1.
pub(super) fn prior(era: Era) -> &'static [f64] {
    let row = TABLES.priors.iter().find(|(known, _)| *known == era);
    &row.expect("every era has its row; the crate's tests look").1
}

/// The outcomes of an observation, in the order of the table.
pub(super) fn outcomes(observation: Observation) -> Vec<Outcome> {
    TABLES
        .likelihoods
        .iter()
        .filter(|row| row.0 == observation)
        .map(|row| row.1)
        .collect()
}

/// How probable an outcome is, for each class.
///
/// An outcome which the observation does not have is impossible for all; [`super::Answer`] never holds one.
pub(super) fn likelihood(observation: Observation, outcome: Outcome) -> &'static [f64] {
    let row = TABLES
        .likelihoods
        .iter()
        .find(|row| row.0 == observation && row.1 == outcome);
    &row.expect("an answer holds only outcomes of its observation").2
}

fn read() -> Result<Tables, String> {
    let (classes, rows) = matrix(include_str!("../../data/identify_age.csv"), 1)?;
    let mut priors = Vec::new();
    for (names, weights) in rows {
        let era = Era::parse(&names[0]).map_err(|unknown| unknown.to_string())?;
        let sum: f64 = weights.iter().sum();
        priors.push((era, weights.iter().map(|weight| weight / sum).collect()));
    }
    let (again, rows) = matrix(include_str!("../../data/identify_likelihood.csv"), 2)?;
    if again != classes {
        return Err("the two tables name different classes".to_owned());
    }
    let mut likelihoods = Vec::new();
    for (names, percents) in rows {
        let observation = Observation::parse(&names[0]).map_err(|unknown| unknown.to_string())?;
        let outcome = Outcome::parse(&names[1]).map_err(|unknown| unknown.to_string())?;
        likelihoods.push((observation, outcome, percents));
    }
    let counts: Vec<usize> = likelihoods
        .iter()
        .map(|row| likelihoods.iter().filter(|other| other.0 == row.0).count())
        .collect();
    for (row, count) in likelihoods.iter_mut().zip(counts) {
        let even = UNFORESEEN / count as f64;
        row.2
            .iter_mut()
            .for_each(|percent| *percent = *percent / 100.0 * (1.0 - UNFORESEEN) + even);
    }
    Ok(Tables {
        classes,
        priors,
        likelihoods,
    })
}

type NamedRow = (Vec<String>, Vec<f64>);

/// A table whose first `names` columns are words, whose last is the source, and whose columns between are classes.
fn matrix(text: &str, names: usize) -> Result<(Vec<FinishClass>, Vec<NamedRow>), String> {
    let mut lines = text.lines();
    let heading: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
    let columns = names..heading.len().saturating_sub(1);
    let classes = heading[columns.clone()]
        .iter()
        .map(|id| FinishClass::parse(id).map_err(|unknown| unknown.to_string()))
        .collect::<Result<Vec<_>, _>>()?;
    let mut rows = Vec::new();
    for line in lines {
        let fields: Vec<&str> = line.split(',').collect();
        if fields.len() != heading.len() {
            return Err(format!("{line}: {} fields, expected {}", fields.len(), heading.len()));
        }
        let numbers = fields[columns.clone()]
            .iter()
            .map(|field| field.parse().map_err(|_| format!("{field} in {line} is no number")))
            .collect::<Result<Vec<f64>, _>>()?;
        rows.push((fields[..names].iter().map(|&name| name.to_owned()).collect(), numbers));
    }
    Ok((classes, rows))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_class_answers_every_observation_with_certainty_in_all() {
        for observation in Observation::EVERY {
            let mut sums = vec![0.0; classes().len()];
            for outcome in outcomes(*observation) {
                for (sum, share) in sums.iter_mut().zip(likelihood(*observation, outcome)) {
                    assert!(*share > 0.0 && *share < 1.0);
                    *sum += share;
                }
            }
            assert!(
                sums.iter().all(|sum| (sum - 1.0).abs() < 1e-9),
                "{observation:?}: {sums:?}"
            );
        }
    }

    #[test]
    fn every_era_has_odds_that_sum_to_one() {
        for era in Era::EVERY {
            assert!((prior(*era).iter().sum::<f64>() - 1.0).abs() < 1e-12);
            assert!(prior(*era).iter().all(|odds| *odds >= 0.0));
        }
    }

    #[test]
    fn every_outcome_of_the_vocabulary_is_used() {
        for outcome in Outcome::EVERY {
            assert!(
                Observation::EVERY
                    .iter()
                    .any(|observation| outcomes(*observation).contains(outcome)),
                "{outcome:?}"
            );
        }
    }
}
