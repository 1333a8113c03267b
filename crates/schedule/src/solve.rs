//! The one door: a problem and an effort in, a plan with its bound (or why there is none) out.

use crate::checker;
use crate::compiled::Compiled;
use crate::model::{Problem, Score};
use crate::outcome::{Effort, Outcome, Solution};
use crate::refusal::refusals;
use crate::search::search;

/// Schedules the problem as well as the effort allows.
///
/// The same problem, seed, threads and number of schedules always give the same answer; with [`Effort::stop`] the
/// answer depends on when it says so.
///
/// # Examples
/// ```
/// use schedule::{Activity, Effort, Hand, Lag, Problem, Span, Wait};
/// let mut problem = Problem { horizon: 2880, ..Problem::default() };
/// problem.hands.push(Hand { name: "me".into(), periods: vec![Span::new(540, 720), Span::new(780, 1020)] });
/// let coat = problem.add(Activity::new("first coat", 30));
/// let second = problem.add(Activity::new("second coat", 30));
/// problem.lags.push(Lag::after(coat, second, Wait::Minutes(240)));
/// let outcome = schedule::solve(&problem, &Effort::schedules(100));
/// let solution = outcome.solution().expect("there is time");
/// assert_eq!(solution.plan.placements[second.0].start, 540 + 30 + 240);
/// ```
#[must_use]
pub fn solve(problem: &Problem, effort: &Effort<'_>) -> Outcome {
    let refused = refusals(problem);
    if !refused.is_empty() {
        return Outcome::Refused(refused);
    }
    let compiled = Compiled::new(problem);
    let found = search(&compiled, effort, &|_| false);
    if found.worth.0 > 0 {
        return Outcome::NotFound {
            schedules: found.schedules,
        };
    }
    let plan = found.draft.plan(&compiled);
    let violations = if cfg!(debug_assertions) {
        checker::check(problem, &plan)
    } else {
        Vec::new()
    };
    debug_assert!(
        violations.is_empty(),
        "the solver made a plan that breaks rules: {violations:?}"
    );
    let bound = Score::default();
    Outcome::Planned(Solution {
        plan,
        score: found.worth.1,
        bound,
        proved: false,
        schedules: found.schedules,
    })
}
