//! Long searches of larger projects: many short descents, each from a schedule that was good and has been disturbed.
//!
//! Walking and learning settle within a few hundred schedules, wherever they begin; more of the same gives little. So a
//! few that were bred, each unlike the others, are settled first. From then on one of them is taken by chance, its
//! priorities are disturbed, and what comes of it is settled and takes its place unless it is longer (iterated local
//! search, after Lourenço, Martin and Stützle 2003). The longest leave one after the other, until one is left.

use crate::bred::{Bred, as_draft, as_timetable};
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::exchange::Exchange;
use crate::model::Problem;
use crate::passes::Timetable;
use crate::project::Project;
use crate::proof::Prover;
use crate::score::worth;

/// So many are settled and disturbed at first.
const PLACES: usize = 12;

/// How much of what a search consists of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Manner {
    /// Tenths of all schedules that are bred first.
    bred: u64,
    /// Schedules learned, and schedules walked, in turns.
    learned: u64,
    walked: u64,
    /// Who has found nothing better in so many schedules is settled.
    patience: u64,
}

/// Where some activities leave a resource alone, dead ends are shallow and teach much.
const LEARNED: Manner = Manner {
    bred: 1,
    learned: 50,
    walked: 50,
    patience: 200,
};
/// Where nearly all need everything, each dead end takes more starts than it is worth.
const WALKED: Manner = Manner {
    bred: 4,
    learned: 25,
    walked: 100,
    patience: 400,
};
/// So many tenths of all needs that there could be, for that.
const DENSE: usize = 9;

/// The search, and who is disturbed next.
pub(crate) struct Descents<'a> {
    of: &'a Compiled<'a>,
    project: &'a Project,
    manner: Manner,
    bred: Bred<'a>,
    seed: u64,
    begun: u64,
    made: u64,
    chance: Chance,
    places: Vec<Timetable>,
}

impl<'a> Descents<'a> {
    /// A search that may take so many schedules.
    pub(crate) fn new(of: &'a Compiled<'a>, project: &'a Project, schedules: u64, seed: u64) -> Self {
        let manner = if is_dense(of.problem) { WALKED } else { LEARNED };
        Self {
            of,
            project,
            manner,
            bred: Bred::new(of, project, &[], manner.bred_of(schedules), seed),
            seed,
            begun: 0,
            made: 0,
            chance: Chance::new(!seed),
            places: Vec::new(),
        }
    }

    /// Works until so many schedules are made, or everything is settled, or `is_over`; how many were made.
    pub(crate) fn all(&mut self, schedules: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) -> u64 {
        self.bred.advance(self.manner.bred_of(schedules), exchange, is_over);
        self.made = self.bred.made();
        let goes_on = |made: u64| made < schedules && !exchange.is_settled() && !is_over();
        for table in self.bred.unlike(PLACES) {
            if goes_on(self.made) {
                let settled = self.settle(&table, schedules, exchange, is_over);
                self.places.push(settled);
            }
        }
        let first = self.places.len();
        while goes_on(self.made) {
            self.dismiss(left_of(first, self.made, schedules));
            let place = self.chance.below(self.places.len());
            let Some(known) = self.places.get(place) else { break };
            let before = self.bred.made();
            let disturbed = self.bred.disturbed(known);
            self.made += self.bred.made() - before;
            let settled = self.settle(&disturbed, schedules, exchange, is_over);
            if settled.length <= self.places[place].length {
                self.places[place] = settled;
            }
        }
        self.made
    }

    /// The longest leave, until so many are left.
    fn dismiss(&mut self, left: usize) {
        while self.places.len() > left.max(1) {
            let longest = (0..self.places.len()).max_by_key(|&place| self.places[place].length);
            self.places.remove(longest.unwrap_or(0));
        }
    }

    /// Learns and walks on from a schedule in turns, knowing nothing of others, until that gives nothing any more.
    fn settle(
        &mut self,
        from: &Timetable,
        schedules: u64,
        exchange: &Exchange,
        is_over: &dyn Fn() -> bool,
    ) -> Timetable {
        self.begun += 1;
        let seed = self.seed.wrapping_add(self.begun);
        let own = Exchange::default();
        own.raise_bound(exchange.bound());
        let draft = as_draft(self.of, from);
        own.offer(worth(self.of, &draft), &draft);
        let mut walker = Bred::new(self.of, self.project, &[], 0, seed);
        let mut learner = Prover::short(self.of, seed);
        let left = schedules.saturating_sub(self.made);
        let (mut made, mut since, mut known) = (0, 0, own.worth());
        while made < left.min(since + self.manner.patience) && !own.is_settled() && !is_over() {
            learner.advance(learner.made() + self.manner.learned.min(left - made), &own, is_over);
            let rest = left.saturating_sub(walker.made() + learner.made());
            walker.advance(walker.made() + self.manner.walked.min(rest), &own, is_over);
            let before = std::mem::replace(&mut made, walker.made() + learner.made());
            if own.worth() < known {
                (since, known) = (made, own.worth());
            } else if made == before {
                break;
            }
        }
        self.made += made;
        let settled = exchange.take_in(own);
        settled.map_or_else(|| from.clone(), |draft| as_timetable(self.of, &draft))
    }
}

impl Manner {
    /// How many of so many schedules are bred; one at least.
    fn bred_of(self, schedules: u64) -> u64 {
        (schedules / 10 * self.bred).max(1)
    }
}

/// Whether nearly every activity needs nearly every resource.
fn is_dense(problem: &Problem) -> bool {
    let needs: usize = problem.activities.iter().map(|activity| activity.uses.len()).sum();
    needs * 10 >= problem.activities.len() * problem.resources.len() * DENSE
}

