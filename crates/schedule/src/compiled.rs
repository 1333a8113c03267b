//! A problem made ready for generating many schedules: who is next to whom, whose hours, which waits.
//!
//! Built once for a problem; every worker thread reads it, none changes it.

use crate::calendar::Calendar;
use crate::lists::Lists;
use crate::model::{Activity, Effect, HandId, Lag, Minute, Placement, Point, Problem, RoomId, Wait};
use crate::number::small;
use std::collections::BTreeMap;

/// Several hands who could do an activity together, and the hours they share.
#[derive(Debug, Clone)]
pub(crate) struct Team {
    pub(crate) hands: Vec<usize>,
    pub(crate) calendar: Calendar,
}

/// More teams than this are not tried for one activity; the first ones are.
const MOST_TEAMS: usize = 64;

/// Where an activity leaves nothing on the tools.
pub(crate) const NO_PRODUCT: u32 = u32::MAX;

/// A problem made ready.
#[derive(Debug)]
pub(crate) struct Compiled<'a> {
    pub(crate) problem: &'a Problem,
    /// Calendar of each hand.
    pub(crate) calendars: Vec<Calendar>,
    pub(crate) teams: Vec<Team>,
    /// For each activity, indexes of the teams that may do it; empty where it takes nobody.
    pub(crate) teams_of: Lists,
    /// For each activity, indexes of the lags which touch it.
    pub(crate) lags_of: Lists,
    /// For each activity, indexes of the holds which it ends (`until`) or begins (`after`).
    pub(crate) holds_until: Lists,
    pub(crate) holds_after: Lists,
    /// For each activity, those which are certainly to start after it, by a direct lag or hold.
    pub(crate) next: Lists,
    pub(crate) n_before: Vec<usize>,
    /// Weighted due dates of each activity.
    pub(crate) dues_of: Lists,
    /// Rooms in use, and the index among them of each activity's room.
    pub(crate) n_rooms: usize,
    pub(crate) room_of: Vec<Option<(usize, Effect)>>,
    /// The product of each activity or [`NO_PRODUCT`], side by side: asked of every neighbour of a place.
    pub(crate) product_of: Vec<u32>,
    /// On a replan, where each activity stood.
    pub(crate) stood: Vec<Option<Minute>>,
    /// The longest clean-up there is.
    pub(crate) longest_clean_up: Minute,
}

impl<'a> Compiled<'a> {
    pub(crate) fn new(problem: &'a Problem) -> Self {
        let n = problem.activities.len();
        let calendars: Vec<Calendar> = (0..problem.hands.len())
            .map(|hand| Calendar::of_hand(problem, HandId(hand)))
            .collect();
        let of_lags: Vec<(usize, usize)> = (problem.lags.iter().enumerate())
            .flat_map(|(index, lag)| [(lag.from.0, index), (lag.to.0, index)])
            .collect();
        let holds = || problem.holds.iter().enumerate();
        let dues = problem.dues.iter().enumerate();
        let product = |activity: &Activity| activity.product.map_or(NO_PRODUCT, |product| small(product.0));
        let mut compiled = Self {
            problem,
            teams: Vec::new(),
            teams_of: Lists::default(),
            lags_of: Lists::of_pairs(n, &of_lags),
            holds_until: Lists::of_pairs(
                n,
                &holds().map(|(index, hold)| (hold.until.0, index)).collect::<Vec<_>>(),
            ),
            holds_after: Lists::of_pairs(
                n,
                &holds().map(|(index, hold)| (hold.after.0, index)).collect::<Vec<_>>(),
            ),
            next: Lists::default(),
            n_before: vec![0; n],
            dues_of: Lists::of_pairs(n, &dues.map(|(index, due)| (due.activity.0, index)).collect::<Vec<_>>()),
            n_rooms: 0,
            product_of: problem.activities.iter().map(product).collect(),
            stood: stood(problem),
            longest_clean_up: problem.clean_up_min.iter().copied().max().unwrap_or(0),
            room_of: Vec::with_capacity(n),
            calendars,
        };
        compiled.find_teams();
        compiled.find_rooms();
        compiled.find_followers();
        compiled
    }

    /// Finds the teams of every activity; most activities may be done by the same.
    fn find_teams(&mut self) {
        let mut known: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for activity in &self.problem.activities {
            let pinned = activity.pin.as_ref().map_or(&[][..], |pin| &pin.hands);
            let teams = known
                .entry((activity.hands, &activity.among, pinned))
                .or_insert_with(|| self.teams_for(activity));
            self.teams_of.push(teams);
        }
    }

    fn find_rooms(&mut self) {
        let mut rooms: Vec<RoomId> = Vec::new();
        for activity in &self.problem.activities {
            self.room_of.push(activity.room.map(|(room, effect)| {
                let at = rooms.iter().position(|&known| known == room).unwrap_or_else(|| {
                    rooms.push(room);
                    rooms.len() - 1
                });
                (at, effect)
            }));
        }
        self.n_rooms = rooms.len();
    }

