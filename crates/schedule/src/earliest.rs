//! A lower bound by the clock: when each activity could end if it alone had everybody's hands.
//!
//! One idea: every wait is followed forward from the earliest moment it could begin, through working periods, start windows and
//! the weather of its clock. What begins later never ends earlier, so these moments are bounds however hands and rooms are shared.
//! Longest waits, closed stretches, rooms and resources are left out: they can only make it later.

use crate::calendar::Calendar;
use crate::compiled::Compiled;
use crate::model::{Activity, Breaks, Minute, Placement, Point, Score};
use crate::number::minutes;

/// The least that the score of any plan can be, on its first two levels; `None` where some activity fits nowhere before the horizon.
pub(crate) fn bound(of: &Compiled<'_>) -> Option<Score> {
    let spans = spans(of)?;
    let completion = spans.iter().map(|span| span.1).max().unwrap_or(of.problem.not_before);
    let late = |due: &crate::model::Due| i64::from(due.weight) * (spans[due.activity.0].1 - due.at).max(0);
    let weighted = of.problem.dues.iter().map(late).sum::<i64>();
    Some(Score {
        weighted: weighted + i64::from(of.problem.completion_weight) * completion + moved(of, &spans),
        completion,
        ..Score::default()
    })
}

/// What the steps of a plan followed so far count that can no longer stand where they stood.
pub(crate) fn moved(of: &Compiled<'_>, spans: &[(Minute, Minute)]) -> i64 {
    of.problem.previous.as_ref().map_or(0, |previous| {
        let is_too_soon =
            |(was, span): &(&Option<Placement>, &(Minute, Minute))| was.as_ref().is_some_and(|was| was.start < span.0);
        let places = previous.placements.iter().zip(spans);
        previous.worth_moving_min * minutes(places.filter(is_too_soon).count())
    })
}

/// The earliest start and the earliest end of each activity; `None` where some activity fits nowhere before the horizon.
pub(crate) fn spans(of: &Compiled<'_>) -> Option<Vec<(Minute, Minute)>> {
    let problem = of.problem;
    let n = problem.activities.len();
    let mut spans = Vec::with_capacity(n);
    for index in 0..n {
        spans.push(place(of, index, problem.not_before)?);
    }
    // Each round follows every lag once. A chain of n needs at most n rounds; one that goes round for ever has no plan at all.
    for _ in 0..=n {
        let mut settled = true;
        for lag in &problem.lags {
            let begun = match lag.from_point {
                Point::Start => spans[lag.from.0].0,
                Point::End => spans[lag.from.0].1,
            };
            let to = lag.to.0;
            let over = of.over(lag.min, begun);
            let activity = &problem.activities[to];
            let not_before = match (lag.to_point, activity.breaks) {
                (Point::Start, _) => over,
                (Point::End, Breaks::Within) => over - activity.duration,
                (Point::End, Breaks::Split) => continue,
            };
            if not_before > spans[to].0 && activity.pin.is_none() {
                spans[to] = place(of, to, not_before)?;
                settled = false;
            }
        }
        if settled {
            return Some(spans);
        }
    }
    None
}

/// The earliest start and the earliest end of an activity that does not start before `from`.
pub(crate) fn place(of: &Compiled<'_>, index: usize, from: Minute) -> Option<(Minute, Minute)> {
    let activity = &of.problem.activities[index];
    if let Some(pin) = &activity.pin {
        return Some((pin.start, pin.start + activity.duration));
    }
    let from = from.max(activity.release).max(of.problem.not_before);
    if of.teams_of[index].is_empty() {
        let start = in_window(activity, from)?;
        return Some((start, start + activity.duration));
    }
    let fits = of.teams_of[index]
        .iter()
        .filter_map(|&team| fit(&of.teams[team].calendar, activity, from));
    fits.reduce(|one, other| (one.0.min(other.0), one.1.min(other.1)))
}

/// The first fit of an activity into one calendar whose start lies in a start window.
fn fit(calendar: &Calendar, activity: &Activity, from: Minute) -> Option<(Minute, Minute)> {
    let mut from = from;
    loop {
        let (start, end) = calendar.fit(from, activity.duration, activity.breaks)?;
        let allowed = in_window(activity, start)?;
        if allowed == start {
            return Some((start, end));
        }
        from = allowed;
    }
}

/// The first moment from `from` on that a start window allows; any moment where there are none.
fn in_window(activity: &Activity, from: Minute) -> Option<Minute> {
    if activity.start_windows.is_empty() {
        return Some(from);
    }
    let window = activity.start_windows.iter().find(|window| window.to > from)?;
    Some(window.from.max(from))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Clock;
    use crate::model::{ActivityId, ClockId, Hand, Lag, Problem, Span, Wait};

    fn problem() -> Problem {
        Problem {
            not_before: 0,
            horizon: 20_000,
            grid: 1,
            hands: vec![Hand {
                name: "you".into(),
                periods: vec![Span::new(540, 720), Span::new(1_980, 2_160)],
            }],
            activities: vec![Activity::new("coat", 60), Activity::new("scuff", 30)],
            lags: vec![Lag::after(ActivityId(0), ActivityId(1), Wait::Minutes(120))],
            ..Problem::default()
        }
    }

    /// By hand: the coat from 9 to 10; 120 minutes later it is noon, when the day is over; the scuffing waits for 9 the next day.
    #[test]
    fn a_wait_that_ends_after_hours_goes_on_until_the_next_period() {
        let problem = problem();
        let bound = bound(&Compiled::new(&problem)).unwrap();
        assert_eq!(bound.completion, 1_980 + 30);
    }

    /// By hand: at half speed until minute 1200 and full speed after, 600 of progress from minute 600 are reached at 1500.
    #[test]
    fn a_clocked_wait_runs_on_its_weather() {
        let mut problem = problem();
        problem.clocks = vec![Clock::new(vec![(0, 1), (1_200, 2)])];
        problem.lags[0].min = Wait::Progress {
            clock: ClockId(0),
            progress: 1_200,
        };
        problem.hands[0].periods = vec![Span::new(540, 10_000)];
        let bound = bound(&Compiled::new(&problem)).unwrap();
        assert_eq!(bound.completion, 1_500 + 30);
    }

    #[test]
    fn a_start_window_is_waited_for_and_lateness_counts() {
        let mut problem = problem();
        problem.activities[1].start_windows = vec![Span::new(2_100, 2_130)];
        problem.dues = vec![crate::model::Due {
            activity: ActivityId(1),
            at: 2_000,
            weight: 3,
        }];
        let bound = bound(&Compiled::new(&problem)).unwrap();
        assert_eq!(
            (bound.completion, bound.weighted),
            (2_130, 390 + i64::from(problem.completion_weight) * 2_130)
        );
    }
}
