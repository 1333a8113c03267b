//! What a piece really took, read from the bench log alone: hours of hands, and the days from the first step to the last.

use std::collections::BTreeMap;

use jiff::Timestamp;

use crate::model::{Mark, MarkKind};

/// What a piece took so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Took {
    /// Minutes that hands were on it, of the steps of which both beginning and end were said.
    pub hands_on_min: u32,
    /// Steps that were said to be done.
    pub steps: usize,
    /// Of these, steps of which only the end was said, so that their minutes are not known.
    pub untimed: usize,
    /// When the first of them began, or ended where no beginning was said.
    pub first: Timestamp,
    /// When the last of them ended.
    pub last: Timestamp,
}

/// What the steps of a piece took by the log; `None` where none was done. Ids of steps begin with the id of their piece.
///
/// What was taken back does not count, and of what was said twice the last word does.
pub fn took(log: &[Mark], piece_id: &str) -> Option<Took> {
    let mut steps: BTreeMap<&str, (Option<Timestamp>, Option<Timestamp>)> = BTreeMap::new();
    let of_piece = |mark: &&Mark| {
        mark.step
            .strip_prefix(piece_id)
            .is_some_and(|rest| rest.starts_with('.'))
    };
    for mark in log.iter().filter(of_piece) {
        let said = steps.entry(mark.step.as_str()).or_default();
        match mark.what {
            MarkKind::Begun => said.0 = Some(mark.at),
            MarkKind::Done => said.1 = Some(mark.at),
            MarkKind::Undone => *said = (None, None),
            _ => {}
        }
    }
    let done: Vec<(Option<Timestamp>, Timestamp)> = steps
        .into_values()
        .filter_map(|(begun, done)| done.map(|done| (begun, done)))
        .collect();
    let minutes = done
        .iter()
        .filter_map(|(begun, done)| begun.map(|begun| done.duration_since(begun).as_mins().max(0)));
    Some(Took {
        hands_on_min: u32::try_from(minutes.sum::<i64>()).unwrap_or(u32::MAX),
        steps: done.len(),
        untimed: done.iter().filter(|(begun, _)| begun.is_none()).count(),
        first: done.iter().map(|(begun, done)| begun.unwrap_or(*done)).min()?,
        last: done.iter().map(|(_, done)| *done).max()?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(step: &str, at: &str, what: MarkKind) -> Mark {
        Mark {
            step: step.to_owned(),
            at: format!("2027-03-08T{at}:00Z").parse().unwrap(),
            what,
            of: None,
        }
    }

    #[test]
    fn hours_are_those_between_begun_and_done_of_the_pieces_own_steps() {
        let log = [
            mark("stool.seat.1", "09:00", MarkKind::Begun),
            mark("stool.seat.1", "09:40", MarkKind::Done),
            mark("stool-2.seat.1", "09:40", MarkKind::Begun),
            mark("stool-2.seat.1", "12:00", MarkKind::Done),
            mark("stool.seat.2", "13:00", MarkKind::Done),
            mark("stool.seat.3", "14:00", MarkKind::Begun),
            mark("stool.seat.3", "14:30", MarkKind::Done),
            mark("stool.seat.3", "14:31", MarkKind::Undone),
        ];
        let took = took(&log, "stool").unwrap();
        assert_eq!((took.hands_on_min, took.steps, took.untimed), (40, 2, 1));
        assert_eq!(took.first, log[0].at);
        assert_eq!(took.last, log[4].at);
        assert_eq!(super::took(&log, "bench"), None);
    }
}
