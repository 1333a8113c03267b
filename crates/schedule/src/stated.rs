//! A problem stated for the learning search: start times as variables on the grid, rules as arcs, tasks and holes.
//!
//! Some rules have no exact statement here (clocked waits, split work, clean-ups, racks, hands with hours of their own).
//! They are left out or loosened, never tightened: what is impossible here is impossible, a bound here is a bound, and
//! only where [`Stated::is_exact`] is everything found here a plan as it stands. Everything found is made into a plan
//! by the generator in any case.

use crate::compiled::Compiled;
use crate::infeasible::Demand;
use crate::learn::{ALWAYS, Clash, Cumulative, Engine, Lit, Sum, Task};
use crate::model::{Activity, Breaks, Effect, Lag, Minute, Point, Span, Wait};
use std::collections::BTreeSet;

/// Larger horizons (in grid units) or scores are not stated.
const FARTHEST: i64 = 1 << 28;
/// More pairs that exclude each other than this are not stated.
const MOST_PAIRS: usize = 60_000;

/// The problem in the engine's words.
pub(crate) struct Stated {
    pub(crate) engine: Engine,
    pub(crate) starts: Vec<u32>,
    /// Weighted level, in grid units times weight; none if nothing is weighted.
    pub(crate) weighted: Option<u32>,
    /// When the last activity ends, in grid units after the origin (rounded down).
    pub(crate) completion: u32,
    /// Ends and lateness: variables that follow from the starts.
    ends: Vec<(usize, u32, i64)>,
    lates: Vec<(usize, u32, i64)>,
    pub(crate) is_exact: bool,
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

/// The same without the demands given up, to find out which of them matter.
pub(crate) type Omitted = BTreeSet<Demand>;

impl Stated {
    /// States the problem; `None` if it is too large to be stated.
    pub(crate) fn new(of: &Compiled<'_>, omitted: &Omitted, seed: u64) -> Option<Self> {
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
            origin,
            grid,
        };
        for index in 0..problem.activities.len() {
            stated.start(of, omitted, index);
        }
        for (index, lag) in problem.lags.iter().enumerate() {
            stated.lag(of, omitted, index, lag);
        }
        stated.rooms(of)?;
        stated.resources(of, omitted);
        stated.hands(of);
        stated.goal(of)?;
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

