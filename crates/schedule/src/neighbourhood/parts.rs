//! The parts of what hands do: which activities are free to move this time.
//!
//! What closes a group goes with anything else of it. Easy parts lie anywhere; once they give nothing more, what closes
//! the groups that have to end sooner is free whatever the shape, lest nothing better can be in a part.

use super::{Neighbourhood, by_start};
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::model::Minute;
use crate::number::minutes;

/// The shape of a part; each learns its own size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    /// A stretch of time in which an aim comes to its end.
    Stretch,
    /// Half of it such a stretch, half of it whole strands that pass through it.
    Crossed,
    /// Whole groups.
    Groups,
    /// Strands at work near a moment.
    Strands,
    /// The same from that moment on.
    Tails,
}

/// While parts give something one of these is drawn for each, with equal chances.
const EASY: [Shape; 4] = [Shape::Stretch, Shape::Groups, Shape::Strands, Shape::Tails];
/// Once they do not, one of these: stretches twice as often.
const DRAWN: [Shape; 7] = [
    Shape::Stretch,
    Shape::Stretch,
    Shape::Crossed,
    Shape::Crossed,
    Shape::Groups,
    Shape::Strands,
    Shape::Tails,
];
/// A stretch may go on after its aim's end for one part in so many of its size.
const AFTER: usize = 3;
/// How far strands are from a moment is blurred by so much.
const BLUR: usize = 1_440;

/// A part in the making.
struct Part<'p> {
    near: &'p Neighbourhood,
    of: &'p Compiled<'p>,
    draft: &'p Draft,
    /// The groups that have to end sooner.
    aims: Vec<bool>,
    is_easy: bool,
    free: Vec<bool>,
    /// So many more are to be free.
    left: usize,
}

impl Neighbourhood {
    /// What is to move this time; none if it would be everything. Easy parts lie anywhere, all others let go of what has
    /// to end sooner.
    pub(crate) fn choose(
        &mut self,
        of: &Compiled<'_>,
        draft: &Draft,
        is_easy: bool,
        chance: &mut Chance,
    ) -> Option<Vec<bool>> {
        let n = draft.places.len();
        // What is left standing makes the part; a quarter at least.
        let most = n - n.div_ceil(4);
        if most == 0 {
            return None;
        }
        // Of a single group strands are everything.
        let shape = match (is_easy, self.strands.n_groups < 2) {
            (true, true) => Shape::Stretch,
            (true, false) => EASY[chance.below(EASY.len())],
            (false, true) => DRAWN[chance.below(4)],
            (false, false) => DRAWN[chance.below(DRAWN.len())],
        };
        self.shape = shape as usize;
        let size = self.size().min(most);
        Some(self.part(of, draft, (shape, is_easy), size, chance))
    }

    /// A quarter to a half of everything, for a leap.
    pub(crate) fn choose_wide(&self, of: &Compiled<'_>, draft: &Draft, chance: &mut Chance) -> Vec<bool> {
        let n = draft.places.len();
        let size = n / 4 + chance.below(n / 4 + 1);
        let shape = [Shape::Stretch, Shape::Groups, Shape::Strands][chance.below(3)];
        self.part(of, draft, (shape, true), size, chance)
    }

    fn part(
        &self,
        of: &Compiled<'_>,
        draft: &Draft,
        (shape, is_easy): (Shape, bool),
        size: usize,
        chance: &mut Chance,
    ) -> Vec<bool> {
        let mut part = Part {
            near: self,
            of,
            draft,
            aims: if is_easy {
                self.any_aim(of, draft, chance)
            } else {
                self.aims(of, draft, chance)
            },
            is_easy,
            free: vec![false; draft.places.len()],
            left: size,
        };
        match shape {
            Shape::Stretch => part.stretch(size, chance).into_iter().for_each(|at| part.let_go(at)),
            Shape::Crossed => {
                let stretch = part.stretch(size / 2, chance);
                part.cross(&stretch, chance);
                stretch.into_iter().for_each(|at| part.let_go(at));
            }
            Shape::Groups => part.groups(chance),
            Shape::Strands => part.strands(false, chance),
            Shape::Tails => part.strands(true, chance),
        }
        part.close();
        part.free
    }
}