/// How many of the first places are left once so many of all schedules are made: from all of them down to one.
fn left_of(first: usize, made: u64, schedules: u64) -> usize {
    let to_leave = u64::from(crate::number::small(first)).saturating_sub(1);
    let left = u128::from(to_leave) * u128::from(schedules.saturating_sub(made)) / u128::from(schedules.max(1));
    1 + usize::try_from(left).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::{Descents, is_dense, left_of};
    use crate::chance::Chance;
    use crate::compiled::Compiled;
    use crate::exchange::Exchange;
    use crate::model::{Activity, Minute, Problem, Resource, ResourceId, Use};
    use crate::number::minutes;
    use crate::passes::Timetable;
    use crate::project::Project;
    use crate::project::examples::{problem, steps};

    #[test]
    fn all_stay_at_first_and_one_at_the_end() {
        let left: Vec<usize> = [0, 10, 25, 50, 99, 100].map(|made| left_of(12, made, 100)).to_vec();
        // 11 are to leave: of these 11, 9.9, 8.25, 5.5, 0.11 and none are left beside the last.
        assert_eq!(left, [12, 10, 9, 6, 1, 1]);
        assert_eq!((left_of(1, 0, 100), left_of(0, 0, 0)), (1, 1));
    }

    fn table(length: i32) -> Timetable {
        Timetable {
            start: Vec::new(),
            length,
        }
    }

    #[test]
    fn the_longest_leave_first() {
        let problem = steps(3, 6);
        let compiled = Compiled::new(&problem);
        let project = Project::of(&compiled).unwrap();
        let mut descents = Descents::new(&compiled, &project, 100, 1);
        descents.places = [15, 19, 17, 19, 16].map(table).to_vec();
        let left = |descents: &Descents<'_>| descents.places.iter().map(|t| t.length).collect::<Vec<_>>();
        descents.dismiss(3);
        assert_eq!(left(&descents), [15, 17, 16]);
        descents.dismiss(0);
        assert_eq!(left(&descents), [15], "one stays");
    }

    /// Completion, whether it is proved, schedules made and descents begun.
    fn searched(problem: &Problem, schedules: u64) -> (Option<i64>, bool, u64, u64) {
        let compiled = Compiled::new(problem);
        let project = Project::of(&compiled).unwrap();
        let exchange = Exchange::default();
        let mut descents = Descents::new(&compiled, &project, schedules, 1);
        let made = descents.all(schedules, &exchange, &|| false);
        let standing = exchange.into_standing();
        let completion = standing.best.map(|(worth, _)| worth.1.completion);
        (completion, standing.proved, made, descents.begun)
    }

    /// The same with a resource that nobody needs.
    fn with_a_spare_resource(mut problem: Problem) -> Problem {
        problem.resources.push(Resource::constant("nobody's", 1));
        problem
    }

    #[test]
    fn dense_is_who_needs_nine_tenths_of_all_that_could_be_needed() {
        assert!(is_dense(&steps(10, 6)));
        let mut spare = with_a_spare_resource(steps(10, 6));
        assert!(!is_dense(&spare), "10 needs of 20");
        let both = |activity: &mut Activity| {
            let (resource, amount) = (ResourceId(1), 1);
            activity.uses.push(Use { resource, amount });
        };
        spare.activities.iter_mut().take(7).for_each(both);
        assert!(!is_dense(&spare), "17 needs of 20");
        spare.activities.iter_mut().skip(7).take(1).for_each(both);
        assert!(is_dense(&spare), "18 needs of 20");
    }

    #[test]
    fn what_is_not_settled_takes_all_schedules_in_many_descents() {
        // Two steps never find six places each: 31 of each kind follow each other for 31 × 9 minutes.
        // Dense: 800 are bred, and a descent that finds nothing better takes 400 and a few. Else 200 and 200.
        let dense = steps(93, 6);
        let spare = with_a_spare_resource(steps(93, 6));
        for (problem, descents) in [(dense, 2..=4), (spare, 6..=9)] {
            let (completion, is_proved, made, begun) = searched(&problem, 2_000);
            assert_eq!((completion, is_proved), (Some(279), false));
            assert!((2_000..2_010).contains(&made), "{made}");
            assert!(descents.contains(&begun), "{begun} of {descents:?}");
        }
    }

    #[test]
    fn a_proof_ends_all() {
        // Three steps side by side: 31 × 9 minutes of three at once, and no shorter.
        let (completion, is_proved, made, _) = searched(&steps(93, 3), 3_000);
        assert_eq!((completion, is_proved), (Some(93), true));
        assert!(made < 3_000, "{made}");
    }

    #[test]
    fn what_is_settled_is_never_longer_than_what_it_came_from() {
        let mut chance = Chance::new(5);
        let all: Vec<(Minute, u32)> = (0..95)
            .map(|_| {
                (
                    1 + minutes(chance.below(9)),
                    u32::try_from(1 + chance.below(5)).unwrap(),
                )
            })
            .collect();
        let follows: Vec<(usize, usize)> = (10..95).map(|at| (at - 1 - chance.below(10), at)).collect();
        let problem = problem(9, &all, &follows);
        let compiled = Compiled::new(&problem);
        let project = Project::of(&compiled).unwrap();
        let exchange = Exchange::default();
        let mut descents = Descents::new(&compiled, &project, 4_000, 1);
        descents.bred.advance(100, &exchange, &|| false);
        let bred = descents.bred.unlike(3);
        let mut shorter = 0;
        for from in &bred {
            let settled = descents.settle(from, 4_000, &exchange, &|| false);
            assert!(settled.length <= from.length);
            shorter += from.length - settled.length;
        }
        assert!(!bred.is_empty() && shorter > 0, "{} bred", bred.len());
    }
}
