//! What may move while everything else stays: the neighbourhoods of a plan.
//!
//! Two shapes: all that lies in one stretch of time, and all that leads up to a few of the ends that matter. Their
//! size follows what happens: refuted quickly, larger; out of patience, smaller.

mod stretch;

use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::learn::{Lit, Status};
use crate::model::Minute;
use crate::number::{minutes, small};
use crate::strands::Strands;

/// A neighbourhood as assumptions that fix all the rest, and how many activities are free.
#[derive(Debug)]
pub(crate) struct Near {
    pub(crate) fixed: Vec<Lit>,
    pub(crate) free: u64,
}

/// Chooses neighbourhoods of a size that suits.
#[derive(Debug)]
pub(crate) struct Neighbourhood {
    /// Activities free to move, about, for each shape.
    sizes: [f64; SHAPES],
    shape: usize,
    /// No shape grows beyond this.
    largest: f64,
    strands: Strands,
    plain: bool,
    /// For a short search, which should gain soon or not at all.
    short: bool,
}

/// Shapes of neighbourhoods.
const SHAPES: usize = 4;

impl Neighbourhood {
    pub(crate) fn new(of: &Compiled<'_>) -> Self {
        Self {
            sizes: [25.0; SHAPES],
            shape: 0,
            largest: f64::from(small(of.problem.activities.len())),
            strands: Strands::new(of),
            plain: of.problem.activities.iter().all(|a| a.hands == 0 && a.pin.is_none()),
            short: false,
        }
    }

    /// The same for a short search: stretches where more is left free are rather chosen.
    pub(crate) fn short(self) -> Self {
        Self { short: true, ..self }
    }

    pub(crate) const fn is_short(&self) -> bool {
        self.short
    }

    /// A group by chance; one that is late rather than one that is not.
    fn costly_group(&self, of: &Compiled<'_>, draft: &Draft, chance: &mut Chance) -> usize {
        let n = self.strands.n_groups;
        if chance.once_in(3) {
            return chance.below(n);
        }
        let mut costs = vec![0; n];
        for due in &of.problem.dues {
            let late = draft.places[due.activity.0].map_or(0, |place| (place.end - due.at).max(0));
            costs[self.strands.group[due.activity.0]] += late * i64::from(due.weight);
        }
        let total: i64 = costs.iter().sum();
        let mut left = chance.below(usize::try_from(total).unwrap_or(0) + 1);
        for (group, &cost) in costs.iter().enumerate() {
            let cost = usize::try_from(cost).unwrap_or(0);
            if left < cost {
                return group;
            }
            left -= cost;
        }
        chance.below(n)
    }

    /// Frees whole groups, the first a costly one, until so many are free.
    fn free_groups(&self, of: &Compiled<'_>, draft: &Draft, size: usize, free: &mut [bool], chance: &mut Chance) {
        let mut left = size;
        let mut taken = Vec::new();
        for turn in 0..self.strands.n_groups {
            let group = if turn == 0 {
                self.costly_group(of, draft, chance)
            } else {
                chance.below(self.strands.n_groups)
            };
            if taken.contains(&group) {
                continue;
            }
            taken.push(group);
            for (free, _) in free.iter_mut().zip(&self.strands.group).filter(|(_, of)| **of == group) {
                *free = true;
                left = left.saturating_sub(1);
            }
            if left == 0 {
                break;
            }
        }
    }

    /// Frees strands that are at work near a moment of a costly group, whole (`tails` false) or from then on.
    fn free_strands(
        &self,
        of: &Compiled<'_>,
        draft: &Draft,
        size: usize,
        tails: bool,
        free: &mut [bool],
        chance: &mut Chance,
    ) {
        let group = self.costly_group(of, draft, chance);
        let mine: Vec<usize> = (0..free.len()).filter(|&at| self.strands.group[at] == group).collect();
        let Some(&first) = mine.get(chance.below(mine.len())) else {
            return;
        };
        let start_of = |at: usize| draft.places[at].map_or(0, |place| place.start);
        let moment = start_of(first);
        let mut near: Vec<(Minute, usize)> = Vec::new();
        for (index, strand) in self.strands.all.iter().enumerate() {
            let (Some(&a), Some(&b)) = (strand.activities.first(), strand.activities.last()) else {
                continue;
            };
            let away = (start_of(a) - moment).max(moment - start_of(b)).max(0);
            let away = if strand.group == group { away / 4 } else { away };
            near.push((away + minutes(chance.below(1_440)), index));
        }
        near.sort_unstable();
        let mut left = size;
        for (_, strand) in near {
            for &at in &self.strands.all[strand].activities {
                if !tails || start_of(at) >= moment {
                    free[at] = true;
                    left = left.saturating_sub(1);
                    // What closes a group goes with it.
                    for &next in &of.next[at] {
                        if of.next[next].is_empty() && !free[next] {
                            free[next] = true;
                            left = left.saturating_sub(1);
                        }
                    }
                }
            }
            if left == 0 {
                break;
            }
        }
    }