impl Part<'_> {
    fn let_go(&mut self, at: usize) {
        if !self.free[at] {
            self.free[at] = true;
            self.left = self.left.saturating_sub(1);
        }
    }

    fn start(&self, at: usize) -> Minute {
        self.draft.places[at].map_or(0, |place| place.start)
    }

    fn is_aim(&self, at: usize) -> bool {
        self.aims[self.near.strands.group[at]]
    }

    /// Whether it comes last after others.
    fn closes(&self, at: usize) -> bool {
        self.of.next[at].is_empty() && !self.near.strands.before[at].is_empty()
    }

    /// So many that start one after the other, what closes not counted; among them the last of an aim.
    fn stretch(&self, size: usize, chance: &mut Chance) -> Vec<usize> {
        let by_start = by_start(self.draft).into_iter().map(|(_, at)| at);
        let mut in_time: Vec<usize> = by_start.filter(|&at| !self.closes(at)).collect();
        let size = size.min(in_time.len());
        if self.is_easy {
            let from = chance.below(in_time.len() - size + 1);
            return in_time.drain(from..from + size).collect();
        }
        let last = in_time.iter().rposition(|&at| self.is_aim(at)).unwrap_or(0);
        let before = size.saturating_sub(1 + chance.below(size / AFTER + 1));
        let from = last.saturating_sub(before).min(in_time.len() - size);
        in_time.drain(from..from + size).collect()
    }

    /// Lets go of whole strands that pass through a stretch, until a half of what is to be free is left.
    fn cross(&mut self, stretch: &[usize], chance: &mut Chance) {
        let half = self.left / 2;
        for _ in stretch {
            if self.left <= half {
                return;
            }
            if let Some((strand, _)) = self.near.strands.of[stretch[chance.below(stretch.len())]] {
                let activities = &self.near.strands.all[strand].activities;
                activities.iter().for_each(|&at| self.let_go(at));
            }
        }
    }

    /// Lets go of whole groups: first the aims, then others by chance.
    fn groups(&mut self, chance: &mut Chance) {
        let mut groups: Vec<(bool, u64, usize)> = Vec::new();
        groups.extend((0..self.aims.len()).map(|group| (!self.aims[group], chance.next(), group)));
        groups.sort_unstable();
        for (_, _, group) in groups {
            let all = 0..self.free.len();
            all.filter(|&at| self.near.strands.group[at] == group)
                .for_each(|at| self.let_go(at));
            if self.left == 0 {
                break;
            }
        }
    }

    /// Lets go of a strand of an aim and of others at work near a moment of it, rather of aims: whole, or from then on.
    fn strands(&mut self, tails: bool, chance: &mut Chance) {
        let mine: Vec<usize> = (0..self.free.len())
            .filter(|&at| self.is_aim(at) && !self.closes(at))
            .collect();
        let Some(&of_mine) = mine.get(chance.below(mine.len().max(1))) else {
            return;
        };
        let moment = self.start(of_mine);
        let mut near: Vec<(Minute, usize)> = Vec::new();
        for (index, strand) in self.near.strands.all.iter().enumerate() {
            let (Some(&first), Some(&last)) = (strand.activities.first(), strand.activities.last()) else {
                continue;
            };
            let away = (self.start(first) - moment).max(moment - self.start(last)).max(0);
            let away = if self.aims[strand.group] { away / 4 } else { away };
            let is_own = self.near.strands.of[of_mine].is_some_and(|(own, _)| own == index);
            let away = if is_own { -1 } else { away + minutes(chance.below(BLUR)) };
            near.push((away, index));
        }
        near.sort_unstable();
        for (_, strand) in near {
            for &at in &self.near.strands.all[strand].activities {
                if !tails || self.start(at) >= moment {
                    self.let_go(at);
                }
            }
            if self.left == 0 {
                break;
            }
        }
    }

    /// What closes a group goes with what leads up to it; what closes an aim in any case, but for easy parts.
    fn close(&mut self) {
        for at in 0..self.free.len() {
            if !self.closes(at) {
                continue;
            }
            let goes = |&before: &usize| self.free[before];
            self.free[at] |= (self.is_aim(at) && !self.is_easy) || self.near.strands.before[at].iter().any(goes);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::Place;
    use crate::model::{Activity, ActivityId, Due, Lag, Problem, Wait};

    /// Three pieces of two zones and a closing step each; a zone is a chain of six of an hour. The pieces stand one after
    /// the other, the zones of one side by side, each chain and its closing step an hour apart. Only the middle piece is
    /// late.
    fn pieces() -> (Problem, Draft) {
        let mut problem = Problem {
            horizon: 10_000,
            ..Problem::default()
        };
        let mut starts = Vec::new();
        for piece in 0..3 {
            let begin = piece * 1_000;
            let ends = [0, 1].map(|_| {
                let zone: Vec<ActivityId> = (0..6).map(|_| problem.add(Activity::unattended("", 60))).collect();
                starts.extend((0..6).map(|step| begin + step * 120));
                let ties = zone.windows(2).map(|two| Lag::after(two[0], two[1], Wait::Minutes(0)));
                problem.lags.extend(ties);
                zone[5]
            });
            let fit = problem.add(Activity::unattended("", 60));
            starts.push(begin + 720);
            let ties = ends.map(|end| Lag::after(end, fit, Wait::Minutes(0)));
            problem.lags.extend(ties);
            problem.dues.push(Due {
                activity: fit,
                at: if piece == 1 { 1_000 } else { 9_000 },
                weight: 1,
            });
        }
        let place = |start: Minute| {
            Some(Place {
                start,
                end: start + 60,
                team: None,
            })
        };
        let draft = Draft {
            places: starts.into_iter().map(place).collect(),
            missing: 0,
        };
        (problem, draft)
    }

    /// Parts of one shape and about ten free, as the numbers of those that are.
    fn parts(shape: Shape) -> Vec<Vec<usize>> {
        let (problem, draft) = pieces();
        let of = Compiled::new(&problem);
        let near = Neighbourhood::new(&of);
        let mut chance = Chance::new(7);
        let part = |_| {
            let free = near.part(&of, &draft, (shape, false), 10, &mut chance);
            (0..free.len()).filter(|&at| free[at]).collect()
        };
        (0..100).map(part).collect()
    }

    #[test]
    fn easy_parts_lie_anywhere_and_are_never_crossed() {
        let (problem, draft) = pieces();
        let of = Compiled::new(&problem);
        let mut near = Neighbourhood::new(&of);
        near.sizes = [10.0; 5];
        let mut chance = Chance::new(1);
        let mut without = 0;
        for _ in 0..100 {
            let free = near.choose(&of, &draft, true, &mut chance).unwrap();
            assert_ne!(near.shape, Shape::Crossed as usize);
            without += usize::from(!free[25]);
        }
        assert!(without > 20, "what closes the late piece stays now and then: {without}");
    }

    /// Sixty of ten minutes in a single chain: of the 59 that another follows, 25 in a row begin at the 1st to the 35th.
    #[test]
    fn an_easy_stretch_is_so_many_that_start_one_after_the_other() {
        let mut problem = Problem {
            horizon: 10_000,
            ..Problem::default()
        };
        let chain: Vec<ActivityId> = (0..60).map(|_| problem.add(Activity::unattended("", 10))).collect();
        let ties = chain.windows(2).map(|two| Lag::after(two[0], two[1], Wait::Minutes(0)));
        problem.lags.extend(ties);
        let place = |at: Minute| {
            Some(Place {
                start: at * 10,
                end: at * 10 + 10,
                team: None,
            })
        };
        let draft = Draft {
            places: (0..60).map(place).collect(),
            missing: 0,
        };
        let of = Compiled::new(&problem);
        let mut near = Neighbourhood::new(&of);
        let mut chance = Chance::new(3);
        let mut firsts = std::collections::BTreeSet::new();
        for _ in 0..200 {
            let free = near.choose(&of, &draft, true, &mut chance).unwrap();
            let first = free.iter().position(|free| *free).unwrap();
            assert!(free[first..first + 25].iter().all(|free| *free));
            let n = 25 + usize::from(first == 34);
            assert_eq!(free.iter().filter(|free| **free).count(), n, "what closes goes along");
            firsts.insert(first);
        }
        assert!(
            firsts.contains(&0) && firsts.contains(&34),
            "every stretch is chosen some time"
        );
    }

    #[test]
    fn no_stretch_is_longer_than_three_quarters() {
        let (problem, draft) = pieces();
        let of = Compiled::new(&problem);
        let mut near = Neighbourhood::new(&of);
        near.sizes = [39.0; 5];
        let mut chance = Chance::new(1);
        let mut n_stretches = 0;
        for _ in 0..100 {
            let free = near.choose(&of, &draft, false, &mut chance).unwrap();
            if near.shape == Shape::Stretch as usize {
                n_stretches += 1;
                let steps = (0..39).filter(|at| free[*at] && ![12, 25, 38].contains(at));
                assert_eq!(steps.count(), 29, "of 39 ten stay");
            }
        }
        assert!((15..45).contains(&n_stretches), "two of seven: {n_stretches}");
    }

    /// The steps of the pieces are 0 to 11 with 12 to close, 13 to 24 with 25, and 26 to 37 with 38.
    #[test]
    fn what_closes_the_late_piece_goes_free_in_every_shape_with_some_that_lead_up_to_it() {
        for shape in DRAWN {
            for part in parts(shape) {
                assert!(part.contains(&25), "{shape:?} {part:?}");
                assert!(part.iter().any(|at| (13..25).contains(at)), "{shape:?} {part:?}");
                assert!((4..=24).contains(&part.len()), "{shape:?} {part:?}");
            }
        }
    }

    #[test]
    fn a_stretch_is_ten_in_time_with_the_last_of_the_late_piece_and_what_closes_goes_along() {
        let mut befores = std::collections::BTreeSet::new();
        for part in parts(Shape::Stretch) {
            assert!(
                part.contains(&24) && part.contains(&18),
                "both zones end together: {part:?}"
            );
            let steps = part.iter().filter(|at| ![12, 25, 38].contains(at)).count();
            assert_eq!(steps, 10, "{part:?}");
            assert_eq!(part.contains(&38), part.contains(&37), "{part:?}");
            befores.insert(part[0]);
        }
        assert!(befores.len() > 1, "more or less of what comes after: {befores:?}");
    }

    #[test]
    fn groups_are_the_late_one_and_another_and_strands_go_whole_or_from_a_moment_on() {
        let mine: Vec<usize> = (13..=25).collect();
        assert!(
            parts(Shape::Groups).iter().all(|part| *part == mine),
            "13 are enough for ten"
        );
        let of_zone = |part: &[usize], zone: usize| {
            let first = [0, 6, 13, 19, 26, 32][zone];
            (first..first + 6).filter(|at| part.contains(at)).count()
        };
        let is_whole = |part: &[usize], zone: usize| [0, 6].contains(&of_zone(part, zone));
        assert!(
            parts(Shape::Strands)
                .iter()
                .all(|part| (0..6).all(|zone| is_whole(part, zone)))
        );
        let tails = parts(Shape::Tails);
        assert!(tails.iter().any(|part| !(0..6).all(|zone| is_whole(part, zone))));
        let crossed = parts(Shape::Crossed);
        assert!(crossed.iter().all(|part| (0..6).any(|zone| of_zone(part, zone) == 6)));
    }
}
