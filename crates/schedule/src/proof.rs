//! Improves and proves: the learning search over a problem, from the best plan known to the last that could be better.
//!
//! The weighted level first, then completion with the weighted level held. Whatever the search finds is made into a
//! plan by the generator and counts only then; what it refutes is refuted for good, since the statement is never
//! tighter than the problem.

use crate::compiled::Compiled;
use crate::generation::{Draft, Generator, ranks};
use crate::learn::{Lit, Status, Taste};
use crate::model::{Minute, Score};
use crate::score::{Worth, worth};
use crate::stated::{Omitted, Stated};

/// What is known so far.
pub(crate) struct Standing {
    /// The best complete draft, if any.
    pub(crate) best: Option<(Worth, Draft)>,
    /// No plan scores less.
    pub(crate) bound: Score,
    /// The first two levels of the best are the best there is.
    pub(crate) proved: bool,
    /// There is no plan.
    pub(crate) infeasible: bool,
    /// Dead ends met.
    pub(crate) clashes: u64,
}

/// Limits of a proof.
pub(crate) struct Patience<'a> {
    pub(crate) clashes: u64,
    pub(crate) is_over: &'a dyn Fn() -> bool,
    pub(crate) seed: u64,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Level {
    Weighted,
    Completion,
}

/// Works on until proved or out of patience.
pub(crate) fn prove(of: &Compiled<'_>, standing: &mut Standing, patience: &Patience<'_>) {
    let Some(mut stated) = Stated::new(of, &Omitted::new(), patience.seed) else {
        return;
    };
    if stated.settle().is_err() {
        standing.infeasible = standing.best.is_none();
        return;
    }
    note_bound(of, standing, &stated);
    let first = if stated.weighted.is_some() {
        Level::Weighted
    } else {
        Level::Completion
    };
    if !descend(of, &mut stated, first, standing, patience) || standing.infeasible {
        return;
    }
    if first == Level::Completion {
        standing.proved = true;
        return;
    }
    // The weighted level is settled: hold it, and ask for an earlier completion.
    let Some((held, _)) = standing.best.as_ref().map(|(worth, _)| (worth.1.weighted, ())) else {
        return;
    };
    let Some(mut stated) = Stated::new(of, &Omitted::new(), patience.seed) else {
        return;
    };
    if of.problem.completion_weight > 0 && of.problem.dues.is_empty() {
        standing.proved = true;
        return;
    }
    let units = stated.weighted_units(held, of.problem.completion_weight);
    let Some(weighted) = stated.weighted else { return };
    if stated.settle().is_err() || stated.engine.require(Lit::at_most(weighted, units)).is_err() {
        return;
    }
    note_bound(of, standing, &stated);
    standing.proved = descend(of, &mut stated, Level::Completion, standing, patience);
}

/// The value a level's variable has to be below to improve, for the best known.
fn goal(stated: &Stated, level: Level, of: &Compiled<'_>, score: &Score) -> i32 {
    match level {
        Level::Weighted => stated.weighted_units(score.weighted, of.problem.completion_weight) - 1,
        Level::Completion => stated.before_end(score.completion),
    }
}

fn note_bound(of: &Compiled<'_>, standing: &mut Standing, stated: &Stated) {
    let known = &mut standing.bound;
    if let Some(weighted) = stated.weighted {
        let least = stated.weighted_minutes(stated.engine.least(weighted), of.problem.completion_weight);
        known.weighted = known.weighted.max(least);
    }
    known.completion = known
        .completion
        .max(stated.minute(stated.engine.least(stated.completion)));
}