    /// What is to move this time; none if it would be everything.
    pub(crate) fn choose(&mut self, of: &Compiled<'_>, draft: &Draft, chance: &mut Chance) -> Option<Vec<bool>> {
        let n = draft.places.len();
        self.shape = if self.strands.n_groups < 2 {
            0
        } else {
            chance.below(SHAPES)
        };
        // What is left standing makes the part; a quarter at least.
        let most = n - n.div_ceil(4);
        if most == 0 {
            return None;
        }
        let size = self.size().min(most);
        let mut free = vec![false; n];
        match self.shape {
            0 => {
                let from = chance.below(n - size + 1);
                by_start(draft)[from..from + size]
                    .iter()
                    .for_each(|&(_, at)| free[at] = true);
            }
            1 => self.free_groups(of, draft, size, &mut free, chance),
            shape => self.free_strands(of, draft, size, shape == 3, &mut free, chance),
        }
        Some(free)
    }

    /// A quarter to a half of everything, for a leap.
    pub(crate) fn choose_wide(&mut self, of: &Compiled<'_>, draft: &Draft, chance: &mut Chance) -> Option<Vec<bool>> {
        let n = draft.places.len();
        let size = n / 4 + chance.below(n / 4 + 1);
        let mut free = vec![false; n];
        match chance.below(3) {
            0 => {
                let from = chance.below(n - size + 1);
                by_start(draft)[from..from + size]
                    .iter()
                    .for_each(|&(_, at)| free[at] = true);
            }
            1 => self.free_groups(of, draft, size, &mut free, chance),
            _ => self.free_strands(of, draft, size, false, &mut free, chance),
        }
        Some(free)
    }

    fn size(&self) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 5 and the number of activities"
        )]
        let size = self.sizes[self.shape] as usize;
        size
    }

    /// Grows or shrinks by what came of the last.
    pub(crate) fn learn(&mut self, status: Status) {
        // Parts cost what they are large, stretches what the whole is.
        let growth = if self.plain { 1.02 } else { 1.1 };
        let size = &mut self.sizes[self.shape];
        match status {
            Status::NotSo | Status::Never => *size = (*size * growth).min(self.largest),
            Status::Limit => *size = (*size * 0.95).max(5.0),
            Status::Found => {}
        }
    }
}

/// Activities by their start.
fn by_start(draft: &Draft) -> Vec<(Minute, usize)> {
    let starts = draft.places.iter().map(|place| place.map_or(0, |p| p.start));
    let mut by_start: Vec<(Minute, usize)> = starts.zip(0..).collect();
    by_start.sort_unstable();
    by_start
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::Place;
    use crate::model::{Activity, ActivityId, Lag, Problem, Wait};

    /// Sixty activities of ten minutes one after the other in a single chain, and where they stand.
    fn chain() -> (Problem, Draft) {
        let mut problem = Problem {
            horizon: 10_000,
            ..Problem::default()
        };
        for place in 0..60 {
            let id = problem.add(Activity::unattended("", 10));
            if place > 0 {
                let lag = Lag::after(ActivityId(place - 1), id, Wait::Minutes(0));
                problem.lags.push(lag);
            }
        }
        let place = |start: Minute| {
            Some(Place {
                start,
                end: start + 10,
                team: None,
            })
        };
        let draft = Draft {
            places: (0..60).map(|at| place(at * 10)).collect(),
            missing: 0,
        };
        (problem, draft)
    }

    #[test]
    fn a_stretch_is_so_many_that_start_one_after_the_other() {
        let (problem, draft) = chain();
        let of = Compiled::new(&problem);
        let mut near = Neighbourhood::new(&of);
        let mut chance = Chance::new(3);
        let mut firsts = std::collections::BTreeSet::new();
        for _ in 0..200 {
            let free = near.choose(&of, &draft, &mut chance).unwrap();
            let first = free.iter().position(|free| *free).unwrap();
            let last = free.iter().rposition(|free| *free).unwrap();
            assert_eq!((last - first + 1, free.iter().filter(|free| **free).count()), (25, 25));
            firsts.insert(first);
        }
        assert!(
            firsts.contains(&0) && firsts.contains(&35),
            "every stretch is chosen some time"
        );
    }

    #[test]
    fn what_is_refuted_quickly_grows_and_what_runs_out_of_patience_shrinks_to_five_and_no_further() {
        let (problem, draft) = chain();
        let of = Compiled::new(&problem);
        let mut near = Neighbourhood::new(&of);
        let n_free = |near: &mut Neighbourhood| {
            let free = near.choose(&of, &draft, &mut Chance::new(1)).unwrap();
            free.iter().filter(|free| **free).count()
        };
        // 25 × 1.02^29 is 44.4, and once more is above 45: then a quarter of the 60 stays all the same.
        for _ in 0..29 {
            near.learn(Status::NotSo);
        }
        assert_eq!(n_free(&mut near), 44);
        for _ in 0..100 {
            near.learn(Status::NotSo);
            assert_eq!(n_free(&mut near), 45);
        }
        for _ in 0..100 {
            near.learn(Status::Limit);
        }
        assert_eq!(n_free(&mut near), 5);
    }
}
