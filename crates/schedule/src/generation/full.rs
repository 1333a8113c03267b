//! Until when a team is too full for work of one shape: what was searched in vain is not searched again.

use crate::compiled::Compiled;
use crate::model::{Breaks, Effect, Minute};
use crate::number::small;
use std::collections::BTreeMap;

/// For each shape of work (length, product, whether it may be split) and each team, the first minute at which it might
/// still fit. Dust that waits for nothing else is a shape of its own for each room: for it, wet coats fill time up as hands do.
#[derive(Debug)]
pub(super) struct Full {
    shape_of: Vec<u32>,
    /// Of each activity, whether only hands and the room hold it back.
    is_alone: Vec<bool>,
    /// Of each shape: how far before a freed stretch it could begin and profit from it.
    reach: Vec<Minute>,
    n_teams: usize,
    not_before: Minute,
    until: Vec<Minute>,
}

impl Full {
    pub(super) fn new(of: &Compiled<'_>) -> Self {
        let mut shapes = BTreeMap::new();
        let mut reach = Vec::new();
        let clean_up = of.longest_clean_up;
        let is_alone: Vec<bool> = (0..of.problem.activities.len())
            .map(|index| is_alone(of, index))
            .collect();
        let shape_of = of.problem.activities.iter().enumerate().map(|(index, activity)| {
            let split = activity.breaks == Breaks::Split;
            let room = activity.room.map(|(room, _)| room).filter(|_| is_alone[index]);
            *shapes
                .entry((activity.duration, activity.product, split, room))
                .or_insert_with(|| {
                    // Split work may begin days before: for it nothing is remembered.
                    reach.push(if split {
                        Minute::MAX
                    } else {
                        activity.duration + clean_up
                    });
                    small(reach.len() - 1)
                })
        });
        let shape_of: Vec<u32> = shape_of.collect();
        let n_teams = of.teams.len();
        Self {
            until: vec![Minute::MIN; reach.len() * n_teams],
            shape_of,
            is_alone,
            reach,
            n_teams,
            not_before: of.problem.not_before,
        }
    }

    pub(super) fn clear(&mut self) {
        self.until.fill(Minute::MIN);
    }

    pub(super) fn until(&self, index: usize, team: usize) -> Minute {
        self.until[self.at(index, team)]
    }

    /// A search from `asked` on has found nothing before `until`; that tells something if nothing is possible before `asked` either.
    pub(super) fn note(&mut self, index: usize, team: usize, asked: Minute, until: Minute) {
        let at = self.at(index, team);
        if asked <= self.until[at].max(self.not_before) {
            self.until[at] = self.until[at].max(until);
        }
    }

    /// The same for all its teams, where only hands and the room hold the activity back and both were asked.
    pub(super) fn note_alone(&mut self, index: usize, teams: &[usize], asked: Minute, until: Minute) {
        if self.is_alone[index] {
            teams.iter().for_each(|&team| self.note(index, team, asked, until));
        }
    }

    fn at(&self, index: usize, team: usize) -> usize {
        self.shape_of[index] as usize * self.n_teams + team
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

/// Whether the activity is dust that nothing but hands and its room can hold back.
fn is_alone(of: &Compiled<'_>, index: usize) -> bool {
    let activity = &of.problem.activities[index];
    let holds_back = |&lag: &usize| {
        let lag = &of.problem.lags[lag];
        lag.to.0 == index || lag.max.is_some() || lag.closed.is_some()
    };
    matches!(activity.room, Some((_, Effect::Dust)))
        && activity.breaks == Breaks::Within
        && activity.pin.is_none()
        && activity.start_windows.is_empty()
        && activity.uses.is_empty()
        && of.holds_after[index].is_empty()
        && !of.lags_of[index].iter().any(holds_back)
}

#[cfg(test)]
mod tests {
    use super::Full;
    use crate::compiled::Compiled;
    use crate::model::{Activity, ActivityId, Breaks, Effect, Hand, Lag, Minute, Problem, RoomId, Span, Wait};

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
        full.note(0, 0, 0, 400);
        full.note(2, 0, 0, 500);
        full.note(3, 0, 0, 450);
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

    #[test]
    fn dust_that_waits_for_nothing_remembers_the_wet_room_as_well() {
        let mut problem = Problem {
            horizon: 1_000,
            ..Problem::default()
        };
        problem.hands.push(Hand {
            name: "me".into(),
            periods: vec![Span::new(0, 1_000)],
        });
        let dust = || Activity {
            room: Some((RoomId(0), Effect::Dust)),
            ..Activity::new("", 30)
        };
        for activity in [dust(), dust(), dust(), Activity::new("", 30)] {
            problem.add(activity);
        }
        let (first, last) = (ActivityId(1), ActivityId(2));
        problem.lags.push(Lag::after(first, last, Wait::Minutes(0)));
        let of = Compiled::new(&problem);
        let mut full = Full::new(&of);
        let until = |full: &Full| [0, 1, 2, 3].map(|index| full.until(index, 0));
        let never = Minute::MIN;
        // The first two are alike, what follows does not make the second wait. The third waits, the fourth makes no dust.
        full.note_alone(0, &[0], 0, 200);
        assert_eq!(until(&full), [200, 200, never, never]);
        full.note_alone(2, &[0], 0, 300);
        full.note_alone(3, &[0], 0, 300);
        assert_eq!(until(&full), [200, 200, never, never], "these may be held back by more");
        full.note_alone(1, &[0], 250, 400);
        assert_eq!(until(&full)[0], 200, "between 200 and 250 nobody has looked");
        full.note_alone(1, &[0], 150, 400);
        assert_eq!(until(&full), [400, 400, never, never]);
    }
}
