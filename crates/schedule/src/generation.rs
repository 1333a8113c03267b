//! Makes a schedule from an order: each activity in turn at its first possible start, with repair of longest waits.
//!
//! Plain serial generation fails where waits have a longest length: by the time a step's turn comes, the hand may be
//! taken beyond it. Then what the wait began with is taken out again with all that follows from it, and may not start
//! before a minute at which the wait would have held (unscheduling). Activities whose wait closes soon go first.
//! What cannot be placed at all is counted, so that a search can still see which of two failures is the smaller.

mod rules;

use crate::calendar::Calendar;
use crate::compiled::Compiled;
use crate::model::{Breaks, Effect, HandId, Minute, Placement, Plan, Point, Span};
use crate::number::{minutes, up_to_grid};
use crate::profile::Profile;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// Where an activity stands; `team` is none where it takes nobody.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Place {
    pub(crate) start: Minute,
    pub(crate) end: Minute,
    pub(crate) team: Option<usize>,
}

/// What came of one generation.
#[derive(Debug, Clone)]
pub(crate) struct Draft {
    pub(crate) places: Vec<Option<Place>>,
    /// Activities that found no place.
    pub(crate) missing: usize,
}

/// Work that fits the same gaps: team, duration, product, whether it may be split.
type Shape = (usize, Minute, Option<usize>, bool);

/// One hand's taken stretches, ascending.
type Timeline = Vec<(Span, usize)>;

/// A wait shorter than this between its least and its most is looked after at once.
const SOON_MIN: Minute = 720;
/// Takings-out allowed for each activity, on average, before a generation gives up on repair.
const REPAIRS_EACH: usize = 8;

/// The workspace of generations; kept between them to spare the allocator.
pub(crate) struct Generator<'a> {
    of: &'a Compiled<'a>,
    places: Vec<Option<Place>>,
    /// Earliest start allowed by repairs.
    not_before: Vec<Minute>,
    timelines: Vec<Timeline>,
    free: Vec<Profile>,
    coats: Vec<Vec<(Span, usize)>>,
    dusts: Vec<Vec<(Span, usize)>>,
    /// The longest stretch in each room's lists.
    longest: Vec<Minute>,
    /// For work of one shape, a team's first minute at which it might still fit.
    full_until: BTreeMap<Shape, Minute>,
    waiting_for: Vec<usize>,
    given_up: Vec<bool>,
    fresh_free: Vec<Profile>,
}

/// Why an activity cannot stand where it otherwise would.
enum Blocked {
    /// Moving `other` to `from` or later would let it.
    Until { other: usize, from: Minute },
    /// Nothing would.
    Never,
}

