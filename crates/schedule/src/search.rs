//! Anytime search over orders for problems of every kind: generate, change the order a little, keep what is better.
//!
//! An order is a rank for each activity. The opening orders come from rules (due date, slack, group); afterwards late
//! acceptance walks from the best: moving a few activities, or everything of one stretch of time, forward or back.

use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::generation::{Draft, Generator, ranks};
use crate::model::Minute;
use crate::outcome::Effort;
use crate::score::{Worth, worth};

/// The best draft found and how many were generated for it.
pub(crate) struct Found {
    pub(crate) draft: Draft,
    pub(crate) worth: Worth,
    pub(crate) schedules: u64,
}

/// How many steps back a newcomer is compared with.
const MEMORY: usize = 30;

/// Searches until the effort is over or `good_enough` is met.
pub(crate) fn search(of: &Compiled<'_>, effort: &Effort<'_>, good_enough: &dyn Fn(&Worth) -> bool) -> Found {
    let mut generator = Generator::new(of);
    let mut chance = Chance::new(effort.seed);
    let mut best: Option<(Worth, Draft)> = None;
    let mut schedules = 0;
    for order in openings(of) {
        if schedules > 0 && (schedules >= effort.schedules || effort.is_over()) {
            break;
        }
        let draft = generator.generate(&ranks(&order));
        schedules += 1;
        let worth = worth(of, &draft);
        if best.as_ref().is_none_or(|(known, _)| worth < *known) {
            best = Some((worth, draft));
        }
    }
    let (mut best_worth, mut best_draft) = match best {
        Some((worth, draft)) => (worth, draft),
        None => {
            let draft = generator.generate(&[]);
            (worth(of, &draft), draft)
        }
    };
    let mut current = order_of(&best_draft);
    let mut current_worth = best_worth;
    let mut memory = [best_worth; MEMORY];
    let mut idle = 0u32;
    while schedules < effort.schedules && !effort.is_over() && !good_enough(&best_worth) && current.len() > 1 {
        let next = change(&current, of, &best_draft, &mut chance);
        let draft = generator.generate(&ranks(&next));
        schedules += 1;
        let new = worth(of, &draft);
        let slot = &mut memory[usize::try_from(schedules % 30).unwrap_or(0)];
        if new <= current_worth || new <= *slot {
            current_worth = new;
            current = order_of(&draft);
        }
        *slot = current_worth;
        idle += 1;
        if new < best_worth {
            (best_worth, best_draft) = (new, draft);
            idle = 0;
        }
        if idle > 2000 {
            current = order_of(&best_draft);
            current_worth = best_worth;
            memory = [best_worth; MEMORY];
            idle = 0;
        }
    }
    Found {
        draft: best_draft,
        worth: best_worth,
        schedules,
    }
}

/// Activities in the order in which they start.
fn order_of(draft: &Draft) -> Vec<usize> {
    let mut order: Vec<usize> = (0..draft.places.len()).collect();
    order.sort_by_key(|&index| (draft.places[index].map_or(Minute::MAX, |place| place.start), index));
    order
}

/// The opening orders.
fn openings(of: &Compiled<'_>) -> Vec<Vec<usize>> {
    let n = of.problem.activities.len();
    let due = latest_by_dues(of);
    let group = |index: usize| of.problem.activities[index].group;
    let was = |index: usize| {
        let previous = of.problem.previous.as_ref();
        previous
            .and_then(|p| p.placements[index].as_ref())
            .map_or(Minute::MAX, |place| place.start)
    };
    let sorted = |key: &dyn Fn(usize) -> (Minute, Minute, usize)| {
        let mut order: Vec<usize> = (0..n).collect();
        order.sort_by_key(|&index| key(index));
        order
    };
    vec![
        sorted(&|index| (was(index), due[index], index)),
        sorted(&|index| (i64::from(group(index)), due[index], index)),
        sorted(&|index| (due[index], 0, index)),
        sorted(&|index| (0, 0, index)),
    ]
}

/// For each activity, when it must start so that everything after it can still be on time, waits at their least.
fn latest_by_dues(of: &Compiled<'_>) -> Vec<Minute> {
    let problem = of.problem;
    let mut latest: Vec<Minute> = (0..problem.activities.len())
        .map(|index| {
            let activity = &problem.activities[index];
            let dues = of.dues_of[index].iter().map(|&due| problem.dues[due].at);
            dues.chain(activity.deadline).min().unwrap_or(problem.horizon) - activity.duration
        })
        .collect();
    // Lags may run either way in the list: repeat until nothing changes, at most a few rounds.
    for _ in 0..problem.activities.len().min(200) {
        let mut changed = false;
        for lag in problem.lags.iter().rev() {
            let (from, to) = (lag.from.0, lag.to.0);
            let needed = of.latest_begin(lag.min, latest[to]) - problem.activities[from].duration;
            if needed < latest[from] {
                latest[from] = needed;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    latest
}

/// A neighbour of an order.
fn change(order: &[usize], of: &Compiled<'_>, best: &Draft, chance: &mut Chance) -> Vec<usize> {
    let mut next = order.to_vec();
    let n = next.len();
    match chance.below(4) {
        // A few activities go elsewhere, rather near than far.
        0 | 1 => {
            for _ in 0..1 + chance.below(3) {
                let from = chance.below(n);
                let reach = 1 + chance.below(n.min(40));
                let to = if chance.once_in(2) {
                    from.saturating_sub(reach)
                } else {
                    (from + reach).min(n - 1)
                };
                let moved = next.remove(from);
                next.insert(to, moved);
            }
        }
        // All that follows from one due date goes forward a little, or back.
        2 if !of.problem.dues.is_empty() => {
            let due = &of.problem.dues[chance.below(of.problem.dues.len())];
            let mut mine = vec![false; n];
            mine[due.activity.0] = true;
            for &index in order.iter().rev() {
                mine[index] |= of.next[index].iter().any(|&to| mine[to]);
            }
            let by = 1 + chance.below(60);
            let forward = chance.once_in(2);
            let mut keyed: Vec<(usize, usize)> = order
                .iter()
                .enumerate()
                .map(|(place, &index)| match (mine[index], forward) {
                    (true, true) => ((place * 2).saturating_sub(2 * by), index),
                    (true, false) => (place * 2 + 2 * by, index),
                    _ => (place * 2 + 1, index),
                })
                .collect();
            keyed.sort_by_key(|&(key, _)| key);
            next = keyed.into_iter().map(|(_, index)| index).collect();
        }
        // One stretch is shuffled by chance.
        _ => {
            let length = 2 + chance.below(n.min(12));
            let from = chance.below(n.saturating_sub(length).max(1));
            let to = (from + length).min(n);
            for at in (from + 1..to).rev() {
                next.swap(at, from + chance.below(at - from + 1));
            }
        }
    }
    let _ = best;
    next
}
