//! From the shop's clock to the plan's: working hours as stretches of elapsed minutes since the plan's first moment.
//!
//! A day is not 24 hours long: when the clocks change, a period is as long as the clock on the wall makes it. Every
//! conversion between the two clocks is made here.

use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp, ToSpan, Unit, ZonedDateTime};

use crate::model::{Hours, Settings, clock};

/// The plan's own clock: whole minutes since its first moment.
#[derive(Debug, Clone)]
pub(crate) struct PlanClock {
    first: ZonedDateTime,
}

impl PlanClock {
    /// A clock that begins at this moment, rounded up to the next whole five minutes.
    pub(crate) fn starting_at(moment: &ZonedDateTime) -> Self {
        let first = moment
            .round(
                jiff::ZonedDateTimeRound::new()
                    .smallest(Unit::Minute)
                    .increment(5)
                    .mode(jiff::RoundMode::Ceil),
            )
            .unwrap_or_else(|_| moment.clone());
        PlanClock { first }
    }

    /// Its first moment.
    pub(crate) fn first(&self) -> &ZonedDateTime {
        &self.first
    }

    /// The time zone that it shows moments in.
    pub(crate) fn zone(&self) -> &TimeZone {
        self.first.time_zone()
    }

    /// The moment that lies `minute` minutes after the first.
    pub(crate) fn moment(&self, minute: i64) -> ZonedDateTime {
        self.first
            .checked_add(SignedDuration::from_mins(minute))
            .unwrap_or_else(|_| self.first.clone())
    }

    /// Whole minutes from the first moment to this one, rounded down.
    pub(crate) fn minute_of(&self, moment: Timestamp) -> i64 {
        moment.duration_since(self.first.timestamp()).as_secs().div_euclid(60)
    }

    /// As [`PlanClock::minute_of`], rounded up.
    pub(crate) fn minute_from(&self, moment: Timestamp) -> i64 {
        let seconds = moment.duration_since(self.first.timestamp()).as_secs();
        seconds.div_euclid(60) + i64::from(seconds.rem_euclid(60) > 0)
    }

    /// The moment that a wall clock in the shop shows; a time that the clocks skip counts as the one after the gap.
    pub(crate) fn on_wall(&self, wall: DateTime) -> Option<Timestamp> {
        self.zone().to_ambiguous_timestamp(wall).compatible().ok()
    }

    /// The first minute after the end of a day in the shop.
    pub(crate) fn end_of(&self, day: Date) -> Option<i64> {
        let next = day.checked_add(1.day()).ok()?;
        self.on_wall(next.to_datetime(jiff::civil::Time::midnight()))
            .map(|moment| self.minute_of(moment))
    }
}

/// A stretch of elapsed minutes, from the first to the one after the last.
pub(crate) type Stretch = (i64, i64);

/// When a hand works, in rising order without overlap, from the plan's first minute up to `until`.
pub(crate) fn working_stretches(
    settings: &Settings,
    hand_idx: usize,
    clock_of_plan: &PlanClock,
    until: i64,
) -> Vec<Stretch> {
    let hours = settings
        .hands
        .get(hand_idx)
        .and_then(|hand| hand.hours.as_ref())
        .unwrap_or(&settings.hours);
    let mut stretches = week_after_week(hours, clock_of_plan, until);
    for block in &settings.blocks {
        if block.hand.is_some_and(|whose| whose != hand_idx) {
            continue;
        }
        if let (Some(from), Some(to)) = (clock_of_plan.on_wall(block.from), clock_of_plan.on_wall(block.to)) {
            stretches = without(
                &stretches,
                (clock_of_plan.minute_of(from), clock_of_plan.minute_from(to)),
            );
        }
    }
    stretches
}

