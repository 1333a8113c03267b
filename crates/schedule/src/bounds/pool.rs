//! All hands (or a resource) as one: how much can be done until when.
//!
//! A pool is a rate of work, constant between given minutes, with running totals; both directions are answered by a
//! binary search.

use crate::compiled::Compiled;
use crate::model::{Minute, Resource};

/// How much is there from which minute on, and how much was there before.
#[derive(Debug)]
pub(super) struct Pool {
    /// `(from, rate, total until from)`, ascending.
    steps: Vec<(Minute, i64, i64)>,
    horizon: Minute,
}

impl Pool {
    /// The hours of all hands from the beginning of the plan on.
    pub(super) fn of_hands(of: &Compiled<'_>) -> Self {
        let mut changes: Vec<(Minute, i64)> = Vec::new();
        for period in of.calendars.iter().flat_map(|calendar| &calendar.periods) {
            let from = period.from.max(of.problem.not_before);
            if from < period.to {
                changes.extend([(from, 1), (period.to, -1)]);
            }
        }
        changes.sort_unstable();
        let mut rate = 0;
        let levels = changes.into_iter().map(|(at, change)| {
            rate += change;
            (at, rate)
        });
        Self::new(levels.collect(), of.problem.horizon)
    }

    /// What there is of a resource from the beginning of the plan on.
    pub(super) fn of_resource(of: &Compiled<'_>, resource: &Resource) -> Self {
        let first = of.problem.not_before;
        let levels = resource.capacity.iter();
        let mut levels: Vec<(Minute, i64)> = levels.map(|&(at, amount)| (at.max(first), amount.into())).collect();
        levels.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                *kept = *next;
            }
            same
        });
        Self::new(levels, of.problem.horizon)
    }

    fn new(levels: Vec<(Minute, i64)>, horizon: Minute) -> Self {
        let mut steps: Vec<(Minute, i64, i64)> = Vec::with_capacity(levels.len());
        for (at, rate) in levels {
            let total = steps
                .last()
                .map_or(0, |&(from, rate, total)| total + rate * (at - from));
            steps.push((at, rate, total));
        }
        Self { steps, horizon }
    }

    /// How much can be done before a minute.
    pub(super) fn before(&self, minute: Minute) -> i64 {
        let after = self.steps.partition_point(|step| step.0 <= minute);
        let step = after.checked_sub(1).map(|at| self.steps[at]);
        step.map_or(0, |(from, rate, total)| total + rate * (minute - from))
    }

    /// The first minute before which so much can be done; the horizon if it never can.
    pub(super) fn done(&self, work: i64) -> Minute {
        let after = self.steps.partition_point(|step| step.2 < work);
        let Some((from, rate, total)) = after.checked_sub(1).map(|at| self.steps[at]) else {
            return Minute::MIN / 4;
        };
        if rate == 0 {
            return self.horizon;
        }
        // Part of a minute is a minute: work ends on whole ones.
        (from + (work - total + rate - 1).div_euclid(rate)).min(self.horizon)
    }

    /// The first minute by which so much can be done from a minute on.
    pub(super) fn done_from(&self, from: Minute, work: i64) -> Minute {
        self.done(self.before(from) + work).max(from)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Hand, Problem, Span};

    fn problem() -> Problem {
        let hand = |periods: &[(i64, i64)]| Hand {
            name: "you".into(),
            periods: periods.iter().map(|&(from, to)| Span::new(from, to)).collect(),
        };
        Problem {
            horizon: 1_000,
            hands: vec![hand(&[(100, 200), (300, 400)]), hand(&[(150, 350)])],
            ..Problem::default()
        }
    }

    /// By hand: 50 alone until 150, then two until 200 (100), one until 300 (100), two until 350 (100), one until 400 (50).
    #[test]
    fn hours_of_two_hands_add_up() {
        let problem = problem();
        let pool = Pool::of_hands(&crate::compiled::Compiled::new(&problem));
        assert_eq!(
            [100, 150, 200, 300, 350, 400, 900].map(|minute| pool.before(minute)),
            [0, 50, 150, 250, 350, 400, 400]
        );
        assert_eq!(
            [1, 50, 51, 150, 151, 400].map(|work| pool.done(work)),
            [101, 150, 151, 200, 201, 400]
        );
        assert_eq!(pool.done(401), 1_000);
        assert_eq!(pool.done_from(175, 60), 210);
    }

    #[test]
    fn a_resource_that_changes_gives_as_much_as_there_is() {
        let problem = problem();
        let resource = Resource {
            name: "rack".into(),
            capacity: vec![(-50, 3), (10, 1), (20, 0), (30, 2)],
        };
        let pool = Pool::of_resource(&crate::compiled::Compiled::new(&problem), &resource);
        assert_eq!([10, 20, 30, 40].map(|minute| pool.before(minute)), [30, 40, 40, 60]);
        assert_eq!([30, 31, 40, 41].map(|work| pool.done(work)), [10, 11, 20, 31]);
    }
}
