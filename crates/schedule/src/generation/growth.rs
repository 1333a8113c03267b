//! How many places one schedule looks at as problems grow: counted, not timed.

use super::{Generator, ranks};
use crate::clock::Clock;
use crate::compiled::Compiled;
use crate::model::{
    Activity, ActivityId, ClockId, Effect, Hand, HandId, Lag, Minute, Problem, ProductId, RoomId, Span, Wait,
};

const DAY: Minute = 1_440;

/// So many chains of eight steps for two hands in one room: dust, wet coats, waits on a clock, clean-ups. What one step is
/// like follows from its number alone.
fn shop(chains: usize) -> Problem {
    let n = i64::try_from(chains * 8).unwrap();
    let days = n / 12 + 14;
    let mut problem = Problem {
        horizon: days * DAY,
        grid: 5,
        clean_up_min: vec![10, 15, 5],
        ..Problem::default()
    };
    for name in ["one", "the other"] {
        let day = |day: i64| {
            [
                Span::new(day * DAY + 480, day * DAY + 720),
                Span::new(day * DAY + 780, day * DAY + 1_020),
            ]
        };
        problem.hands.push(Hand {
            name: name.into(),
            periods: (0..days).flat_map(day).collect(),
        });
    }
    let rate = |hour: i64| {
        if (8..20).contains(&(hour % 24)) {
            1_000 + hour * 7 % 200
        } else {
            600 + hour * 11 % 200
        }
    };
    problem
        .clocks
        .push(Clock::new((0..days * 24).map(|hour| (hour * 60, rate(hour))).collect()));
    for chain in 0..chains {
        let mut before: Option<ActivityId> = None;
        for step in 0..8 {
            let by_number = (chain * 31 + step * 17) % 97;
            let mut activity = Activity::new("", 10 + 5 * i64::try_from(by_number % 7).unwrap());
            let progress = |minutes: usize| Wait::Progress {
                clock: ClockId(0),
                progress: 1_000 * i64::try_from(minutes).unwrap(),
            };
            match by_number % 3 {
                0 => activity.room = Some((RoomId(0), Effect::Dust)),
                1 => {
                    let wet = progress(30 + by_number % 60);
                    activity.room = Some((RoomId(0), Effect::Coat { wet }));
                    activity.product = Some(ProductId(by_number % 3));
                }
                _ => {}
            }
            let id = problem.add(activity);
            if let Some(before) = before {
                problem
                    .lags
                    .push(Lag::after(before, id, progress(60 * (by_number % 17))));
            }
            before = Some(id);
        }
    }
    problem
}

/// Places looked at for each activity and doubling of their number, one schedule in the order of a piece at a time.
fn looks_each(chains: usize) -> f64 {
    let problem = shop(chains);
    let compiled = Compiled::new(&problem);
    let mut generator = Generator::new(&compiled);
    // Chains one after the other, but for every fourth, which is urgent and comes first: so gaps are filled as well.
    let mut order: Vec<usize> = (0..problem.activities.len()).collect();
    order.sort_by_key(|&index| (index / 8 % 4 != 0, index));
    let draft = generator.generate(&ranks(&order));
    assert_eq!(draft.missing, 0);
    let n = f64::from(u32::try_from(problem.activities.len()).unwrap());
    f64::from(u32::try_from(generator.looks).unwrap()) / (n * n.log2())
}

#[test]
fn a_schedule_of_5000_steps_looks_at_hardly_more_places_a_step_than_one_of_300() {
    let small = looks_each(38);
    for chains in [75, 150, 313, 625] {
        let large = looks_each(chains);
        println!("{} steps: {large:.2} against {small:.2}", chains * 8);
        assert!(
            large <= 1.5 * small,
            "{} steps: {large:.2} looks a step and doubling, {small:.2} at 304",
            chains * 8
        );
    }
}

/// Places looked at in all for so many coats one after the other, each wet until the next begins, and as many dusty steps by
/// another hand that nothing but the wet room holds back.
fn looks_beside_wet_coats(coats: usize) -> u64 {
    let mut problem = Problem {
        horizon: 1_000_000,
        ..Problem::default()
    };
    for name in ["one", "the other"] {
        problem.hands.push(Hand {
            name: name.into(),
            periods: vec![Span::new(0, 1_000_000)],
        });
    }
    let mut before: Option<ActivityId> = None;
    for _ in 0..coats {
        let mut coat = Activity::new("", 30);
        let wet = Wait::Minutes(30);
        coat.room = Some((RoomId(0), Effect::Coat { wet }));
        coat.among = vec![HandId(0)];
        let id = problem.add(coat);
        if let Some(before) = before {
            problem.lags.push(Lag::after(before, id, wet));
        }
        before = Some(id);
    }
    for _ in 0..coats {
        let mut dust = Activity::new("", 20);
        dust.room = Some((RoomId(0), Effect::Dust));
        dust.among = vec![HandId(1)];
        problem.add(dust);
    }
    let compiled = Compiled::new(&problem);
    let mut generator = Generator::new(&compiled);
    let order: Vec<usize> = (0..problem.activities.len()).collect();
    let draft = generator.generate(&ranks(&order));
    let dry = i64::try_from(coats).unwrap() * 60;
    let starts = draft.places[coats..].iter().map(|place| place.unwrap().start);
    assert!(starts.zip(0..).all(|(start, k)| start == dry + 20 * k));
    generator.looks
}

#[test]
fn a_room_that_is_wet_all_the_while_is_looked_through_once_and_not_for_every_dusty_step() {
    let (few, many) = (looks_beside_wet_coats(50), looks_beside_wet_coats(200));
    assert!(
        many <= 5 * few,
        "{many} places for four times as many steps, {few} before"
    );
}
