//! The hours in which a team (one hand, or several together) works, and how long work takes within them.

use crate::model::{Block, Breaks, HandId, Minute, Problem, Span};

/// Working periods, ascending and apart.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Calendar {
    pub(crate) periods: Vec<Span>,
}

impl Calendar {
    /// The hand's periods less the blocks that concern it.
    pub(crate) fn of_hand(problem: &Problem, hand: HandId) -> Self {
        let mut periods = joined(&problem.hands[hand.0].periods);
        for block in problem
            .blocks
            .iter()
            .filter(|block| block.hand.is_none_or(|who| who == hand))
        {
            periods = without(&periods, block);
        }
        Self { periods }
    }

    /// The time in which both work.
    pub(crate) fn and(&self, other: &Self) -> Self {
        let (mut mine, mut theirs) = (self.periods.iter().peekable(), other.periods.iter().peekable());
        let mut periods = Vec::new();
        while let (Some(a), Some(b)) = (mine.peek(), theirs.peek()) {
            let shared = Span::new(a.from.max(b.from), a.to.min(b.to));
            if shared.length() > 0 {
                periods.push(shared);
            }
            if a.to <= b.to {
                mine.next()
            } else {
                theirs.next()
            };
        }
        Self { periods }
    }

    /// The first start not before `from` at which `duration` can be worked, and its end.
    pub(crate) fn fit(&self, from: Minute, duration: Minute, breaks: Breaks) -> Option<(Minute, Minute)> {
        let mut index = self.periods.partition_point(|period| period.to <= from);
        // Work of no length may also be done at the very end of a period.
        if duration == 0 && index > 0 && self.periods[index - 1].to == from {
            return Some((from, from));
        }
        let start = self.periods.get(index)?.from.max(from);
        if breaks == Breaks::Split {
            return self.end_of(start, duration).map(|end| (start, end));
        }
        let mut start = start;
        while start + duration > self.periods[index].to {
            index += 1;
            start = self.periods.get(index)?.from;
        }
        Some((start, start + duration))
    }

    /// When `duration` minutes of work begun at `start` are done, breaks left out.
    fn end_of(&self, start: Minute, duration: Minute) -> Option<Minute> {
        self.stretches(start, duration)
            .map(|stretches| stretches.last().map_or(start, |last| last.to))
    }

    /// The stretches in which `duration` minutes of work begun at `start` are done.
    pub(crate) fn stretches(&self, start: Minute, duration: Minute) -> Option<Vec<Span>> {
        let mut left = duration;
        let mut stretches = Vec::new();
        let first = self.periods.partition_point(|period| period.to <= start);
        for period in self.periods.get(first..)? {
            let from = period.from.max(start);
            let stretch = Span::new(from, period.to.min(from + left));
            left -= stretch.length();
            stretches.push(stretch);
            if left == 0 {
                return Some(stretches);
            }
        }
        None
    }

    /// Minutes worked in `[from, to)`.
    pub(crate) fn minutes_between(&self, from: Minute, to: Minute) -> Minute {
        self.periods
            .iter()
            .map(|p| Span::new(p.from.max(from), p.to.min(to)).length())
            .sum()
    }
}

/// Periods that touch are one: nobody need stop between them.
fn joined(periods: &[Span]) -> Vec<Span> {
    let mut joined: Vec<Span> = Vec::with_capacity(periods.len());
    for &period in periods {
        match joined.last_mut() {
            Some(last) if last.to >= period.from => last.to = last.to.max(period.to),
            _ => joined.push(period),
        }
    }
    joined
}

fn without(periods: &[Span], block: &Block) -> Vec<Span> {
    let mut left = Vec::with_capacity(periods.len() + 1);
    for period in periods {
        let before = Span::new(period.from, period.to.min(block.span.from));
        let after = Span::new(period.from.max(block.span.to), period.to);
        left.extend([before, after].into_iter().filter(|piece| piece.length() > 0));
    }
    left
}

#[cfg(test)]
mod tests {
    use super::Calendar;
    use crate::model::{Breaks, Span};

    fn two_days() -> Calendar {
        Calendar {
            periods: vec![Span::new(480, 720), Span::new(780, 990), Span::new(1920, 2160)],
        }
    }

    #[test]
    fn work_within_a_period_waits_for_one_long_enough() {
        assert_eq!(two_days().fit(0, 60, Breaks::Within), Some((480, 540)));
        assert_eq!(two_days().fit(700, 60, Breaks::Within), Some((780, 840)));
        assert_eq!(two_days().fit(700, 220, Breaks::Within), Some((1920, 2140)));
        assert_eq!(two_days().fit(0, 250, Breaks::Within), None);
    }

    #[test]
    fn split_work_goes_on_after_the_break() {
        assert_eq!(two_days().fit(700, 60, Breaks::Split), Some((700, 820)));
        assert_eq!(two_days().stretches(700, 250).map(|s| s.len()), Some(3));
        assert_eq!(two_days().fit(2100, 61, Breaks::Split), None);
    }

    #[test]
    fn two_hands_share_what_both_work() {
        let other = Calendar {
            periods: vec![Span::new(500, 800)],
        };
        assert_eq!(
            two_days().and(&other).periods,
            vec![Span::new(500, 720), Span::new(780, 800)]
        );
    }
}
