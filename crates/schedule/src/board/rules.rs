//! The rules a place must keep besides hands: waits, closed stretches, rooms, resources and racks.
//!
//! Two answers: from when to try again, where only a later place would do; and whom to move, where this one is too late.

#[cfg(test)]
mod tests;

use super::{Board, Place};
use crate::model::{Effect, Hold, Minute, Point, Wait};

/// Why an activity cannot stand where it otherwise would.
pub(crate) enum Blocked {
    /// Moving `other` to `from` or later would let it.
    Until { other: usize, from: Minute },
    /// Nothing would.
    Never,
}

impl Board<'_> {
    /// Looks at everything but hands; says from when to try again if the place does not do but a later one may.
    pub(crate) fn later(&self, index: usize, place: Place) -> Option<Minute> {
        let problem = self.of.problem;
        let activity = &problem.activities[index];
        for &lag in &self.of.lags_of[index] {
            let lag = &problem.lags[lag];
            if lag.to.0 == index {
                let Some(other) = self.places[lag.from.0] else {
                    continue;
                };
                let begun = other.at(lag.from_point);
                let mine = place.at(lag.to_point);
                let earliest = self.of.over(lag.min, begun);
                if mine < earliest {
                    return Some(place.start + earliest - mine);
                }
                if let Some((within, again)) = lag.closed {
                    let open = self.of.over(again, begun);
                    if mine > self.of.over(within, begun) && mine < open {
                        return Some(place.start + open - mine);
                    }
                }
            } else {
                let Some(other) = self.places[lag.to.0] else {
                    continue;
                };
                let (mine, theirs) = (place.at(lag.from_point), other.at(lag.to_point));
                let too_early = |wait: Wait| {
                    let needed = self.of.earliest_begin(wait, theirs);
                    (mine < needed).then(|| place.start + needed - mine)
                };
                if let Some(later) = lag.max.and_then(too_early) {
                    return Some(later);
                }
                if let Some((within, again)) = lag.closed
                    && theirs < self.of.over(again, mine)
                    && let Some(later) = too_early(within)
                {
                    return Some(later);
                }
            }
        }
        if let Some(later) = self.room_taken(index, place) {
            return Some(later);
        }
        for used in &activity.uses {
            let short = self.free[used.resource.0].shortage(place.start, place.end, i64::from(used.amount));
            if let Some((_, again)) = short {
                return Some(again.unwrap_or(problem.horizon + 1));
            }
        }
        self.rack_full(index, place)
    }

    /// The first start that keeps the least waits after, and the longest before, what is already placed; for what is not split.
    pub(crate) fn waits_over(&self, index: usize) -> Minute {
        let problem = self.of.problem;
        let length = problem.activities[index].duration;
        let shift = |point: Point| match point {
            Point::Start => 0,
            Point::End => length,
        };
        let mut earliest = Minute::MIN;
        for &lag in &self.of.lags_of[index] {
            let lag = &problem.lags[lag];
            let from = if lag.to.0 == index {
                let before = self.places[lag.from.0];
                before.map(|before| self.of.over(lag.min, before.at(lag.from_point)) - shift(lag.to_point))
            } else {
                let longest = self.places[lag.to.0].zip(lag.max);
                longest.map(|(after, max)| self.of.earliest_begin(max, after.at(lag.to_point)) - shift(lag.from_point))
            };
            earliest = from.map_or(earliest, |from| earliest.max(from));
        }
        earliest
    }

    /// If there is no place on a rack for what is put there afterwards, from when to try again.
    fn rack_full(&self, index: usize, place: Place) -> Option<Minute> {
        let problem = self.of.problem;
        let until = |hold: &Hold| self.places[hold.until.0].map_or(place.end + 1, |other| other.start);
        let mine = || self.of.holds_after[index].iter().map(|&hold| &problem.holds[hold]);
        for hold in mine() {
            let end = until(hold);
            // All that lie there as long need their places together.
            let with = mine().filter(|other| other.resource == hold.resource && until(other) >= end);
            let amount = with.map(|other| i64::from(other.amount)).sum();
            if let Some((_, again)) = self.free[hold.resource.0].shortage(place.end, end, amount) {
                return Some(place.start + again.unwrap_or(problem.horizon + 1) - place.end);
            }
        }
        None
    }

    pub(crate) fn room_taken(&self, index: usize, place: Place) -> Option<Minute> {
        let (room, effect) = self.of.room_of[index]?;
        let stretch = self.in_room(effect, place);
        let room = &self.rooms[room];
        let others = match effect {
            Effect::Dust => &room.coats,
            Effect::Coat { .. } => &room.dusts,
        };
        // Ascending by start; none that starts longer ago than the longest lasts can reach into me.
        let near = others
            .before(stretch.to)
            .take_while(|(span, _)| span.from + room.longest > place.start);
        near.map(|(span, _)| span.to).filter(|&end| end > place.start).max()
    }

    /// What is too late at this place and can only be helped by moving another.
    pub(crate) fn blocked_at(&self, index: usize, place: Place) -> Option<Blocked> {
        let problem = self.of.problem;
        let mut worst: Option<Blocked> = None;
        let mut note = |other: usize, from: Minute| {
            let more = match worst {
                Some(Blocked::Until { from: known, .. }) => from > known,
                _ => true,
            };
            if more {
                worst = Some(Blocked::Until { other, from });
            }
        };
        for &lag in &self.of.lags_of[index] {
            let lag = &problem.lags[lag];
            if lag.to.0 == index {
                let (Some(other), Some(max)) = (self.places[lag.from.0], lag.max) else {
                    continue;
                };
                let begun = other.at(lag.from_point);
                if place.at(lag.to_point) > self.of.over(max, begun) {
                    let needed = self.of.earliest_begin(max, place.at(lag.to_point));
                    note(lag.from.0, other.start + (needed - begun));
                }
            } else {
                let Some(other) = self.places[lag.to.0] else {
                    continue;
                };
                let (earliest, theirs) = (self.of.over(lag.min, place.at(lag.from_point)), other.at(lag.to_point));
                if theirs < earliest {
                    note(lag.to.0, other.start + earliest - theirs);
                }
                if let Some((within, again)) = lag.closed {
                    let open = self.of.over(again, place.at(lag.from_point));
                    if theirs > self.of.over(within, place.at(lag.from_point)) && theirs < open {
                        note(lag.to.0, other.start + open - theirs);
                    }
                }
            }
        }
        let mine = || {
            let holds = self.of.holds_until[index].iter().map(|&hold| &problem.holds[hold]);
            holds.filter_map(|hold| self.places[hold.after.0].map(|other| (hold, other)))
        };
        for (hold, other) in mine() {
            let with = mine().filter(|(also, from)| also.resource == hold.resource && from.end <= other.end);
            let amount = with.map(|(also, _)| i64::from(also.amount)).sum();
            // Its own first minute is already taken for it.
            let short = self.free[hold.resource.0].shortage(other.end + 1, place.start, amount);
            if let Some((_, again)) = short {
                let again = again.unwrap_or(problem.horizon + 1);
                note(hold.after.0, other.start + (again - other.end).max(1));
            }
        }
        worst
    }
}
