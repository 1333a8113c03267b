//! Plain projects: several short searches that know nothing of each other, and one that goes on from the best of each.
//!
//! A search soon settles round one schedule, and more of the same seldom leads away from it: the best of ten that began
//! apart is better than one that took as long as all of them. Each breeds first, then walks on from its best and
//! improves it by learning, in turns.

use crate::bred::{Bred, as_timetable};
use crate::compiled::Compiled;
use crate::exchange::Exchange;
use crate::outcome::Effort;
use crate::passes::Timetable;
use crate::project::Project;
use crate::proof::Prover;

/// Schedules of one season.
const SEASON: u64 = 2_500;
/// With as many seasons or more, a part of all schedules (in tenths) is for what begins with the best of each.
const SEVERAL: u64 = 5;
const REUNION: u64 = 3;

/// Schedules walked on, and schedules learned, in turns once all is bred.
const WALKED: u64 = 10;
const LEARNED: u64 = 20;

/// Up to so many activities a proof is within reach of one long search.
const PROVABLE: usize = 40;
/// Up to so many the learning is worth more schedules than for larger ones.
const LEARNABLE: usize = 90;
/// One search is given no more schedules for learning than this: dead ends take longer than passes do.
const MOST_LEARNED: u64 = 10_000;

/// A project, and what all seasons so far have found.
pub(crate) struct Seasons<'a> {
    of: &'a Compiled<'a>,
    project: &'a Project,
    seed: u64,
    begun: u64,
    made: u64,
    /// The best of each season.
    elders: Vec<Timetable>,
}

impl<'a> Seasons<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>, project: &'a Project, seed: u64) -> Self {
        Self {
            of,
            project,
            seed,
            begun: 0,
            made: 0,
            elders: Vec::new(),
        }
    }

    /// As many seasons as the schedules allow; how many schedules were made.
    pub(crate) fn all(mut self, effort: &Effort<'_>, exchange: &Exchange) -> u64 {
        let total = effort.schedules;
        let is_over = || effort.is_over() || exchange.is_settled();
        let n = self.of.problem.activities.len();
        let several = total / SEASON >= SEVERAL;
        let apart = if several { total / 10 * (10 - REUNION) } else { total };
        let seasons = if n <= PROVABLE { 1 } else { (apart / SEASON).max(1) };
        for season in 0..seasons {
            let left = apart.saturating_sub(self.made);
            self.season(left / (seasons - season), exchange, &is_over);
        }
        if seasons > 1 && self.made < total {
            let elders = std::mem::take(&mut self.elders);
            self.search(&elders, total - self.made, exchange, &is_over);
        }
        self.made
    }

    /// A search that knows nothing of those before.
    fn season(&mut self, schedules: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        let own = Exchange::default();
        own.raise_bound(exchange.bound());
        self.search(&[], schedules, &own, is_over);
        let is_settled = own.is_settled();
        let standing = own.into_standing();
        exchange.raise_bound(standing.bound);
        if let Some((worth, draft)) = &standing.best {
            exchange.offer(*worth, draft);
            self.elders.push(as_timetable(self.of, draft));
        }
        if is_settled {
            exchange.close();
        }
    }

    /// Breeds, then walks on and learns in turns.
    fn search(&mut self, elders: &[Timetable], schedules: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        if is_over() || schedules == 0 {
            return;
        }
        let seed = self.seed.wrapping_add(self.begun * 7_919);
        self.begun += 1;
        let planned = generated_of(self.of.problem.activities.len(), schedules).max(1);
        let mut bred = Bred::new(self.of, self.project, elders, planned, seed);
        bred.advance(planned, exchange, is_over);
        let mut learned = Prover::new(self.of, seed);
        let stop = || exchange.is_settled() || is_over();
        let mut made = bred.made();
        while made < schedules && !stop() {
            learned.advance(learned.made() + LEARNED.min(schedules - made), exchange, is_over);
            let left = schedules.saturating_sub(bred.made() + learned.made());
            bred.advance(bred.made() + WALKED.min(left), exchange, is_over);
            let before = std::mem::replace(&mut made, bred.made() + learned.made());
            if made == before {
                break;
            }
        }
        self.made += made;
    }
}

/// How many of a search's schedules are generated, before what is left is learned.
pub(crate) fn generated_of(n: usize, schedules: u64) -> u64 {
    let share = match n {
        ..=PROVABLE => schedules / 4,
        ..=LEARNABLE => schedules / 10 * 6,
        _ => schedules / 10 * 8,
    };
    share.max(schedules.saturating_sub(MOST_LEARNED))
}
