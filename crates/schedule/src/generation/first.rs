//! The first place at which an activity breaks no rule.

use super::Generator;
use crate::board::{Blocked, next_window};
use crate::calendar::Calendar;
use crate::draft::Place;
use crate::model::{Breaks, Minute};
use crate::number::up_to_grid;

impl Generator<'_> {
    /// The activity's place at exactly this start, if it breaks no rule there.
    pub(super) fn stands_at(&mut self, index: usize, start: Minute) -> Option<Place> {
        let limit = self.board.limit(index);
        let allowed = start >= self.not_before[index] && self.board.may_start(index, start);
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
        let mut from = self.not_before[index];
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
            if place.start > from {
                from = place.start;
                continue;
            }
            match self.board.later(index, place) {
                Some(later) => from = later.max(from + 1),
                None => return self.board.blocked_at(index, place).map_or(Ok(place), Err),
            }
        }
    }

    /// The first start not before `from` at which a team is free, and its end.
    fn hands_fit(&mut self, index: usize, from: Minute) -> Option<Place> {
        if self.of.teams_of[index].is_empty() {
            let duration = self.of.problem.activities[index].duration;
            return Some(Place {
                start: from,
                end: from + duration,
                team: None,
            });
        }
        let mut best: Option<Place> = None;
        for &team in &self.of.teams_of[index] {
            let Some((start, end)) = self.team_fit(team, index, from) else {
                continue;
            };
            if best.is_none_or(|best| (start, end) < (best.start, best.end)) {
                best = Some(Place {
                    start,
                    end,
                    team: Some(team),
                });
                if start == from {
                    break;
                }
            }
        }
        best
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
        let mut near = team_of.calendar.place_of(from);
        'again: loop {
            self.looks += 1;
            let (start, end) = fit(
                &team_of.calendar,
                &mut near,
                from,
                activity.duration,
                activity.breaks,
                self.of.problem.grid,
            )?;
            if activity.duration > 0 {
                for &hand in &team_of.hands {
                    if let Some(free) = self.board.hand_busy(hand, index, start, end) {
                        from = match activity.breaks {
                            Breaks::Within => self.board.next_gap(hand, index, free)?,
                            Breaks::Split => free,
                        };
                        continue 'again;
                    }
                }
            }
            if free && (asked <= full || (full == Minute::MIN && asked <= self.of.problem.not_before)) {
                self.full.note(index, team, start);
            }
            return Some((start, end));
        }
    }
}

/// As [`Calendar::fit_near`], with the start on the grid.
fn fit(
    calendar: &Calendar,
    near: &mut usize,
    from: Minute,
    duration: Minute,
    breaks: Breaks,
    grid: Minute,
) -> Option<(Minute, Minute)> {
    let mut from = from;
    loop {
        let (start, end) = calendar.fit_near(near, from, duration, breaks)?;
        let on_grid = up_to_grid(start, grid);
        if on_grid == start || start == from {
            return Some((start, end));
        }
        from = on_grid;
    }
}
