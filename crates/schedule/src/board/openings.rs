//! All the starts an activity could have on the board as it stands, as ranges.
//!
//! Hours, start windows, hands with their clean-ups, waits to what is already placed, rooms and resources each cut
//! something away. Places on racks depend on two activities at once and are asked about when one is put down.

#[cfg(test)]
mod tests;

use super::Board;
use crate::model::{Breaks, Effect, Minute, Point, Span, Wait};
use crate::number::up_to_grid;

/// Starts `from ..= to` that all mean the same length and team.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Opening {
    pub(crate) from: Minute,
    pub(crate) to: Minute,
    /// End less start; longer than the activity's minutes where it is split at breaks.
    pub(crate) length: Minute,
    pub(crate) team: Option<usize>,
}

impl Opening {
    /// What is to be added to a start for one of its ends.
    pub(crate) fn shift(&self, point: Point) -> Minute {
        match point {
            Point::Start => 0,
            Point::End => self.length,
        }
    }
}

/// What waits to placed activities allow of a point: a range, and stretches (ends excluded) that are closed.
#[derive(Debug, Default)]
struct Waits {
    /// Whether a hand at work cuts anything away.
    by_hand: bool,
    /// `(point, least, most)`
    ranges: Vec<(Point, Minute, Minute)>,
    /// `(point, after, before)`
    closed: Vec<(Point, Minute, Minute)>,
}