fn week_after_week(hours: &Hours, plan_clock: &PlanClock, until: i64) -> Vec<Stretch> {
    let mut stretches: Vec<Stretch> = Vec::new();
    let mut day = plan_clock.first().date();
    while let Some(day_start) = plan_clock.on_wall(day.to_datetime(jiff::civil::Time::midnight())) {
        if plan_clock.minute_of(day_start) >= until {
            break;
        }
        for period in hours.on(day.weekday()) {
            let Some((from, to)) = period_on(plan_clock, day, period.from_min, period.to_min) else {
                continue;
            };
            let (from, to) = (from.max(0), to.min(until));
            if from >= to {
                continue;
            }
            match stretches.last_mut() {
                Some(last) if last.1 >= from => last.1 = last.1.max(to),
                _ => stretches.push((from, to)),
            }
        }
        match day.checked_add(1.day()) {
            Ok(next) => day = next,
            Err(_) => break,
        }
    }
    stretches
}

fn period_on(plan_clock: &PlanClock, day: Date, from_min: u16, to_min: u16) -> Option<Stretch> {
    let from = plan_clock.on_wall(day.to_datetime(clock(from_min)))?;
    let to = if to_min >= 1440 {
        plan_clock.on_wall(
            day.checked_add(1.day())
                .ok()?
                .to_datetime(jiff::civil::Time::midnight()),
        )?
    } else {
        plan_clock.on_wall(day.to_datetime(clock(to_min)))?
    };
    Some((plan_clock.minute_from(from), plan_clock.minute_of(to)))
}

/// The stretches with one more taken out of them.
fn without(stretches: &[Stretch], out: Stretch) -> Vec<Stretch> {
    let mut left = Vec::with_capacity(stretches.len() + 1);
    for &(from, to) in stretches {
        if to <= out.0 || from >= out.1 {
            left.push((from, to));
            continue;
        }
        if from < out.0 {
            left.push((from, out.0));
        }
        if out.1 < to {
            left.push((out.1, to));
        }
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Block, parse_day};

    fn settings(day: &str) -> Settings {
        let mut settings = Settings::default();
        settings.hours.days = std::array::from_fn(|_| parse_day(day).unwrap());
        settings
    }

    fn plan_clock(text: &str) -> PlanClock {
        PlanClock::starting_at(&text.parse().unwrap())
    }

    #[test]
    fn the_night_the_clocks_go_forward_is_an_hour_shorter() {
        // 14 March 2027, 02:00 -> 03:00 in Chicago.
        let clock = plan_clock("2027-03-13T09:00[America/Chicago]");
        let stretches = working_stretches(&settings("9:00-12:00"), 0, &clock, 3 * 1440);
        assert_eq!(stretches[0], (0, 180));
        assert_eq!(stretches[1], (23 * 60, 26 * 60));
        assert_eq!(stretches[2], (47 * 60, 50 * 60));
    }

    #[test]
    fn a_period_across_the_lost_hour_loses_it() {
        let clock = plan_clock("2027-03-14T00:00[America/Chicago]");
        let stretches = working_stretches(&settings("1:00-5:00"), 0, &clock, 1440);
        assert_eq!(stretches[0].1 - stretches[0].0, 180);
    }

    #[test]
    fn a_period_across_the_hour_that_comes_twice_gains_it() {
        let clock = plan_clock("2026-11-01T00:00[America/Chicago]");
        let stretches = working_stretches(&settings("0:00-24:00"), 0, &clock, 1500);
        assert_eq!(stretches, [(0, 1500)]);
    }

    #[test]
    fn the_plan_begins_within_a_period_that_has_begun() {
        let clock = plan_clock("2027-03-08T10:02[America/Chicago]");
        let stretches = working_stretches(&settings("9:00-12:00"), 0, &clock, 1440);
        assert_eq!(stretches[0], (0, 115), "the clock starts at 10:05");
    }

    #[test]
    fn blocked_time_is_taken_out() {
        let clock = plan_clock("2027-03-08T09:00[America/Chicago]");
        let mut settings = settings("9:00-17:00");
        settings.blocks.push(Block {
            hand: None,
            from: "2027-03-08T10:00".parse().unwrap(),
            to: "2027-03-08T11:00".parse().unwrap(),
            why: String::new(),
        });
        let stretches = working_stretches(&settings, 0, &clock, 600);
        assert_eq!(stretches, [(0, 60), (120, 480)]);
    }
}
