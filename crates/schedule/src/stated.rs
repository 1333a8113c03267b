//! A problem stated for the learning search: start times as variables on the grid, rules as arcs, tasks and holes.
//!
//! Some rules have no exact statement here (split work, clean-ups, racks, hands with hours of their own).
//! They are left out or loosened, never tightened: what is impossible here is impossible, a bound here is a bound, and
//! only where [`Stated::is_exact`] is everything found here a plan as it stands. Everything found is made into a plan
//! by the generator in any case.

use crate::compiled::Compiled;
use crate::learn::{ALWAYS, Clash, Cumulative, Engine, Lit, Staircase, Sum, Task};
use crate::model::{Activity, Breaks, Effect, Lag, Minute, Point, Span, Wait};

/// Larger horizons (in grid units) or scores are not stated.
const FARTHEST: i64 = 1 << 28;
/// Beyond so many pairs on hands and single resources their order is left to the time-table.
const MOST_ORDERS: usize = 2_000;
/// More pairs that exclude each other than this are not stated.
const MOST_PAIRS: usize = 60_000;

/// A point in time: an activity's start and some minutes.
#[derive(Debug, Clone, Copy)]
struct Shifted {
    index: usize,
    by: Minute,
}

/// Which way a clocked wait is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    /// The least `to` for a `from`.
    Earliest,
    /// The least `from` for a `to`.
    Latest,
}

/// A clocked wait between two starts in grid units, as a function of one of them.
#[derive(Debug)]
struct Clocked<'a> {
    of: &'a Compiled<'a>,
    wait: Wait,
    /// Minutes from grid unit 0 of either start to the point that counts.
    from_by: Minute,
    to_by: Minute,
    grid: Minute,
    way: Way,
}

impl Clocked<'_> {
    /// The first grid unit at which a start's point is not before `minute`.
    fn unit(&self, minute: Minute, by: Minute) -> i32 {
        narrow(up(minute - by, self.grid).clamp(-FARTHEST, FARTHEST))
    }

    /// The first `to` that is not too early for the wait begun at `from`.
    fn earliest(&self, from: Minute) -> i32 {
        self.unit(self.of.over(self.wait, from), self.to_by)
    }

    /// The first `from` whose wait is not over before `to`.
    fn latest(&self, to: Minute) -> i32 {
        self.unit(self.of.earliest_begin(self.wait, to), self.from_by)
    }
}

impl Staircase for Clocked<'_> {
    fn at(&self, value: i32) -> i32 {
        let minute = i64::from(value) * self.grid;
        match self.way {
            Way::Earliest => self.earliest(minute + self.from_by),
            Way::Latest => self.latest(minute + self.to_by),
        }
    }

    fn first_to_reach(&self, goal: i32) -> i32 {
        // A unit is reached by anything past the unit before it.
        let past = (i64::from(goal) - 1) * self.grid;
        match self.way {
            Way::Earliest => self.latest(past + self.to_by + 1),
            Way::Latest => self.unit(self.of.over(self.wait, past + self.from_by) + 1, self.to_by),
        }
    }
}

