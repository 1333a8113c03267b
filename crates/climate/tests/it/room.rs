//! A clock on a changing room, by hand calculation.

use climate::{Air, DryModel, Reading, Room, RoomError};
use proptest::prelude::*;

fn reading(at_min: i64, temp_c: f64) -> Reading {
    Reading {
        at_min,
        air: Air::from_c(temp_c, 0.5).unwrap(),
    }
}

/// By hand: ten hours at 15 °C (half speed) gain 300 minutes; then at 25 °C one minute a minute. 480 asked: 600 + 180 minutes.
#[test]
fn a_cold_morning_and_a_warm_afternoon() {
    let room = Room::from_readings(vec![reading(0, 15.0), reading(600, 15.0), reading(601, 25.0)]).unwrap();
    let wait_min = room.wait_min(DryModel::Oxidative, 0, 480.0).unwrap();
    assert!((wait_min - 780.0).abs() < 1.0, "{wait_min}");
}

/// By hand: from 10 °C to 20 °C in 120 minutes, the air is at 12.5 °C after 30.
#[test]
fn between_readings_the_air_changes_evenly() {
    let room = Room::from_readings(vec![reading(0, 10.0), reading(120, 20.0)]).unwrap();
    assert!((room.air_at(30).temp_c() - 12.5).abs() < 1e-9);
    assert!((room.air_at(-500).temp_c() - 10.0).abs() < 1e-9);
    assert!((room.air_at(5000).temp_c() - 20.0).abs() < 1e-9);
}

#[test]
fn readings_must_be_in_order() {
    assert_eq!(Room::from_readings(Vec::new()), Err(RoomError::Empty));
    assert_eq!(
        Room::from_readings(vec![reading(0, 1.0), reading(0, 2.0)]),
        Err(RoomError::Order(2))
    );
}

#[test]
fn a_steady_room_has_one_rate() {
    let rates = Room::steady(Air::from_c(15.0, 0.5).unwrap()).rates(DryModel::Reactive, 0, 10_000);
    assert_eq!(rates.len(), 1);
    assert!((rates[0].rate - 0.5).abs() < 1e-12);
}

#[test]
fn saturated_air_does_not_stop_a_coat_for_ever_but_the_window_says_no() {
    let room = Room::steady(Air::from_c(5.0, 1.0).unwrap());
    assert!(room.wait_min(DryModel::Waterborne, 0, 60.0).is_some());
}

proptest! {
    /// The rates handed to a scheduler, summed by hand here, end a wait where the room's own clock does.
    #[test]
    fn rates_and_clock_agree(temps in prop::collection::vec(5.0..30.0f64, 2..30), required_min in 10.0..3000.0f64) {
        let readings = temps.iter().zip(0i64..).map(|(temp_c, hour)| reading(hour * 60, *temp_c)).collect();
        let room = Room::from_readings(readings).unwrap();
        let rates = room.rates(DryModel::Oxidative, 0, 100_000);
        let (mut left, mut end) = (required_min, 0.0);
        for (place, rate) in rates.iter().enumerate() {
            let next = rates.get(place + 1).map_or(f64::INFINITY, |next| next.from_min as f64);
            let gained = rate.rate * (next - rate.from_min as f64);
            if gained >= left {
                end = rate.from_min as f64 + left / rate.rate;
                break;
            }
            left -= gained;
        }
        let clock = room.wait_min(DryModel::Oxidative, 0, required_min).unwrap();
        prop_assert!((clock - end).abs() < 0.5, "{clock} against {end}");
    }
}
