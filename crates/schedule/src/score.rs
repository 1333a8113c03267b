//! What a draft is worth, fast. The checker computes the same from the model's words, slowly.

use crate::calendar::Calendar;
use crate::compiled::Compiled;
use crate::draft::{Draft, Place};
use crate::model::{Minute, Score};
use crate::number::minutes;

/// Missing activities first, then the score: less is better.
pub(crate) type Worth = (usize, Score);

/// Worth of a draft.
pub(crate) fn worth(of: &Compiled<'_>, draft: &Draft) -> Worth {
    worth_of(of, &draft.places)
}

/// Worth of what stands so far.
pub(crate) fn worth_of(of: &Compiled<'_>, places: &[Option<Place>]) -> Worth {
    let problem = of.problem;
    let end_of = |index: usize| places[index].map_or(problem.horizon, |place| place.end);
    let completion = (0..places.len()).map(end_of).max().unwrap_or(0);
    let missing = places.iter().filter(|place| place.is_none()).count();
    let late: i64 = problem
        .dues
        .iter()
        .map(|due| i64::from(due.weight) * (end_of(due.activity.0) - due.at).max(0))
        .sum();
    let mut score = Score {
        weighted: late + i64::from(problem.completion_weight) * completion,
        completion,
        lost_min: 0,
        moved_min: 0,
    };
    if let Some(previous) = &problem.previous {
        let mut moved = 0;
        for (place, was) in places.iter().zip(&previous.placements) {
            let (Some(place), Some(was)) = (place, was) else {
                continue;
            };
            let by = (place.start - was.start).abs();
            score.moved_min += by;
            moved += usize::from(by > 0);
        }
        score.weighted += previous.worth_moving_min * minutes(moved);
    }
    score.lost_min = lost(of, places);
    (missing, score)
}

/// Working minutes that hands lose before their last step.
fn lost(of: &Compiled<'_>, places: &[Option<Place>]) -> i64 {
    let from = of.problem.not_before;
    let mut last = vec![Minute::MIN; of.calendars.len()];
    let mut worked = vec![0; of.calendars.len()];
    for (index, place) in places.iter().enumerate() {
        let Some((place, team)) = place.and_then(|place| Some((place, &of.teams[place.team?]))) else {
            continue;
        };
        let split = place.end - place.start != of.problem.activities[index].duration;
        for &hand in &team.hands {
            last[hand] = last[hand].max(place.end);
            worked[hand] += match split {
                true => team.calendar.minutes_between(place.start.max(from), place.end),
                false => (place.end - place.start.max(from)).max(0),
            };
        }
    }
    let there = |calendar: &Calendar, last: Minute| {
        if last > from {
            calendar.minutes_between(from, last)
        } else {
            0
        }
    };
    of.calendars
        .iter()
        .zip(last.iter().zip(&worked))
        .map(|(calendar, (&last, &worked))| (there(calendar, last) - worked).max(0))
        .sum()
}
