//! Plain projects: several short searches that know nothing of each other, and one that goes on from the best of each.
//!
//! A search soon settles round one schedule, and more of the same seldom leads away from it: the best of ten that began
//! apart is better than one that took as long as all of them. Each breeds first, then walks on from its best and
//! improves it by learning, in turns. Long searches of larger projects are left to [`Descents`].

use crate::bred::{Bred, as_timetable};
use crate::compiled::Compiled;
use crate::descents::Descents;
use crate::exchange::Exchange;
use crate::outcome::Effort;
use crate::passes::Timetable;
use crate::project::Project;
use crate::proof::Prover;

/// Schedules of one season of a project that learning suits.
const SEASON: u64 = 2_500;
/// Schedules of one season where time is the limit.
const LONG_SEASON: u64 = 40_000;
/// With as many seasons or more, a part of all schedules (in tenths) is for what begins with the best of each.
const SEVERAL: u64 = 5;
const REUNION: u64 = 3;

/// Schedules walked on, and schedules learned, in turns once all is bred.
const TURN: [u64; 2] = [10, 20];

/// Up to so many activities a proof is within reach of one long search.
const PROVABLE: usize = 40;
/// Up to so many the learning is worth more schedules than for larger ones.
const LEARNABLE: usize = 90;
/// Larger projects are searched in [`Descents`] where there are more schedules than this.
const LONG: u64 = 8_000;
/// One season is given no more schedules for learning than this: dead ends take longer than passes do.
pub(crate) const MOST_LEARNED: u64 = 10_000;

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
    pub(crate) fn all(&mut self, effort: &Effort<'_>, exchange: &Exchange) -> u64 {
        let (n, total) = (self.of.problem.activities.len(), effort.schedules);
        if is_long(n, total) {
            let mut descents = Descents::new(self.of, self.project, total, self.seed);
            return descents.all(total, exchange, &|| effort.is_over());
        }
        let is_over = || effort.is_over() || exchange.is_settled();
        let (seasons, apart) = seasons_of(n, total);
        for season in 0..seasons {
            let left = apart.saturating_sub(self.made);
            self.season(left / (seasons - season), MOST_LEARNED, exchange, &is_over);
        }
        if apart < total {
            let elders = std::mem::take(&mut self.elders);
            self.search(
                &elders,
                total.saturating_sub(self.made),
                MOST_LEARNED,
                exchange,
                &is_over,
            );
        }
        self.made
    }

    /// Seasons without learning, which others do meanwhile, until everything is settled or `is_over`; how many schedules
    /// were made.
    pub(crate) fn without_end(&mut self, exchange: &Exchange, is_over: &dyn Fn() -> bool) -> u64 {
        let is_over = || exchange.is_settled() || is_over();
        while !is_over() {
            let before = self.made;
            self.season(LONG_SEASON, 0, exchange, &is_over);
            if self.begun.is_multiple_of(SEVERAL) {
                let elders = std::mem::take(&mut self.elders);
                self.search(&elders, LONG_SEASON, 0, exchange, &is_over);
            }
            if self.made == before {
                break;
            }
        }
        self.made
    }

    /// A search that knows nothing of those before.
    fn season(&mut self, schedules: u64, learned: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        let own = Exchange::default();
        own.raise_bound(exchange.bound());
        self.search(&[], schedules, learned, &own, is_over);
        let best = exchange.take_in(own);
        self.elders.extend(best.map(|draft| as_timetable(self.of, &draft)));
    }

    /// Breeds, then walks on and learns (up to so many schedules) in turns.
    fn search(
        &mut self,
        elders: &[Timetable],
        schedules: u64,
        learned: u64,
        exchange: &Exchange,
        is_over: &dyn Fn() -> bool,
    ) {
        if is_over() || schedules == 0 {
            return;
        }
        let seed = self.seed.wrapping_add(self.begun * 7_919);
        self.begun += 1;
        let n = self.of.problem.activities.len();
        let planned = match learned {
            0 => schedules / 2,
            _ => generated_of(n, schedules),
        };
        let mut bred = Bred::new(self.of, self.project, elders, planned.max(1), seed);
        bred.advance(planned.max(1), exchange, is_over);
        let mut learner = (learned > 0).then(|| Prover::new(self.of, seed));
        let learned_of = |learner: &Option<Prover<'_>>| learner.as_ref().map_or(0, Prover::made);
        let stop = || exchange.is_settled() || is_over();
        let [walked, taught] = TURN;
        let mut made = bred.made();
        while made < schedules && !stop() {
            if let Some(learner) = learner.as_mut().filter(|learner| learner.made() < learned) {
                learner.advance(learner.made() + taught.min(schedules - made), exchange, is_over);
            }
            let left = schedules.saturating_sub(bred.made() + learned_of(&learner));
            bred.advance(bred.made() + walked.min(left), exchange, is_over);
            let before = std::mem::replace(&mut made, bred.made() + learned_of(&learner));
            if made == before {
                break;
            }
        }
        self.made += made;
    }
}