    fn start(&mut self, of: &Compiled<'_>, omitted: &Omitted, index: usize) {
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
        if omitted.contains(&Demand::Horizon) {
            most += self.at(problem.horizon);
        }
        let release = self.at(activity.release + self.grid - 1);
        if !omitted.contains(&Demand::Release(crate::model::ActivityId(index))) {
            least = least.max(release);
        }
        if let Some(deadline) = activity.deadline
            && !omitted.contains(&Demand::Deadline(crate::model::ActivityId(index)))
        {
            most = most.min(self.at(deadline - activity.duration));
        }
        let id = crate::model::ActivityId(index);
        let mut is_free = true;
        if let Some(pin) = activity.pin.as_ref().filter(|_| !omitted.contains(&Demand::Pin(id))) {
            (least, most) = (self.at(pin.start), self.at(pin.start).min(most));
            is_free = !pin.begun;
        }
        let start = self.engine.variable(least, most);
        self.engine.is_time(start);
        self.starts.push(start);
        if is_free {
            let ranges = self.allowed(of, omitted, index);
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
    fn allowed(&mut self, of: &Compiled<'_>, omitted: &Omitted, index: usize) -> Option<Vec<(i32, i32)>> {
        let activity = &of.problem.activities[index];
        let id = crate::model::ActivityId(index);
        let mut ranges: Option<Vec<(Minute, Minute)>> = None;
        if !of.teams_of[index].is_empty() && !omitted.contains(&Demand::Hours(id)) {
            self.is_exact &= activity.breaks == Breaks::Within;
            let mut all: Vec<(Minute, Minute)> = Vec::new();
            for &team in &of.teams_of[index] {
                let latest = |p: &Span| match activity.breaks {
                    Breaks::Within => p.to - activity.duration,
                    Breaks::Split => p.to - 1,
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
        if !activity.start_windows.is_empty() && !omitted.contains(&Demand::StartWindows(id)) {
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

    /// A wait at its shortest, wherever it falls; exact for plain minutes.
    fn shortest(&mut self, of: &Compiled<'_>, wait: Wait) -> Minute {
        match wait {
            Wait::Minutes(minutes) => minutes,
            Wait::Progress { clock, progress } => {
                self.is_exact = false;
                of.problem.clocks[clock.0].shortest_wait(progress)
            }
        }
    }

    fn lag(&mut self, of: &Compiled<'_>, omitted: &Omitted, index: usize, lag: &Lag) {
        let (from, to) = (&of.problem.activities[lag.from.0], &of.problem.activities[lag.to.0]);
        let splits = |activity: &Activity| activity.breaks == Breaks::Split && activity.hands > 0;
        let shift = |point: Point, activity: &Activity| if point == Point::End { activity.duration } else { 0 };
        let (a, b) = (self.starts[lag.from.0], self.starts[lag.to.0]);
        let offset = shift(lag.from_point, from) - shift(lag.to_point, to);
        let (from_stretches, to_stretches) = (
            lag.from_point == Point::End && splits(from),
            lag.to_point == Point::End && splits(to),
        );
        if from_stretches || to_stretches {
            self.is_exact = false;
        }
        // A split activity ends later than its minutes say: that only helps a shortest wait to its end.
        if !to_stretches && !omitted.contains(&Demand::ShortestWait(index)) {
            let min = self.shortest(of, lag.min);
            self.engine.arc(a, b, narrow(up(offset + min, self.grid)), ALWAYS);
        }
        if let (Some(Wait::Minutes(max)), false) =
            (lag.max, from_stretches || omitted.contains(&Demand::LongestWait(index)))
        {
            self.engine
                .arc(b, a, narrow(-(offset + max).div_euclid(self.grid)), ALWAYS);
        } else if lag.max.is_some() {
            self.is_exact = false;
        }
        if let Some(closed) = lag.closed {
            let (Wait::Minutes(within), Wait::Minutes(again)) = closed else {
                self.is_exact = false;
                return;
            };
            if from_stretches || to_stretches || omitted.contains(&Demand::ClosedStretch(index)) {
                return;
            }
            let soon = self.engine.question();
            self.engine
                .arc(b, a, narrow(-(offset + within).div_euclid(self.grid)), soon);
            self.engine.arc(a, b, narrow(up(offset + again, self.grid)), soon.not());
        }
    }

    /// Each pair of dust and coat in a room has one of two orders.
    fn rooms(&mut self, of: &Compiled<'_>) -> Option<()> {
        let n = of.problem.activities.len();
        let mut pairs = 0;
        for coat in 0..n {
            let Some((room, Effect::Coat { wet })) = of.room_of[coat] else {
                continue;
            };
            let wet = self.shortest(of, wet);
            for dust in 0..n {
                if of.room_of[dust] != Some((room, Effect::Dust)) {
                    continue;
                }
                pairs += 1;
                if pairs > MOST_PAIRS {
                    return None;
                }
                let coat_length = of.problem.activities[coat].duration;
                let dust_length = of.problem.activities[dust].duration;
                let coat_first = self.engine.question();
                let (a, b) = (self.starts[coat], self.starts[dust]);
                self.engine
                    .arc(a, b, narrow(up(coat_length + wet, self.grid)), coat_first);
                self.engine
                    .arc(b, a, narrow(up(dust_length, self.grid)), coat_first.not());
            }
        }
        Some(())
    }

    fn resources(&mut self, of: &Compiled<'_>, omitted: &Omitted) {
        for (index, resource) in of.problem.resources.iter().enumerate() {
            if omitted.contains(&Demand::Resource(index)) {
                continue;
            }
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
                self.engine.cumulative(Cumulative::new(tasks, 1));
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
