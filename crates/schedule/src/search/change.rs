//! Neighbours of an order: a few activities elsewhere, one group earlier or later, one stretch shuffled.

use crate::chance::Chance;
use crate::compiled::Compiled;

/// A neighbour of an order.
pub(super) fn change(order: &[usize], of: &Compiled<'_>, chance: &mut Chance) -> Vec<usize> {
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
    next
}
