//! What a wrong guess would cost, and what to assume when no test can be made.

use super::{Identification, LIKELY};
use serde::Serialize;
use trade::FinishClass;

/// What to plan with, and the chance that it is wrong in a way that matters.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Guess {
    /// The class to plan with: the likeliest where it is likely enough, else [`FinishClass::Unknown`], over which only what suits any finish is planned.
    pub plan_as: FinishClass,
    /// The chance that the finish is a class over which the wished coat would fail, though the likeliest would take it.
    pub risk: f64,
}

/// Weighs a guess. `fails` says whether the wished coat would fail over a class when prepared as for the likeliest one.
#[must_use]
pub fn guess(found: &Identification, mut fails: impl FnMut(FinishClass) -> bool) -> Guess {
    let likeliest = found.likeliest();
    let risk = found
        .candidates()
        .iter()
        .filter(|candidate| candidate.class != likeliest.class && fails(candidate.class))
        .map(|candidate| candidate.probability)
        .sum();
    let plan_as = if likeliest.probability >= LIKELY {
        likeliest.class
    } else {
        FinishClass::Unknown
    };
    Guess { plan_as, risk }
}
