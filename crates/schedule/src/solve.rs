//! The one door: a problem and an effort in, a plan with its bound (or why there is none) out.

use crate::checker;
use crate::compiled::Compiled;
use crate::infeasible::Conflict;
use crate::model::{Problem, Score};
use crate::outcome::{Effort, Outcome, Solution};
use crate::proof::{Patience, Standing, prove};
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
    let share = Effort {
        schedules: (effort.schedules / 5).min(1000),
        ..*effort
    };
    let found = search(&compiled, &share, &|_| false);
    let best = (found.worth.0 == 0).then_some((found.worth, found.draft));
    let mut standing = Standing {
        best,
        bound: Score::default(),
        proved: false,
        infeasible: false,
        clashes: 0,
    };
    let is_over = || effort.is_over();
    let left = effort.schedules.saturating_sub(found.schedules);
    prove(
        &compiled,
        &mut standing,
        &Patience {
            clashes: left,
            is_over: &is_over,
            seed: effort.seed,
        },
    );
    let schedules = found.schedules + standing.clashes;
    let Some((worth, draft)) = standing.best else {
        return match standing.infeasible {
            true => Outcome::Infeasible(Conflict {
                demands: Vec::new(),
                minimal: false,
            }),
            false => Outcome::NotFound { schedules },
        };
    };
    let plan = draft.plan(&compiled);
    let violations = if cfg!(debug_assertions) {
        checker::check(problem, &plan)
    } else {
        Vec::new()
    };
    debug_assert!(
        violations.is_empty(),
        "the solver made a plan that breaks rules: {violations:?}"
    );
    Outcome::Planned(Solution {
        plan,
        score: worth.1,
        bound: standing.bound,
        proved: standing.proved,
        schedules,
    })
}
