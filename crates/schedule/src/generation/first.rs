//! The first place at which an activity breaks no rule.

use super::Generator;
use crate::board::{Blocked, Near, next_window};
use crate::calendar::Calendar;
use crate::draft::Place;
use crate::model::{Breaks, Minute};
use crate::number::up_to_grid;

/// Start and end of what fits nowhere.
const NO_FIT: (Minute, Minute) = (Minute::MAX, Minute::MAX);

impl Generator<'_> {
    /// The activity's place at exactly this start, if it breaks no rule there.
    pub(super) fn stands_at(&mut self, index: usize, start: Minute) -> Option<Place> {
        let limit = self.board.limit(index);
        let allowed = start >= self.not_before[index] && self.board.may_start(index, start);
        self.forget_fits(index);
        let place = self
            .hands_fit(index, start)
            .filter(|place| allowed && place.start == start && place.end <= limit)?;
        (self.board.later(index, place).is_none() && self.board.blocked_at(index, place).is_none()).then_some(place)
    }

    /// The first place at which the activity breaks no rule, or what stands in its way.
    pub(super) fn first_place(&mut self, index: usize) -> Result<Place, Blocked> {
        let problem = self.of.problem;
        let windows = &problem.activities[index].start_windows;
        let limit = self.board.limit(index);
        // Before waits are over there is nothing to look for; split work is looked for from the front, as its end depends on it.
        let is_whole = problem.activities[index].breaks == Breaks::Within;
        let asked = match is_whole {
            true => self.not_before[index].max(self.board.waits_over(index)),
            false => self.not_before[index],
        };
        self.forget_fits(index);
        let mut from = asked;
        loop {
            from = up_to_grid(from, problem.grid);
            if let Some(window) = next_window(windows, from) {
                from = window;
            } else if !windows.is_empty() {
                return Err(Blocked::Never);
            }
            let Some(place) = self.hands_fit(index, from) else {
                return Err(Blocked::Never);
            };
            if place.end > limit {
                return Err(self.board.blocked_at(index, place).unwrap_or(Blocked::Never));
            }
            if place.start > from && !(is_whole && self.board.may_start(index, place.start)) {
                from = place.start;
                continue;
            }
            match self.board.later(index, place) {
                Some(later) => from = later.max(from + 1),
                None => {
                    self.full
                        .note_alone(index, &self.of.teams_of[index], asked, place.start);
                    return self.board.blocked_at(index, place).map_or(Ok(place), Err);
                }
            }
        }
    }

    /// A search begins: of no team is it known when it could do the activity.
    fn forget_fits(&mut self, index: usize) {
        self.fits.clear();
        self.fits
            .resize(self.of.teams_of[index].len(), (Minute::MIN, Minute::MIN));
    }

    /// The first start not before `from` at which a team is free, and its end. Within one search `from` only grows: a team that
    /// is known to be free later than that is not asked again.
    fn hands_fit(&mut self, index: usize, from: Minute) -> Option<Place> {
        let teams = &self.of.teams_of[index];
        if teams.is_empty() {
            let duration = self.of.problem.activities[index].duration;
            return Some(Place {
                start: from,
                end: from + duration,
                team: None,
            });
        }
        let mut best = (NO_FIT, 0);
        for (at, &team) in teams.iter().enumerate() {
            if self.fits[at].0 < from {
                self.fits[at] = self.team_fit(team, index, from).unwrap_or(NO_FIT);
            }
            if self.fits[at] < best.0 {
                best = (self.fits[at], team);
                if best.0.0 == from {
                    break;
                }
            }
        }
        let ((start, end), team) = best;
        (best.0 != NO_FIT).then_some(Place {
            start,
            end,
            team: Some(team),
        })
    }

    pub(super) fn team_fit(&mut self, team: usize, index: usize, from: Minute) -> Option<(Minute, Minute)> {
        let activity = &self.of.problem.activities[index];
        // Hands only fill up between two takings-out, so what did not fit then does not fit now.
        let free = activity.pin.is_none();
        let full = if free {
            self.full.until(index, team)
        } else {
            Minute::MIN
        };
        let team_of = &self.of.teams[team];
        let (asked, mut from) = (from, from.max(full));
        self.near.clear();
        self.near.resize(team_of.hands.len(), Near::default());
        let takes_time = activity.duration > 0;
        'again: loop {
            self.looks += 1;
            let hands = || team_of.hands.iter().filter(|_| takes_time);
            if activity.breaks == Breaks::Within {
                for (&hand, near) in hands().zip(&mut self.near) {
                    from = self.board.next_gap(near, hand, index, from)?;
                }
            }
            let (start, end) = fit(
                &team_of.calendar,
                from,
                activity.duration,
                activity.breaks,
                self.of.problem.grid,
            )?;
            for (&hand, near) in hands().zip(&mut self.near) {
                if let Some(free) = self.board.hand_busy_near(near, hand, index, start, end) {
                    from = free;
                    continue 'again;
                }
            }
            if free {
                self.full.note(index, team, asked, start);
            }
            return Some((start, end));
        }
    }
}

/// As [`Calendar::fit`], with the start on the grid.
fn fit(calendar: &Calendar, from: Minute, duration: Minute, breaks: Breaks, grid: Minute) -> Option<(Minute, Minute)> {
    let mut from = from;
    loop {
        let (start, end) = calendar.fit(from, duration, breaks)?;
        let on_grid = up_to_grid(start, grid);
        if on_grid == start || start == from {
            return Some((start, end));
        }
        from = on_grid;
    }
}
