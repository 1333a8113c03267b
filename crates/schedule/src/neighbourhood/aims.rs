//! What has to end sooner: the groups that a part must let go of, lest nothing better can be in it.

use super::Neighbourhood;
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::model::Minute;

/// What ends so much before the last has to end sooner with it.
const DAY: Minute = 1_440;

impl Neighbourhood {
    /// For each group whether it has to end sooner: a late one, each as often as it costs, or all that end last.
    pub(super) fn aims(&self, of: &Compiled<'_>, draft: &Draft, chance: &mut Chance) -> Vec<bool> {
        let late = self.late(of, draft);
        let total: i64 = late.iter().sum();
        let completion = match i64::from(of.problem.completion_weight) {
            0 if total == 0 => DAY,
            weight => weight * DAY,
        };
        match costly(&late, draw(total + completion, chance)) {
            Some(group) => self.only(group),
            None => self.last(draft),
        }
    }

    /// One group: a late one, each as often as it costs, or now and then any.
    pub(super) fn any_aim(&self, of: &Compiled<'_>, draft: &Draft, chance: &mut Chance) -> Vec<bool> {
        let late = self.late(of, draft);
        let total: i64 = late.iter().sum();
        let by_chance = total == 0 || chance.once_in(3);
        let costly = costly(&late, draw(total, chance)).filter(|_| !by_chance);
        self.only(costly.unwrap_or_else(|| chance.below(self.strands.n_groups)))
    }

    fn only(&self, group: usize) -> Vec<bool> {
        (0..self.strands.n_groups).map(|other| other == group).collect()
    }

    /// What each group is late, weighted.
    fn late(&self, of: &Compiled<'_>, draft: &Draft) -> Vec<i64> {
        let mut costs = vec![0; self.strands.n_groups];
        for due in &of.problem.dues {
            let late = draft.places[due.activity.0].map_or(0, |place| (place.end - due.at).max(0));
            costs[self.strands.group[due.activity.0]] += late * i64::from(due.weight);
        }
        costs
    }

    /// Whether each group ends within a day of the last.
    fn last(&self, draft: &Draft) -> Vec<bool> {
        let mut ends = vec![Minute::MIN; self.strands.n_groups];
        for (place, &group) in draft.places.iter().zip(&self.strands.group) {
            ends[group] = ends[group].max(place.map_or(Minute::MIN, |place| place.end));
        }
        let completion = ends.iter().copied().max().unwrap_or(0);
        ends.iter().map(|&end| end > completion - DAY).collect()
    }
}

/// One of so many minutes by chance; 0 if there are none.
fn draw(minutes: i64, chance: &mut Chance) -> i64 {
    let n = usize::try_from(minutes).unwrap_or(0).max(1);
    i64::try_from(chance.below(n)).unwrap_or(0)
}

/// The group to which this minute belongs, where each has as many as it costs; none if it lies beyond them all.
fn costly(costs: &[i64], minute: i64) -> Option<usize> {
    let mut left = minute;
    costs.iter().position(|cost| {
        let is_it = left < *cost;
        left -= cost;
        is_it
    })
}

#[cfg(test)]
mod tests {
    use crate::chance::Chance;
    use crate::compiled::Compiled;
    use crate::draft::{Draft, Place};
    use crate::model::{Activity, Due, Minute, Problem};
    use crate::neighbourhood::Neighbourhood;

    /// Four by themselves of an hour each, ending at 100, 2,000, 3,000 and 3,900; the first two are wanted by 40, where
    /// the second counts twice: 60 and 3,920 weighted minutes late.
    fn four(completion_weight: u32) -> (Problem, Draft) {
        let mut problem = Problem {
            horizon: 10_000,
            completion_weight,
            ..Problem::default()
        };
        let ends: [Minute; 4] = [100, 2_000, 3_000, 3_900];
        for (at, weight) in [(0, 1), (1, 2), (2, 0), (3, 0)] {
            let activity = problem.add(Activity::unattended("", 60));
            assert_eq!(activity.0, at);
            problem.dues.push(Due {
                activity,
                at: 40,
                weight,
            });
        }
        let place = |end: Minute| {
            Some(Place {
                start: end - 60,
                end,
                team: None,
            })
        };
        let draft = Draft {
            places: ends.map(place).to_vec(),
            missing: 0,
        };
        (problem, draft)
    }

    /// How often each set of groups is aimed at, of 5,420 draws.
    fn drawn(problem: &Problem, draft: &Draft) -> [u32; 3] {
        let of = Compiled::new(problem);
        let near = Neighbourhood::new(&of);
        let mut chance = Chance::new(1);
        let mut n = [0; 3];
        for _ in 0..5_420 {
            let aims = near.aims(&of, draft, &mut chance);
            let which = match aims[..] {
                [true, false, false, false] => 0,
                [false, true, false, false] => 1,
                [false, false, true, true] => 2,
                _ => panic!("{aims:?}"),
            };
            n[which] += 1;
        }
        n
    }

    #[test]
    fn what_is_late_is_aimed_at_as_often_as_it_costs_and_what_ends_last_for_a_day_of_completion() {
        let (problem, draft) = four(1);
        let [first, second, last] = drawn(&problem, &draft);
        assert!((30..100).contains(&first), "{first}, of 60 expected");
        assert!((3_780..4_060).contains(&second), "{second}, of 3,920 expected");
        assert!((1_300..1_580).contains(&last), "{last}, of 1,440 expected");
    }

    /// By hand, of 5,420: a third by chance, 452 for each; of the other 3,613 the second has 3,920 of 3,980: 3,559.
    #[test]
    fn any_one_is_aimed_at_now_and_then_and_else_what_is_late() {
        let (problem, draft) = four(1);
        let of = Compiled::new(&problem);
        let near = Neighbourhood::new(&of);
        let mut chance = Chance::new(1);
        let mut n = [0; 4];
        for _ in 0..5_420 {
            let aims = near.any_aim(&of, &draft, &mut chance);
            assert_eq!(aims.iter().filter(|aim| **aim).count(), 1);
            n[aims.iter().position(|aim| *aim).unwrap()] += 1;
        }
        assert!((3_850..4_170).contains(&n[1]), "{n:?}, of 4,011 expected");
        assert!(n[2..].iter().all(|n| (370..540).contains(n)), "{n:?}, of 452 expected");
    }

    #[test]
    fn completion_is_aimed_at_without_weight_only_where_nothing_is_late() {
        let (mut problem, draft) = four(0);
        assert_eq!(drawn(&problem, &draft)[2], 0);
        problem.dues.clear();
        assert_eq!(drawn(&problem, &draft), [0, 0, 5_420]);
    }
}
