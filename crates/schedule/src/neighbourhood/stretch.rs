//! One stretch of time as a neighbourhood: which one, and how much of the rest may give way.

use super::{Near, Neighbourhood, by_start};
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::model::{Minute, Resource};
use crate::number::minutes;
use crate::stated::Stated;

/// Where a plan is to shrink, what comes after the stretch may start so many units earlier and so many later. Short
/// searches take all of these by turns of chance: the first makes the least of a stretch, and the last is the others'.
const LOOSE: [[Minute; 2]; 3] = [[1, -1], [1, 0], [2, 1]];
/// Short searches take the roomiest of so many stretches by chance.
const LOOKS: usize = 3;

impl Neighbourhood {
    /// Assumptions which fix all but a stretch of time; none if everything would be free. To shrink a plan for which
    /// nothing but its length counts, everything after the stretch comes about one unit earlier.
    pub(crate) fn stretch(
        &mut self,
        of: &Compiled<'_>,
        draft: &Draft,
        stated: &Stated<'_>,
        shrink: bool,
        chance: &mut Chance,
    ) -> Option<Near> {
        let n = draft.places.len();
        self.shape = if self.short { chance.below(LOOSE.len()) } else { 0 };
        let [earlier, later] = if self.short { LOOSE[self.shape] } else { LOOSE[2] };
        let size = self.size();
        if size >= n {
            return None;
        }
        let by_start = by_start(draft);
        let mut free = vec![false; n];
        let from = if self.short {
            roomiest(of, draft, &by_start, size, chance)
        } else {
            chance.below(n - size + 1)
        };
        by_start[from..from + size].iter().for_each(|&(_, at)| free[at] = true);
        let after = by_start[from + size - 1].0;
        let shrink = shrink && self.plain;
        if shrink {
            by_start[from + size..]
                .iter()
                .filter(|(start, _)| *start == after)
                .for_each(|&(_, at)| free[at] = true);
        }
        let n_free = minutes(free.iter().filter(|free| **free).count()).unsigned_abs();
        let mut fixed = Vec::with_capacity(2 * n);
        for &(start, at) in by_start.iter().filter(|&&(_, at)| !free[at]) {
            if shrink && start > after {
                let [not_before, _] = stated.starts_at(at, start - earlier * of.problem.grid);
                let [_, not_after] = stated.starts_at(at, start + later * of.problem.grid);
                fixed.extend([not_before, not_after]);
            } else {
                fixed.extend(stated.starts_at(at, start));
            }
        }
        Some(Near { fixed, free: n_free })
    }
}

/// Where the roomiest of some stretches of so many activities begins, among all by their start: little is ever gained
/// where a resource is taken all the time.
fn roomiest(of: &Compiled<'_>, draft: &Draft, by_start: &[(Minute, usize)], size: usize, chance: &mut Chance) -> usize {
    let looks = (0..LOOKS).map(|_| chance.below(by_start.len() - size + 1));
    let looks: Vec<usize> = looks.collect();
    let room = |&from: &usize| room(of, draft, by_start[from].0, by_start[from + size - 1].0);
    looks.into_iter().max_by_key(room).unwrap_or(0)
}

/// What is left free between two starts of the resource that is taken most: thousandths of its capacity.
fn room(of: &Compiled<'_>, draft: &Draft, from: Minute, to: Minute) -> i64 {
    let to = to.max(from + 1);
    let mut taken = vec![0; of.problem.resources.len()];
    for (activity, place) in of.problem.activities.iter().zip(&draft.places) {
        let inside = place.map_or(0, |place| place.end.min(to) - place.start.max(from));
        for used in activity.uses.iter().filter(|_| inside > 0) {
            taken[used.resource.0] += inside * i64::from(used.amount);
        }
    }
    let left = |(taken, resource): (i64, &Resource)| {
        let all = (to - from) * i64::from(resource.most());
        1_000 * (all - taken) / all.max(1)
    };
    let each = taken.into_iter().zip(&of.problem.resources).map(left);
    each.min().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::{room, roomiest};
    use crate::chance::Chance;
    use crate::compiled::Compiled;
    use crate::draft::{Draft, Place};
    use crate::model::{Minute, Problem};
    use crate::neighbourhood::{Neighbourhood, by_start};
    use crate::project::examples::{problem, two_places};
    use crate::stated::Stated;
    use std::collections::BTreeSet;

    /// The activities at these starts.
    fn at(problem: &Problem, starts: impl IntoIterator<Item = Minute>) -> Draft {
        let place = |(start, of): (Minute, &crate::model::Activity)| {
            Some(Place {
                start,
                end: start + of.duration,
                team: None,
            })
        };
        Draft {
            places: starts.into_iter().zip(&problem.activities).map(place).collect(),
            missing: 0,
        }
    }

    #[test]
    fn room_is_what_the_fullest_resource_has_left() {
        let problem = two_places();
        let of = Compiled::new(&problem);
        // Both places are taken to 5, one to 9, both from 9 to 12: 24 place-minutes less 20.
        let draft = at(&problem, [0, 0, 5, 9, 9]);
        assert_eq!(room(&of, &draft, 0, 5), 0);
        assert_eq!(room(&of, &draft, 5, 9), 500);
        assert_eq!(room(&of, &draft, 0, 12), 1_000 * 4 / 24);
        assert_eq!(room(&of, &draft, 5, 5), 500, "one minute at least");
    }

    /// Sixty activities of ten minutes in a row, the second half with one of two places left free.
    fn row() -> (Problem, Draft) {
        let all: Vec<(Minute, u32)> = (0..60).map(|at| (10, if at < 30 { 2 } else { 1 })).collect();
        let follows: Vec<(usize, usize)> = (1..60).map(|at| (at - 1, at)).collect();
        let problem = problem(2, &all, &follows);
        let draft = at(&problem, (0..60).map(|at| at * 10));
        (problem, draft)
    }

    #[test]
    fn the_roomiest_of_three_is_taken() {
        let (problem, draft) = row();
        let of = Compiled::new(&problem);
        let (by_start, mut chance) = (by_start(&draft), Chance::new(3));
        let total: usize = (0..400)
            .map(|_| roomiest(&of, &draft, &by_start, 20, &mut chance))
            .sum();
        // Room grows from the 11th start to the 31st of 41. The largest of three by chance is the 31st on average.
        assert!((11_400..12_600).contains(&total), "{total} / 400");
    }

    #[test]
    fn short_searches_move_the_rest_by_one_or_let_it_give_way() {
        let (problem, draft) = row();
        let of = Compiled::new(&problem);
        let stated = Stated::new(&of, 1).unwrap();
        let met = |mut near: Neighbourhood| {
            let mut chance = Chance::new(1);
            let mut met = BTreeSet::new();
            for _ in 0..60 {
                let near = near.stretch(&of, &draft, &stated, true, &mut chance).unwrap();
                assert_eq!(near.free, 25);
                // The last that does not stay comes after the stretch, unless it is in it.
                let [least, most] = near.fixed[near.fixed.len() - 2..] else {
                    continue;
                };
                let [stays, _] = stated.starts_at(59, 590);
                if least.side == stays.side {
                    met.insert((least.at - 590, -most.at - 590));
                }
            }
            met.into_iter().collect::<Vec<_>>()
        };
        assert_eq!(met(Neighbourhood::new(&of)), [(-2, 1)]);
        assert_eq!(met(Neighbourhood::new(&of).short()), [(-2, 1), (-1, -1), (-1, 0)]);
    }
}
