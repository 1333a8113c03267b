//! The one door: a problem and an effort in, a plan with its bound (or why there is none) out.
//!
//! Two kinds of worker share the best plan known: one generates schedules (breeding for plain projects, a walk over
//! orders for all others), one learns from dead ends, improves by neighbourhoods and proves. On one thread they take
//! turns, on several they run side by side.

use crate::checker;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::exchange::Exchange;
use crate::generation::{Generator, ranks};
use crate::infeasible::conflict;
use crate::maker::Maker;
use crate::model::{Problem, Score};
use crate::outcome::{Effort, Outcome, Solution};
use crate::project::Project;
use crate::proof::Prover;
use crate::refusal::refusals;
use crate::score::{Worth, worth};
use crate::search::order_of;
use crate::seasons::{MOST_LEARNED, Seasons, generated_of};

/// Schedules woven at first, and in each later turn.
const FIRST_WEAVING: u64 = 100;
const LATER_WEAVING: u64 = 20;
/// Up to so many activities a replan is worth a proof.
const PROVED_AGAIN: usize = 40;

/// Schedules the problem as well as the effort allows.
///
/// The same problem, seed and number of schedules always give the same answer; with [`Effort::stop`] the answer depends
/// on when it says so. A schedule is one start for each activity; a dead end of the learning search counts for as much of
/// one as was free to move.
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
/// assert!(solution.proved);
/// ```
#[must_use]
pub fn solve(problem: &Problem, effort: &Effort<'_>) -> Outcome {
    let refused = refusals(problem);
    if !refused.is_empty() {
        return Outcome::Refused(refused);
    }
    let compiled = Compiled::new(problem);
    let project = Project::of(&compiled);
    let exchange = Exchange::default();
    if let Some(bound) = crate::earliest::bound(&compiled) {
        exchange.raise_bound(bound);
    }
    let schedules = match (effort.stop, effort.threads, &project) {
        (Some(_), 2.., _) => side_by_side(&compiled, project.as_ref(), effort, &exchange),
        (None, _, Some(project)) => Seasons::new(&compiled, project, effort.seed).all(effort, &exchange),
        _ => in_turns(&compiled, project.as_ref(), effort, &exchange),
    };
    let standing = exchange.into_standing();
    let Some((worth, draft)) = standing.best else {
        return match standing.infeasible {
            true => Outcome::Infeasible(conflict(problem)),
            false => Outcome::NotFound { schedules },
        };
    };
    let (worth, draft) = moved_up(&compiled, worth, draft, schedules);
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
    let bound = if standing.proved {
        Score {
            weighted: worth.1.weighted,
            completion: worth.1.completion,
            ..Score::default()
        }
    } else {
        standing.bound
    };
    Outcome::Planned(Solution {
        plan,
        score: worth.1,
        bound,
        proved: standing.proved,
        schedules,
    })
}

/// The same order once more from the beginning, everything as early as it can be: taken if it is no worse.
fn moved_up(of: &Compiled<'_>, known: Worth, draft: Draft, schedules: u64) -> (Worth, Draft) {
    if !is_woven(of) || schedules < 8 {
        return (known, draft);
    }
    let earlier = Generator::new(of).generate(&ranks(&order_of(&draft)));
    let new = worth(of, &earlier);
    if new <= known { (new, earlier) } else { (known, draft) }
}

/// Whether the problem is worked on strand by strand: hands do it, and no plan is already followed.
pub(crate) fn is_woven(of: &Compiled<'_>) -> bool {
    !of.problem.hands.is_empty() && of.problem.previous.is_none()
}

/// Whether a plan that people follow is to be mended.
pub(crate) fn is_mended(of: &Compiled<'_>) -> bool {
    of.problem.previous.is_some()
}

/// A worker that weaves and improves in turns.
fn weave(of: &Compiled<'_>, mut maker: Maker<'_>, effort: &Effort<'_>, seed: u64, exchange: &Exchange) -> u64 {
    let is_over = || effort.is_over();
    let mut improver = Prover::improving(of, seed);
    let mut turn = FIRST_WEAVING;
    loop {
        let before = maker.made() + improver.made();
        maker.advance((maker.made() + turn).min(effort.schedules), exchange, &is_over);
        let left = effort.schedules.saturating_sub(maker.made());
        improver.advance((improver.made() + 10 * turn).min(left), exchange, &is_over);
        let made = maker.made() + improver.made();
        if exchange.is_settled() || is_over() || made == before || made >= effort.schedules {
            return made;
        }
        turn = LATER_WEAVING;
    }
}

