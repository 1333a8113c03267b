//! What can be done until when: free hands (or one) over time, added up.

/// Units of work that can be done before each time.
#[derive(Debug, Default)]
pub(crate) struct Hours {
    /// `(from, rate, total before)`, ascending; nothing before the first.
    steps: Vec<(i32, i32, i32)>,
}

impl Hours {
    /// From a rate that holds from each time on, ascending.
    pub(crate) fn new(levels: impl Iterator<Item = (i32, i32)>) -> Self {
        let mut steps: Vec<(i32, i32, i32)> = Vec::new();
        for (from, rate) in levels {
            let total = steps
                .last()
                .map_or(0, |&(since, rate, total)| total + rate * (from - since));
            steps.push((from, rate, total));
        }
        Self { steps }
    }

    /// How much can be done before a time.
    pub(super) fn before(&self, time: i32) -> i32 {
        let next = self.steps.partition_point(|step| step.0 <= time);
        let step = next.checked_sub(1).map(|at| self.steps[at]);
        step.map_or(0, |(from, rate, total)| total + rate * (time - from))
    }

    /// The first time before which so much can be done; far away if it never can.
    pub(super) fn first(&self, work: i32) -> i32 {
        let next = self.steps.partition_point(|step| step.2 < work);
        let Some((from, rate, total)) = next.checked_sub(1).map(|at| self.steps[at]) else {
            return i32::MIN / 4;
        };
        if rate == 0 {
            return i32::MAX / 4;
        }
        let left = work - total;
        from + left / rate + i32::from(left % rate != 0)
    }

    /// The last time before which no more than this can be done; far away if there never is more.
    pub(super) fn last(&self, work: i32) -> i32 {
        self.first(work + 1) - 1
    }
}

#[cfg(test)]
mod tests {
    use super::Hours;

    /// By hand: one from 10 to 20, two until 25, nobody until 30, one from then on: 10 by 20, 20 by 25 and by 30.
    #[test]
    fn work_adds_up_and_breaks_belong_to_both_sides() {
        let hours = Hours::new([(10, 1), (20, 2), (25, 0), (30, 1)].into_iter());
        assert_eq!(
            [0, 10, 15, 20, 22, 25, 28, 31].map(|time| hours.before(time)),
            [0, 0, 5, 10, 14, 20, 20, 21]
        );
        assert_eq!(
            [1, 10, 11, 13, 20, 21].map(|work| hours.first(work)),
            [11, 20, 21, 22, 25, 31]
        );
        assert_eq!([0, 10, 12, 20].map(|work| hours.last(work)), [10, 20, 21, 30]);
        assert_eq!(hours.first(0), i32::MIN / 4);
    }
}
