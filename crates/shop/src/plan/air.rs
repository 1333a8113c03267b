//! The air of each room on the plan's own clock.

use climate::{Air, Room as RoomSeries};

use super::calendar::PlanClock;
use super::output::{AirPoint, RoomAir};
use crate::model::{Room, Settings};

/// Days of air that go out with a plan at most.
const MOST_DAYS_SHOWN: i64 = 60;
/// Minutes between two of the points that go out.
const SHOWN_STEP_MIN: i64 = 180;

/// The air of every room, in the order of the settings.
pub(crate) struct ShopAir {
    rooms: Vec<RoomSeries>,
}

impl ShopAir {
    /// The rooms of a shop on the clock of its plan.
    pub(crate) fn of(settings: &Settings, clock: &PlanClock) -> Self {
        ShopAir {
            rooms: settings.rooms.iter().map(|room| series(room, clock)).collect(),
        }
    }

    /// The air of one room; of the first if there is no such room.
    pub(crate) fn room(&self, room_idx: usize) -> &RoomSeries {
        // The settings always hold at least one room.
        self.rooms.get(room_idx).unwrap_or(&self.rooms[0])
    }

    /// What goes out with the plan, from its first minute to `until_min`.
    pub(crate) fn shown(&self, settings: &Settings, clock: &PlanClock, until_min: i64) -> Vec<RoomAir> {
        let until_min = until_min.min(MOST_DAYS_SHOWN * 1440);
        settings
            .rooms
            .iter()
            .zip(&self.rooms)
            .map(|(room, series)| {
                let steps = 0..=(until_min / SHOWN_STEP_MIN).max(0);
                let readings = steps.map(|step| {
                    let at_min = step * SHOWN_STEP_MIN;
                    let air = series.air_at(at_min);
                    AirPoint {
                        at: clock.moment(at_min),
                        temperature_c: tenths(air.temp_c()),
                        humidity: (air.rh() * 1000.0).round() / 1000.0,
                        dew_point_margin_k: tenths(air.dew_margin_k()),
                    }
                });
                RoomAir {
                    room: room.name.clone(),
                    readings: readings.collect(),
                }
            })
            .collect()
    }
}

/// Whole minutes, rounded up, of a length of time that lies far within what an `i64` holds.
#[expect(clippy::cast_possible_truncation, reason = "clamped to a century of minutes first")]
pub(crate) fn whole_minutes(minutes: f64) -> i64 {
    minutes.clamp(0.0, 52_560_000.0).ceil() as i64
}

fn tenths(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}

/// The air that is taken where a room's own figures are outside what air can be.
fn air_of(temperature_c: f64, humidity: f64) -> Air {
    Air::from_c(temperature_c, humidity.clamp(0.01, 1.0)).unwrap_or(Air::REFERENCE)
}

/// Readings where there are some, the room's usual air before and after them.
fn series(room: &Room, clock: &PlanClock) -> RoomSeries {
    let usual = air_of(room.temperature.c(), room.humidity.fraction());
    let mut readings: Vec<climate::Reading> = Vec::with_capacity(room.readings.len() + 2);
    for reading in &room.readings {
        let at_min = clock.minute_of(reading.at);
        if readings.last().is_some_and(|last| last.at_min >= at_min) {
            continue;
        }
        readings.push(climate::Reading {
            at_min,
            air: air_of(reading.temperature.c(), reading.humidity.fraction()),
        });
    }
    let (Some(first), Some(last)) = (readings.first().map(|r| r.at_min), readings.last().map(|r| r.at_min)) else {
        return RoomSeries::steady(usual);
    };
    // A reading holds for as long as the usual step between two of them, then the room's usual air returns.
    let step_min = if readings.len() > 1 {
        ((last - first) / i64::try_from(readings.len() - 1).unwrap_or(1)).max(1)
    } else {
        60
    };
    readings.insert(
        0,
        climate::Reading {
            at_min: first - step_min,
            air: usual,
        },
    );
    readings.push(climate::Reading {
        at_min: last + step_min,
        air: usual,
    });
    RoomSeries::from_readings(readings).unwrap_or_else(|_| RoomSeries::steady(usual))
}
