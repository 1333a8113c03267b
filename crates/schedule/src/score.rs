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
    let (missing, score) = least_worth(of, &draft.places);
    (missing, in_full(of, &draft.places, score))
}

/// Worth of what stands so far, unless it is more than so much; that shows before all is counted.
pub(crate) fn worth_up_to(of: &Compiled<'_>, places: &[Option<Place>], most: Worth) -> Option<Worth> {
    let (missing, score) = least_worth(of, places);
    if (missing, score) > most {
        return None;
    }
    Some((missing, in_full(of, places, score))).filter(|worth| *worth <= most)
}

/// The worth with nothing lost and nothing moved on the lower levels.
fn least_worth(of: &Compiled<'_>, places: &[Option<Place>]) -> Worth {
    let problem = of.problem;
    let mut completion = None;
    let (mut missing, mut moved) = (0, 0);
    for (place, &stood) in places.iter().zip(&of.stood) {
        let Some(place) = place else {
            missing += 1;
            continue;
        };
        completion = completion.max(Some(place.end));
        moved += usize::from(stood.is_some_and(|stood| stood != place.start));
    }
    if missing > 0 {
        completion = completion.max(Some(problem.horizon));
    }
    let completion = completion.unwrap_or(0);
    let late = problem.dues.iter().map(|due| {
        let end = places[due.activity.0].map_or(problem.horizon, |place| place.end);
        i64::from(due.weight) * (end - due.at).max(0)
    });
    let worth_moving = problem
        .previous
        .as_ref()
        .map_or(0, |previous| previous.worth_moving_min);
    let score = Score {
        weighted: late.sum::<i64>() + i64::from(problem.completion_weight) * completion + worth_moving * minutes(moved),
        completion,
        ..Score::default()
    };
    (missing, score)
}

/// Fills in the lower levels.
fn in_full(of: &Compiled<'_>, places: &[Option<Place>], score: Score) -> Score {
    let by = |(place, stood): (&Option<Place>, &Option<Minute>)| Some((place.as_ref()?.start - (*stood)?).abs());
    Score {
        lost_min: lost(of, places),
        moved_min: places.iter().zip(&of.stood).filter_map(by).sum(),
        ..score
    }
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

#[cfg(test)]
mod tests {
    use super::{worth, worth_up_to};
    use crate::compiled::Compiled;
    use crate::draft::{Draft, Place};
    use crate::model::{Activity, ActivityId, Due, Hand, Placement, Previous, Problem, Score, Span};

    #[test]
    fn what_is_worse_is_dropped_and_what_is_not_is_counted_in_full() {
        let mut problem = Problem {
            horizon: 1_000,
            hands: vec![Hand {
                name: "you".into(),
                periods: vec![Span::new(0, 400)],
            }],
            activities: vec![Activity::new("", 30), Activity::new("", 60)],
            ..Problem::default()
        };
        problem.dues.push(Due {
            activity: ActivityId(1),
            at: 150,
            weight: 3,
        });
        let stood = |start| {
            Some(Placement {
                start,
                ..Placement::default()
            })
        };
        problem.previous = Some(Previous {
            placements: vec![stood(10), stood(90)],
            worth_moving_min: 60,
        });
        let of = Compiled::new(&problem);
        let at = |start, end| {
            Some(Place {
                start,
                end,
                team: Some(0),
            })
        };
        let draft = Draft {
            places: vec![at(10, 40), at(110, 170)],
            missing: 0,
        };
        // 20 minutes late at 3 each and one step moved, by 20; 170 minutes less the 90 worked are lost.
        let score = Score {
            weighted: 60 + 60,
            completion: 170,
            lost_min: 80,
            moved_min: 20,
        };
        assert_eq!(worth(&of, &draft), (0, score));
        let up_to = |most: Score| worth_up_to(&of, &draft.places, (0, most));
        assert_eq!(up_to(score), Some((0, score)));
        for less in [
            Score { weighted: 119, ..score },
            Score {
                completion: 169,
                ..score
            },
            Score { lost_min: 79, ..score },
            Score { moved_min: 19, ..score },
        ] {
            assert_eq!(up_to(less), None, "{less:?}");
        }
        assert_eq!(
            worth_up_to(&of, &[None, at(110, 170)], (0, score)),
            None,
            "one is missing"
        );
    }
}
