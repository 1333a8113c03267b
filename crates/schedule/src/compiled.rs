//! A problem made ready for generating many schedules: who is next to whom, whose hours, which waits.
//!
//! Built once for a problem; every worker thread reads it, none changes it.

use crate::calendar::Calendar;
use crate::model::{Effect, HandId, Lag, Minute, Point, Problem, ProductId, RoomId, Wait};

/// Several hands who could do an activity together, and the hours they share.
#[derive(Debug, Clone)]
pub(crate) struct Team {
    pub(crate) hands: Vec<usize>,
    pub(crate) calendar: Calendar,
}

/// More teams than this are not tried for one activity; the first ones are.
const MOST_TEAMS: usize = 64;

/// A problem made ready.
#[derive(Debug)]
pub(crate) struct Compiled<'a> {
    pub(crate) problem: &'a Problem,
    /// Calendar of each hand.
    pub(crate) calendars: Vec<Calendar>,
    pub(crate) teams: Vec<Team>,
    /// For each activity, indexes of the teams that may do it; empty where it takes nobody.
    pub(crate) teams_of: Vec<Vec<usize>>,
    /// For each activity, indexes of the lags which touch it.
    pub(crate) lags_of: Vec<Vec<usize>>,
    /// For each activity, indexes of the holds which it ends (`until`) or begins (`after`).
    pub(crate) holds_until: Vec<Vec<usize>>,
    pub(crate) holds_after: Vec<Vec<usize>>,
    /// For each activity, those which are certainly to start after it, by a direct lag or hold.
    pub(crate) next: Vec<Vec<usize>>,
    pub(crate) n_before: Vec<usize>,
    /// Weighted due dates of each activity.
    pub(crate) dues_of: Vec<Vec<usize>>,
    /// Rooms in use, and the index among them of each activity's room.
    pub(crate) n_rooms: usize,
    pub(crate) room_of: Vec<Option<(usize, Effect)>>,
    /// The product of each activity, side by side: asked of every neighbour of a place.
    pub(crate) product_of: Vec<Option<ProductId>>,
    /// The longest clean-up there is.
    pub(crate) longest_clean_up: Minute,
}

impl<'a> Compiled<'a> {
    pub(crate) fn new(problem: &'a Problem) -> Self {
        let n = problem.activities.len();
        let calendars: Vec<Calendar> = (0..problem.hands.len())
            .map(|hand| Calendar::of_hand(problem, HandId(hand)))
            .collect();
        let mut compiled = Self {
            problem,
            teams: Vec::new(),
            teams_of: Vec::with_capacity(n),
            lags_of: vec![Vec::new(); n],
            holds_until: vec![Vec::new(); n],
            holds_after: vec![Vec::new(); n],
            next: vec![Vec::new(); n],
            n_before: vec![0; n],
            dues_of: vec![Vec::new(); n],
            n_rooms: 0,
            product_of: problem.activities.iter().map(|activity| activity.product).collect(),
            longest_clean_up: problem.clean_up_min.iter().copied().max().unwrap_or(0),
            room_of: Vec::with_capacity(n),
            calendars,
        };
        let mut rooms: Vec<RoomId> = Vec::new();
        for index in 0..n {
            let teams = compiled.teams_for(index);
            compiled.teams_of.push(teams);
            compiled
                .room_of
                .push(problem.activities[index].room.map(|(room, effect)| {
                    let at = rooms.iter().position(|&known| known == room).unwrap_or_else(|| {
                        rooms.push(room);
                        rooms.len() - 1
                    });
                    (at, effect)
                }));
        }
        compiled.n_rooms = rooms.len();
        for (index, lag) in problem.lags.iter().enumerate() {
            compiled.lags_of[lag.from.0].push(index);
            compiled.lags_of[lag.to.0].push(index);
            if compiled.puts_in_order(lag) {
                compiled.next[lag.from.0].push(lag.to.0);
            }
        }
        for (index, hold) in problem.holds.iter().enumerate() {
            compiled.holds_after[hold.after.0].push(index);
            compiled.holds_until[hold.until.0].push(index);
            compiled.next[hold.after.0].push(hold.until.0);
        }
        for (index, due) in problem.dues.iter().enumerate() {
            compiled.dues_of[due.activity.0].push(index);
        }
        for next in &mut compiled.next {
            next.sort_unstable();
            next.dedup();
            for &to in &*next {
                compiled.n_before[to] += 1;
            }
        }
        compiled
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
    fn teams_for(&mut self, index: usize) -> Vec<usize> {
        let activity = &self.problem.activities[index];
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
