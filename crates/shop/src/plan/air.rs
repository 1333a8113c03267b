//! The air of each room on the plan's own clock.

use climate::{Air, Room as RoomSeries};

use super::calendar::PlanClock;
use super::output::{AirPoint, RoomAir};
use crate::model::{Room, Settings, Spell};

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
            rooms: settings
                .rooms
                .iter()
                .map(|room| with_spells(series(room, clock), &room.spells, clock))
                .collect(),
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

/// The series with each spell laid over what was before it, sharply from its first minute to its last.
fn with_spells(series: RoomSeries, spells: &[Spell], clock: &PlanClock) -> RoomSeries {
    let mut series = series;
    for spell in spells {
        let (Some(from), Some(to)) = (clock.on_wall(spell.from), clock.on_wall(spell.to)) else {
            continue;
        };
        let (from, to) = (clock.minute_of(from), clock.minute_from(to));
        let mut times: Vec<i64> = series.readings().iter().map(|reading| reading.at_min).collect();
        times.extend([from - 1, from, to - 1, to]);
        times.sort_unstable();
        times.dedup();
        let readings = times.into_iter().map(|at_min| {
            let air = series.air_at(at_min);
            let during = (from..to).contains(&at_min);
            climate::Reading {
                at_min,
                air: if during { overlaid(air, spell) } else { air },
            }
        });
        series = RoomSeries::from_readings(readings.collect()).unwrap_or(series);
    }
    series
}

fn overlaid(air: Air, spell: &Spell) -> Air {
    let temperature_c = spell.temperature.map_or(air.temp_c(), |temperature| temperature.c());
    let humidity = spell.humidity.map_or(air.rh(), |humidity| humidity.fraction());
    air_of(temperature_c, humidity)
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

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use quantity::{Humidity, Temperature};

    fn clock() -> PlanClock {
        let first = date(2027, 3, 8).at(0, 0, 0, 0).in_tz("UTC").unwrap();
        PlanClock::starting_at(&first)
    }

    fn spell(from: (i8, i8), to: (i8, i8), temperature: Option<f64>, humidity: Option<f64>) -> Spell {
        Spell {
            from: date(2027, 3, from.0).at(from.1, 0, 0, 0),
            to: date(2027, 3, to.0).at(to.1, 0, 0, 0),
            temperature: temperature.map(Temperature::from_c),
            humidity: humidity.map(Humidity::from_fraction),
        }
    }

    /// The air of a room at 20 °C and 50 % with these spells, at an hour after the first moment.
    fn air(spells: &[Spell], at_h: i64) -> (f64, f64) {
        let series = with_spells(RoomSeries::steady(air_of(20.0, 0.5)), spells, &clock());
        let air = series.air_at(at_h * 60);
        (tenths(air.temp_c()), tenths(air.rh() * 100.0))
    }

    #[test]
    fn a_cold_snap_holds_from_its_first_hour_to_its_last_and_leaves_the_rest() {
        let cold = [spell((9, 6), (11, 18), Some(4.0), None)];
        assert_eq!(air(&cold, 29), (20.0, 50.0));
        assert_eq!(air(&cold, 30), (4.0, 50.0));
        assert_eq!(air(&cold, 60), (4.0, 50.0));
        assert_eq!(air(&cold, 24 * 3 + 18), (20.0, 50.0));
    }

    #[test]
    fn where_two_overlap_the_later_said_holds_for_what_it_says() {
        let both = [
            spell((9, 0), (11, 0), Some(4.0), None),
            spell((10, 0), (12, 0), None, Some(0.9)),
        ];
        assert_eq!(air(&both, 30), (4.0, 50.0));
        assert_eq!(air(&both, 54), (4.0, 90.0));
        assert_eq!(air(&both, 80), (20.0, 90.0));
    }

    #[test]
    fn readings_meanwhile_give_way_only_in_what_is_said() {
        let reading = |at_min, humidity| climate::Reading {
            at_min,
            air: air_of(15.0, humidity),
        };
        let series = RoomSeries::from_readings(vec![reading(0, 0.4), reading(2_880, 0.8)]).unwrap();
        let cold = spell((8, 12), (9, 12), Some(2.0), None);
        let series = with_spells(series, &[cold], &clock());
        let noon = series.air_at(1_440);
        assert_eq!((tenths(noon.temp_c()), tenths(noon.rh() * 100.0)), (2.0, 60.0));
        assert_eq!(tenths(series.air_at(2_200).temp_c()), 15.0);
    }
}
