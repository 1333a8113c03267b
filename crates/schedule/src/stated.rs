//! A problem stated for the learning search: start times as variables on the grid, rules as arcs, tasks and holes.
//!
//! Some rules have no exact statement here (split work, clean-ups, racks, hands with hours of their own).
//! They are left out or loosened, never tightened: what is impossible here is impossible, a bound here is a bound, and
//! only where [`Stated::is_exact`] is everything found here a plan as it stands. Everything found is made into a plan
//! by the generator in any case.

//!
//! A *part* of a problem states only some activities; all others stay where they stand on a board, and what they leave
//! is all that the part sees of them.

mod clocked;
mod goal;
mod hours;
mod order;
mod shared;
mod starts;
mod waits;

use crate::board::Board;
use crate::compiled::Compiled;
use crate::learn::{Clash, Engine, Lit};
use crate::model::{Activity, Minute, Point, Problem, Wait};
use order::Orders;

/// Larger horizons (in grid units) or scores are not stated.
const FARTHEST: i64 = 1 << 28;
/// Beyond so many pairs on hands and single resources their order is left to the time-table: some 200 for one hand.
const MOST_ORDERS: usize = 20_000;
/// The same where much is stated one after the other, each for few dead ends.
const FEW_ORDERS: usize = 2_000;
/// More pairs that exclude each other than this are not stated.
const MOST_PAIRS: usize = 60_000;

/// The problem in the engine's words.
pub(crate) struct Stated<'a> {
    of: &'a Compiled<'a>,
    pub(crate) engine: Engine<'a>,
    /// The start of each activity, or [`OUT`] where a part leaves it out.
    starts: Vec<u32>,
    /// Weighted level, in grid units times weight; none if nothing is weighted.
    pub(crate) weighted: Option<u32>,
    /// When the last activity ends, in grid units after the origin (rounded down).
    pub(crate) completion: u32,
    /// Lateness: variables that follow from the starts.
    lates: Vec<u32>,
    /// Which of two comes first, where that is asked.
    orders: Orders,
    /// Whether the second of a closed wait comes soon: the lag, and the question.
    soon: Vec<(usize, Lit)>,
    pub(crate) is_exact: bool,
    n_pairs: usize,
    most_orders: usize,
    /// Everything that is shared is settled by the order of pairs.
    orders_settle: bool,
    origin: Minute,
    grid: Minute,
}

/// Stands for the start of an activity that is not stated.
const OUT: u32 = u32::MAX;

/// Rounds a length in minutes up to grid units.
fn up(minutes: Minute, grid: Minute) -> Minute {
    minutes.div_euclid(grid) + i64::from(minutes.rem_euclid(grid) != 0)
}

fn narrow(value: i64) -> i32 {
    i32::try_from(value).unwrap_or(if value < 0 { i32::MIN / 4 } else { i32::MAX / 4 })
}

impl<'a> Stated<'a> {
    /// States the problem; `None` if it is too large to be stated.
    pub(crate) fn new(of: &'a Compiled<'a>, seed: u64) -> Option<Self> {
        Self::of(of, None, seed, MOST_ORDERS)
    }

    /// The same, sooner and with fewer questions: enough for what is impossible for simple reasons.
    pub(crate) fn brief(of: &'a Compiled<'a>, seed: u64) -> Option<Self> {
        Self::of(of, None, seed, FEW_ORDERS)
    }

    /// States the activities that do not stand on the board, among all that do.
    pub(crate) fn part(board: &Board<'a>, seed: u64) -> Option<Self> {
        Self::of(board.of, Some(board), seed, MOST_ORDERS)
    }

    fn of(of: &'a Compiled<'a>, board: Option<&Board<'a>>, seed: u64, most_orders: usize) -> Option<Self> {
        let problem = of.problem;
        let (grid, origin) = units(problem);
        if (problem.horizon - origin) / grid > FARTHEST {
            return None;
        }
        let mut stated = Self {
            of,
            engine: Engine::new(seed),
            starts: Vec::new(),
            weighted: None,
            completion: 0,
            lates: Vec::new(),
            orders: Orders::default(),
            soon: Vec::new(),
            is_exact: grid == problem.grid,
            n_pairs: 0,
            most_orders,
            orders_settle: true,
            origin,
            grid,
        };
        for index in 0..problem.activities.len() {
            stated.start(of, board, index);
        }
        for index in 0..problem.lags.len() {
            stated.lag(of, index);
        }
        stated.orders.follow(stated.starts.iter().map(|&start| start != OUT));
        stated.rooms(of)?;
        stated.resources(of, board);
        stated.hands(of, board);
        stated.goal(of, board)?;
        if stated.orders_settle && stated.n_pairs > 0 {
            stated.engine.decide_times_last();
        }
        let cleans = problem.clean_up_min.iter().any(|&minutes| minutes > 0);
        stated.is_exact &=
            problem.holds.is_empty() && !cleans && problem.previous.as_ref().is_none_or(|p| p.worth_moving_min == 0);
        Some(stated)
    }

