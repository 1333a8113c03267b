//! Puts a chain in again around all that stands, where lateness and moved steps together count least.
//!
//! Forward, each activity keeps the ranges of starts that some start of the one before leads to, by what was counted on
//! the way there (a layer of labels): its start of before counts nothing more, any other what a move is worth. Of the
//! last layer the cheapest end is taken, and from it the starts are read backwards.

#[cfg(test)]
mod tests;

use crate::board::{Board, Opening};
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Place;
use crate::model::{Lag, Minute, Point};
use crate::number::up_to_grid;

/// A first look goes no further than this beyond the earliest start of each layer.
const NEAR_MIN: Minute = 2 * 1440;
/// No layer has more labels than this.
const MOST_LABELS: usize = 48;

/// What is wished of the places.
pub(super) struct Wish<'w> {
    /// Where each activity was before.
    pub(super) was: &'w [Option<Minute>],
    /// What one step elsewhere counts; 1 or more.
    pub(super) worth_moving: i64,
    /// What the place of the last activity counts.
    pub(super) end_costs: &'w dyn Fn(Place) -> i64,
    /// Once in so many, an opening is overlooked; 0 for never.
    pub(super) overlook: usize,
}

/// Starts that cost the same on the way there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Label {
    cost: i64,
    opening: Opening,
}

/// The workspace of threading.
#[derive(Debug, Default)]
pub(super) struct Threading {
    labels: Vec<Label>,
    /// Where each layer ends.
    ends: Vec<usize>,
    found: Vec<Opening>,
    /// `(cost, from, to)`: when the next may start.
    windows: Vec<(i64, Minute, Minute)>,
}

impl Threading {
    /// Places for the activities, tied by the lags, or nothing if there are none. The board is left as it was.
    pub(super) fn places(
        &mut self,
        board: &Board<'_>,
        activities: &[usize],
        ties: &[usize],
        wish: &Wish<'_>,
        chance: &mut Chance,
    ) -> Option<Vec<Place>> {
        let far = board.of.problem.horizon;
        for span in [NEAR_MIN, far] {
            if self.reach(board, activities, ties, span, wish, chance) {
                return self.read_back(board, activities, ties, wish, chance);
            }
        }
        None
    }

    fn layer(&self, at: usize) -> &[Label] {
        let begin = if at == 0 { 0 } else { self.ends[at - 1] };
        &self.labels[begin..self.ends[at]]
    }

    /// Builds the layers; false if one is empty.
    fn reach(
        &mut self,
        board: &Board<'_>,
        activities: &[usize],
        ties: &[usize],
        span: Minute,
        wish: &Wish<'_>,
        chance: &mut Chance,
    ) -> bool {
        let problem = board.of.problem;
        self.labels.clear();
        self.ends.clear();
        for (at, &index) in activities.iter().enumerate() {
            self.windows.clear();
            match at.checked_sub(1) {
                None => self.windows.push((0, problem.not_before, problem.horizon)),
                Some(before) => {
                    self.open_windows(board, at - 1, activities[before], index, &problem.lags[ties[before]])
                }
            }
            let from = self.windows.iter().map(|window| window.1).min();
            let to = self.windows.iter().map(|window| window.2).max();
            let (Some(from), Some(to)) = (from, to) else {
                return false;
            };
            self.look(board, index, (from, to), span, wish.was[index]);
            if wish.overlook > 0 {
                self.found.retain(|opening| {
                    let is_home = wish.was[index].is_some_and(|was| opening.from <= was && was <= opening.to);
                    is_home || !chance.once_in(wish.overlook)
                });
            }
            if !self.label(index, problem.grid, wish) {
                return false;
            }
        }
        true
    }

