//! When each activity may start by itself: release, deadline, pin, hours and start windows.

use super::{OUT, Stated};
use crate::board::Board;
use crate::compiled::Compiled;
use crate::model::{Breaks, Minute, Span};

impl Stated<'_> {
    pub(super) fn start(&mut self, of: &Compiled<'_>, board: Option<&Board<'_>>, index: usize) {
        if board.is_some_and(|board| board.places[index].is_some()) {
            self.starts.push(OUT);
            return;
        }
        let problem = of.problem;
        let activity = &problem.activities[index];
        let (mut least, mut most) = (
            self.at(problem.not_before),
            self.at(problem.horizon - activity.duration),
        );
        // Rounded down is one unit too early where the minute is off the grid.
        if self.minute(least) < problem.not_before {
            least += 1;
        }
        let release = self.at(activity.release + self.grid - 1);
        least = least.max(release);
        if let Some(deadline) = activity.deadline {
            most = most.min(self.at(deadline - activity.duration));
        }
        let mut is_free = true;
        if let Some(pin) = activity.pin.as_ref() {
            (least, most) = (self.at(pin.start), self.at(pin.start).min(most));
            is_free = !pin.begun;
        }
        let start = self.engine.variable(least, most);
        self.engine.is_time(start);
        self.starts.push(start);
        if is_free {
            let ranges = match board {
                None => self.allowed(of, index),
                Some(board) => Some(self.left_by(board, index)),
            };
            match ranges {
                Some(ranges) if ranges.is_empty() => {
                    // No start is allowed at all.
                    let nothing = self.engine.variable(0, -1);
                    debug_assert!(self.engine.least(nothing) > self.engine.most(nothing));
                }
                Some(ranges) => self.engine.allow(start, ranges),
                None => {}
            }
        }
    }

    /// Starts that hours and start windows leave, as ranges of grid units; `None` if they leave all.
    fn allowed(&mut self, of: &Compiled<'_>, index: usize) -> Option<Vec<(i32, i32)>> {
        let activity = &of.problem.activities[index];
        let mut ranges: Option<Vec<(Minute, Minute)>> = None;
        if !of.teams_of[index].is_empty() {
            self.is_exact &= activity.breaks == Breaks::Within;
            let mut all: Vec<(Minute, Minute)> = Vec::new();
            for &team in &of.teams_of[index] {
                let latest = |p: &Span| match activity.breaks {
                    Breaks::Within => p.to - activity.duration,
                    // Work of no length may also be done at the very end of a period, as the generator does it.
                    Breaks::Split if activity.duration > 0 => p.to - 1,
                    Breaks::Split => p.to,
                };
                all.extend(
                    of.teams[team]
                        .calendar
                        .periods
                        .iter()
                        .map(|p| (p.from, latest(p)))
                        .filter(|r| r.0 <= r.1),
                );
            }
            all.sort_unstable();
            ranges = Some(all);
        }
        if !activity.start_windows.is_empty() {
            let windows: Vec<(Minute, Minute)> = activity.start_windows.iter().map(|w| (w.from, w.to - 1)).collect();
            ranges = Some(match ranges {
                None => windows,
                Some(hours) => hours
                    .iter()
                    .flat_map(|&(a, b)| windows.iter().map(move |&(c, d)| (a.max(c), b.min(d))))
                    .filter(|&(from, to)| from <= to)
                    .collect(),
            });
        }
        Some(self.in_units(ranges?))
    }

    /// Starts that all that stands on the board leaves, as ranges of grid units.
    fn left_by(&self, board: &Board<'_>, index: usize) -> Vec<(i32, i32)> {
        let mut openings = Vec::new();
        // Several hands are shared out anew afterwards: which of them is busy says nothing yet.
        let by_hand = board.of.problem.hands.len() == 1;
        board.openings(index, Minute::MIN / 4, Minute::MAX / 4, by_hand, &mut openings);
        self.in_units(openings.into_iter().map(|opening| (opening.from, opening.to)).collect())
    }

    fn in_units(&self, mut ranges: Vec<(Minute, Minute)>) -> Vec<(i32, i32)> {
        let mut units: Vec<(i32, i32)> = Vec::new();
        ranges.sort_unstable();
        for (from, to) in ranges {
            let (from, to) = (self.at(from + self.grid - 1), self.at(to));
            match units.last_mut() {
                _ if from > to => {}
                Some(last) if from <= last.1 + 1 => last.1 = last.1.max(to),
                _ => units.push((from, to)),
            }
        }
        units
    }
}