/// One thread: the maker and the prover take turns.
fn in_turns(of: &Compiled<'_>, project: Option<&Project>, effort: &Effort<'_>, exchange: &Exchange) -> u64 {
    let counted = effort.stop.is_none();
    let n = of.problem.activities.len();
    let (woven, mended) = (is_woven(of), is_mended(of));
    // Proofs are within reach of small problems; large ones are better served by many schedules. What is woven is
    // improved part by part on the prover's side.
    let share = |total: u64| match n {
        _ if woven => (total / 10).max(1),
        _ if mended && n > PROVED_AGAIN => total,
        _ => generated_of(n, total).max(total.saturating_sub(MOST_LEARNED)),
    };
    let first = if counted {
        share(effort.schedules)
    } else {
        100.min(share(effort.schedules))
    };
    let mut maker = Maker::new(of, project, effort.seed);
    // Made once there is something for it to do.
    let mut prover: Option<Prover<'_>> = None;
    let proved = |prover: &Option<Prover<'_>>| prover.as_ref().map_or(0, Prover::made);
    let is_over = || effort.is_over();
    let mut turn = first.max(1);
    loop {
        let before = maker.made() + proved(&prover);
        // What cannot be placed at all is rather for the prover to find or refute.
        let few = !counted && proved(&prover) > 0 && exchange.worth().is_none();
        let of_maker = match () {
            () if few => 20,
            () if woven && !counted => turn.div_ceil(10),
            () => turn,
        };
        maker.advance(maker.made() + of_maker, exchange, &is_over);
        if mended && n > PROVED_AGAIN && exchange.worth().is_some() {
            if counted || maker.made() == before || exchange.is_settled() || is_over() {
                return maker.made();
            }
            continue;
        }
        let left = effort.schedules.saturating_sub(maker.made() + proved(&prover));
        if left > 0 {
            let prover = prover.get_or_insert_with(|| match counted {
                true => Prover::new(of, effort.seed),
                false => Prover::by_the_clock(of, effort.seed),
            });
            let of_prover = match () {
                () if counted => left,
                () => turn,
            };
            prover.advance(prover.made() + left.min(of_prover), exchange, &is_over);
        }
        let made = maker.made() + proved(&prover);
        if exchange.is_settled() || is_over() || made >= effort.schedules || made == before {
            return made;
        }
        turn = effort
            .schedules
            .saturating_sub(made)
            .min(if prover.as_ref().is_some_and(Prover::is_over) {
                u64::MAX
            } else {
                2_000
            });
    }
}

/// Several threads: the prover on one, makers on the others.
fn side_by_side(of: &Compiled<'_>, project: Option<&Project>, effort: &Effort<'_>, exchange: &Exchange) -> u64 {
    let stop = effort.stop;
    let is_over = || stop.is_some_and(|stop| stop());
    std::thread::scope(|scope| {
        let mut workers = Vec::new();
        for worker in 1..effort.threads {
            // Far apart: the seasons of one count on from its seed, and must not be those of the next.
            let seed = effort
                .seed
                .wrapping_add(crate::number::minutes(worker).unsigned_abs() << 32);
            workers.push(scope.spawn(move || {
                let is_over = || stop.is_some_and(|stop| stop());
                if let Some(project) = project {
                    return Seasons::new(of, project, seed).without_end(exchange, &is_over);
                }
                let mut maker = Maker::new(of, None, seed);
                if is_woven(of) {
                    return weave(of, maker, effort, seed, exchange);
                }
                while !exchange.is_settled() && !is_over() && maker.made() < effort.schedules {
                    let before = maker.made();
                    maker.advance((before + 500).min(effort.schedules), exchange, &is_over);
                    if maker.made() == before {
                        break;
                    }
                }
                maker.made()
            }));
        }
        let mut prover = Prover::proving(of, effort.seed);
        // Without a plan there is nothing to be better than: the makers are given a moment by a short first search.
        prover.advance(effort.schedules, exchange, &is_over);
        prover.made()
            + workers
                .into_iter()
                .map(|worker| worker.join().unwrap_or(0))
                .sum::<u64>()
    })
}