impl<'a> Generator<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>) -> Self {
        let n = of.problem.activities.len();
        let fresh_free: Vec<Profile> = of.problem.resources.iter().map(Profile::new).collect();
        Self {
            of,
            places: vec![None; n],
            not_before: vec![0; n],
            timelines: vec![Vec::new(); of.problem.hands.len()],
            free: fresh_free.clone(),
            coats: vec![Vec::new(); of.n_rooms],
            dusts: vec![Vec::new(); of.n_rooms],
            longest: vec![0; of.n_rooms],
            full_until: BTreeMap::new(),
            waiting_for: vec![0; n],
            given_up: vec![false; n],
            fresh_free,
        }
    }

    /// Generates one schedule; `rank` orders the activities that could be next, the lowest first.
    pub(crate) fn generate(&mut self, rank: &[u64]) -> Draft {
        self.generate_from(rank, None)
    }

    /// The same, but nothing starts before the minutes given for it.
    pub(crate) fn generate_from(&mut self, rank: &[u64], earliest: Option<&[Minute]>) -> Draft {
        self.generate_keeping(rank, earliest, &[])
    }

    /// The same, but what has a start in `keep` stands there if it can, before anything else finds its place.
    pub(crate) fn generate_keeping(
        &mut self,
        rank: &[u64],
        earliest: Option<&[Minute]>,
        keep: &[(Minute, usize)],
    ) -> Draft {
        self.clear(earliest);
        let mut missing = 0;
        let n = self.places.len();
        for index in 0..n {
            if self.of.problem.activities[index].pin.is_some() && !self.place_pinned(index) {
                self.given_up[index] = true;
                missing += 1;
            }
        }
        for &(start, index) in keep {
            if !self.settled(index)
                && let Some(place) = self.stands_at(index, start)
            {
                self.put(index, place);
            }
        }
        let mut ready: BinaryHeap<Reverse<(u64, usize)>> = BinaryHeap::new();
        for index in 0..n {
            self.waiting_for[index] = self.of.n_before[index];
        }
        for index in 0..n {
            if self.settled(index) {
                self.release_next(index, rank, &mut ready);
            }
        }
        for index in 0..n {
            if self.waiting_for[index] == 0 && !self.settled(index) {
                ready.push(Reverse((self.turn(index, rank), index)));
            }
        }
        let mut repairs = REPAIRS_EACH * n + 32;
        while let Some(Reverse((_, index))) = ready.pop() {
            if self.settled(index) || self.waiting_for[index] > 0 {
                continue;
            }
            match self.first_place(index) {
                Ok(place) => {
                    self.put(index, place);
                    self.release_next(index, rank, &mut ready);
                }
                Err(Blocked::Until { other, from })
                    if repairs > 0
                        && self.of.problem.activities[other].pin.is_none()
                        && from > self.start_of(other) =>
                {
                    repairs -= 1;
                    self.not_before[other] = self.not_before[other].max(from);
                    self.take_out(other);
                    ready.push(Reverse((self.turn(other, rank), other)));
                    if self.waiting_for[index] == 0 {
                        ready.push(Reverse((self.turn(index, rank), index)));
                    }
                }
                Err(_) => {
                    missing += 1;
                    self.given_up[index] = true;
                    self.release_next(index, rank, &mut ready);
                }
            }
        }
        // What waits in a circle is never ready.
        missing += (0..n).filter(|&index| !self.settled(index)).count();
        Draft {
            places: self.places.clone(),
            missing,
        }
    }

    fn clear(&mut self, earliest: Option<&[Minute]>) {
        for (index, not_before) in self.not_before.iter_mut().enumerate() {
            let own = self
                .of
                .problem
                .not_before
                .max(self.of.problem.activities[index].release);
            *not_before = earliest.map_or(own, |earliest| own.max(earliest[index]));
        }
        self.places.fill(None);
        self.given_up.fill(false);
        self.timelines.iter_mut().for_each(Vec::clear);
        self.coats.iter_mut().for_each(Vec::clear);
        self.dusts.iter_mut().for_each(Vec::clear);
        self.longest.fill(0);
        self.full_until.clear();
        self.free.clone_from(&self.fresh_free);
    }

    fn settled(&self, index: usize) -> bool {
        self.places[index].is_some() || self.given_up[index]
    }

    fn start_of(&self, index: usize) -> Minute {
        self.places[index].map_or(Minute::MIN, |place| place.start)
    }

    fn release_next(&mut self, index: usize, rank: &[u64], ready: &mut BinaryHeap<Reverse<(u64, usize)>>) {
        for &next in &self.of.next[index] {
            self.waiting_for[next] = self.waiting_for[next].saturating_sub(1);
            if self.waiting_for[next] == 0 && !self.settled(next) {
                ready.push(Reverse((self.turn(next, rank), next)));
            }
        }
    }

    /// An activity's place in the queue: those whose longest wait is running out come before all others.
    fn turn(&self, index: usize, rank: &[u64]) -> u64 {
        let soon = self.of.lags_of[index]
            .iter()
            .map(|&lag| &self.of.problem.lags[lag])
            .any(|lag| {
                let Some(max) = lag.max else { return false };
                if lag.to.0 != index {
                    return false;
                }
                let Some(from) = self.places[lag.from.0] else {
                    return false;
                };
                let begun = if lag.from_point == Point::Start {
                    from.start
                } else {
                    from.end
                };
                self.of.over(max, begun) - self.of.over(lag.min, begun) < SOON_MIN
            });
        if soon { 0 } else { rank[index].saturating_add(1) }
    }

    /// The activity's place at exactly this start, if it breaks no rule there.
    fn stands_at(&mut self, index: usize, start: Minute) -> Option<Place> {
        let problem = self.of.problem;
        let activity = &problem.activities[index];
        let limit = activity.deadline.unwrap_or(problem.horizon).min(problem.horizon);
        let windows = &activity.start_windows;
        let allowed = start >= self.not_before[index]
            && up_to_grid(start, problem.grid) == start
            && (windows.is_empty() || next_window(windows, start) == Some(start));
        let place = self
            .hands_fit(index, start)
            .filter(|place| allowed && place.start == start && place.end <= limit)?;
        (self.later(index, place).is_none() && self.blocked_at(index, place).is_none()).then_some(place)
    }

    /// Puts a pinned activity where it is pinned; false if that breaks a rule.
    fn place_pinned(&mut self, index: usize) -> bool {
        let activity = &self.of.problem.activities[index];
        let Some(pin) = &activity.pin else {
            return false;
        };
        let (start, whole) = (pin.start, pin.start + activity.duration);
        let teams = &self.of.teams_of[index];
        let mut stands = (activity.hands == 0).then_some(Place {
            start,
            end: whole,
            team: None,
        });
        for &team in teams {
            let fits = self.team_fit(team, index, start).filter(|&(at, _)| at == start);
            stands = stands.or(fits.map(|(_, end)| Place {
                start,
                end,
                team: Some(team),
            }));
        }
        if pin.begun {
            // Begun outside hours: it takes its minutes all the same.
            for &team in teams {
                let busy = |hand: &usize| self.hand_busy(*hand, index, start, whole).is_some();
                let free = activity.duration == 0 || !self.of.teams[team].hands.iter().any(busy);
                stands = stands.or(free.then_some(Place {
                    start,
                    end: whole,
                    team: Some(team),
                }));
            }
        }
        let inside = |window: &Span| window.from <= start && start < window.to;
        let windows = &activity.start_windows;
        let in_window = pin.begun || windows.is_empty() || windows.iter().any(inside);
        let limit = activity
            .deadline
            .unwrap_or(self.of.problem.horizon)
            .min(self.of.problem.horizon);
        let keeps = |place: &Place| {
            in_window
                && place.end <= limit
                && self.later(index, *place).is_none()
                && self.blocked_at(index, *place).is_none()
        };
        let Some(place) = stands.filter(keeps) else {
            return false;
        };
        self.put(index, place);
        true
    }

    /// The first place at which the activity breaks no rule, or what stands in its way.
    fn first_place(&mut self, index: usize) -> Result<Place, Blocked> {
        let problem = self.of.problem;
        let activity = &problem.activities[index];
        let limit = activity.deadline.unwrap_or(problem.horizon).min(problem.horizon);
        let mut from = self.not_before[index];
        loop {
            from = up_to_grid(from, problem.grid);
            if let Some(window) = next_window(&activity.start_windows, from) {
                from = window;
            } else if !activity.start_windows.is_empty() {
                return Err(Blocked::Never);
            }
            let Some(place) = self.hands_fit(index, from) else {
                return Err(Blocked::Never);
            };
            if place.end > limit {
                return Err(self.blocked_at(index, place).unwrap_or(Blocked::Never));
            }
            if place.start > from {
                from = place.start;
                continue;
            }
            match self.later(index, place) {
                Some(later) => from = later.max(from + 1),
                None => return self.blocked_at(index, place).map_or(Ok(place), Err),
            }
        }
    }

    /// The first start not before `from` at which a team is free, and its end.
    fn hands_fit(&mut self, index: usize, from: Minute) -> Option<Place> {
        if self.of.teams_of[index].is_empty() {
            let duration = self.of.problem.activities[index].duration;
            return Some(Place {
                start: from,
                end: from + duration,
                team: None,
            });
        }
        let mut best: Option<Place> = None;
        for &team in &self.of.teams_of[index] {
            let Some((start, end)) = self.team_fit(team, index, from) else {
                continue;
            };
            if best.is_none_or(|best| (start, end) < (best.start, best.end)) {
                best = Some(Place {
                    start,
                    end,
                    team: Some(team),
                });
                if start == from {
                    break;
                }
            }
        }
        best
    }

    fn team_fit(&mut self, team: usize, index: usize, from: Minute) -> Option<(Minute, Minute)> {
        let activity = &self.of.problem.activities[index];
        let shape = (
            team,
            activity.duration,
            activity.product.map(|product| product.0),
            activity.breaks == Breaks::Split,
        );
        let team = &self.of.teams[team];
        // Timelines only fill up between two takings-out, so what did not fit then does not fit now.
        let free = activity.pin.is_none();
        let full = self
            .full_until
            .get(&shape)
            .copied()
            .filter(|_| free)
            .unwrap_or(Minute::MIN);
        let (asked, mut from) = (from, from.max(full));
        'again: loop {
            let (start, end) = fit(
                &team.calendar,
                from,
                activity.duration,
                activity.breaks,
                self.of.problem.grid,
            )?;
            if activity.duration > 0 {
                for &hand in &team.hands {
                    if let Some(free) = self.hand_busy(hand, index, start, end) {
                        from = free;
                        continue 'again;
                    }
                }
            }
            if free && (asked <= full || (full == Minute::MIN && asked <= self.of.problem.not_before)) {
                self.full_until.insert(shape, start);
            }
            return Some((start, end));
        }
    }

    /// If the hand is taken in `[start, end)`, clean-ups included, when it could begin instead.
    fn hand_busy(&self, hand: usize, index: usize, start: Minute, end: Minute) -> Option<Minute> {
        let timeline = &self.timelines[hand];
        let after = timeline.partition_point(|(span, _)| span.from < end);
        if let Some(&(span, other)) = timeline.get(after)
            && span.from < end + self.clean_up(index, other)
        {
            return Some(span.to + self.clean_up(other, index));
        }
        let &(span, other) = timeline.get(after.checked_sub(1)?)?;
        let free = span.to + self.clean_up(other, index);
        (free > start).then_some(free)
    }

    /// Minutes a hand cleans up between the two.
    fn clean_up(&self, before: usize, after: usize) -> Minute {
        let activities = &self.of.problem.activities;
        match activities[before].product {
            Some(product) if activities[after].product != Some(product) => self.of.problem.clean_up_min[product.0],
            _ => 0,
        }
    }

    fn put(&mut self, index: usize, place: Place) {
        self.places[index] = Some(place);
        self.occupy(index, place, 1);
        if let Some(team) = place.team {
            for &hand in &self.of.teams[team].hands {
                let entry = (Span::new(place.start, place.end), index);
                if place.end > place.start {
                    let timeline = &mut self.timelines[hand];
                    let at = timeline.partition_point(|known| *known < entry);
                    timeline.insert(at, entry);
                }
            }
        }
        if let Some((room, effect)) = self.of.room_of[index] {
            let (list, to) = match effect {
                Effect::Dust => (&mut self.dusts[room], place.end),
                Effect::Coat { wet } => (&mut self.coats[room], self.of.over(wet, place.end)),
            };
            self.longest[room] = self.longest[room].max(to - place.start);
            let entry = (Span::new(place.start, to), index);
            let at = list.partition_point(|known| *known < entry);
            list.insert(at, entry);
        }
    }

    /// Takes the activity's resources, or gives them back with `sign` -1.
    fn occupy(&mut self, index: usize, place: Place, sign: i64) {
        let problem = self.of.problem;
        for used in &problem.activities[index].uses {
            self.free[used.resource.0].take(place.start, place.end, sign * i64::from(used.amount));
        }
        for &hold in &self.of.holds_after[index] {
            let hold = &problem.holds[hold];
            let until = self.places[hold.until.0].map_or(place.end + 1, |other| other.start);
            self.free[hold.resource.0].take(place.end, until, sign * i64::from(hold.amount));
        }
        for &hold in &self.of.holds_until[index] {
            let hold = &problem.holds[hold];
            let Some(other) = self.places[hold.after.0] else {
                continue;
            };
            self.free[hold.resource.0].take(other.end + 1, place.start, sign * i64::from(hold.amount));
            if other.end == place.start {
                self.free[hold.resource.0].take(other.end, other.end + 1, -sign * i64::from(hold.amount));
            }
        }
    }

    /// Takes an activity out again, and all that were placed after it because of it.
    fn take_out(&mut self, index: usize) {
        let Some(place) = self.places[index] else {
            return;
        };
        // Followers first, so that what they hold is given back while this still stands.
        for at in 0..self.of.next[index].len() {
            let next = self.of.next[index][at];
            if self.of.problem.activities[next].pin.is_none() {
                self.take_out(next);
                if self.given_up[next] {
                    continue;
                }
                self.waiting_for[next] += 1;
            }
        }
        self.occupy(index, place, -1);
        self.full_until.clear();
        if let Some(team) = place.team {
            for &hand in &self.of.teams[team].hands {
                self.timelines[hand].retain(|&(_, other)| other != index);
            }
        }
        if let Some((room, effect)) = self.of.room_of[index] {
            let list = if effect == Effect::Dust {
                &mut self.dusts[room]
            } else {
                &mut self.coats[room]
            };
            list.retain(|&(_, other)| other != index);
        }
        self.places[index] = None;
    }
}