/// How many seasons, and how many of all schedules they share; the others are for what begins with the best of each.
fn seasons_of(n: usize, total: u64) -> (u64, u64) {
    let seasons = (total / SEASON).max(1);
    if n <= PROVABLE || n > LEARNABLE {
        (1, total)
    } else if seasons < SEVERAL {
        (seasons, total)
    } else {
        let apart = total / 10 * (10 - REUNION);
        (apart / SEASON, apart)
    }
}

/// How many of a search's schedules are generated, before what is left is learned.
pub(crate) fn generated_of(n: usize, schedules: u64) -> u64 {
    if n <= PROVABLE {
        schedules / 4
    } else {
        schedules / 10 * 6
    }
}

/// A long search of a larger project.
const fn is_long(n: usize, schedules: u64) -> bool {
    n > LEARNABLE && schedules > LONG
}

#[cfg(test)]
mod tests {
    use super::{Seasons, generated_of, seasons_of};
    use crate::compiled::Compiled;
    use crate::exchange::Exchange;
    use crate::model::Problem;
    use crate::outcome::Effort;
    use crate::project::Project;
    use crate::project::examples::steps;

    #[test]
    fn of_many_seasons_three_tenths_are_for_what_goes_on_from_all_of_them() {
        assert_eq!(seasons_of(60, 1_000), (1, 1_000));
        assert_eq!(seasons_of(60, 5_000), (2, 5_000));
        // Five would fit: 8,750 of the 12,500 are three seasons.
        assert_eq!(seasons_of(60, 12_500), (3, 8_750));
        assert_eq!(seasons_of(60, 50_000), (14, 35_000));
        assert_eq!(seasons_of(30, 50_000), (1, 50_000));
        assert_eq!(seasons_of(120, 5_000), (1, 5_000));
    }

    #[test]
    fn what_is_not_bred_is_left_for_walking_and_learning() {
        assert_eq!(generated_of(30, 5_000), 1_250);
        assert_eq!(generated_of(60, 2_500), 1_500);
        assert_eq!(generated_of(120, 5_000), 3_000);
    }

    /// Completion, whether it is proved, schedules made and searches begun.
    fn searched(problem: &Problem, schedules: u64) -> (Option<i64>, bool, u64, u64) {
        let compiled = Compiled::new(problem);
        let project = Project::of(&compiled).unwrap();
        let exchange = Exchange::default();
        let mut seasons = Seasons::new(&compiled, &project, 1);
        let made = seasons.all(&Effort::schedules(schedules), &exchange);
        let standing = exchange.into_standing();
        let completion = standing.best.map(|(worth, _)| worth.1.completion);
        (completion, standing.proved, made, seasons.begun)
    }

    #[test]
    fn what_is_not_settled_takes_all_seasons_and_the_one_that_goes_on() {
        // Two steps never find six places each: 15 of each kind follow each other for 15 × 9 minutes. By their work
        // alone they need two thirds of that, so that nobody knows that it is the best.
        let found = searched(&steps(45, 6), 12_500);
        assert_eq!(found, (Some(135), false, 12_500, 4));
    }

    #[test]
    fn a_season_that_proves_its_best_ends_all() {
        // Three steps side by side: 45 minutes of three at once, and no shorter.
        let (completion, is_proved, made, begun) = searched(&steps(45, 3), 12_500);
        assert_eq!((completion, is_proved, begun), (Some(45), true, 1));
        assert!(
            made < 2_500,
            "{made} schedules, though the first season has the best there is"
        );
    }

    #[test]
    fn a_long_search_of_a_larger_project_is_no_season() {
        let begun = |schedules| searched(&steps(93, 3), schedules).3;
        assert_eq!((begun(8_000), begun(8_001)), (1, 0));
    }

    #[test]
    fn without_end_means_until_somebody_says_so_or_nothing_better_exists() {
        let in_time = |problem: &Problem, patience: usize| {
            let compiled = Compiled::new(problem);
            let project = Project::of(&compiled).unwrap();
            let exchange = Exchange::default();
            let asked = std::cell::Cell::new(0);
            let is_over = || asked.replace(asked.get() + 1) >= patience;
            let made = Seasons::new(&compiled, &project, 1).without_end(&exchange, &is_over);
            let standing = exchange.into_standing();
            let completion = standing.best.map(|(worth, _)| worth.1.completion);
            (completion, standing.proved, made)
        };
        let (completion, is_proved, made) = in_time(&steps(45, 6), 3_000);
        assert_eq!((completion, is_proved), (Some(135), false));
        assert!(
            (3_000..40_000).contains(&made),
            "{made}, asked at least once a generation"
        );
        let (completion, is_proved, made) = in_time(&steps(45, 3), usize::MAX);
        assert_eq!((completion, is_proved), (Some(45), true));
        assert!(made < 40_000, "{made}");
    }
}
