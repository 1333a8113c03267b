//! Progress clocks: waits that run faster in a warm, dry room and stand still in a cold one.
//!
//! A clock is a rate, constant between given minutes. A wait is over when the integral of the rate since its beginning
//! reaches what it needs. Both directions are answered by one table of running totals, in which an index by equal
//! stretches (of minutes, of totals) says where to look.

use crate::lookup::Lookup;
use crate::model::Minute;

/// A piecewise-constant rate of progress. Rates are whole numbers of units a minute, 0 or more.
///
/// Before the first change the first rate holds, after the last the last.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clock {
    /// `(from, rate, total progress made at from)`, ascending.
    steps: Vec<Step>,
    by_minute: Lookup,
    by_total: Lookup,
    /// The highest rate there ever is.
    fastest: i64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Step {
    from: Minute,
    rate: i64,
    total: i64,
}

/// What a wait that never ends is said to end at: later than any horizon, far from overflow.
pub(crate) const NEVER: Minute = 1 << 50;

impl Clock {
    /// A clock from `(from, rate)` pairs, put in order of time; a negative rate counts as 0.
    ///
    /// An empty list is a clock that stands still.
    #[must_use]
    pub fn new(mut rates: Vec<(Minute, i64)>) -> Self {
        rates.sort_by_key(|&(from, _)| from);
        let mut steps: Vec<Step> = Vec::with_capacity(rates.len());
        for (from, rate) in rates {
            let total = steps
                .last()
                .map_or(0, |last| last.total + (from - last.from) * last.rate);
            steps.push(Step {
                from,
                rate: rate.max(0),
                total,
            });
        }
        Self {
            by_minute: Lookup::new(steps.iter().map(|step| step.from)),
            by_total: Lookup::new(steps.iter().map(|step| step.total)),
            fastest: steps.iter().map(|step| step.rate).max().unwrap_or(0),
            steps,
        }
    }

    /// The rates as given: from which minute on, how many units a minute; ascending.
    pub(crate) fn rates(&self) -> impl Iterator<Item = (Minute, i64)> {
        self.steps.iter().map(|step| (step.from, step.rate))
    }

    /// Total progress at a minute, from an arbitrary zero (negative before the first change).
    #[must_use]
    pub fn total_at(&self, minute: Minute) -> i64 {
        let (from, to) = self.by_minute.around(minute);
        let after = from + self.steps[from..to].partition_point(|step| step.from <= minute);
        let Some(step) = self.steps.get(after.saturating_sub(1)) else {
            return 0;
        };
        // A minute that stands for never must not run over the end of the numbers.
        step.total
            .saturating_add((minute - step.from).saturating_mul(step.rate))
    }

    /// The first minute at which a wait begun at `begun` has made `progress`; later than any horizon if it never does.
    ///
    /// # Examples
    /// ```
    /// // A warm day at 2 units a minute, then a cold night at 1.
    /// let clock = schedule::Clock::new(vec![(0, 2), (100, 1)]);
    /// assert_eq!(clock.done_at(90, 50), 130); // 10 min × 2 + 30 min × 1
    /// ```
    #[must_use]
    pub fn done_at(&self, begun: Minute, progress: i64) -> Minute {
        if progress <= 0 {
            return begun;
        }
        self.first_with(self.total_at(begun).saturating_add(progress))
    }

    /// No wait for `progress` is shorter than this.
    pub(crate) fn shortest(&self, progress: i64) -> Minute {
        match self.fastest {
            _ if progress <= 0 => 0,
            0 => NEVER,
            rate => progress.div_ceil_floor(rate),
        }
    }

    /// The earliest beginning of a wait for `progress` that is not over before `at`.
    pub(crate) fn earliest_begin(&self, progress: i64, at: Minute) -> Minute {
        if progress <= 0 {
            return at;
        }
        self.first_with(self.total_at(at - 1).saturating_sub(progress - 1))
    }

    /// The first minute at which the total is at least `goal`.
    fn first_with(&self, goal: i64) -> Minute {
        // The last step whose total is still short of the goal is the one in which it is reached.
        let (from, to) = self.by_total.around(goal);
        let after = from + self.steps[from..to].partition_point(|step| step.total < goal);
        let Some(step) = self.steps.get(after.saturating_sub(1)) else {
            return NEVER;
        };
        match step.rate {
            0 if after == 0 => -NEVER,
            0 => NEVER,
            rate => step.from + goal.saturating_sub(step.total).div_ceil_floor(rate),
        }
    }
}

/// Division rounding up, for a dividend of either sign and a positive divisor.
trait CeilDiv {
    fn div_ceil_floor(self, by: i64) -> i64;
}

impl CeilDiv for i64 {
    fn div_ceil_floor(self, by: i64) -> i64 {
        self.div_euclid(by) + i64::from(self.rem_euclid(by) != 0)
    }
}

#[cfg(test)]
mod tests {
    use super::Clock;

    #[test]
    fn a_wait_spans_changes_of_rate() {
        let clock = Clock::new(vec![(0, 1000), (60, 0), (120, 500)]);
        assert_eq!(clock.done_at(0, 30_000), 30);
        assert_eq!(clock.done_at(30, 60_000), 180);
        assert_eq!(clock.done_at(70, 500), 121);
        assert_eq!(clock.done_at(-10, 10_000), 0);
        assert_eq!((clock.shortest(30_001), clock.shortest(0)), (31, 0));
    }

    #[test]
    fn a_clock_that_stands_still_never_finishes() {
        assert!(Clock::new(vec![(0, 5), (10, 0)]).done_at(0, 51) > 1 << 40);
        assert_eq!(Clock::new(vec![(0, 5), (10, 0)]).done_at(0, 50), 10);
        assert!(Clock::new(Vec::new()).done_at(0, 1) > 1 << 40);
    }

    #[test]
    fn the_earliest_beginning_is_the_first_that_is_over_late_enough() {
        let clock = Clock::new(vec![(0, 7), (13, 2), (40, 11), (55, 0), (60, 3)]);
        for at in 0..120 {
            let begin = clock.earliest_begin(97, at);
            assert!(
                clock.done_at(begin, 97) >= at && clock.done_at(begin - 1, 97) < at,
                "{at}"
            );
        }
    }

    #[test]
    fn an_uneven_series_is_looked_up_as_if_read_from_its_beginning() {
        // Hours, then a fortnight without a reading, then minutes; it stands still now and then.
        let froms = (0..48).map(|k| k * 60).chain((0..90).map(|k| 23_000 + k));
        let rates: Vec<(i64, i64)> = froms.map(|from| (from, (from * 7) % 5)).collect();
        let clock = Clock::new(rates.clone());
        let rate_at = |minute: i64| {
            rates
                .iter()
                .rev()
                .find(|(from, _)| *from <= minute)
                .map_or(0, |&(_, rate)| rate)
        };
        for begun in (0..23_100).step_by(37) {
            for progress in [1, 90, 4_000, 60_000] {
                let (mut made, mut at) = (0, begun);
                while made < progress && at < 120_000 {
                    made += rate_at(at);
                    at += 1;
                }
                let done = clock.done_at(begun, progress);
                assert!(
                    done == at || (at == 120_000 && done > at),
                    "{begun} {progress}: {done}, not {at}"
                );
            }
        }
    }

    #[test]
    fn later_beginnings_never_end_earlier() {
        let clock = Clock::new(vec![(0, 7), (13, 2), (40, 11), (55, 0), (60, 3)]);
        for begun in -20..100 {
            assert!(clock.done_at(begun, 97) <= clock.done_at(begun + 1, 97));
        }
    }
}