fn at(place: Place, point: Point) -> Minute {
    match point {
        Point::Start => place.start,
        Point::End => place.end,
    }
}

/// The first start not before `from` inside a window; nothing if there are windows but none later.
fn next_window(windows: &[Span], from: Minute) -> Option<Minute> {
    let window = windows.get(windows.partition_point(|window| window.to <= from))?;
    Some(window.from.max(from))
}

/// As [`Calendar::fit`], with the start on the grid.
fn fit(calendar: &Calendar, from: Minute, duration: Minute, breaks: Breaks, grid: Minute) -> Option<(Minute, Minute)> {
    let mut from = from;
    loop {
        let (start, end) = calendar.fit(from, duration, breaks)?;
        let on_grid = up_to_grid(start, grid);
        if on_grid == start || start == from {
            return Some((start, end));
        }
        from = on_grid;
    }
}

impl Draft {
    /// The plan, with who does what and in which stretches. Only for a draft in which nothing is missing.
    pub(crate) fn plan(&self, of: &Compiled<'_>) -> Plan {
        let placements = self.places.iter().enumerate().map(|(index, place)| {
            let Some(place) = place else {
                return Placement::default();
            };
            let activity = &of.problem.activities[index];
            let whole = vec![Span::new(place.start, place.end)];
            let Some(team) = place.team.map(|team| &of.teams[team]) else {
                return Placement {
                    start: place.start,
                    end: place.end,
                    hands: Vec::new(),
                    segments: whole,
                };
            };
            let split = activity.breaks == Breaks::Split && place.end - place.start != activity.duration;
            let segments = if split {
                team.calendar.stretches(place.start, activity.duration).unwrap_or(whole)
            } else {
                whole
            };
            let hands = team.hands.iter().map(|&hand| HandId(hand)).collect();
            Placement {
                start: place.start,
                end: place.end,
                hands,
                segments,
            }
        });
        Plan {
            placements: placements.collect(),
        }
    }
}

/// Ranks from an order: the place of each activity in it.
pub(crate) fn ranks(order: &[usize]) -> Vec<u64> {
    let mut ranks = vec![0; order.len()];
    for (place, &index) in order.iter().enumerate() {
        ranks[index] = minutes(place).unsigned_abs();
    }
    ranks
}
