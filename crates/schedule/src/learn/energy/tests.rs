//! Hours shared by tasks, worked by hand and against every placing there is.

use super::*;
use crate::chance::Chance;
use crate::learn::{Status, Taste};

/// Tasks of these lengths with starts in these ranges, in hours 0 to 10 and from 20 on.
fn engine(tasks: &[(i32, i32, i32)], alone: bool) -> (Engine<'static>, Vec<u32>) {
    let mut engine = Engine::new(1);
    let task = |&(length, from, to): &(i32, i32, i32), engine: &mut Engine<'_>| Task {
        start: engine.variable(from, to),
        length,
        need: 1,
    };
    let tasks: Vec<Task> = tasks.iter().map(|given| task(given, &mut engine)).collect();
    let starts = tasks.iter().map(|task| task.start).collect();
    let hours = Hours::new([(0, 1), (10, 0), (20, 1)].into_iter());
    engine.energy(Energy::new(tasks, hours, alone));
    (engine, starts)
}

/// By hand: by 23 there are 13; 5 and 4 and 4 fill them, one more does not fit.
#[test]
fn more_than_the_hours_between_is_a_clash() {
    for alone in [false, true] {
        let (mut fits, _) = engine(&[(5, 0, 18), (4, 0, 19), (4, 0, 19)], alone);
        assert!(fits.settle_root().is_ok());
        let (mut too_much, _) = engine(&[(5, 0, 18), (4, 0, 19), (5, 0, 18)], alone);
        assert!(too_much.settle_root().is_err());
    }
}

/// By hand: 4 and 5 are over by 10, which leaves 1: the 3 come after them. 9 are done at 9.
#[test]
fn what_no_longer_fits_before_a_set_comes_after_it() {
    let (mut alone, starts) = engine(&[(4, 0, 6), (5, 0, 5), (3, 0, 40)], true);
    assert!(alone.settle_root().is_ok());
    assert_eq!(alone.least(starts[2]), 9);
    let (mut pool, starts) = engine(&[(4, 0, 6), (5, 0, 5), (3, 0, 40)], false);
    assert!(pool.settle_root().is_ok());
    assert_eq!(pool.least(starts[2]), 0, "two at once: nothing says which comes last");
}

/// By hand: 4 and 5 begin at 20 or later and end by 30, which leaves 1 of 10: the 3 come before. Of the 10 before 30
/// the 9 leave 1, so the 3 are over with 11 units of work done: by 21.
#[test]
fn and_what_does_not_fit_after_it_comes_before_it() {
    let (mut alone, starts) = engine(&[(4, 20, 26), (5, 20, 25), (3, 0, 27)], true);
    assert!(alone.settle_root().is_ok());
    assert_eq!(alone.most(starts[2]), 21 - 3);
}

/// Every placing there is, of three tasks on one machine with hours from 0 to 6 and from 8 to 14.
fn placings(tasks: &[(i32, i32, i32)]) -> Vec<Vec<i32>> {
    let in_hours = |start: i32, length: i32| start + length <= 6 || start >= 8;
    let mut all = vec![Vec::new()];
    for &(length, from, to) in tasks {
        let mut longer = Vec::new();
        for known in &all {
            for start in (from..=to).filter(|&start| in_hours(start, length)) {
                let apart =
                    |(&other, &(long, ..)): (&i32, &(i32, i32, i32))| other + long <= start || start + length <= other;
                if known.iter().zip(tasks).all(apart) {
                    longer.push([known.as_slice(), &[start]].concat());
                }
            }
        }
        all = longer;
    }
    all
}

#[test]
fn no_placing_is_lost_and_searching_finds_one_where_there_is_one() {
    let mut chance = Chance::new(5);
    let (mut possible, mut pushed) = (0, 0);
    for _ in 0..400 {
        let mut number = |n: usize| i32::try_from(chance.below(n)).unwrap();
        let tasks: Vec<(i32, i32, i32)> = (0..4)
            .map(|_| {
                let (length, from) = (1 + number(4), number(8));
                (length, from, (from + number(10)).min(14 - length))
            })
            .filter(|task| task.1 <= task.2)
            .collect();
        let placings = placings(&tasks);
        let mut engine = Engine::new(1);
        let mut stated = Vec::new();
        for &(length, from, to) in &tasks {
            let start = engine.variable(from, to);
            engine.allow(start, vec![(0, 6 - length), (8, 14 - length)]);
            engine.is_time(start);
            stated.push(Task { start, length, need: 1 });
        }
        engine.cumulative(crate::learn::Cumulative::new(stated.clone(), 1, Vec::new()));
        let bare: Vec<i32> = stated.iter().map(|task| engine.least(task.start)).collect();
        let hours = Hours::new([(0, 1), (6, 0), (8, 1), (14, 0)].into_iter());
        engine.energy(Energy::new(stated.clone(), hours, true));
        let settled = engine.settle_root();
        if let Some(one) = placings.first() {
            assert!(settled.is_ok(), "{tasks:?} can stand at {one:?}");
            possible += 1;
            for (at, task) in stated.iter().enumerate() {
                let starts = || placings.iter().map(|placing| placing[at]);
                assert!(
                    engine.least(task.start) <= starts().min().unwrap(),
                    "{tasks:?}, task {at}"
                );
                assert!(
                    engine.most(task.start) >= starts().max().unwrap(),
                    "{tasks:?}, task {at}"
                );
                pushed += i32::from(engine.least(task.start) > bare[at]);
            }
        }
        let status = engine.search(&[], 1_000, Taste::Busiest, &|| false);
        let expected = if placings.is_empty() {
            Status::Never
        } else {
            Status::Found
        };
        assert_eq!(status, expected, "{tasks:?}");
    }
    assert!(possible > 100 && pushed > 50, "{possible} possible, {pushed} pushed");
}
