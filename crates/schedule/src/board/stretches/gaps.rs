//! The room between taken stretches: each knows what room there is between it and the next, each chunk the most of its own.
//!
//! So the next gap that is wide enough is found without looking into every gap before it.

use super::{Chunk, Near, Stretches, Taken};
use crate::calendar::Calendar;
use crate::model::Minute;

/// What can be worked in `[from, to)` at the most.
pub(crate) trait Room {
    /// At least what fits between the two minutes without a break.
    fn between(&self, from: Minute, to: Minute) -> Minute;
}

/// For stretches whose gaps nobody asks for.
pub(crate) struct NoRoom;

impl Room for NoRoom {
    fn between(&self, _from: Minute, _to: Minute) -> Minute {
        0
    }
}

impl Room for Calendar {
    fn between(&self, from: Minute, to: Minute) -> Minute {
        self.room_between(from, to)
    }
}

impl Stretches {
    /// Measures the room after the entry at a place of a chunk.
    pub(super) fn measure(&mut self, at: usize, place: usize, room: &impl Room) {
        let to = self.following(at, place).map_or(Minute::MAX / 4, |(span, _)| span.from);
        let width = room.between(self.chunks[at].taken[place].0.to, to);
        self.chunks[at].widen_to(place, width);
    }

    /// Measures the room after the entry before a place of a chunk, which may be the last of the chunk before.
    pub(super) fn measure_before(&mut self, at: usize, place: usize, room: &impl Room) {
        if place > 0 {
            self.measure(at, place - 1, room);
        } else if at > 0 {
            let last = self.chunks[at - 1].taken.len() - 1;
            self.measure(at - 1, last, room);
        }
    }

    /// The first minute from `from` on in a gap in which so many minutes may fit; nothing if there is none. `opens` is asked
    /// about the entries on both sides of a gap that is long enough, and says from when on it may be used, if at all. Every place
    /// that fits begins there or later. `near` is a place before that, and moved up to it.
    pub(crate) fn next_gap(
        &self,
        near: &mut Near,
        from: Minute,
        least: Minute,
        opens: impl Fn(&Taken, Option<&Taken>) -> Option<Minute>,
    ) -> Option<Minute> {
        if !self.has_gaps {
            return Some(from);
        }
        self.seek(near, from);
        let opens = |at: usize, place: usize| opens(&self.chunks[at].taken[place], self.following(at, place));
        let before = match near.place.checked_sub(1) {
            Some(place) => Some((near.chunk, place)),
            None => (near.chunk.checked_sub(1)).map(|at| (at, self.chunks[at].taken.len() - 1)),
        };
        let Some((at, place)) = before else {
            return Some(from);
        };
        if self.chunks[at].after[place] >= least
            && let Some(open) = opens(at, place)
        {
            return Some(open.max(from));
        }
        let mut place = near.place;
        for at in near.chunk..self.chunks.len() {
            let chunk = &self.chunks[at];
            if chunk.widest >= least {
                while let Some(further) = chunk.after[place..].iter().position(|&width| width >= least) {
                    place += further + 1;
                    if let Some(open) = opens(at, place - 1) {
                        *near = Near { chunk: at, place };
                        return Some(open.max(from));
                    }
                }
            }
            place = 0;
        }
        None
    }
}

impl Chunk {
    /// Notes the widest gap.
    pub(super) fn widen(&mut self) {
        self.widest = self.after.iter().copied().max().unwrap_or(0);
    }

    /// Notes how wide the gap after an entry is.
    fn widen_to(&mut self, place: usize, width: Minute) {
        let was = std::mem::replace(&mut self.after[place], width);
        if width >= self.widest {
            self.widest = width;
        } else if was == self.widest {
            self.widen();
        }
    }
}
