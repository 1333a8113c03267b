//! Working hours: the periods of each day of the week in which hands are at the bench.

use jiff::civil::{Time, Weekday};
use serde::{Deserialize, Serialize};

/// One stretch of work within a day, on the shop's clock; ends after it begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Period {
    /// First minute of work, minutes after midnight (0–1439).
    pub from_min: u16,
    /// First minute no longer worked, minutes after midnight (1–1440).
    pub to_min: u16,
}

impl Period {
    /// The clock time that the period begins at.
    pub fn from(self) -> Time {
        clock(self.from_min)
    }

    /// How long it lasts on an ordinary day, minutes.
    pub fn length_min(self) -> u16 {
        self.to_min.saturating_sub(self.from_min)
    }
}

/// A clock time from minutes after midnight; 1440 and beyond read as midnight.
pub(crate) fn clock(minute_of_day: u16) -> Time {
    let minute_of_day = if minute_of_day >= 1440 { 0 } else { minute_of_day };
    let hour = i8::try_from(minute_of_day / 60).unwrap_or(0);
    let minute = i8::try_from(minute_of_day % 60).unwrap_or(0);
    Time::new(hour, minute, 0, 0).unwrap_or(Time::midnight())
}

/// A week's working hours, Monday first; an empty day is a day off.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Hours {
    /// Periods of each day in rising order without overlap, Monday first.
    pub days: [Vec<Period>; 7],
}

impl Default for Hours {
    /// Monday to Friday 9:00–12:00 and 13:00–17:00, weekends off.
    fn default() -> Self {
        let day = vec![
            Period {
                from_min: 540,
                to_min: 720,
            },
            Period {
                from_min: 780,
                to_min: 1020,
            },
        ];
        Hours {
            days: [
                day.clone(),
                day.clone(),
                day.clone(),
                day.clone(),
                day,
                Vec::new(),
                Vec::new(),
            ],
        }
    }
}

impl Hours {
    /// The periods of a day of the week.
    pub fn on(&self, weekday: Weekday) -> &[Period] {
        let day_idx = usize::try_from(weekday.to_monday_zero_offset()).unwrap_or(0);
        &self.days[day_idx.min(6)]
    }

    /// Hours worked in an ordinary week.
    pub fn week_h(&self) -> f64 {
        let minutes: u32 = self
            .days
            .iter()
            .flatten()
            .map(|period| u32::from(period.length_min()))
            .sum();
        f64::from(minutes) / 60.0
    }
}

/// Why a day's hours could not be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct HoursRefusal(pub String);

/// Reads a day's hours such as `9:00-12:00 13:00-17:00`; an empty text or `off` is a day off.
///
/// # Errors
/// A period that is not `from-to`, a clock time that does not exist, one that ends before it begins, or two that overlap.
pub fn parse_day(text: &str) -> Result<Vec<Period>, HoursRefusal> {
    let text = text.trim();
    if text.is_empty() || text.eq_ignore_ascii_case("off") || text == "-" {
        return Ok(Vec::new());
    }
    let mut periods = Vec::new();
    for part in text.split([' ', ',', ';']).filter(|part| !part.is_empty()) {
        let (from, to) = part
            .split_once(['-', '–'])
            .ok_or_else(|| HoursRefusal(format!("\"{part}\" is not a period: it needs a beginning and an end")))?;
        let from_min = parse_clock(from)?;
        let to_min = parse_clock(to)?;
        if to_min <= from_min {
            return Err(HoursRefusal(format!("\"{part}\" ends before it begins")));
        }
        periods.push(Period { from_min, to_min });
    }
    periods.sort();
    if periods.windows(2).any(|pair| pair[1].from_min < pair[0].to_min) {
        return Err(HoursRefusal("two periods of the day overlap".to_owned()));
    }
    Ok(periods)
}

/// A clock time `9`, `9:00` or `24:00` in minutes after midnight.
fn parse_clock(text: &str) -> Result<u16, HoursRefusal> {
    let wrong = || HoursRefusal(format!("\"{text}\" is not a clock time from 0:00 to 24:00"));
    let (hour, minute) = text.split_once(':').unwrap_or((text, "0"));
    let hour: u16 = hour.trim().parse().map_err(|_| wrong())?;
    let minute: u16 = minute.trim().parse().map_err(|_| wrong())?;
    if minute > 59 || hour > 24 || (hour == 24 && minute > 0) {
        return Err(wrong());
    }
    Ok(hour * 60 + minute)
}

/// A day's hours as [`parse_day`] reads them; empty for a day off.
pub fn show_day(periods: &[Period]) -> String {
    let show = |minute: u16| format!("{}:{:02}", minute / 60, minute % 60);
    periods
        .iter()
        .map(|period| format!("{}-{}", show(period.from_min), show(period.to_min)))
        .collect::<Vec<_>>()
        .join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn split_hours_read_and_show_alike() {
        let day = parse_day("13:00-17:30 9-12").unwrap();
        assert_eq!(show_day(&day), "9:00-12:00 13:00-17:30");
        assert_eq!(parse_day(&show_day(&day)).unwrap(), day);
    }

    #[test]
    fn overlapping_and_backward_periods_are_refused() {
        assert!(parse_day("9:00-12:00 11:00-13:00").unwrap_err().0.contains("overlap"));
        assert!(parse_day("17:00-9:00").unwrap_err().0.contains("before"));
        assert!(parse_day("9:75-12:00").unwrap_err().0.contains("clock"));
        assert!(parse_day("morning").unwrap_err().0.contains("period"));
    }

    #[test]
    fn an_ordinary_week_is_35_hours() {
        assert!((Hours::default().week_h() - 35.0).abs() < 1e-9);
    }
}
