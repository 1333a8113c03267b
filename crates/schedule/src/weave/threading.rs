//! Puts a piece of a strand in at its best places around all that stands: exactly, not step by step.
//!
//! Forward, each activity keeps every start that some allowed start of the one before leads to (a layer of openings);
//! so no step is taken that the longest wait after it would regret. From the best end the starts are read backwards.

use crate::board::{Board, Opening};
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Place;
use crate::model::{Effect, Lag, Minute, Point};

/// A first look goes no further than this beyond the earliest start of each layer.
const NEAR_MIN: Minute = 2 * 1440;
/// For the first layer it goes no further than this.
const FIRST_MIN: Minute = 1440;

/// What is liked where several starts lead to the same end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lean {
    Early,
    Late,
    /// What leaves a wet surface late, towards the end of hours; all else early.
    CoatsLate,
    /// Any of them.
    ByChance,
}

/// How a piece of a strand is to be put in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Manner {
    pub(super) lean: Lean,
    /// Once in so many, an opening is overlooked.
    pub(super) overlook: usize,
}

/// The workspace of threading.
#[derive(Debug, Default)]
pub(super) struct Threading {
    layers: Vec<Opening>,
    /// Where each layer ends.
    ends: Vec<usize>,
    found: Vec<Opening>,
    windows: Vec<(Minute, Minute)>,
}

impl Threading {
    /// Places for the activities, tied by the lags, or nothing if there are none. The board is left as it was.
    pub(super) fn places(
        &mut self,
        board: &Board<'_>,
        activities: &[usize],
        ties: &[usize],
        manner: Manner,
        chance: &mut Chance,
    ) -> Option<Vec<Place>> {
        let far = board.of.problem.horizon;
        for span in [NEAR_MIN, far] {
            if self.reach(board, activities, ties, span, manner, chance) {
                return self.read_back(board.of, activities, ties, manner, chance);
            }
        }
        None
    }

    /// Builds the layers; false if one is empty.
    fn reach(
        &mut self,
        board: &Board<'_>,
        activities: &[usize],
        ties: &[usize],
        span: Minute,
        manner: Manner,
        chance: &mut Chance,
    ) -> bool {
        let problem = board.of.problem;
        self.layers.clear();
        self.ends.clear();
        for (at, &index) in activities.iter().enumerate() {
            self.windows.clear();
            match at.checked_sub(1) {
                None => self.windows.push((problem.not_before, problem.horizon)),
                Some(before) => self.open_windows(board, activities[before], index, &problem.lags[ties[before]]),
            }
            let (Some(first), Some(last)) = (self.windows.first(), self.windows.last()) else {
                return false;
            };
            let begin = self.layers.len();
            // The near look starts where anything at all is open.
            let mut from = first.0;
            let mut near = if at == 0 && span == NEAR_MIN { FIRST_MIN } else { span };
            loop {
                self.found.clear();
                let to = last.1.min(from.saturating_add(near));
                board.openings(index, from, to, true, &mut self.found);
                if !self.found.is_empty() || to >= last.1 {
                    break;
                }
                from = to + 1;
                near *= 2;
            }
            for opening in &self.found {
                if manner.overlook > 0 && chance.once_in(manner.overlook) {
                    continue;
                }
                let reached = |&&(from, to): &&(Minute, Minute)| from <= opening.to && to >= opening.from;
                for &(from, to) in self.windows.iter().filter(reached) {
                    let (from, to) = (opening.from.max(from), opening.to.min(to));
                    let on_grid = crate::number::up_to_grid(from, problem.grid);
                    if on_grid <= to {
                        self.layers.push(Opening {
                            from: on_grid,
                            to: to - to.rem_euclid(problem.grid.max(1)),
                            ..*opening
                        });
                    }
                }
            }
            if self.layers.len() == begin {
                return false;
            }
            self.ends.push(self.layers.len());
        }
        true
    }

