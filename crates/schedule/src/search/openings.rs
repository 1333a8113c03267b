//! The orders a search begins with: by rules of thumb, each made when it is its turn.

use crate::compiled::Compiled;
use crate::model::Minute;

/// What an order goes by; what is urgent decides among equals.
#[derive(Debug, Clone, Copy)]
enum Rule {
    /// The plan before; what is new comes last.
    Before,
    /// The caller's groups.
    Group,
    Urgency,
    /// The order in which the activities were given.
    Given,
}

/// The orders still to come.
#[derive(Debug)]
pub(super) struct Openings {
    latest: Vec<Minute>,
    left: std::slice::Iter<'static, Rule>,
}

impl Openings {
    pub(super) fn new(of: &Compiled<'_>) -> Self {
        Self {
            latest: latest_by_dues(of),
            left: [Rule::Before, Rule::Group, Rule::Urgency, Rule::Given].iter(),
        }
    }

    /// The next order, if there is one more.
    pub(super) fn next(&mut self, of: &Compiled<'_>) -> Option<Vec<usize>> {
        let rule = self.left.next()?;
        let key = |index: usize| match rule {
            Rule::Before => (of.stood[index].unwrap_or(Minute::MAX), self.latest[index]),
            Rule::Group => (i64::from(of.problem.activities[index].group), self.latest[index]),
            Rule::Urgency => (self.latest[index], 0),
            Rule::Given => (0, 0),
        };
        let mut keyed: Vec<((Minute, Minute), usize)> =
            (0..self.latest.len()).map(|index| (key(index), index)).collect();
        keyed.sort_unstable();
        Some(keyed.into_iter().map(|(_, index)| index).collect())
    }
}

/// For each activity, when it must start so that everything after it can still be on time, waits at their least.
pub(crate) fn latest_by_dues(of: &Compiled<'_>) -> Vec<Minute> {
    let problem = of.problem;
    let mut latest: Vec<Minute> = (0..problem.activities.len())
        .map(|index| {
            let activity = &problem.activities[index];
            let dues = of.dues_of[index].iter().map(|&due| problem.dues[due].at);
            dues.chain(activity.deadline).min().unwrap_or(problem.horizon) - activity.duration
        })
        .collect();
    // Lags may run either way in the list: repeat until nothing changes, at most a few rounds.
    for _ in 0..problem.activities.len().min(200) {
        let mut changed = false;
        for lag in problem.lags.iter().rev() {
            let (from, to) = (lag.from.0, lag.to.0);
            let needed = of.latest_begin(lag.min, latest[to]) - problem.activities[from].duration;
            if needed < latest[from] {
                latest[from] = needed;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    latest
}

#[cfg(test)]
mod tests {
    use super::{Openings, latest_by_dues};
    use crate::clock::Clock;
    use crate::compiled::Compiled;
    use crate::model::{Activity, ActivityId, ClockId, Due, Lag, Placement, Previous, Problem, Wait};

    /// Two steps with a wait that takes an hour on its clock, the second wanted by 500; a third by itself with a deadline.
    fn problem() -> Problem {
        let mut problem = Problem {
            horizon: 1_000,
            clocks: vec![Clock::new(vec![(0, 2)])],
            ..Problem::default()
        };
        for minutes in [20, 30, 40] {
            problem.add(Activity::unattended("", minutes));
        }
        let wait = Wait::Progress {
            clock: ClockId(0),
            progress: 120,
        };
        problem.lags.push(Lag::after(ActivityId(0), ActivityId(1), wait));
        problem.dues.push(Due {
            activity: ActivityId(1),
            at: 500,
            weight: 1,
        });
        problem.activities[2].deadline = Some(700);
        problem
    }

    #[test]
    fn the_latest_starts_are_counted_back_from_what_is_wanted() {
        let problem = problem();
        // The second from 470 on; so the wait begins by 410, and the first by 390. The third ends by 700.
        assert_eq!(latest_by_dues(&Compiled::new(&problem)), [390, 470, 660]);
    }

    #[test]
    fn the_first_opening_order_is_that_of_the_plan_before() {
        let mut problem = problem();
        let stood = |start| {
            Some(Placement {
                start,
                ..Placement::default()
            })
        };
        problem.previous = Some(Previous {
            placements: vec![stood(300), None, stood(100)],
            worth_moving_min: 60,
        });
        // From 440 on at the latest: between the first two.
        problem.activities[2].deadline = Some(480);
        let of = Compiled::new(&problem);
        let mut openings = Openings::new(&of);
        let orders: Vec<Vec<usize>> = std::iter::from_fn(|| openings.next(&of)).collect();
        assert_eq!(orders[0], [2, 0, 1], "what is new comes last");
        assert_eq!(orders[1], [0, 2, 1], "all of one group: by what is urgent");
        assert_eq!(orders[2], [0, 2, 1], "by what is urgent");
        assert_eq!(orders[3], [0, 1, 2], "as given");
        assert_eq!(orders.len(), 4);
    }
}
