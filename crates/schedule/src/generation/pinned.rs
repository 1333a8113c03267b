//! Pinned activities stand before anything else finds its place.

use super::Generator;
use crate::draft::Place;
use crate::model::{Pin, Span};

impl Generator<'_> {
    /// Puts a pinned activity where it is pinned; false if that breaks a rule.
    pub(super) fn place_pinned(&mut self, index: usize) -> bool {
        let activity = &self.of.problem.activities[index];
        let Some(pin) = &activity.pin else {
            return false;
        };
        let inside = |window: &Span| window.from <= pin.start && pin.start < window.to;
        let windows = &activity.start_windows;
        let in_window = pin.begun || windows.is_empty() || windows.iter().any(inside);
        let limit = self.board.limit(index);
        let place = self.place_of_pin(index, pin);
        let board = &self.board;
        let keeps = |place: &Place| {
            in_window
                && place.end <= limit
                && board.later(index, *place).is_none()
                && board.blocked_at(index, *place).is_none()
        };
        let Some(place) = place.filter(keeps) else {
            return false;
        };
        self.board.put(index, place);
        true
    }

    /// The first team that can do it then; where it has begun outside hours, it takes its minutes all the same.
    fn place_of_pin(&mut self, index: usize, pin: &Pin) -> Option<Place> {
        let activity = &self.of.problem.activities[index];
        let (start, whole) = (pin.start, pin.start + activity.duration);
        let teams = &self.of.teams_of[index];
        let place = |end, team| Some(Place { start, end, team });
        if activity.hands == 0 {
            return place(whole, None);
        }
        for &team in teams {
            if let Some((at, end)) = self.team_fit(team, index, start)
                && at == start
            {
                return place(end, Some(team));
            }
        }
        let busy = |hand: &usize| self.board.hand_busy(*hand, index, start, whole).is_some();
        let is_free = |team: &&usize| activity.duration == 0 || !self.of.teams[**team].hands.iter().any(busy);
        let team = teams.iter().find(is_free).filter(|_| pin.begun)?;
        place(whole, Some(*team))
    }
}
