//! Lower bounds that need no search: what the clock, the hours of all hands and the dates together leave possible.
//!
//! Each bound has a file of its own: [`crate::earliest`] follows the waits as if everybody were free for everything,
//! [`energy`] counts the work between a head and a tail, [`lateness`] shares the hours out among what is due. Whatever a
//! bound leaves out could only make it larger.

mod energy;
mod lateness;
mod pool;
mod tails;

use crate::compiled::Compiled;
use crate::earliest::{moved, spans};
use crate::model::Score;
use pool::Pool;
use tails::Tails;

/// The least that the score of any plan can be, on its first two levels; nothing where there is no plan.
pub(crate) fn bound(of: &Compiled<'_>) -> Option<Score> {
    let problem = of.problem;
    let spans = spans(of)?;
    let pool = Pool::of_hands(of);
    let mut completion = spans.iter().map(|span| span.1).max().unwrap_or(problem.not_before);
    let tails = Tails::to_last(of);
    completion = completion.max(energy::of_hands(of, &spans, &tails, &pool));
    for resource in 0..problem.resources.len() {
        completion = completion.max(energy::of_resource(of, &spans, &tails, resource));
    }
    let late = lateness::bound(of, &spans, &pool);
    Some(Score {
        weighted: late + i64::from(problem.completion_weight) * completion + moved(of, &spans),
        completion,
        ..Score::default()
    })
}