/// The problem in the engine's words.
pub(crate) struct Stated<'a> {
    pub(crate) engine: Engine<'a>,
    pub(crate) starts: Vec<u32>,
    /// Weighted level, in grid units times weight; none if nothing is weighted.
    pub(crate) weighted: Option<u32>,
    /// When the last activity ends, in grid units after the origin (rounded down).
    pub(crate) completion: u32,
    /// Ends and lateness: variables that follow from the starts.
    ends: Vec<(usize, u32, i64)>,
    lates: Vec<(usize, u32, i64)>,
    pub(crate) is_exact: bool,
    n_pairs: usize,
    /// Everything that is shared is settled by the order of pairs.
    orders_settle: bool,
    origin: Minute,
    grid: Minute,
}

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
        let problem = of.problem;
        let pins_off_grid = problem
            .activities
            .iter()
            .filter_map(|a| a.pin.as_ref())
            .any(|p| p.start % problem.grid != 0);
        let grid = if pins_off_grid { 1 } else { problem.grid.max(1) };
        let first_pin = problem
            .activities
            .iter()
            .filter_map(|a| a.pin.as_ref())
            .map(|p| p.start)
            .min();
        let origin = first_pin
            .unwrap_or(Minute::MAX)
            .min(problem.not_before)
            .div_euclid(grid)
            * grid;
        if (problem.horizon - origin) / grid > FARTHEST {
            return None;
        }
        let mut stated = Self {
            engine: Engine::new(seed),
            starts: Vec::new(),
            weighted: None,
            completion: 0,
            ends: Vec::new(),
            lates: Vec::new(),
            is_exact: grid == problem.grid,
            n_pairs: 0,
            orders_settle: true,
            origin,
            grid,
        };
        for index in 0..problem.activities.len() {
            stated.start(of, index);
        }
        for lag in &problem.lags {
            stated.lag(of, lag);
        }
        stated.rooms(of)?;
        stated.resources(of);
        stated.hands(of);
        stated.goal(of)?;
        if stated.orders_settle && stated.n_pairs > 0 {
            stated.engine.decide_times_last();
        }
        let cleans = problem.clean_up_min.iter().any(|&minutes| minutes > 0);
        stated.is_exact &=
            problem.holds.is_empty() && !cleans && problem.previous.as_ref().is_none_or(|p| p.worth_moving_min == 0);
        Some(stated)
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

    fn start(&mut self, of: &Compiled<'_>, index: usize) {
        let problem = of.problem;
        let activity = &problem.activities[index];
        let (mut least, mut most) = (
            self.at(problem.not_before),
            self.at(problem.horizon - activity.duration),
        );
        // Rounded down is one unit too early where the minute is off the grid.
        if self.minute(least) < problem.not_before {
            least += 1;
        }
        let release = self.at(activity.release + self.grid - 1);
        least = least.max(release);
        if let Some(deadline) = activity.deadline {
            most = most.min(self.at(deadline - activity.duration));
        }
        let mut is_free = true;
        if let Some(pin) = activity.pin.as_ref() {
            (least, most) = (self.at(pin.start), self.at(pin.start).min(most));
            is_free = !pin.begun;
        }
        let start = self.engine.variable(least, most);
        self.engine.is_time(start);
        self.starts.push(start);
        if is_free {
            let ranges = self.allowed(of, index);
            match ranges {
                Some(ranges) if ranges.is_empty() => {
                    // No start is allowed at all.
                    let nothing = self.engine.variable(0, -1);
                    debug_assert!(self.engine.least(nothing) > self.engine.most(nothing));
                }
                Some(ranges) => self.engine.allow(start, ranges),
                None => {}
            }
        }
    }

    /// Starts that hours and start windows leave, as ranges of grid units; `None` if they leave all.
    fn allowed(&mut self, of: &Compiled<'_>, index: usize) -> Option<Vec<(i32, i32)>> {
        let activity = &of.problem.activities[index];
        let mut ranges: Option<Vec<(Minute, Minute)>> = None;
        if !of.teams_of[index].is_empty() {
            self.is_exact &= activity.breaks == Breaks::Within;
            let mut all: Vec<(Minute, Minute)> = Vec::new();
            for &team in &of.teams_of[index] {
                let latest = |p: &Span| match activity.breaks {
                    Breaks::Within => p.to - activity.duration,
                    // Work of no length may also be done at the very end of a period, as the generator does it.
                    Breaks::Split if activity.duration > 0 => p.to - 1,
                    Breaks::Split => p.to,
                };
                all.extend(
                    of.teams[team]
                        .calendar
                        .periods
                        .iter()
                        .map(|p| (p.from, latest(p)))
                        .filter(|r| r.0 <= r.1),
                );
            }
            all.sort_unstable();
            ranges = Some(all);
        }
        if !activity.start_windows.is_empty() {
            let windows: Vec<(Minute, Minute)> = activity.start_windows.iter().map(|w| (w.from, w.to - 1)).collect();
            ranges = Some(match ranges {
                None => windows,
                Some(hours) => hours
                    .iter()
                    .flat_map(|&(a, b)| windows.iter().map(move |&(c, d)| (a.max(c), b.min(d))))
                    .filter(|&(from, to)| from <= to)
                    .collect(),
            });
        }
        let mut units: Vec<(i32, i32)> = Vec::new();
        let mut ranges = ranges?;
        ranges.sort_unstable();
        for (from, to) in ranges {
            let (from, to) = (self.at(from + self.grid - 1), self.at(to));
            match units.last_mut() {
                _ if from > to => {}
                Some(last) if from <= last.1 + 1 => last.1 = last.1.max(to),
                _ => units.push((from, to)),
            }
        }
        Some(units)
    }

    /// `to` is not before the wait begun at `from` is over.
    fn not_before(&mut self, of: &'a Compiled<'a>, wait: Wait, from: Shifted, to: Shifted, condition: Lit) {
        let (a, b) = (self.starts[from.index], self.starts[to.index]);
        match wait {
            Wait::Minutes(minutes) => {
                self.engine
                    .arc(a, b, narrow(up(from.by + minutes - to.by, self.grid)), condition);
            }
            Wait::Progress { .. } => {
                let wait = self.clocked(of, wait, from, to, Way::Earliest);
                self.engine.step_arc(a, b, Box::new(wait), condition);
            }
        }
    }

    /// `to` is not after the wait begun at `from` is over.
    fn not_after(&mut self, of: &'a Compiled<'a>, wait: Wait, from: Shifted, to: Shifted, condition: Lit) {
        let (a, b) = (self.starts[from.index], self.starts[to.index]);
        match wait {
            Wait::Minutes(minutes) => {
                self.engine.arc(
                    b,
                    a,
                    narrow(-(from.by + minutes - to.by).div_euclid(self.grid)),
                    condition,
                );
            }
            Wait::Progress { .. } => {
                // The same said of `from`: it is not before the earliest beginning that is over late enough.
                let wait = self.clocked(of, wait, from, to, Way::Latest);
                self.engine.step_arc(b, a, Box::new(wait), condition);
            }
        }
    }

    fn clocked(&self, of: &'a Compiled<'a>, wait: Wait, from: Shifted, to: Shifted, way: Way) -> Clocked<'a> {
        Clocked {
            of,
            wait,
            from_by: from.by + self.origin,
            to_by: to.by + self.origin,
            grid: self.grid,
            way,
        }
    }

    fn lag(&mut self, of: &'a Compiled<'a>, lag: &Lag) {
        let (from, to) = (&of.problem.activities[lag.from.0], &of.problem.activities[lag.to.0]);
        let splits = |activity: &Activity| activity.breaks == Breaks::Split && activity.hands > 0;
        let shift = |point: Point, activity: &Activity| if point == Point::End { activity.duration } else { 0 };
        let from_stretches = lag.from_point == Point::End && splits(from);
        let to_stretches = lag.to_point == Point::End && splits(to);
        self.is_exact &= !from_stretches && !to_stretches;
        let from = Shifted {
            index: lag.from.0,
            by: shift(lag.from_point, from),
        };
        let to = Shifted {
            index: lag.to.0,
            by: shift(lag.to_point, to),
        };
        // A split activity ends later than its minutes say: that only helps a shortest wait to its end.
        if !to_stretches {
            self.not_before(of, lag.min, from, to, ALWAYS);
        }
        if let (Some(max), false) = (lag.max, from_stretches) {
            self.not_after(of, max, from, to, ALWAYS);
        }
        if let (Some((within, again)), false) = (lag.closed, from_stretches || to_stretches) {
            let soon = self.engine.question();
            self.not_after(of, within, from, to, soon);
            self.not_before(of, again, from, to, soon.not());
        }
    }

    /// Each pair of dust and coat in a room has one of two orders.
    fn rooms(&mut self, of: &'a Compiled<'a>) -> Option<()> {
        let n = of.problem.activities.len();
        let mut pairs = 0;
        for coat in 0..n {
            let Some((room, Effect::Coat { wet })) = of.room_of[coat] else {
                continue;
            };
            for dust in 0..n {
                if of.room_of[dust] != Some((room, Effect::Dust)) {
                    continue;
                }
                pairs += 1;
                if pairs > MOST_PAIRS {
                    return None;
                }
                let coat_first = self.engine.question();
                let ends = Shifted {
                    index: coat,
                    by: of.problem.activities[coat].duration,
                };
                self.not_before(of, wet, ends, Shifted { index: dust, by: 0 }, coat_first);
                let over = Shifted {
                    index: dust,
                    by: of.problem.activities[dust].duration,
                };
                self.not_before(
                    of,
                    Wait::Minutes(0),
                    over,
                    Shifted { index: coat, by: 0 },
                    coat_first.not(),
                );
            }
        }
        Some(())
    }

    fn resources(&mut self, of: &Compiled<'_>) {
        for (index, resource) in of.problem.resources.iter().enumerate() {
            let mut tasks = Vec::new();
            for (at, activity) in of.problem.activities.iter().enumerate() {
                let need: u32 = activity
                    .uses
                    .iter()
                    .filter(|u| u.resource.0 == index)
                    .map(|u| u.amount)
                    .sum();
                if need > 0 {
                    tasks.push(Task {
                        start: self.starts[at],
                        length: self.length(activity),
                        need: narrow(need.into()),
                    });
                }
            }
            let most = resource.most();
            let levels: Vec<(Minute, i64)> = resource
                .capacity
                .iter()
                .map(|&(from, amount)| (from, i64::from(amount)))
                .collect();
            self.capacity(tasks, i64::from(most), &levels, of.problem.horizon);
        }
    }

    /// All hands together, and each hand for what only that hand may do.
    fn hands(&mut self, of: &Compiled<'_>) {
        let n_hands = of.problem.hands.len();
        if n_hands == 0 {
            return;
        }
        let hours_differ = of
            .calendars
            .windows(2)
            .any(|pair| !alike(&pair[0].periods, &pair[1].periods));
        let mut together = Vec::new();
        let mut alone: Vec<Vec<Task>> = vec![Vec::new(); n_hands];
        for (index, activity) in of.problem.activities.iter().enumerate() {
            if activity.hands == 0 {
                continue;
            }
            let begun = activity.pin.as_ref().is_some_and(|pin| pin.begun);
            let task = Task {
                start: self.starts[index],
                length: self.length(activity),
                need: narrow(i64::try_from(activity.hands).unwrap_or(1)),
            };
            let outside_hours = begun && self.is_exact;
            self.is_exact &= !outside_hours && (activity.among.is_empty() || n_hands == 1);
            // Split work keeps its hand while that hand is away: it must not count against those who are there.
            if !begun && activity.breaks == Breaks::Within {
                together.push(task);
            }
            if let [team] = of.teams_of[index][..] {
                for &hand in &of.teams[team].hands {
                    alone[hand].push(Task { need: 1, ..task });
                }
            }
        }
        self.is_exact &= n_hands == 1 || !hours_differ;
        if n_hands > 1 {
            let mut moments: Vec<Minute> = of
                .calendars
                .iter()
                .flat_map(|c| c.periods.iter().flat_map(|p| [p.from, p.to]))
                .collect();
            moments.sort_unstable();
            moments.dedup();
            // Outside all hours the holes say so; there the capacity may stay whole.
            let there = |minute: Minute| {
                of.calendars
                    .iter()
                    .filter(|c| c.periods.iter().any(|p| p.from <= minute && minute < p.to))
                    .count()
            };
            let whole = i64::try_from(n_hands).unwrap_or(1);
            let levels: Vec<(Minute, i64)> = std::iter::once((Minute::MIN, whole))
                .chain(moments.iter().map(|&m| {
                    (
                        m,
                        match there(m) {
                            0 => whole,
                            n => i64::try_from(n).unwrap_or(1),
                        },
                    )
                }))
                .collect();
            self.capacity(together, whole, &levels, of.problem.horizon);
        }
        for tasks in alone {
            if tasks.len() > 1 {
                self.pairs(&tasks);
                self.engine.cumulative(Cumulative::new(tasks, 1));
            }
        }
    }

    /// Of two that exclude each other one comes first: asked as a question, which says more than two start times do.
    fn pairs(&mut self, tasks: &[Task]) {
        self.n_pairs += tasks.len() * tasks.len() / 2;
        if self.n_pairs > MOST_ORDERS {
            self.orders_settle = false;
            return;
        }
        for (at, one) in tasks.iter().enumerate() {
            for other in tasks[at + 1..]
                .iter()
                .filter(|other| other.length > 0 && one.length > 0)
            {
                let first = self.engine.question();
                self.engine.arc(one.start, other.start, one.length, first);
                self.engine.arc(other.start, one.start, other.length, first.not());
            }
        }
    }

    /// A capacity which changes with time: the largest, less a fixed task wherever there is less.
    fn capacity(&mut self, mut tasks: Vec<Task>, most: i64, levels: &[(Minute, i64)], horizon: Minute) {
        for (index, &(from, amount)) in levels.iter().enumerate() {
            let to = levels.get(index + 1).map_or(horizon + self.grid, |&(next, _)| next);
            let (from, to) = (self.at(from.max(self.origin) + self.grid - 1), self.at(to));
            if amount < most && from < to {
                let start = self.engine.variable(from, from);
                tasks.push(Task {
                    start,
                    length: to - from,
                    need: narrow(most - amount),
                });
            }
        }
        if most == 1 {
            self.pairs(&tasks);
        } else {
            self.orders_settle = false;
        }
        let needed: i64 = tasks.iter().map(|task| i64::from(task.need)).sum();
        if needed > most {
            self.engine.cumulative(Cumulative::new(tasks, narrow(most)));
        }
    }

    fn goal(&mut self, of: &Compiled<'_>) -> Option<()> {
        let problem = of.problem;
        let end = self.at(problem.horizon) + 1;
        self.completion = self.engine.variable(0, end);
        for (index, activity) in problem.activities.iter().enumerate() {
            let length = activity.duration.div_euclid(self.grid);
            self.engine
                .arc(self.starts[index], self.completion, narrow(length), ALWAYS);
            self.ends.push((index, self.completion, length));
            self.is_exact &= activity.duration % self.grid == 0;
        }
        let weight = problem.completion_weight;
        if problem.dues.is_empty() && weight == 0 {
            return Some(());
        }
        let mut terms = Vec::new();
        let mut most = i64::from(weight) * i64::from(end);
        for due in &problem.dues {
            if due.weight == 0 {
                continue;
            }
            let activity = &problem.activities[due.activity.0];
            let late = self.engine.variable(0, end);
            let length = (activity.duration - (due.at - self.origin)).div_euclid(self.grid);
            self.is_exact &= (activity.duration - (due.at - self.origin)) % self.grid == 0;
            self.engine
                .arc(self.starts[due.activity.0], late, narrow(length), ALWAYS);
            self.lates.push((due.activity.0, late, length));
            terms.push((narrow(due.weight.into()), late));
            most += i64::from(due.weight) * i64::from(end);
        }
        if weight > 0 {
            terms.push((narrow(weight.into()), self.completion));
        }
        if most > FARTHEST {
            return None;
        }
        let total = self.engine.variable(0, narrow(most));
        self.engine.sum(Sum { terms, total });
        self.weighted = Some(total);
        Some(())
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

    /// Starts now chosen by the engine, in minutes.
    pub(crate) fn chosen(&self) -> Vec<Minute> {
        self.starts
            .iter()
            .map(|&start| self.minute(self.engine.least(start)))
            .collect()
    }

    /// Makes the engine lean towards known starts.
    pub(crate) fn lean(&mut self, starts: &[Minute]) {
        for (index, &minute) in starts.iter().enumerate() {
            let units = self.at(minute);
            self.engine.lean_towards(self.starts[index], units);
        }
        // What follows from the starts leans to its least.
        for &(_, var, _) in &self.lates {
            self.engine.lean_towards(var, i32::MIN / 4);
        }
        self.engine.lean_towards(self.completion, i32::MIN / 4);
        if let Some(total) = self.weighted {
            self.engine.lean_towards(total, i32::MIN / 4);
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

/// Whether wherever both sets of periods have one, it is the same: hands may then be told apart at the end.
fn alike(a: &[Span], b: &[Span]) -> bool {
    a.iter().all(|x| b.iter().all(|y| !x.overlaps(*y) || x == y))
}