    /// Finds openings from the first one on, and the one in which the activity was before.
    fn look(
        &mut self,
        board: &Board<'_>,
        index: usize,
        (from, last): (Minute, Minute),
        span: Minute,
        was: Option<Minute>,
    ) {
        self.found.clear();
        let (mut from, mut near) = (from, span);
        loop {
            let to = last.min(from.saturating_add(near));
            board.openings(index, from, to, true, &mut self.found);
            if !self.found.is_empty() || to >= last {
                if let Some(was) = was.filter(|&was| was > to && was <= last) {
                    board.openings(index, was, was, true, &mut self.found);
                }
                return;
            }
            from = to + 1;
            near *= 2;
        }
    }

    /// The next layer from what was found; false if it is empty.
    fn label(&mut self, index: usize, grid: Minute, wish: &Wish<'_>) -> bool {
        let begin = self.labels.len();
        let was = wish.was[index];
        let moves = was.map_or(0, |_| wish.worth_moving);
        for opening in &self.found {
            for &(cost, from, to) in &self.windows {
                let from = up_to_grid(opening.from.max(from), grid);
                let to = opening.to.min(to);
                let to = to - to.rem_euclid(grid.max(1));
                if from > to {
                    continue;
                }
                if let Some(was) = was.filter(|&was| from <= was && was <= to) {
                    let opening = Opening {
                        from: was,
                        to: was,
                        ..*opening
                    };
                    self.labels.push(Label { cost, opening });
                }
                let opening = Opening { from, to, ..*opening };
                self.labels.push(Label {
                    cost: cost + moves,
                    opening,
                });
            }
        }
        self.thin(begin);
        self.ends.push(self.labels.len());
        self.labels.len() > begin
    }

    /// Leaves out what another label offers for no more, and what is dearest if there are too many.
    fn thin(&mut self, begin: usize) {
        let layer = &mut self.labels[begin..];
        layer.sort_unstable_by_key(|label| (label.cost, label.opening.from, label.opening.team));
        let mut kept = begin;
        for at in begin..self.labels.len() {
            let label = self.labels[at];
            let covers = |known: &Label| {
                known.opening.from <= label.opening.from
                    && known.opening.to >= label.opening.to
                    && known.opening.length == label.opening.length
            };
            if kept - begin < MOST_LABELS && !self.labels[begin..kept].iter().any(covers) {
                self.labels[kept] = label;
                kept += 1;
            }
        }
        self.labels.truncate(kept);
    }

    /// When an activity may start, given the layer of the one before: by cost, ascending and apart.
    fn open_windows(&mut self, board: &Board<'_>, layer: usize, before: usize, index: usize, lag: &Lag) {
        let of = board.of;
        let shift = match lag.to_point {
            Point::Start => 0,
            Point::End => of.problem.activities[index].duration,
        };
        let same_hands = of.problem.activities[before].hands > 0 && of.problem.activities[index].hands > 0;
        let clean_up = board.clean_up(before, index);
        let begin = if layer == 0 { 0 } else { self.ends[layer - 1] };
        for at in begin..self.ends[layer] {
            let Label { cost, opening } = self.labels[at];
            let point = opening.shift(lag.from_point);
            let (a, b) = (opening.from + point, opening.to + point);
            let mut least = of.over(lag.min, a) - shift;
            if same_hands {
                least = least.max(opening.from + opening.length + clean_up);
            }
            let most = lag.max.map_or(of.problem.horizon, |max| of.over(max, b) - shift);
            match lag.closed {
                None => self.windows.push((cost, least, most)),
                Some((within, again)) => {
                    let (shut, open) = (of.over(within, b) - shift, of.over(again, a) - shift);
                    self.windows.push((cost, least, most.min(shut)));
                    self.windows.push((cost, least.max(open), most));
                }
            }
        }
        self.windows.retain(|window| window.1 <= window.2);
        self.windows.sort_unstable();
        self.windows.dedup_by(|next, kept| {
            let touches = next.0 == kept.0 && next.1 <= kept.2 + 1;
            if touches {
                kept.2 = kept.2.max(next.2);
            }
            touches
        });
    }