/// Improves a level until nothing better exists (true) or patience ends (false).
fn descend(
    of: &Compiled<'_>,
    stated: &mut Stated,
    level: Level,
    standing: &mut Standing,
    patience: &Patience<'_>,
) -> bool {
    let Some(variable) = (if level == Level::Weighted {
        stated.weighted
    } else {
        Some(stated.completion)
    }) else {
        return false;
    };
    let mut generator = Generator::new(of);
    if let Some((_, draft)) = &standing.best {
        stated.lean(&starts_of(draft));
    }
    let mut burst = 0_u32;
    let mut below = standing
        .best
        .as_ref()
        .map(|(worth, _)| goal(stated, level, of, &worth.1));
    let before = standing.clashes;
    loop {
        let refuted = below.is_some_and(|below| stated.engine.require(Lit::at_most(variable, below)).is_err());
        let status = if refuted {
            Status::Never
        } else {
            let (clashes, taste) = schedule_of(burst, standing.best.is_none());
            burst += 1;
            stated.engine.search(&[], clashes, taste, patience.is_over)
        };
        standing.clashes = before + stated.engine.n_clashes;
        match status {
            Status::Found => {
                let starts = stated.chosen();
                let value = stated.engine.least(variable);
                stated.lean(&starts);
                let realised = realise(&mut generator, &starts);
                let new = worth(of, &realised);
                let better = new.0 == 0 && standing.best.as_ref().is_none_or(|(known, _)| new < *known);
                if better {
                    standing.best = Some((new, realised));
                }
                if new.0 > 0 && standing.best.is_none() && !stated.is_exact {
                    // Found in the loosened problem only, and nothing to hold on to.
                    return false;
                }
                let own = standing
                    .best
                    .as_ref()
                    .map_or(value - 1, |(worth, _)| goal(stated, level, of, &worth.1));
                below = Some(own.min(value - 1));
            }
            Status::Never | Status::NotSo => {
                let Some((worth, _)) = &standing.best else {
                    standing.infeasible = below.is_none();
                    return standing.infeasible;
                };
                let (own, reached) = (
                    goal(stated, level, of, &worth.1) + 1,
                    below.map_or(0, |below| below + 1),
                );
                // Refuted: everything at or below `below`.
                let bound = &mut standing.bound;
                match level {
                    Level::Weighted => {
                        let least = stated.weighted_minutes(reached, of.problem.completion_weight);
                        bound.weighted = bound.weighted.max(least.min(worth.1.weighted));
                    }
                    Level::Completion => {
                        bound.completion = bound.completion.max(stated.minute(reached).min(worth.1.completion));
                    }
                }
                return reached >= own;
            }
            Status::Limit => {
                if stated.engine.n_clashes >= patience.clashes || (patience.is_over)() {
                    return false;
                }
            }
        }
    }
}

/// Clashes and taste of a burst: short and long ones mixed.
fn schedule_of(burst: u32, is_first: bool) -> (u64, Taste) {
    let luby = luby(burst + 1);
    let taste = if is_first && burst.is_multiple_of(2) {
        Taste::Earliest
    } else {
        Taste::Busiest
    };
    (100 * luby, taste)
}

/// The sequence 1 1 2 1 1 2 4 …, after Luby, Sinclair and Zuckerman 1993.
fn luby(n: u32) -> u64 {
    let mut n = n;
    loop {
        let bits = u32::BITS - n.leading_zeros();
        if n == (1 << bits) - 1 {
            return 1 << (bits - 1);
        }
        n -= (1 << (bits - 1)) - 1;
    }
}

/// Makes found starts into a draft.
fn realise(generator: &mut Generator<'_>, starts: &[Minute]) -> Draft {
    let mut order: Vec<usize> = (0..starts.len()).collect();
    order.sort_by_key(|&index| (starts[index], index));
    generator.generate_from(&ranks(&order), Some(starts))
}

/// Starts of a complete draft.
pub(crate) fn starts_of(draft: &Draft) -> Vec<Minute> {
    draft
        .places
        .iter()
        .map(|place| place.map_or(0, |place| place.start))
        .collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn restarts_follow_the_universal_sequence() {
        let first: Vec<u64> = (1..=15).map(super::luby).collect();
        assert_eq!(first, [1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8]);
    }
}