    /// When an activity may start, given the layer of the one before: ascending and apart.
    fn open_windows(&mut self, board: &Board<'_>, before: usize, index: usize, lag: &Lag) {
        let of = board.of;
        let begin = self.ends.len().checked_sub(2).map_or(0, |at| self.ends[at]);
        let shift = match lag.to_point {
            Point::Start => 0,
            Point::End => of.problem.activities[index].duration,
        };
        let same_hands = of.problem.activities[before].hands > 0 && of.problem.activities[index].hands > 0;
        let clean_up = board.clean_up(before, index);
        for opening in &self.layers[begin..] {
            let point = opening.shift(lag.from_point);
            let (a, b) = (opening.from + point, opening.to + point);
            let mut least = of.over(lag.min, a) - shift;
            if same_hands {
                least = least.max(opening.from + opening.length + clean_up);
            }
            let most = lag.max.map_or(of.problem.horizon, |max| of.over(max, b) - shift);
            match lag.closed {
                None => self.windows.push((least, most)),
                Some((within, again)) => {
                    let (shut, open) = (of.over(within, b) - shift, of.over(again, a) - shift);
                    self.windows.push((least, most.min(shut)));
                    self.windows.push((least.max(open), most));
                }
            }
        }
        self.windows.retain(|window| window.0 <= window.1);
        self.windows.sort_unstable();
        self.windows.dedup_by(|next, kept| {
            let touches = next.0 <= kept.1 + 1;
            if touches {
                kept.1 = kept.1.max(next.1);
            }
            touches
        });
    }

    /// Reads the starts backwards from the best end.
    fn read_back(
        &self,
        of: &Compiled<'_>,
        activities: &[usize],
        ties: &[usize],
        manner: Manner,
        chance: &mut Chance,
    ) -> Option<Vec<Place>> {
        let layer = |at: usize| {
            let begin = if at == 0 { 0 } else { self.ends[at - 1] };
            &self.layers[begin..self.ends[at]]
        };
        let last = activities.len().checked_sub(1)?;
        let earliest = layer(last).iter().min_by_key(|o| (o.from + o.length, o.from))?;
        let mut chosen = (earliest.from, *earliest);
        let mut places = vec![place(chosen)];
        for at in (0..last).rev() {
            let lag = &of.problem.lags[ties[at]];
            chosen = before(
                of,
                layer(at),
                (activities[at], activities[at + 1]),
                lag,
                chosen.0,
                manner.lean,
                chance,
            )?;
            places.push(place(chosen));
        }
        places.reverse();
        Some(places)
    }
}

fn place((start, opening): (Minute, Opening)) -> Place {
    Place {
        start,
        end: start + opening.length,
        team: opening.team,
    }
}

fn down(minute: Minute, grid: Minute) -> Minute {
    minute - minute.rem_euclid(grid.max(1))
}

/// The start in a layer that is liked best of all that lead to `start` of the next activity.
fn before(
    of: &Compiled<'_>,
    layer: &[Opening],
    pair: (usize, usize),
    lag: &Lag,
    start: Minute,
    lean: Lean,
    chance: &mut Chance,
) -> Option<(Minute, Opening)> {
    let activities = &of.problem.activities;
    let shift = match lag.to_point {
        Point::Start => 0,
        Point::End => activities[pair.1].duration,
    };
    let target = start + shift;
    let clean_up = match activities[pair.0].product {
        Some(product) if activities[pair.1].product != Some(product) => of.problem.clean_up_min[product.0],
        _ => 0,
    };
    let same_hands = activities[pair.0].hands > 0 && activities[pair.1].hands > 0;
    let most = of.latest_begin(lag.min, target);
    let least = lag.max.map_or(Minute::MIN / 4, |max| of.earliest_begin(max, target));
    let ranges = match lag.closed {
        None => [(least, most), (1, 0)],
        Some((within, again)) => [
            (least.max(of.earliest_begin(within, target)), most),
            (least, most.min(of.latest_begin(again, target))),
        ],
    };
    let late = match lean {
        Lean::Early => false,
        Lean::Late | Lean::ByChance => true,
        Lean::CoatsLate => matches!(activities[pair.0].room, Some((_, Effect::Coat { .. }))),
    };
    let mut best: Option<(Minute, Opening)> = None;
    let mut n = 0;
    for opening in layer {
        let point = opening.shift(lag.from_point);
        for (least, most) in ranges {
            let from = crate::number::up_to_grid(opening.from.max(least - point), of.problem.grid);
            let mut to = opening.to.min(most - point);
            if same_hands {
                to = to.min(start - opening.length - clean_up);
            }
            let to = down(to, of.problem.grid);
            if from > to {
                continue;
            }
            if lean == Lean::ByChance {
                n += 1;
                if chance.once_in(n) {
                    let wide = usize::try_from((to - from) / of.problem.grid).unwrap_or(0);
                    best = Some((
                        from + of.problem.grid * crate::number::minutes(chance.below(wide + 1)),
                        *opening,
                    ));
                }
                continue;
            }
            let better = |known: &(Minute, Opening)| if late { to > known.0 } else { from < known.0 };
            if best.as_ref().is_none_or(better) {
                best = Some((if late { to } else { from }, *opening));
            }
        }
    }
    best
}