    fn find_followers(&mut self) {
        let lags = self.problem.lags.iter().filter(|lag| self.puts_in_order(lag));
        let lags = lags.map(|lag| (lag.from.0, lag.to.0));
        let holds = self.problem.holds.iter().map(|hold| (hold.after.0, hold.until.0));
        let mut pairs: Vec<(usize, usize)> = lags.chain(holds).collect();
        pairs.sort_unstable();
        pairs.dedup();
        self.next = Lists::of_pairs(self.n_before.len(), &pairs);
        for (_, to) in pairs {
            self.n_before[to] += 1;
        }
    }

    /// Whether the lag says by itself that `to` starts after `from`.
    pub(crate) fn puts_in_order(&self, lag: &Lag) -> bool {
        let length = |id: usize, point: Point| match point {
            Point::Start => 0,
            Point::End => self.problem.activities[id].duration,
        };
        match lag.min {
            Wait::Progress { .. } => lag.to_point == Point::Start,
            Wait::Minutes(min) => {
                let distance = length(lag.from.0, lag.from_point) + min - length(lag.to.0, lag.to_point);
                distance > 0 || (distance == 0 && lag.from < lag.to)
            }
        }
    }

    /// Finds or makes the teams that may do the activity.
    fn teams_for(&mut self, activity: &Activity) -> Vec<usize> {
        if activity.hands == 0 {
            return Vec::new();
        }
        let mut may: Vec<usize> = if activity.among.is_empty() {
            (0..self.problem.hands.len()).collect()
        } else {
            activity.among.iter().map(|hand| hand.0).collect()
        };
        if let Some(pin) = activity.pin.as_ref().filter(|pin| !pin.hands.is_empty()) {
            may = pin.hands.iter().map(|hand| hand.0).collect();
        }
        may.sort_unstable();
        may.dedup();
        let mut teams = Vec::new();
        for hands in subsets(&may, activity.hands) {
            let known = self.teams.iter().position(|team| team.hands == hands);
            teams.push(known.unwrap_or_else(|| {
                let mut calendar = self.calendars[hands[0]].clone();
                for &hand in &hands[1..] {
                    calendar = calendar.and(&self.calendars[hand]);
                }
                self.teams.push(Team { hands, calendar });
                self.teams.len() - 1
            }));
        }
        teams
    }

    /// When a wait begun at `begun` is over.
    pub(crate) fn over(&self, wait: Wait, begun: Minute) -> Minute {
        match wait {
            Wait::Minutes(minutes) => begun + minutes,
            Wait::Progress { clock, progress } => self.problem.clocks[clock.0].done_at(begun, progress),
        }
    }

    /// A wait is never over sooner than so many minutes after its beginning.
    pub(crate) fn shortest(&self, wait: Wait) -> Minute {
        match wait {
            Wait::Minutes(minutes) => minutes,
            Wait::Progress { clock, progress } => self.problem.clocks[clock.0].shortest(progress),
        }
    }

    /// The earliest beginning of a wait that is not over before `at`.
    pub(crate) fn earliest_begin(&self, wait: Wait, at: Minute) -> Minute {
        match wait {
            Wait::Minutes(minutes) => at - minutes,
            Wait::Progress { clock, progress } => self.problem.clocks[clock.0].earliest_begin(progress, at),
        }
    }

    /// The latest beginning of a wait that is over by `at`.
    pub(crate) fn latest_begin(&self, wait: Wait, at: Minute) -> Minute {
        if let Wait::Minutes(minutes) = wait {
            return at - minutes;
        }
        self.earliest_begin(wait, at + 1) - 1
    }
}

/// Where each activity stood in the plan before, if it did.
fn stood(problem: &Problem) -> Vec<Option<Minute>> {
    let start = |place: &Option<Placement>| place.as_ref().map(|place| place.start);
    match &problem.previous {
        Some(previous) => previous.placements.iter().map(start).collect(),
        None => vec![None; problem.activities.len()],
    }
}

/// The subsets of `size`, in lexicographic order, the first [`MOST_TEAMS`] of them.
fn subsets(of: &[usize], size: usize) -> Vec<Vec<usize>> {
    let mut found = Vec::new();
    let mut chosen: Vec<usize> = (0..size).collect();
    if size > of.len() {
        return found;
    }
    loop {
        found.push(chosen.iter().map(|&at| of[at]).collect());
        let Some(turn) = (0..size).rfind(|&turn| chosen[turn] < of.len() - size + turn) else {
            return found;
        };
        if found.len() == MOST_TEAMS {
            return found;
        }
        chosen[turn] += 1;
        for after in turn + 1..size {
            chosen[after] = chosen[after - 1] + 1;
        }
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn all_pairs_of_three_hands_are_teams() {
        assert_eq!(super::subsets(&[4, 5, 7], 2), vec![vec![4, 5], vec![4, 7], vec![5, 7]]);
        assert!(super::subsets(&[1], 2).is_empty());
    }
}
