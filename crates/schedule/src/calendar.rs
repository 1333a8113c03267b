//! The hours in which a team (one hand, or several together) works, and how long work takes within them.

use crate::lookup::Lookup;
use crate::model::{Block, Breaks, HandId, Minute, Problem, Span};

/// Working periods, ascending and apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Calendar {
    pub(crate) periods: Vec<Span>,
    /// Minutes worked before each period, and in all.
    worked: Vec<Minute>,
    longest: Minute,
    by_end: Lookup,
}

impl Calendar {
    pub(crate) fn new(periods: Vec<Span>) -> Self {
        let mut worked = vec![0];
        let mut total = 0;
        for period in &periods {
            total += period.length();
            worked.push(total);
        }
        let longest = periods.iter().map(|period| period.length()).max().unwrap_or(0);
        Self {
            by_end: Lookup::new(periods.iter().map(|period| period.to)),
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
        let mut index = self.place_of(from);
        // Work of no length may also be done at the very end of a period.
        if duration == 0 && index > 0 && self.periods[index - 1].to == from {
            return Some((from, from));
        }
        let mut start = self.periods.get(index)?.from.max(from);
        if breaks == Breaks::Split {
            return self.end_of(start, duration).map(|end| (start, end));
        }
        while start + duration > self.periods[index].to {
            index += 1;
            start = self.periods.get(index)?.from;
        }
        Some((start, start + duration))
    }

    /// The place of the first period that is not over by a minute.
    fn place_of(&self, minute: Minute) -> usize {
        let (from, to) = self.by_end.around(minute + 1);
        from + self.periods[from..to].partition_point(|period| period.to <= minute)
    }

    /// The periods that are not over before a minute.
    pub(crate) fn from(&self, minute: Minute) -> &[Span] {
        &self.periods[self.place_of(minute - 1)..]
    }

    /// Minutes that are left of a period once work in it has ended.
    pub(crate) fn left_at_end(&self, end: Minute) -> Minute {
        self.from(end).first().map_or(0, |period| period.to - end)
    }

    /// When `duration` minutes of work begun at `start` are done, breaks left out.
    pub(crate) fn end_of(&self, start: Minute, duration: Minute) -> Option<Minute> {
        let first = self.place_of(start);
        let begun = self.worked[first] + (start - self.periods.get(first)?.from).max(0);
        let goal = begun + duration;
        // Work that ends with a period ends there, not at the beginning of the next.
        let last = first
            + self.worked[first..self.periods.len()]
                .partition_point(|&worked| worked < goal)
                .saturating_sub(1);
        let end = self.periods[last].from + goal - self.worked[last];
        (end <= self.periods[last].to).then_some(end.max(start))
    }

    /// The stretches in which `duration` minutes of work begun at `start` are done.
    pub(crate) fn stretches(&self, start: Minute, duration: Minute) -> Option<Vec<Span>> {
        let mut left = duration;
        let mut stretches = Vec::new();
        let first = self.place_of(start);
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
        let first = self.place_of(from);
        let part = |period: &Span| Span::new(period.from.max(from), period.to.min(to)).length();
        let mut within = self.periods[first..].iter().take_while(|period| period.from < to);
        let one = within.next().map_or(0, part);
        let two = within.next().map_or(0, part);
        if within.next().is_some() {
            self.longest
        } else {
            one.max(two)
        }
    }

    /// Minutes worked in `[from, to)`.
    pub(crate) fn minutes_between(&self, from: Minute, to: Minute) -> Minute {
        (self.worked_before(to) - self.worked_before(from)).max(0)
    }

    /// Minutes worked before a minute.
    fn worked_before(&self, minute: Minute) -> Minute {
        let at = self.place_of(minute);
        let begun = self.periods.get(at).map_or(0, |period| minute - period.from);
        self.worked[at] + begun.max(0)
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
