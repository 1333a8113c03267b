//! Until when a team is too full for work of one shape: what was searched in vain is not searched again.

use crate::compiled::Compiled;
use crate::model::{Breaks, Minute};
use std::collections::BTreeMap;

/// For each shape of work (length, product, whether it may be split) and each team, the first minute at which it might
/// still fit.
#[derive(Debug)]
pub(super) struct Full {
    shape_of: Vec<usize>,
    /// Of each shape: how far before a freed stretch it could begin and profit from it.
    reach: Vec<Minute>,
    n_teams: usize,
    until: Vec<Minute>,
}

impl Full {
    pub(super) fn new(of: &Compiled<'_>) -> Self {
        let mut shapes = BTreeMap::new();
        let mut reach = Vec::new();
        let clean_up = of.longest_clean_up;
        let shape_of = of.problem.activities.iter().map(|activity| {
            let split = activity.breaks == Breaks::Split;
            *shapes
                .entry((activity.duration, activity.product, split))
                .or_insert_with(|| {
                    // Split work may begin days before: for it nothing is remembered.
                    reach.push(if split {
                        Minute::MAX
                    } else {
                        activity.duration + clean_up
                    });
                    reach.len() - 1
                })
        });
        let shape_of: Vec<usize> = shape_of.collect();
        let n_teams = of.teams.len();
        Self {
            until: vec![Minute::MIN; reach.len() * n_teams],
            shape_of,
            reach,
            n_teams,
        }
    }

    pub(super) fn clear(&mut self) {
        self.until.fill(Minute::MIN);
    }

    pub(super) fn until(&self, index: usize, team: usize) -> Minute {
        self.until[self.shape_of[index] * self.n_teams + team]
    }

    pub(super) fn note(&mut self, index: usize, team: usize, until: Minute) {
        self.until[self.shape_of[index] * self.n_teams + team] = until;
    }

    /// Something that began at `start` was taken out.
    pub(super) fn freed(&mut self, start: Minute) {
        for (shape, of_teams) in self.until.chunks_mut(self.n_teams.max(1)).enumerate() {
            let known = start.saturating_sub(self.reach[shape]);
            let known = if self.reach[shape] == Minute::MAX {
                Minute::MIN
            } else {
                known
            };
            for until in of_teams {
                *until = known.min(*until);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Full;
    use crate::compiled::Compiled;
    use crate::model::{Activity, Breaks, Hand, Minute, Problem, Span};

    #[test]
    fn what_was_searched_in_vain_is_kept_for_its_shape_and_forgotten_where_something_is_freed() {
        let mut problem = Problem {
            clean_up_min: vec![15],
            horizon: 1_000,
            ..Problem::default()
        };
        problem.hands.push(Hand {
            name: "me".into(),
            periods: vec![Span::new(0, 1_000)],
        });
        for minutes in [30, 30, 60] {
            problem.add(Activity::new("", minutes));
        }
        let mut split = Activity::new("", 30);
        split.breaks = Breaks::Split;
        problem.add(split);
        let of = Compiled::new(&problem);
        let mut full = Full::new(&of);
        let until = |full: &Full| [0, 1, 2, 3].map(|index| full.until(index, 0));
        let never = Minute::MIN;
        full.note(0, 0, 400);
        full.note(2, 0, 500);
        full.note(3, 0, 450);
        assert_eq!(
            until(&full),
            [400, 400, 500, 450],
            "the same shape shares what is known"
        );
        // Half an hour and fifteen minutes' cleaning before 300 reach back to 255, an hour of it to 225; split work anywhere.
        full.freed(300);
        assert_eq!(until(&full), [255, 255, 225, never]);
        full.freed(900);
        assert_eq!(
            until(&full),
            [255, 255, 225, never],
            "what is freed later tells nothing of before"
        );
        full.clear();
        assert_eq!(until(&full), [never; 4]);
    }
}
