//! How long it takes at the least from the end of each activity to the end of another: the waits followed backwards.
//!
//! Drying clocks count for nothing here (however warm it is, a wait is never over before it began), nor do hours.

use crate::compiled::Compiled;
use crate::model::{Breaks, Lag, Minute, Point, Wait};

/// Shortest times from ends to what comes after them.
#[derive(Debug)]
pub(super) struct Tails {
    /// For each activity; none where nothing says that it is over by then.
    pub(super) of: Vec<Option<Minute>>,
}

impl Tails {
    /// Until the last activity of all has ended.
    pub(super) fn to_last(of: &Compiled<'_>) -> Self {
        Self::follow(of, vec![Some(0); of.problem.activities.len()])
    }

    /// Until one activity starts.
    pub(super) fn to_start_of(of: &Compiled<'_>, index: usize) -> Self {
        let mut tails = vec![None; of.problem.activities.len()];
        // From its end back to its start; no other activity is tied to it any other way.
        tails[index] = Some(-of.problem.activities[index].duration);
        let mut tails = Self::follow(of, tails);
        // What would be over before it began says nothing of what is done by then.
        tails.of[index] = None;
        tails
            .of
            .iter_mut()
            .for_each(|tail| *tail = tail.filter(|&tail| tail >= 0));
        tails
    }

    fn follow(of: &Compiled<'_>, mut tails: Vec<Option<Minute>>) -> Self {
        // Each round follows every lag once; waits that go round for ever are cut short, which only makes them shorter.
        for _ in 0..=tails.len() {
            let mut settled = true;
            for lag in &of.problem.lags {
                let Some((after, wait)) = tails[lag.to.0].zip(wait(of, lag)) else {
                    continue;
                };
                if tails[lag.from.0].is_none_or(|known| known < after + wait) {
                    tails[lag.from.0] = Some(after + wait);
                    settled = false;
                }
            }
            if settled {
                break;
            }
        }
        Self { of: tails }
    }
}

/// From the end of one to the end of the other at the least, as the lag says it.
fn wait(of: &Compiled<'_>, lag: &Lag) -> Option<Minute> {
    let (from, to) = (&of.problem.activities[lag.from.0], &of.problem.activities[lag.to.0]);
    let Wait::Minutes(min) = lag.min else {
        // Whatever the clock, not before it began.
        return between(from, to, lag, 0);
    };
    between(from, to, lag, min)
}

fn between(from: &crate::model::Activity, to: &crate::model::Activity, lag: &Lag, min: Minute) -> Option<Minute> {
    let before = match lag.from_point {
        Point::End => 0,
        // Split work ends later than its minutes say.
        Point::Start if from.breaks == Breaks::Split => return None,
        Point::Start => -from.duration,
    };
    let after = match lag.to_point {
        Point::Start => to.duration,
        Point::End => 0,
    };
    Some(before + min + after)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Activity, ActivityId, Problem};

    /// By hand: after the first 20 of waiting, 30 of work and 5 of waiting lead to the start of the third, 10 more to its end.
    #[test]
    fn waits_and_work_add_up_backwards() {
        let mut problem = Problem {
            horizon: 1_000,
            activities: vec![
                Activity::unattended("a", 40),
                Activity::unattended("b", 30),
                Activity::unattended("c", 10),
                Activity::unattended("d", 7),
            ],
            ..Problem::default()
        };
        let (a, b, c) = (ActivityId(0), ActivityId(1), ActivityId(2));
        problem.lags = vec![Lag::after(b, c, Wait::Minutes(5)), Lag::after(a, b, Wait::Minutes(20))];
        let compiled = Compiled::new(&problem);
        assert_eq!(Tails::to_last(&compiled).of, [Some(65), Some(15), Some(0), Some(0)]);
        assert_eq!(Tails::to_start_of(&compiled, 2).of, [Some(55), Some(5), None, None]);
    }

    #[test]
    fn a_lag_from_a_start_counts_the_work_out_and_a_negative_one_says_nothing() {
        let mut problem = Problem {
            horizon: 1_000,
            activities: vec![Activity::unattended("a", 40), Activity::unattended("b", 30)],
            ..Problem::default()
        };
        let mut lag = Lag::after(ActivityId(0), ActivityId(1), Wait::Minutes(50));
        lag.from_point = Point::Start;
        problem.lags = vec![lag];
        assert_eq!(Tails::to_start_of(&Compiled::new(&problem), 1).of, [Some(10), None]);
        problem.lags[0].min = Wait::Minutes(30);
        assert_eq!(Tails::to_start_of(&Compiled::new(&problem), 1).of, [None, None]);
        problem.activities[0].breaks = Breaks::Split;
        problem.lags[0].min = Wait::Minutes(50);
        assert_eq!(Tails::to_start_of(&Compiled::new(&problem), 1).of, [None, None]);
    }
}