impl Board<'_> {
    /// Adds every opening of the activity with a start in `from ..= to`, by team and then ascending. The activity
    /// itself must not be on the board. Hands that are taken are left out of account where `by_hand` is false.
    pub(crate) fn openings(&self, index: usize, from: Minute, to: Minute, by_hand: bool, found: &mut Vec<Opening>) {
        let problem = self.of.problem;
        let activity = &problem.activities[index];
        let from = from.max(activity.release).max(problem.not_before);
        let limit = self.limit(index);
        let waits = Waits {
            by_hand,
            ..self.waits(index)
        };
        let (mut from, mut to) = (from, to);
        for &(point, least, most) in &waits.ranges {
            if point == Point::Start {
                from = from.max(least);
                to = to.min(most);
            } else if activity.breaks == Breaks::Within {
                from = from.max(least - activity.duration);
                to = to.min(most - activity.duration);
            }
        }
        to = to.min(limit - activity.duration);
        if from > to {
            return;
        }
        let begin = found.len();
        if self.of.teams_of[index].is_empty() {
            let length = activity.duration;
            let whole = Opening {
                from,
                to,
                length,
                team: None,
            };
            self.cut_all(index, whole, &waits, found);
        }
        for &team in &self.of.teams_of[index] {
            self.in_hours(index, team, from, to, &waits, found);
        }
        let grid = problem.grid;
        let mut kept = begin;
        for at in begin..found.len() {
            let mut opening = found[at];
            opening.from = up_to_grid(opening.from, grid);
            opening.to = opening.to.min(limit - opening.length);
            opening.to -= opening.to.rem_euclid(grid.max(1));
            if opening.from <= opening.to {
                found[kept] = opening;
                kept += 1;
            }
        }
        found.truncate(kept);
    }

    /// Openings within a team's hours.
    fn in_hours(&self, index: usize, team: usize, from: Minute, to: Minute, waits: &Waits, found: &mut Vec<Opening>) {
        let activity = &self.of.problem.activities[index];
        let periods = &self.of.teams[team].calendar.periods;
        let first = periods.partition_point(|period| period.to < from);
        for period in periods[first..].iter().take_while(|period| period.from <= to) {
            let (from, to) = (from.max(period.from), to.min(period.to));
            if activity.breaks == Breaks::Within || activity.duration == 0 {
                let opening = Opening {
                    from,
                    to: to.min(period.to - activity.duration),
                    length: activity.duration,
                    team: Some(team),
                };
                self.cut_all(index, opening, waits, found);
                continue;
            }
            self.split(index, team, Span::new(from, to.min(period.to - 1)), waits, found);
        }
    }

    /// Openings of split work that begins in one period: as many as there are breaks its end can fall behind.
    fn split(&self, index: usize, team: usize, starts: Span, waits: &Waits, found: &mut Vec<Opening>) {
        let duration = self.of.problem.activities[index].duration;
        let calendar = &self.of.teams[team].calendar;
        let mut from = starts.from;
        while from <= starts.to {
            let Some(end) = calendar.end_of(from, duration) else {
                return;
            };
            let at = calendar.periods.partition_point(|period| period.to < end);
            let room = calendar.periods.get(at).map_or(0, |period| period.to - end);
            let to = starts.to.min(from + room);
            let length = end - from;
            self.cut_all(
                index,
                Opening {
                    from,
                    to,
                    length,
                    team: Some(team),
                },
                waits,
                found,
            );
            from = to + 1;
        }
    }

    /// Adds what is left of an opening once everything has cut its part away.
    fn cut_all(&self, index: usize, whole: Opening, waits: &Waits, found: &mut Vec<Opening>) {
        let problem = self.of.problem;
        let activity = &problem.activities[index];
        let mut whole = whole;
        for &(point, least, most) in &waits.ranges {
            let shift = whole.shift(point);
            whole.from = whole.from.max(least - shift);
            whole.to = whole.to.min(most - shift);
        }
        if whole.from > whole.to {
            return;
        }
        let begin = found.len();
        if activity.start_windows.is_empty() {
            found.push(whole);
        } else {
            let windows = &activity.start_windows;
            let first = windows.partition_point(|window| window.to <= whole.from);
            for window in windows[first..].iter().take_while(|window| window.from <= whole.to) {
                let (from, to) = (whole.from.max(window.from), whole.to.min(window.to - 1));
                found.push(Opening { from, to, ..whole });
            }
        }
        for &(point, after, before) in &waits.closed {
            let shift = whole.shift(point);
            cut(found, begin, after - shift, before - shift);
        }
        if waits.by_hand {
            self.cut_hands(index, whole, found, begin);
        }
        self.cut_room(index, whole, found, begin);
        for used in &activity.uses {
            let short = self.free[used.resource.0].short(whole.from, whole.to + whole.length, i64::from(used.amount));
            for stretch in short {
                cut(found, begin, stretch.from - whole.length, stretch.to);
            }
        }
    }

    fn cut_hands(&self, index: usize, whole: Opening, found: &mut Vec<Opening>, begin: usize) {
        let Some(team) = whole.team.filter(|_| whole.length > 0) else {
            return;
        };
        let clean_up = self.of.longest_clean_up;
        for &hand in &self.of.teams[team].hands {
            // Taken stretches of one hand do not overlap: the first that begins before all that is asked is the last.
            let reach = whole.to + whole.length + clean_up;
            // From the last start before what is taken to the first after it; stretches that leave no room between are one.
            let mut shut: Option<(Minute, Minute)> = None;
            for &(span, other) in self.hands[hand].before(reach) {
                let last = span.from - self.clean_up(index, other) - whole.length;
                let next = span.to + self.clean_up(other, index);
                shut = match shut {
                    Some((before, after)) if next > before => Some((last.min(before), after.max(next))),
                    other => {
                        if let Some((before, after)) = other {
                            cut(found, begin, before, after);
                        }
                        Some((last, next))
                    }
                };
                if span.to + clean_up <= whole.from {
                    break;
                }
            }
            if let Some((before, after)) = shut {
                cut(found, begin, before, after);
            }
        }
    }

    fn cut_room(&self, index: usize, whole: Opening, found: &mut Vec<Opening>, begin: usize) {
        let Some((room, effect)) = self.of.room_of[index] else {
            return;
        };
        let room = &self.rooms[room];
        let others = match effect {
            Effect::Dust => &room.coats,
            Effect::Coat { .. } => &room.dusts,
        };
        let wet = match effect {
            Effect::Dust => Wait::Minutes(0),
            Effect::Coat { wet } => wet,
        };
        let reach = self.of.over(wet, whole.to + whole.length);
        let near = others
            .before(reach)
            .take_while(|(span, _)| span.from + room.longest > whole.from);
        // What lies so close together that nothing fits between is cut out in one piece.
        let needed = whole.length + self.of.shortest(wet);
        let mut shut: Option<Span> = None;
        // Over and done with by the time the others begin, or begun after they are over.
        let leave_out = |shut: Span, found: &mut Vec<Opening>| {
            cut(
                found,
                begin,
                self.of.latest_begin(wet, shut.from) - whole.length,
                shut.to,
            );
        };
        for &(span, _) in near {
            shut = match shut {
                Some(shut) if span.to + needed > shut.from => Some(Span::new(span.from, shut.to.max(span.to))),
                other => {
                    if let Some(shut) = other {
                        leave_out(shut, found);
                    }
                    Some(span)
                }
            };
        }
        if let Some(shut) = shut {
            leave_out(shut, found);
        }
    }

    /// What the waits to placed activities leave.
    fn waits(&self, index: usize) -> Waits {
        let of = self.of;
        let mut waits = Waits::default();
        for &lag in &of.lags_of[index] {
            let lag = &of.problem.lags[lag];
            if lag.to.0 == index {
                let Some(other) = self.places[lag.from.0] else {
                    continue;
                };
                let begun = other.at(lag.from_point);
                let most = lag.max.map_or(Minute::MAX / 4, |max| of.over(max, begun));
                waits.ranges.push((lag.to_point, of.over(lag.min, begun), most));
                if let Some((within, again)) = lag.closed {
                    waits
                        .closed
                        .push((lag.to_point, of.over(within, begun), of.over(again, begun)));
                }
            } else {
                let Some(other) = self.places[lag.to.0] else {
                    continue;
                };
                let theirs = other.at(lag.to_point);
                let least = lag.max.map_or(Minute::MIN / 4, |max| of.earliest_begin(max, theirs));
                waits
                    .ranges
                    .push((lag.from_point, least, of.latest_begin(lag.min, theirs)));
                if let Some((within, again)) = lag.closed {
                    let (last, first) = (of.latest_begin(again, theirs), of.earliest_begin(within, theirs));
                    waits.closed.push((lag.from_point, last, first));
                }
            }
        }
        waits
    }
}

/// Cuts the starts between `after` and `before` (both still allowed) out of the openings from `begin` on.
fn cut(found: &mut Vec<Opening>, begin: usize, after: Minute, before: Minute) {
    if after >= before - 1 {
        return;
    }
    let mut at = begin;
    while at < found.len() {
        let opening = found[at];
        if opening.from >= before || opening.to <= after {
            at += 1;
        } else if opening.from > after && opening.to < before {
            found.remove(at);
        } else if opening.from > after {
            found[at].from = before;
            at += 1;
        } else {
            found[at].to = after;
            at += 1;
            if opening.to >= before {
                found.insert(
                    at,
                    Opening {
                        from: before,
                        ..opening
                    },
                );
                at += 1;
            }
        }
    }
}
