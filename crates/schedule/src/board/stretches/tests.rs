use super::{Near, NoRoom, Span, Stretches};
use crate::calendar::Calendar;

#[test]
fn many_entries_stay_in_order_through_adding_and_taking_out() {
    let mut stretches = Stretches::new();
    let start = |k: i64| (k * 7_919) % 1_000;
    for k in 0..1_000 {
        stretches.insert(
            (Span::new(start(k), start(k) + 5), usize::try_from(k).unwrap()),
            &NoRoom,
        );
    }
    let all: Vec<i64> = stretches.before(i64::MAX).map(|(span, _)| span.from).collect();
    assert_eq!(all, (0..1_000).rev().collect::<Vec<i64>>());
    for k in 0..1_000 {
        if start(k) % 2 == 1 {
            stretches.remove(
                (Span::new(start(k), start(k) + 5), usize::try_from(k).unwrap()),
                &NoRoom,
            );
        }
    }
    let back: Vec<i64> = stretches.before(500).map(|(span, _)| span.from).collect();
    assert_eq!(back, (0..250).rev().map(|k| 2 * k).collect::<Vec<i64>>());
    let (before, after) = stretches.around(&mut Near::default(), 501);
    assert_eq!((before.unwrap().0.from, after.unwrap().0.from), (500, 502));
    let (before, after) = stretches.around(&mut Near::default(), 0);
    assert_eq!((before, after.unwrap().0.from), (None, 0));
    assert_eq!(stretches.around(&mut Near::default(), 2_000).1, None);
}

#[test]
fn emptied_it_is_as_new() {
    let mut stretches = Stretches::new();
    for k in 0..200 {
        stretches.insert((Span::new(k, k + 1), 0), &NoRoom);
    }
    for k in 0..200 {
        stretches.remove((Span::new(k, k + 1), 0), &NoRoom);
    }
    assert_eq!(stretches.before(i64::MAX).count(), 0);
    stretches.insert((Span::new(3, 4), 9), &NoRoom);
    assert_eq!(stretches.around(&mut Near::default(), 4).0, Some((Span::new(3, 4), 9)));
}

/// Every gap, looked at one by one.
fn by_hand(taken: &[Span], calendar: &Calendar, from: i64, least: i64) -> Option<i64> {
    let before = taken.iter().rposition(|span| span.from < from);
    let ends = taken.iter().skip(1).map(|span| span.from).chain([i64::MAX / 4]);
    let gaps: Vec<i64> = taken
        .iter()
        .zip(ends)
        .map(|(span, end)| calendar.room_between(span.to, end))
        .collect();
    match before {
        None => Some(from),
        Some(at) if gaps[at] >= least => Some(taken[at].to.max(from)),
        Some(at) => (at + 1..taken.len())
            .find(|&at| gaps[at] >= least)
            .map(|at| taken[at].to.max(from)),
    }
}

#[test]
fn the_next_gap_is_the_one_found_by_looking_at_all() {
    let periods = (0..40).map(|day| Span::new(day * 1_000, day * 1_000 + 400)).collect();
    let calendar = Calendar::new(periods);
    let mut stretches = Stretches::with_gaps();
    let mut taken: Vec<Span> = Vec::new();
    // Places by a rule that fills the days unevenly, then half of them taken out again.
    for k in 0..900_i64 {
        let from = ((k * 7_919) % 900) / 22 * 1_000 + ((k * 7_919) % 900) % 22 * 17;
        let span = Span::new(from, from + 3 + k % 13);
        taken.push(span);
        stretches.insert((span, usize::try_from(k).unwrap()), &calendar);
    }
    for k in (0..900_usize).rev().filter(|k| k % 5 < 2) {
        let span = taken[k];
        stretches.remove((span, k), &calendar);
        taken.remove(k);
    }
    taken.sort_unstable();
    for from in (0..41_000).step_by(97) {
        for least in [1, 9, 14, 20, 40, 390, 401] {
            let found = stretches.next_gap(&mut Near::default(), from, least, |(span, _), _| Some(span.to));
            assert_eq!(found, by_hand(&taken, &calendar, from, least), "{least} from {from}");
        }
    }
}