    /// Whether the activity stays where it stands.
    fn is_out(&self, index: usize) -> bool {
        self.starts[index] == OUT
    }

    /// A minute as grid units from the origin, rounded down.
    fn at(&self, minute: Minute) -> i32 {
        narrow((minute - self.origin).div_euclid(self.grid))
    }

    pub(crate) fn minute(&self, units: i32) -> Minute {
        self.origin + i64::from(units) * self.grid
    }

    /// The largest completion variable value that is still earlier than ending at `minute`.
    pub(crate) fn before_end(&self, minute: Minute) -> i32 {
        // Completion is rounded down, so ending in the same unit cannot be told apart; give such a gain up.
        self.at(minute) - 1
    }

    /// The smallest activity durations at their starts: what the engine may count on.
    fn length(&self, activity: &Activity) -> i32 {
        narrow(up(activity.duration, self.grid))
    }

    /// Everything that follows at once.
    pub(crate) fn settle(&mut self) -> Result<(), Clash> {
        self.engine.settle_root()
    }

    /// The weighted level's lower bound in minutes, for a value of its variable.
    pub(crate) fn weighted_minutes(&self, units: i32, completion_weight: u32) -> i64 {
        i64::from(units) * self.grid + i64::from(completion_weight) * self.origin
    }

    /// The weighted variable's value for a weighted level in minutes.
    pub(crate) fn weighted_units(&self, minutes: i64, completion_weight: u32) -> i32 {
        narrow((minutes - i64::from(completion_weight) * self.origin).div_euclid(self.grid))
    }

    /// Starts now chosen by the engine, in minutes; none for what is not stated.
    pub(crate) fn chosen(&self) -> impl Iterator<Item = Option<Minute>> {
        self.starts
            .iter()
            .map(|&start| (start != OUT).then(|| self.minute(self.engine.least(start))))
    }

    /// Makes the engine lean towards known starts.
    pub(crate) fn lean(&mut self, starts: &[Minute]) {
        for (index, &minute) in starts.iter().enumerate() {
            if self.starts[index] != OUT {
                let units = self.at(minute);
                self.engine.lean_towards(self.starts[index], units);
            }
        }
        for (first, second, lit) in self.orders.asked() {
            self.engine
                .lean_to(lit, (starts[first], first) <= (starts[second], second));
        }
        for &(lag, lit) in &self.soon {
            let lag = &self.of.problem.lags[lag];
            let point = |id: usize, point: Point| match point {
                Point::Start => starts[id],
                Point::End => starts[id] + self.of.problem.activities[id].duration,
            };
            let closed = lag.closed.map_or(Wait::default(), |closed| closed.0);
            let shut = self.of.over(closed, point(lag.from.0, lag.from_point));
            self.engine.lean_to(lit, point(lag.to.0, lag.to_point) <= shut);
        }
        // What follows from the starts leans to its least.
        for var in self.lates.iter().copied().chain([self.completion]).chain(self.weighted) {
            self.engine.lean_towards(var, i32::MIN / 4);
        }
    }

    /// Assumption that an activity starts at this minute.
    pub(crate) fn starts_at(&self, index: usize, minute: Minute) -> [Lit; 2] {
        let units = self.at(minute);
        [
            Lit::at_least(self.starts[index], units),
            Lit::at_most(self.starts[index], units),
        ]
    }
}

/// The grid in minutes and the minute of its unit 0.
fn units(problem: &Problem) -> (Minute, Minute) {
    let pins = || problem.activities.iter().filter_map(|a| a.pin.as_ref());
    let off_grid = pins().any(|p| p.start % problem.grid != 0);
    let grid = if off_grid { 1 } else { problem.grid.max(1) };
    let first_pin = pins().map(|p| p.start).min().unwrap_or(Minute::MAX);
    (grid, first_pin.min(problem.not_before).div_euclid(grid) * grid)
}

#[cfg(test)]
mod tests {
    use super::Stated;
    use crate::compiled::Compiled;
    use crate::model::{Activity, Hand, Problem, Span};

    /// By hand: of 100 done by one hand 100 · 99 / 2 pairs are asked for their order; 201 are more than are asked.
    #[test]
    fn whatever_one_hand_does_is_asked_for_its_order_unless_it_is_too_much_or_is_stated_briefly() {
        for (n, asked, briefly) in [(10, 45, 45), (100, 4_950, 0), (201, 0, 0)] {
            let mut problem = Problem {
                horizon: 10_000,
                ..Problem::default()
            };
            problem.hands.push(Hand {
                name: "me".into(),
                periods: vec![Span::new(0, 10_000)],
            });
            for _ in 0..n {
                problem.add(Activity::new("coat", 30));
            }
            let of = Compiled::new(&problem);
            let all = Stated::new(&of, 1).unwrap();
            let few = Stated::brief(&of, 1).unwrap();
            assert_eq!(
                (all.orders.asked().count(), few.orders.asked().count()),
                (asked, briefly)
            );
        }
    }
}