    /// Reads the starts backwards from the cheapest end.
    fn read_back(
        &self,
        board: &Board<'_>,
        activities: &[usize],
        ties: &[usize],
        wish: &Wish<'_>,
        chance: &mut Chance,
    ) -> Option<Vec<Place>> {
        let last = activities.len().checked_sub(1)?;
        let cheapest = self.layer(last).iter().min_by_key(|label| {
            let first = place(label.opening.from, label.opening);
            (label.cost + (wish.end_costs)(first), first.end)
        })?;
        let mut chosen = place(cheapest.opening.from, cheapest.opening);
        let mut cost = cheapest.cost;
        let mut places = vec![chosen];
        for at in (0..last).rev() {
            let (index, next) = (activities[at], activities[at + 1]);
            let own = match wish.was[next] {
                Some(was) if was != chosen.start => wish.worth_moving,
                _ => 0,
            };
            cost -= own;
            let to_next = ToNext::new(
                board.of,
                board.clean_up(index, next),
                (index, next),
                &board.of.problem.lags[ties[at]],
                chosen.start,
            );
            let late = chance.once_in(2);
            let was = wish.was[index];
            let mut best: Option<(i64, Minute, Place)> = None;
            for label in self.layer(at).iter().filter(|label| label.cost <= cost) {
                to_next.starts(label.opening, |from, to| {
                    let start = match was {
                        Some(was) => was.clamp(from, to),
                        None if late => to,
                        None => from,
                    };
                    let liked = was.map_or(if late { -start } else { start }, |was| (was - start).abs());
                    if best.is_none_or(|best| (label.cost, liked) < (best.0, best.1)) {
                        best = Some((label.cost, liked, place(start, label.opening)));
                    }
                });
            }
            let (cost_of, _, found) = best?;
            (cost, chosen) = (cost_of, found);
            places.push(chosen);
        }
        places.reverse();
        Some(places)
    }
}

fn place(start: Minute, opening: Opening) -> Place {
    Place {
        start,
        end: start + opening.length,
        team: opening.team,
    }
}

/// What a start of the next activity asks of the one before.
struct ToNext<'t> {
    of: &'t Compiled<'t>,
    from_point: Point,
    next_start: Minute,
    same_hands: bool,
    clean_up: Minute,
    /// Ranges of the point at which the wait begins.
    ranges: [(Minute, Minute); 2],
}

impl<'t> ToNext<'t> {
    fn new(of: &'t Compiled<'t>, clean_up: Minute, pair: (usize, usize), lag: &Lag, start: Minute) -> Self {
        let activities = &of.problem.activities;
        let shift = match lag.to_point {
            Point::Start => 0,
            Point::End => activities[pair.1].duration,
        };
        let target = start + shift;
        let most = of.latest_begin(lag.min, target);
        let least = lag.max.map_or(Minute::MIN / 4, |max| of.earliest_begin(max, target));
        let ranges = match lag.closed {
            None => [(least, most), (1, 0)],
            Some((within, again)) => [
                (least.max(of.earliest_begin(within, target)), most),
                (least, most.min(of.latest_begin(again, target))),
            ],
        };
        Self {
            of,
            from_point: lag.from_point,
            next_start: start,
            same_hands: activities[pair.0].hands > 0 && activities[pair.1].hands > 0,
            clean_up,
            ranges,
        }
    }

    /// Calls with every range of starts in the opening that leads there.
    fn starts(&self, opening: Opening, mut each: impl FnMut(Minute, Minute)) {
        let grid = self.of.problem.grid;
        let point = opening.shift(self.from_point);
        for (least, most) in self.ranges {
            let from = opening.from.max(least - point);
            // A start kept from before may lie off the grid only if it is pinned, which is never threaded.
            let from = up_to_grid(from, grid);
            let mut to = opening.to.min(most - point);
            if self.same_hands {
                to = to.min(self.next_start - opening.length - self.clean_up);
            }
            let to = to - to.rem_euclid(grid.max(1));
            if from <= to {
                each(from, to);
            }
        }
    }
}
