//! All the starts an activity could have on the board as it stands, as ranges.
//!
//! Hours, start windows, hands with their clean-ups, waits to what is already placed, rooms and resources each cut
//! something away. Places on racks depend on two activities at once and are asked about when one is put down.

mod cuts;
#[cfg(test)]
mod tests;
mod waits;

use super::Board;
use crate::model::{Breaks, Minute, Point, Span};
use crate::number::up_to_grid;
use cuts::{Cuts, leave};
use waits::Waits;

/// Starts `from ..= to` that all mean the same length and team.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Opening {
    pub(crate) from: Minute,
    pub(crate) to: Minute,
    /// End less start; longer than the activity's minutes where it is split at breaks.
    pub(crate) length: Minute,
    pub(crate) team: Option<usize>,
}

impl Opening {
    /// What is to be added to a start for one of its ends.
    pub(crate) fn shift(&self, point: Point) -> Minute {
        match point {
            Point::Start => 0,
            Point::End => self.length,
        }
    }
}

impl Board<'_> {
    /// Adds every opening of the activity with a start in `from ..= to`, by team and then ascending. The activity
    /// itself must not be on the board. Hands that are taken are left out of account where `by_hand` is false.
    pub(crate) fn openings(&self, index: usize, from: Minute, to: Minute, by_hand: bool, found: &mut Vec<Opening>) {
        let problem = self.of.problem;
        let activity = &problem.activities[index];
        let waits = self.waits(index);
        let limit = self.limit(index);
        let is_whole = activity.breaks == Breaks::Within || activity.duration == 0;
        let from = from.max(activity.release).max(problem.not_before).max(waits.start.0);
        let mut starts = Span::new(from, to.min(waits.start.1).min(limit - activity.duration));
        if is_whole {
            starts = waits.starts(starts, activity.duration);
        }
        if starts.from > starts.to {
            return;
        }
        let begin = found.len();
        if is_whole {
            self.whole(index, starts, &waits, by_hand, found);
        } else {
            for &team in &self.of.teams_of[index] {
                self.split(index, team, starts, &waits, by_hand, found);
            }
        }
        let grid = problem.grid;
        let mut kept = begin;
        for at in begin..found.len() {
            let mut opening = found[at];
            opening.from = up_to_grid(opening.from, grid);
            opening.to = opening.to.min(limit - opening.length);
            opening.to -= opening.to.rem_euclid(grid.max(1));
            if opening.from <= opening.to {
                found[kept] = opening;
                kept += 1;
            }
        }
        found.truncate(kept);
    }

    /// Openings of work that is done in one go: what cuts something away is gathered once for all hours.
    fn whole(&self, index: usize, starts: Span, waits: &Waits, by_hand: bool, found: &mut Vec<Opening>) {
        let length = self.of.problem.activities[index].duration;
        let common = self.common_cuts(index, starts, length, waits);
        let opening = Opening {
            from: starts.from,
            to: starts.to,
            length,
            team: None,
        };
        if self.of.teams_of[index].is_empty() {
            self.in_windows(index, opening, [&common, &Cuts::none()], &mut [0, 0], found);
        }
        for &team in &self.of.teams_of[index] {
            let of_hands = self.hand_cuts(index, team, starts, length, by_hand);
            let mut at = [0, 0];
            let periods = self.of.teams[team].calendar.from(starts.from).iter();
            for period in periods.take_while(|period| period.from <= starts.to) {
                let opening = Opening {
                    from: starts.from.max(period.from),
                    to: starts.to.min(period.to - length),
                    team: Some(team),
                    ..opening
                };
                self.in_windows(index, opening, [&common, &of_hands], &mut at, found);
            }
        }
    }

    /// Openings of work that may be split, by one team: in each period as many as there are breaks its end can fall behind.
    fn split(&self, index: usize, team: usize, starts: Span, waits: &Waits, by_hand: bool, found: &mut Vec<Opening>) {
        let duration = self.of.problem.activities[index].duration;
        let calendar = &self.of.teams[team].calendar;
        for period in calendar
            .from(starts.from)
            .iter()
            .take_while(|period| period.from <= starts.to)
        {
            let mut from = starts.from.max(period.from);
            let last = starts.to.min(period.to - 1);
            while from <= last {
                let Some(end) = calendar.end_of(from, duration) else {
                    return;
                };
                let length = end - from;
                let to = last.min(from + calendar.left_at_end(end));
                let part = waits.starts(Span::new(from, to), length);
                let opening = Opening {
                    from: part.from,
                    to: part.to,
                    length,
                    team: Some(team),
                };
                if part.from <= part.to {
                    let common = self.common_cuts(index, part, length, waits);
                    let of_hands = self.hand_cuts(index, team, part, length, by_hand);
                    self.in_windows(index, opening, [&common, &of_hands], &mut [0, 0], found);
                }
                from = to + 1;
            }
        }
    }

    /// Adds what the start windows and the cuts leave of an opening.
    fn in_windows(
        &self,
        index: usize,
        whole: Opening,
        cuts: [&Cuts; 2],
        at: &mut [usize; 2],
        found: &mut Vec<Opening>,
    ) {
        let windows = &self.of.problem.activities[index].start_windows;
        if windows.is_empty() {
            leave(whole, cuts, at, found);
            return;
        }
        let first = windows.partition_point(|window| window.to <= whole.from);
        for window in windows[first..].iter().take_while(|window| window.from <= whole.to) {
            let (from, to) = (whole.from.max(window.from), whole.to.min(window.to - 1));
            leave(Opening { from, to, ..whole }, cuts, at, found);
        }
    }
}
