//! The air of a room over time, and a drying clock that runs on it.
//!
//! One idea: drying is progress. At the reference air a wait of 120 minutes gains 120; in a cold hour it gains less. The wait is
//! over when the sum over the hours reaches what was required.

use crate::air::Air;
use crate::drying::{Airflow, DryModel};
use serde::{Deserialize, Serialize};

/// The air at one moment, minutes from the caller's origin.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// Minutes from the origin; may be negative.
    pub at_min: i64,
    /// The air then.
    pub air: Air,
}

/// Progress made in each minute from `from_min` until the next rate begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// Minutes from the origin.
    pub from_min: i64,
    /// Minutes of reference drying gained in one minute; 1 at the reference air.
    pub rate: f64,
}

/// Readings that make no series.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum RoomError {
    /// There is no reading.
    #[error("a room needs at least one reading")]
    Empty,
    /// Two readings stand in the wrong order or at the same time.
    #[error("reading {0} is not later than the one before it")]
    Order(usize),
}

/// A room whose air is known at some times; between them it changes evenly, outside them it stays as at the nearest.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Room {
    readings: Vec<Reading>,
    /// How the air moves.
    pub airflow: Airflow,
}

/// The step at which a changing air is followed, minutes.
const STEP_MIN: i64 = 60;

impl Room {
    /// A room whose air never changes.
    #[must_use]
    pub fn steady(air: Air) -> Self {
        Self {
            readings: vec![Reading { at_min: 0, air }],
            airflow: Airflow::Normal,
        }
    }

    /// A room from readings or a forecast, in order of time.
    ///
    /// # Errors
    /// No reading, or readings out of order.
    pub fn from_readings(readings: Vec<Reading>) -> Result<Self, RoomError> {
        if readings.is_empty() {
            return Err(RoomError::Empty);
        }
        if let Some(place) = readings.windows(2).position(|pair| pair[1].at_min <= pair[0].at_min) {
            return Err(RoomError::Order(place + 2));
        }
        Ok(Self {
            readings,
            airflow: Airflow::Normal,
        })
    }

    /// The same room with another movement of its air.
    #[must_use]
    pub fn with_airflow(mut self, airflow: Airflow) -> Self {
        self.airflow = airflow;
        self
    }

    /// The readings, in order of time; at least one.
    #[must_use]
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// The air at a moment.
    #[must_use]
    pub fn air_at(&self, at_min: i64) -> Air {
        let after = self.readings.partition_point(|reading| reading.at_min <= at_min);
        let Some(before) = after.checked_sub(1).map(|place| self.readings[place]) else {
            return self.readings[0].air;
        };
        let Some(next) = self.readings.get(after) else {
            return before.air;
        };
        let share = minutes(at_min - before.at_min) / minutes(next.at_min - before.at_min);
        let between = |a: f64, b: f64| a + (b - a) * share;
        Air::from_c(
            between(before.air.temp_c(), next.air.temp_c()),
            between(before.air.rh(), next.air.rh()),
        )
        .unwrap_or(before.air)
    }

    /// Whether the air is the same at all times.
    #[must_use]
    pub fn is_steady(&self) -> bool {
        self.readings.len() == 1
    }

    /// The progress of one way of drying from `from_min` to `until_min`, as steps of constant rate; the first begins at `from_min`,
    /// the last holds on for ever.
    #[must_use]
    pub fn rates(&self, model: DryModel, from_min: i64, until_min: i64) -> Vec<Rate> {
        let rate_at = |at_min| 1.0 / model.slowdown_in(self.air_at(at_min), self.airflow);
        if self.is_steady() {
            return vec![Rate {
                from_min,
                rate: rate_at(from_min),
            }];
        }
        let mut rates: Vec<Rate> = Vec::new();
        let mut at_min = from_min;
        while at_min < until_min {
            let rate = rate_at(at_min + STEP_MIN / 2);
            if rates.last().is_none_or(|last| (last.rate - rate).abs() > 1e-9) {
                rates.push(Rate { from_min: at_min, rate });
            }
            at_min += STEP_MIN;
        }
        if rates.is_empty() {
            rates.push(Rate {
                from_min,
                rate: rate_at(from_min),
            });
        }
        rates
    }

    /// Minutes that a wait of `required_min` at the reference air lasts here when it begins at `start_min`; `None` where it would not end
    /// within a year.
    #[must_use]
    pub fn wait_min(&self, model: DryModel, start_min: i64, required_min: f64) -> Option<f64> {
        const YEAR_MIN: i64 = 525_600;
        let mut left = required_min.max(0.0);
        let mut at_min = start_min;
        while at_min < start_min + YEAR_MIN {
            let rate = 1.0 / model.slowdown_in(self.air_at(at_min + STEP_MIN / 2), self.airflow);
            let gained = rate * minutes(STEP_MIN);
            if gained >= left {
                return Some(minutes(at_min - start_min) + left / rate);
            }
            left -= gained;
            at_min += STEP_MIN;
        }
        None
    }
}

/// Minutes as a floating number; a plan spans far fewer than 2^52 of them.
#[expect(clippy::cast_precision_loss, reason = "minutes of a plan are far below 2^52")]
fn minutes(whole: i64) -> f64 {
    whole as f64
}
