//! What the scheduler says cannot all hold, in the words of the bench: which step, which wait, until when.

use std::collections::BTreeMap;

use jiff::ZonedDateTime;
use schedule::{ActivityId, Demand, Lag, Problem, Wait};

use super::calendar::PlanClock;
use super::problem::PROGRESS_PER_MIN;
use super::work::WorkPiece;

/// Steps by their ids, as a person calls them.
pub(crate) struct Names(BTreeMap<String, String>);

impl Names {
    /// The names of all steps.
    pub(crate) fn of(work: &[WorkPiece]) -> Self {
        let mut names = BTreeMap::new();
        for piece in work {
            for step in piece.opening.iter().chain(std::iter::once(&piece.closing)) {
                names.insert(step.id.clone(), format!("{}: {}", piece.name, step.words));
            }
            for zone in &piece.zones {
                for step in &zone.steps {
                    names.insert(
                        step.id.clone(),
                        format!("{}, {}: {}", piece.name, zone.name, step.words),
                    );
                }
            }
        }
        Names(names)
    }

    /// The name of one step; its id where nobody knows it.
    pub(crate) fn name(&self, id: &str) -> String {
        self.0.get(id).map_or_else(|| id.to_owned(), |name| format!("“{name}”"))
    }
}

/// A problem with what it takes to tell of it.
pub(crate) struct Telling<'t> {
    pub(crate) problem: &'t Problem,
    pub(crate) names: &'t Names,
    pub(crate) clock: &'t PlanClock,
}

