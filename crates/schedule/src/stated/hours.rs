//! The hours that hands have left: as a capacity that changes with time, and as work that can be done until when.

use super::{Stated, narrow};
use crate::board::Board;
use crate::compiled::Compiled;
use crate::learn::{Energy, Hours, Task};
use crate::model::{Breaks, Minute, Span};

impl Stated<'_> {
    /// All that hands do within their hours has to find room in what is left of them.
    pub(super) fn energy(&mut self, of: &Compiled<'_>, board: Option<&Board<'_>>, tasks: &[(usize, Task)]) {
        let lengths = tasks.iter().map(|(_, task)| task.length);
        let Some(shortest) = lengths.filter(|&length| length > 0).min() else {
            return;
        };
        // Outwards to whole units where hands are there, inwards where they are at work: never less than there is.
        let (begin, end) = (self.grid - 1, 0);
        let mut changes: Vec<(i32, i32)> = Vec::new();
        for span in hours(of) {
            changes.extend([(self.at(span.from + end), 1), (self.at(span.to + begin), -1)]);
        }
        for (span, hands) in board.into_iter().flat_map(at_work) {
            let (from, to) = (self.at(span.from + begin), self.at(span.to + end));
            if from < to {
                changes.extend([(from, -narrow(hands)), (to, narrow(hands))]);
            }
        }
        changes.sort_unstable();
        let mut levels = Vec::with_capacity(changes.len());
        let mut free = 0;
        for (at, &(time, change)) in changes.iter().enumerate() {
            free += change;
            if changes.get(at + 1).is_none_or(|next| next.0 > time) {
                levels.push((time, free.max(0)));
            }
        }
        leave_out_short(&mut levels, shortest);
        let tasks = tasks.iter().map(|(_, task)| *task).collect();
        let alone = of.problem.hands.len() == 1;
        self.engine
            .energy(Energy::new(tasks, Hours::new(levels.into_iter()), alone));
    }
}

/// Gaps too short for any task are of no use.
fn leave_out_short(levels: &mut [(i32, i32)], shortest: i32) {
    let mut begin = 0;
    for end in 0..levels.len() {
        if levels[end].1 > 0 {
            continue;
        }
        if levels[end].0 - levels[begin].0 < shortest {
            levels[begin..end].iter_mut().for_each(|level| level.1 = 0);
        }
        begin = end + 1;
    }
}

/// When hands are there, each by itself.
fn hours<'o>(of: &'o Compiled<'_>) -> impl Iterator<Item = Span> + 'o {
    of.calendars
        .iter()
        .flat_map(|calendar| calendar.periods.iter().copied())
}

/// When hands are at work on the board, and how many. Split work keeps its hand while that hand is away, and what is
/// begun may lie outside all hours: neither says that a hand is missing.
fn at_work<'b>(board: &'b Board<'_>) -> impl Iterator<Item = (Span, i64)> + 'b {
    let activities = board.of.problem.activities.iter();
    activities.zip(&board.places).filter_map(|(activity, place)| {
        let begun = activity.pin.as_ref().is_some_and(|pin| pin.begun);
        let counts = activity.hands > 0 && !begun && activity.breaks == Breaks::Within;
        let place = place.filter(|_| counts)?;
        let hands = i64::try_from(activity.hands).unwrap_or(1);
        Some((Span::new(place.start, place.end), hands))
    })
}

/// How many hands are free from which minute on: of those who work then, less those at work on the board. Outside all
/// hours the holes say that nobody is there; the capacity may stay whole.
pub(super) fn hands_there(of: &Compiled<'_>, board: Option<&Board<'_>>, whole: i64) -> Vec<(Minute, i64)> {
    // At each minute: how many more hands are there, and how many more are taken.
    let mut changes: Vec<(Minute, i64, i64)> = Vec::new();
    for span in hours(of) {
        changes.extend([(span.from, 1, 0), (span.to, -1, 0)]);
    }
    for (span, hands) in board.into_iter().flat_map(at_work) {
        changes.extend([(span.from, 0, hands), (span.to, 0, -hands)]);
    }
    changes.sort_unstable();
    let mut levels = vec![(Minute::MIN, whole)];
    let (mut there, mut taken) = (0, 0);
    for (at, &(minute, more, more_taken)) in changes.iter().enumerate() {
        (there, taken) = (there + more, taken + more_taken);
        if changes.get(at + 1).is_none_or(|next| next.0 > minute) {
            levels.push((minute, if there == 0 { whole } else { (there - taken).max(0) }));
        }
    }
    levels.dedup_by_key(|level| level.1);
    levels
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::Place;
    use crate::model::{Activity, Hand, Problem};

    #[test]
    fn gaps_too_short_for_any_task_are_left_out() {
        let mut levels = [(0, 1), (4, 0), (10, 1), (12, 2), (15, 0), (20, 1), (30, 0)];
        leave_out_short(&mut levels, 5);
        assert_eq!(levels, [(0, 0), (4, 0), (10, 1), (12, 2), (15, 0), (20, 1), (30, 0)]);
        leave_out_short(&mut levels, 6);
        assert_eq!(levels, [(0, 0), (4, 0), (10, 0), (12, 0), (15, 0), (20, 1), (30, 0)]);
    }

    /// By hand: one from 0 to 100 and one from 50 to 150, of whom one is at work from 60 to 80; outside, all two.
    #[test]
    fn hands_that_are_there_and_not_at_work_are_free() {
        let hand = |from, to| Hand {
            name: "you".into(),
            periods: vec![Span::new(from, to)],
        };
        let mut problem = Problem {
            horizon: 1_000,
            hands: vec![hand(0, 100), hand(50, 150)],
            ..Problem::default()
        };
        problem.add(Activity::new("scuff", 20));
        let of = Compiled::new(&problem);
        let mut board = Board::new(&of);
        let place = Place {
            start: 60,
            end: 80,
            team: Some(0),
        };
        board.put(0, place);
        let free = [(Minute::MIN, 2), (0, 1), (50, 2), (60, 1), (80, 2), (100, 1), (150, 2)];
        assert_eq!(hands_there(&of, Some(&board), 2), free);
    }
}
