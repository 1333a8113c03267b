//! Where everything stands right now, and what each place takes away from others: hands, rooms, resources.
//!
//! Activities are put on it and taken off again one by one; every question about a place is answered for the board as
//! it stands. Who is put where, and in which order, others decide.

mod openings;
mod rules;
mod stretches;

use crate::compiled::{Compiled, NO_PRODUCT};
use crate::draft::{Draft, Place};
use crate::model::{Effect, Minute, Span};
use crate::number::up_to_grid;
use crate::profile::Profile;
pub(crate) use openings::Opening;
pub(crate) use rules::Blocked;
pub(crate) use stretches::Near;
use stretches::{NoRoom, Stretches};

/// What stands in one room.
#[derive(Debug, Clone)]
struct Room {
    /// From a coat's start until it is dry.
    coats: Stretches,
    dusts: Stretches,
    /// The longest stretch there ever was in either list.
    longest: Minute,
}

/// Places of activities and what they occupy.
#[derive(Debug, Clone)]
pub(crate) struct Board<'a> {
    pub(crate) of: &'a Compiled<'a>,
    pub(crate) places: Vec<Option<Place>>,
    hands: Vec<Stretches>,
    rooms: Vec<Room>,
    free: Vec<Profile>,
    fresh_free: Vec<Profile>,
}

impl<'a> Board<'a> {
    /// A board on which gaps between what hands do are found quickly; keeping them costs something at each change.
    pub(crate) fn with_gaps(of: &'a Compiled<'a>) -> Self {
        let mut board = Self::new(of);
        board.hands.fill(Stretches::with_gaps());
        board
    }

    pub(crate) fn new(of: &'a Compiled<'a>) -> Self {
        let fresh_free: Vec<Profile> = of.problem.resources.iter().map(Profile::new).collect();
        let room = Room {
            coats: Stretches::new(),
            dusts: Stretches::new(),
            longest: 0,
        };
        Self {
            of,
            places: vec![None; of.problem.activities.len()],
            hands: vec![Stretches::new(); of.problem.hands.len()],
            rooms: vec![room; of.n_rooms],
            free: fresh_free.clone(),
            fresh_free,
        }
    }

    pub(crate) fn clear(&mut self) {
        self.places.fill(None);
        self.hands.iter_mut().for_each(Stretches::clear);
        for room in &mut self.rooms {
            room.coats.clear();
            room.dusts.clear();
            room.longest = 0;
        }
        self.free.clone_from(&self.fresh_free);
    }

    /// All that stands, as a draft.
    pub(crate) fn draft(&self) -> Draft {
        Draft {
            places: self.places.clone(),
            missing: self.places.iter().filter(|place| place.is_none()).count(),
        }
    }

    /// When the activity must have ended at any price.
    pub(crate) fn limit(&self, index: usize) -> Minute {
        let horizon = self.of.problem.horizon;
        self.of.problem.activities[index]
            .deadline
            .map_or(horizon, |deadline| deadline.min(horizon))
    }

    /// If the hand is taken in `[start, end)`, clean-ups included, when it could begin instead.
    pub(crate) fn hand_busy(&self, hand: usize, index: usize, start: Minute, end: Minute) -> Option<Minute> {
        self.hand_busy_near(&mut Near::default(), hand, index, start, end)
    }

    /// The same for one who looks further and further on, from a place that moves along.
    pub(crate) fn hand_busy_near(
        &self,
        near: &mut Near,
        hand: usize,
        index: usize,
        start: Minute,
        end: Minute,
    ) -> Option<Minute> {
        let (before, after) = self.hands[hand].around(near, end);
        if let Some((span, other)) = after
            && span.from < end + self.clean_up(index, other)
        {
            return Some(span.to + self.clean_up(other, index));
        }
        let (span, other) = before?;
        let free = span.to + self.clean_up(other, index);
        (free > start).then_some(free)
    }