impl Telling<'_> {
    /// One demand in words.
    pub(crate) fn demand(&self, demand: &Demand) -> String {
        match demand {
            Demand::Deadline(activity) => format!("{} ends by its deadline", self.name(*activity)),
            Demand::Pin(activity) => self.pin(*activity),
            Demand::StartWindows(activity) => {
                format!(
                    "{} begins only while the air of its room allows it",
                    self.name(*activity)
                )
            }
            Demand::Release(activity) => match self.problem.activities.get(activity.0) {
                Some(held) => format!(
                    "what is under {} is tacky until {}",
                    self.name(*activity),
                    told(&self.clock.moment(held.release))
                ),
                None => "what was tacky".to_owned(),
            },
            Demand::LongestWait(lag_idx) => self.lag(*lag_idx, |lag| self.longest(lag)),
            Demand::ShortestWait(lag_idx) => self.lag(*lag_idx, |lag| self.shortest(lag)),
            Demand::ClosedStretch(lag_idx) => self.lag(*lag_idx, |lag| match lag.closed {
                Some((last, next)) => format!(
                    "{} follows {} within {}, or after {} and no sooner",
                    self.name(lag.to),
                    self.name(lag.from),
                    self.length(lag, last),
                    self.length(lag, next)
                ),
                None => self.shortest(lag),
            }),
            Demand::Block(_) => "time that was taken out".to_owned(),
            Demand::Hours(activity) => format!("working hours long enough for {}", self.name(*activity)),
            Demand::Periods(hand) => format!(
                "the working hours of {}",
                self.problem
                    .hands
                    .get(hand.0)
                    .map_or("a hand", |hand| hand.name.as_str())
            ),
            Demand::Resource(_) => "what else is limited".to_owned(),
            Demand::Horizon => "all work within the time that was looked at".to_owned(),
        }
    }

    /// A step as a person calls it.
    pub(crate) fn name(&self, activity: ActivityId) -> String {
        match self.problem.activities.get(activity.0) {
            Some(activity) => self.names.name(&activity.name),
            None => "a step".to_owned(),
        }
    }

    fn lag(&self, lag_idx: usize, words: impl Fn(&Lag) -> String) -> String {
        self.problem
            .lags
            .get(lag_idx)
            .map_or_else(|| "a wait between two steps".to_owned(), words)
    }

    /// Where a step is pinned, or when it was begun.
    pub(crate) fn pin(&self, activity: ActivityId) -> String {
        let pin = self
            .problem
            .activities
            .get(activity.0)
            .and_then(|pinned| pinned.pin.as_ref());
        match pin {
            Some(pin) if pin.begun => format!(
                "{} was begun {}",
                self.name(activity),
                told(&self.clock.moment(pin.start))
            ),
            Some(pin) => format!(
                "{} stays at {}",
                self.name(activity),
                told(&self.clock.moment(pin.start))
            ),
            None => format!("{} stays where it is pinned", self.name(activity)),
        }
    }

    /// The shortest wait of a lag: until when, where what it runs from is begun; else how long.
    pub(crate) fn shortest(&self, lag: &Lag) -> String {
        let (earlier, later) = (self.name(lag.from), self.name(lag.to));
        if is_nothing(lag.min) {
            return format!("{earlier} comes before {later}");
        }
        match self.ended(lag.from) {
            Some(ended) => {
                let until = self.clock.moment(self.until(ended, lag.min));
                format!("{earlier} has to wait until {} before {later}", told(&until))
            }
            None => format!("{earlier} has to wait {} before {later}", self.length(lag, lag.min)),
        }
    }

    /// `, and then waits until …`, where the lag asks for a wait.
    pub(crate) fn then_waits(&self, lag: &Lag, ended: i64) -> String {
        if is_nothing(lag.min) {
            return String::new();
        }
        let until = self.clock.moment(self.until(ended, lag.min));
        format!(", and then it waits until {}", told(&until))
    }

    /// The longest wait of a lag.
    pub(crate) fn longest(&self, lag: &Lag) -> String {
        let (earlier, later) = (self.name(lag.from), self.name(lag.to));
        let most = lag.max.map_or_else(String::new, |wait| self.length(lag, wait));
        format!("{later} follows {earlier} within {most}")
    }

    /// The minute at which a step ended or will, where that is fixed by its having begun.
    pub(crate) fn ended(&self, activity: ActivityId) -> Option<i64> {
        let activity = self.problem.activities.get(activity.0)?;
        let pin = activity.pin.as_ref().filter(|pin| pin.begun)?;
        Some(pin.start + activity.duration)
    }

    /// The minute at which a wait from another one on is over.
    pub(crate) fn until(&self, from: i64, wait: Wait) -> i64 {
        match wait {
            Wait::Minutes(minutes) => from + minutes,
            Wait::Progress { clock, progress } => self
                .problem
                .clocks
                .get(clock.0)
                .map_or(from + progress / PROGRESS_PER_MIN, |clock| {
                    clock.done_at(from, progress)
                }),
        }
    }

    /// How long a wait is: by the wall clock, or in the reference air and in the room's own from now on.
    fn length(&self, lag: &Lag, wait: Wait) -> String {
        match wait {
            Wait::Minutes(minutes) => spoken(minutes),
            Wait::Progress { progress, .. } => {
                let from = self.ended(lag.from).unwrap_or(self.problem.not_before);
                let here = self.until(from, wait) - from;
                let reference = progress / PROGRESS_PER_MIN;
                if here == reference {
                    spoken(here)
                } else {
                    format!("{} (about {} in this air)", spoken(reference), spoken(here))
                }
            }
        }
    }
}

fn is_nothing(wait: Wait) -> bool {
    matches!(wait, Wait::Minutes(0) | Wait::Progress { progress: 0, .. })
}

/// `Thu 11 Mar 9:00`.
pub(crate) fn told(moment: &ZonedDateTime) -> String {
    moment.strftime("%a %-d %b %-H:%M").to_string()
}

/// `25 min`, `4 h`, `1 h 30 min`, `3 days`.
pub(crate) fn spoken(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("{rest} min"),
        (hours, _) if hours >= 72 => format!("{} days", (minutes + 720) / 1440),
        (hours, 0) => format!("{hours} h"),
        (hours, rest) => format!("{hours} h {rest} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::spoken;

    #[test]
    fn a_length_of_time_is_spoken_as_at_the_bench() {
        let said: Vec<String> = [25, 60, 90, 71 * 60 + 59, 3 * 1440, 21 * 1440].map(spoken).to_vec();
        assert_eq!(
            said,
            ["25 min", "1 h", "1 h 30 min", "71 h 59 min", "3 days", "21 days"]
        );
    }
}
