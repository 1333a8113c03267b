//! The hours in which a team (one hand, or several together) works, and how long work takes within them.

use crate::model::{Block, Breaks, HandId, Minute, Problem, Span};

/// Working periods, ascending and apart.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Calendar {
    pub(crate) periods: Vec<Span>,
    /// Minutes worked before each period.
    worked: Vec<Minute>,
    longest: Minute,
}

impl Calendar {
    pub(crate) fn new(periods: Vec<Span>) -> Self {
        let mut total = 0;
        let before = |period: &Span| {
            let worked = total;
            total += period.length();
            worked
        };
        let worked = periods.iter().map(before).collect();
        let longest = periods.iter().map(|period| period.length()).max().unwrap_or(0);
        Self {
            periods,
            worked,
            longest,
        }
    }

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
        Self::new(periods)
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
        Self::new(periods)
    }

    /// The first start not before `from` at which `duration` can be worked, and its end.
    pub(crate) fn fit(&self, from: Minute, duration: Minute, breaks: Breaks) -> Option<(Minute, Minute)> {
        self.fit_near(&mut self.place_of(from), from, duration, breaks)
    }

    /// The place of the first period that is not over by a minute.
    pub(crate) fn place_of(&self, minute: Minute) -> usize {
        self.periods.partition_point(|period| period.to <= minute)
    }

    /// The same; `near` is the place of a period that ends no later than the one in which it fits, and is moved up to it. Whoever
    /// goes through the hours step by step need not search them anew each time.
    pub(crate) fn fit_near(
        &self,
        near: &mut usize,
        from: Minute,
        duration: Minute,
        breaks: Breaks,
    ) -> Option<(Minute, Minute)> {
        let mut index = *near;
        let close = self
            .periods
            .get(index..)
            .unwrap_or(&[])
            .iter()
            .take(4)
            .position(|period| period.to > from);
        index = match close {
            Some(further) => index + further,
            None => self.periods.partition_point(|period| period.to <= from),
        };
        *near = index;
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
        *near = index;
        Some((start, start + duration))
    }

    /// When `duration` minutes of work begun at `start` are done, breaks left out.
    pub(crate) fn end_of(&self, start: Minute, duration: Minute) -> Option<Minute> {
        let first = self.periods.partition_point(|period| period.to <= start);
        let begun = self.worked.get(first)? + (start - self.periods[first].from).max(0);
        let goal = begun + duration;
        // Work that ends with a period ends there, not at the beginning of the next.
        let last = first
            + self.worked[first..]
                .partition_point(|&worked| worked < goal)
                .saturating_sub(1);
        let end = self.periods[last].from + goal - self.worked[last];
        (end <= self.periods[last].to).then_some(end.max(start))
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

    /// At least what can be worked without a break in `[from, to)`: the part of the first period in it, that of the last, or
    /// where whole periods lie between the longest there is.
    pub(crate) fn room_between(&self, from: Minute, to: Minute) -> Minute {
        let first = self.periods.partition_point(|period| period.to <= from);
        let after = first + self.periods[first..].partition_point(|period| period.from < to);
        let part = |at: usize| Span::new(self.periods[at].from.max(from), self.periods[at].to.min(to)).length();
        match after - first {
            0 => 0,
            1 => part(first),
            2 => part(first).max(part(first + 1)),
            _ => self.longest,
        }
    }

    /// Minutes worked in `[from, to)`.
    pub(crate) fn minutes_between(&self, from: Minute, to: Minute) -> Minute {
        (self.worked_before(to) - self.worked_before(from)).max(0)
    }

    /// Minutes worked before a minute.
    fn worked_before(&self, minute: Minute) -> Minute {
        let begun = self.periods.partition_point(|period| period.from < minute);
        let Some(last) = begun.checked_sub(1) else { return 0 };
        self.worked[last] + (minute.min(self.periods[last].to) - self.periods[last].from)
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
        Calendar::new(vec![Span::new(480, 720), Span::new(780, 990), Span::new(1920, 2160)])
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
    fn the_end_of_split_work_is_that_of_its_last_stretch() {
        let calendar = two_days();
        for start in 0..2_200 {
            for duration in [0, 1, 60, 210, 211, 240, 450, 690, 691] {
                let last = calendar.stretches(start, duration);
                let last = last.map(|stretches| stretches.last().map_or(start, |last| last.to));
                assert_eq!(calendar.end_of(start, duration), last, "{duration} from {start}");
            }
        }
    }

    #[test]
    fn minutes_between_are_those_of_the_periods() {
        let calendar = two_days();
        assert_eq!(calendar.minutes_between(0, 9_999), 240 + 210 + 240);
        assert_eq!(calendar.minutes_between(700, 800), 20 + 20);
        assert_eq!(calendar.minutes_between(720, 780), 0);
        assert_eq!(calendar.minutes_between(2_000, 1_000), 0);
    }

    #[test]
    fn room_between_is_never_less_than_the_longest_part() {
        let calendar = two_days();
        assert_eq!(calendar.room_between(0, 480), 0);
        assert_eq!(calendar.room_between(500, 600), 100);
        assert_eq!(calendar.room_between(700, 900), 120);
        assert_eq!(calendar.room_between(720, 780), 0);
        assert_eq!(calendar.room_between(700, 2_000), 240);
    }

    #[test]
    fn two_hands_share_what_both_work() {
        let other = Calendar::new(vec![Span::new(500, 800)]);
        assert_eq!(
            two_days().and(&other).periods,
            vec![Span::new(500, 720), Span::new(780, 800)]
        );
    }
}