    /// From when on a hand may have the minutes of an activity without a break, clean-ups on both sides included; nothing if
    /// it never has.
    pub(crate) fn next_gap(&self, near: &mut Near, hand: usize, index: usize, from: Minute) -> Option<Minute> {
        let least = self.of.problem.activities[index].duration;
        self.hands[hand].next_gap(near, from, least, |(span, other), next| {
            let free = span.to + self.clean_up(*other, index);
            let is_wide = next.is_none_or(|(next, after)| free + least + self.clean_up(index, *after) <= next.from);
            is_wide.then_some(free)
        })
    }

    /// Minutes a hand cleans up between the two.
    pub(crate) fn clean_up(&self, before: usize, after: usize) -> Minute {
        let of = self.of;
        match of.product_of[before] {
            NO_PRODUCT => 0,
            product if product == of.product_of[after] => 0,
            product => of.problem.clean_up_min[product as usize],
        }
    }

    /// Whether the place breaks no rule with all that stands; hours, windows and the grid are not asked.
    pub(crate) fn stands(&self, index: usize, place: Place) -> bool {
        let busy = |hand: &usize| self.hand_busy(*hand, index, place.start, place.end).is_some();
        let hands = place.team.map_or(&[][..], |team| &self.of.teams[team].hands);
        (place.end == place.start || !hands.iter().any(busy))
            && self.later(index, place).is_none()
            && self.blocked_at(index, place).is_none()
    }

    pub(crate) fn put(&mut self, index: usize, place: Place) {
        self.places[index] = Some(place);
        self.occupy(index, place, 1);
        if let Some(team) = place.team.filter(|_| place.end > place.start) {
            for &hand in &self.of.teams[team].hands {
                self.hands[hand].insert((Span::new(place.start, place.end), index), &self.of.calendars[hand]);
            }
        }
        if let Some((room, effect)) = self.of.room_of[index] {
            let entry = (self.in_room(effect, place), index);
            let room = &mut self.rooms[room];
            room.longest = room.longest.max(entry.0.length());
            match effect {
                Effect::Dust => room.dusts.insert(entry, &NoRoom),
                Effect::Coat { .. } => room.coats.insert(entry, &NoRoom),
            }
        }
    }

    /// Takes one activity off, and nothing else.
    pub(crate) fn lift(&mut self, index: usize) {
        let Some(place) = self.places[index] else {
            return;
        };
        self.occupy(index, place, -1);
        if let Some(team) = place.team.filter(|_| place.end > place.start) {
            for &hand in &self.of.teams[team].hands {
                self.hands[hand].remove((Span::new(place.start, place.end), index), &self.of.calendars[hand]);
            }
        }
        if let Some((room, effect)) = self.of.room_of[index] {
            let entry = (self.in_room(effect, place), index);
            match effect {
                Effect::Dust => self.rooms[room].dusts.remove(entry, &NoRoom),
                Effect::Coat { .. } => self.rooms[room].coats.remove(entry, &NoRoom),
            }
        }
        self.places[index] = None;
    }

    /// The stretch for which the activity bars others from its room.
    fn in_room(&self, effect: Effect, place: Place) -> Span {
        match effect {
            Effect::Dust => Span::new(place.start, place.end),
            Effect::Coat { wet } => Span::new(place.start, self.of.over(wet, place.end)),
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
            // The minute kept for it while it stood nowhere.
            if other.end >= place.start {
                self.free[hold.resource.0].take(other.end, other.end + 1, -sign * i64::from(hold.amount));
            }
        }
    }

    /// What is free of a resource from which minute on.
    pub(crate) fn free_of(&self, resource: usize) -> impl Iterator<Item = (Minute, i64)> {
        self.free[resource].steps()
    }

    /// Whether a start is on the grid and in a start window.
    pub(crate) fn may_start(&self, index: usize, start: Minute) -> bool {
        let windows = &self.of.problem.activities[index].start_windows;
        up_to_grid(start, self.of.problem.grid) == start
            && (windows.is_empty() || next_window(windows, start) == Some(start))
    }
}

/// The first start not before `from` inside a window; nothing if there are windows but none later.
pub(crate) fn next_window(windows: &[Span], from: Minute) -> Option<Minute> {
    let window = windows.get(windows.partition_point(|window| window.to <= from))?;
    Some(window.from.max(from))
}
