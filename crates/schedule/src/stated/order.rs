//! Which of two activities comes first: what the waits alone say, and one question for each pair that they leave open.
//!
//! The waits of the statement are followed from each activity to all that they lead to. Where that alone puts two
//! activities in order nothing is asked; where it does not, hands, rooms and single resources share one question.

use crate::learn::Lit;

/// Among more activities than this, orders that follow from several waits are not looked for.
const MOST: usize = 400;
/// No chain of waits says anything.
const APART: i32 = i32::MIN / 2;

/// What the waits say of two activities that exclude each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    /// The first comes first.
    First,
    /// The second comes first.
    Second,
    Open,
}

/// Orders of pairs of activities, by index.
#[derive(Debug, Default)]
pub(super) struct Orders {
    /// `(from, to, weight)`: the start of `to` is at least `weight` units after that of `from`.
    waits: Vec<(usize, usize, i32)>,
    /// The place of each activity in the table; none for what is left out.
    place: Vec<Option<usize>>,
    n: usize,
    /// For each pair of places the least distance of their starts that follows from the waits.
    distance: Vec<i32>,
    /// `(first, second, the question whether the first comes first)`.
    asked: Vec<(usize, usize, Lit)>,
    /// For each pair of places with the lower index first, one more than its place among the asked; 0 for none.
    asked_at: Vec<u32>,
}

impl Orders {
    /// Notes a wait that always holds.
    pub(super) fn wait(&mut self, from: usize, to: usize, weight: i32) {
        self.waits.push((from, to, weight));
    }

    /// Follows all waits noted so far, among the activities that are stated.
    pub(super) fn follow(&mut self, is_stated: impl Iterator<Item = bool>) {
        self.n = 0;
        self.place = is_stated
            .map(|stated| {
                self.n += usize::from(stated);
                stated.then(|| self.n - 1)
            })
            .collect();
        if self.n > MOST {
            return;
        }
        let n = self.n;
        self.asked_at = vec![0; n * n];
        self.distance = vec![APART; n * n];
        let mut next: Vec<Vec<(usize, i32)>> = vec![Vec::new(); n];
        for &(from, to, weight) in &self.waits {
            if let (Some(from), Some(to)) = (self.place[from], self.place[to]) {
                next[from].push((to, weight));
            }
        }
        for from in 0..n {
            farthest(&next, from, &mut self.distance[from * n..(from + 1) * n]);
        }
    }

    /// What the waits say of two activities of these lengths that do not overlap.
    pub(super) fn order(&self, one: (usize, i32), other: (usize, i32)) -> Order {
        let at = |from: usize, to: usize| match (self.place[from], self.place[to]) {
            (Some(from), Some(to)) if !self.distance.is_empty() => self.distance[from * self.n + to],
            _ => APART,
        };
        // The other cannot end before the one starts if it starts less than its length earlier, or later.
        if at(one.0, other.0) > -other.1 {
            Order::First
        } else if at(other.0, one.0) > -one.1 {
            Order::Second
        } else {
            Order::Open
        }
    }

    /// The question asked of a pair: whether the first comes first.
    pub(super) fn known(&self, first: usize, second: usize) -> Option<Lit> {
        let at = self.cell(first, second)?;
        let (known, _, lit) = self.asked[(self.asked_at[at] as usize).checked_sub(1)?];
        Some(if known == first { lit } else { lit.not() })
    }

    /// Keeps the question that is asked of a pair.
    pub(super) fn keep(&mut self, first: usize, second: usize, lit: Lit) {
        self.asked.push((first, second, lit));
        if let Some(at) = self.cell(first, second) {
            self.asked_at[at] = crate::number::small(self.asked.len());
        }
    }

    /// All questions: the pair, and whether the first comes first.
    pub(super) fn asked(&self) -> impl Iterator<Item = (usize, usize, Lit)> {
        self.asked.iter().copied()
    }

    fn cell(&self, one: usize, other: usize) -> Option<usize> {
        let (low, high) = (self.place[one.min(other)]?, self.place[one.max(other)]?);
        let at = low * self.n + high;
        (at < self.asked_at.len()).then_some(at)
    }
}

/// Longest ways from one place to all others. Ways that grow for ever are cut short: what is found is true all the same.
fn farthest(next: &[Vec<(usize, i32)>], from: usize, distance: &mut [i32]) {
    distance[from] = 0;
    let mut open = vec![from];
    let mut at = 0;
    while let Some(&here) = open.get(at) {
        at += 1;
        if at > 20 * next.len() {
            return;
        }
        for &(to, weight) in &next[here] {
            let way = distance[here].saturating_add(weight);
            if way > distance[to] {
                distance[to] = way;
                if !open[at..].contains(&to) {
                    open.push(to);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 10 from the first to the second and 5 on to the third make 15; the third is at most 20 after the first.
    #[test]
    fn waits_add_up_and_longest_waits_count_backwards() {
        let mut orders = Orders::default();
        orders.wait(0, 1, 10);
        orders.wait(1, 3, 5);
        orders.wait(3, 0, -20);
        orders.follow([true, true, false, true].into_iter());
        assert_eq!(orders.distance, [0, 10, 15, -15, 0, 5, -20, -10, 0]);
        assert_eq!(orders.order((0, 7), (3, 4)), Order::First);
        assert_eq!(orders.order((3, 4), (0, 7)), Order::Second);
        assert_eq!(orders.order((0, 7), (2, 4)), Order::Open);
    }

    /// By hand: the second starts at most 3 before the first and lasts 4, so it cannot be over by then.
    #[test]
    fn what_cannot_be_over_in_time_comes_later() {
        let mut orders = Orders::default();
        orders.wait(0, 1, -3);
        orders.follow([true, true].into_iter());
        assert_eq!(orders.order((0, 9), (1, 4)), Order::First);
        assert_eq!(orders.order((0, 9), (1, 3)), Order::Open);
    }

    #[test]
    fn a_pair_has_one_question_read_both_ways() {
        let mut orders = Orders::default();
        orders.follow([true, true, true].into_iter());
        let lit = Lit::at_least(7, 1);
        orders.keep(2, 1, lit);
        assert_eq!(orders.known(2, 1), Some(lit));
        assert_eq!(orders.known(1, 2), Some(lit.not()));
        assert_eq!(orders.known(0, 1), None);
    }

    #[test]
    fn waits_that_grow_for_ever_come_to_an_end() {
        let mut orders = Orders::default();
        orders.wait(0, 1, 1);
        orders.wait(1, 0, 1);
        orders.follow([true, true].into_iter());
        assert!(orders.distance.iter().all(|&distance| distance >= 0));
    }
}
