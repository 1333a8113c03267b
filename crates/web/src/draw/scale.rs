//! Where moments stand on the score: the shop's hours of a day are drawn wide, the night between two days narrow.

use jiff::civil::Date;
use jiff::{ToSpan, ZonedDateTime};
use shop::model::Hours;

/// Width of an hour of the shop's day.
const HOUR: f64 = 11.0;
/// Width of the rest of a day: a coat dries through the night, but nobody looks.
const NIGHT: f64 = 16.0;

/// What part of a day is drawn wide, hours of the clock.
#[derive(Debug, Clone, Copy)]
pub(crate) struct DayHours {
    /// From this hour.
    pub(crate) from: f64,
    /// To this hour.
    pub(crate) to: f64,
}

impl DayHours {
    /// From the first working hour of the week to the last; the middle of the day if there is none.
    pub(crate) fn of(hours: &Hours) -> Self {
        let periods = || hours.days.iter().flatten();
        let first = periods().map(|period| period.from_min).min().unwrap_or(480);
        let last = periods().map(|period| period.to_min).max().unwrap_or(1080);
        DayHours {
            from: (f64::from(first) / 60.0).floor(),
            to: (f64::from(last) / 60.0).ceil(),
        }
    }
}

/// Where moments stand.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scale {
    pub(crate) first: Date,
    pub(crate) days: i32,
    pub(crate) hours: DayHours,
}

impl Scale {
    /// Width of one day.
    pub(crate) fn day_width(&self) -> f64 {
        (self.hours.to - self.hours.from) * HOUR + NIGHT
    }

    /// Width of all days.
    pub(crate) fn width(&self) -> f64 {
        self.day_width() * f64::from(self.days)
    }

    /// The day of this number, and its left edge.
    pub(crate) fn day(&self, number: i32) -> (Date, f64) {
        let date = self.first.checked_add(number.days()).unwrap_or(self.first);
        (date, f64::from(number) * self.day_width())
    }

    /// Where an hour of the clock of a day stands.
    pub(crate) fn hour(&self, number: i32, clock: f64) -> f64 {
        let morning = self.hours.from;
        let day = (self.hours.to - morning) * HOUR;
        let within = if clock < morning {
            NIGHT / 2.0 * clock / morning.max(0.1)
        } else if clock <= self.hours.to {
            NIGHT / 2.0 + (clock - morning) * HOUR
        } else {
            NIGHT / 2.0 + day + NIGHT / 2.0 * (clock - self.hours.to) / (24.0 - self.hours.to).max(0.1)
        };
        f64::from(number) * self.day_width() + within
    }

    /// Where a moment stands; one outside the days stands at the edge.
    pub(crate) fn x(&self, moment: &ZonedDateTime) -> f64 {
        let number = moment.date().since(self.first).map_or(0, |span| span.get_days());
        let clock = f64::from(moment.hour()) + f64::from(moment.minute()) / 60.0;
        self.hour(number, clock).clamp(0.0, self.width())
    }

    /// Whether any part of a stretch lies within the days.
    pub(crate) fn shows(&self, from: &ZonedDateTime, to: &ZonedDateTime) -> bool {
        self.x(to) > 0.0 && self.x(from) < self.width()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_working_hour_is_wide_and_the_night_narrow() {
        let scale = Scale {
            first: date(2027, 3, 8),
            days: 7,
            hours: DayHours { from: 9.0, to: 21.0 },
        };
        let at = |hour| date(2027, 3, 9).at(hour, 0, 0, 0).in_tz("America/Chicago").unwrap();
        assert!((scale.x(&at(11)) - scale.x(&at(10)) - HOUR).abs() < 1e-9);
        assert!(scale.x(&at(5)) - scale.x(&at(4)) < HOUR / 5.0);
        assert!((scale.day_width() - (12.0 * HOUR + NIGHT)).abs() < 1e-9);
    }

    #[test]
    fn a_moment_outside_the_days_stands_at_the_edge() {
        let scale = Scale {
            first: date(2027, 3, 8),
            days: 7,
            hours: DayHours { from: 9.0, to: 17.0 },
        };
        let before = date(2027, 3, 1).at(12, 0, 0, 0).in_tz("UTC").unwrap();
        let after = date(2027, 4, 1).at(12, 0, 0, 0).in_tz("UTC").unwrap();
        assert!(scale.x(&before).abs() < 1e-9);
        assert!((scale.x(&after) - scale.width()).abs() < 1e-9);
        assert!(!scale.shows(&before, &before));
    }
}
