//! Taken stretches in order of their start, in short chunks: finding, adding and taking out stay cheap however many there are.
//!
//! Whoever walks through them keeps a [`Near`] and need not find his place anew at every step.

mod gaps;
#[cfg(test)]
mod tests;

use crate::model::{Minute, Span};
pub(crate) use gaps::{NoRoom, Room};

/// A stretch and the activity that takes it.
pub(crate) type Taken = (Span, usize);

/// A chunk that grows beyond this is cut in two.
const LONGEST_CHUNK: usize = 64;
/// So many stretches further on are looked at one by one; what is not among them is searched for.
const AHEAD: usize = 6;

/// Taken stretches, ascending; two may share a minute.
#[derive(Debug, Clone)]
pub(crate) struct Stretches {
    /// Never empty; only the first chunk may have nothing in it, and then it is the only one.
    chunks: Vec<Chunk>,
    /// The first entry of each chunk but the first, side by side: to find a chunk, no other need be looked into.
    firsts: Vec<Taken>,
    /// Chunks without use, to spare the allocator.
    spare: Vec<Chunk>,
    has_gaps: bool,
}

/// A few stretches that follow one another.
#[derive(Debug, Clone, Default)]
struct Chunk {
    taken: Vec<Taken>,
    /// The room after each stretch, and the most of it; kept only where gaps are asked for.
    after: Vec<Minute>,
    widest: Minute,
}

/// A place among the stretches, at or before the one that is looked for.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Near {
    chunk: usize,
    place: usize,
}

impl Stretches {
    pub(crate) fn new() -> Self {
        Self {
            chunks: vec![Chunk::default()],
            firsts: Vec::new(),
            spare: Vec::new(),
            has_gaps: false,
        }
    }

    /// The same, with the gaps between them.
    pub(crate) fn with_gaps() -> Self {
        Self {
            has_gaps: true,
            ..Self::new()
        }
    }

    pub(crate) fn clear(&mut self) {
        self.spare.extend(self.chunks.drain(1..));
        self.chunks[0].clear();
        self.firsts.clear();
    }

    /// The chunk in which an entry stands or would stand.
    fn chunk_of(&self, is_before: impl Fn(&Taken) -> bool) -> usize {
        self.firsts.partition_point(is_before)
    }

    pub(crate) fn insert(&mut self, entry: Taken, room: &impl Room) {
        let mut at = self.chunk_of(|known| *known < entry);
        let mut place = self.chunks[at].taken.partition_point(|known| *known < entry);
        self.chunks[at].taken.insert(place, entry);
        if self.has_gaps {
            self.chunks[at].after.insert(place, 0);
        }
        if self.chunks[at].taken.len() > LONGEST_CHUNK {
            self.cut_in_two(at);
            if place >= self.chunks[at].taken.len() {
                place -= self.chunks[at].taken.len();
                at += 1;
            }
        }
        if self.has_gaps {
            self.measure(at, place, room);
            self.measure_before(at, place, room);
        }
    }

    fn cut_in_two(&mut self, at: usize) {
        let mut later = self.spare.pop().unwrap_or_default();
        later.clear();
        let chunk = &mut self.chunks[at];
        later.taken.extend(chunk.taken.drain(LONGEST_CHUNK / 2..));
        if self.has_gaps {
            later.after.extend(chunk.after.drain(LONGEST_CHUNK / 2..));
            later.widen();
            chunk.widen();
        }
        self.firsts.insert(at, later.taken[0]);
        self.chunks.insert(at + 1, later);
    }

    pub(crate) fn remove(&mut self, entry: Taken, room: &impl Room) {
        let at = self.chunk_of(|known| *known <= entry);
        let Ok(place) = self.chunks[at].taken.binary_search(&entry) else {
            return;
        };
        self.chunks[at].taken.remove(place);
        if self.has_gaps {
            self.chunks[at].after.remove(place);
            self.chunks[at].widen();
        }
        if self.chunks[at].taken.is_empty() && self.chunks.len() > 1 {
            self.spare.push(self.chunks.remove(at));
            self.firsts.remove(at.saturating_sub(1));
        } else if let (Some(first), Some(&now)) = (at.checked_sub(1), self.chunks[at].taken.first()) {
            self.firsts[first] = now;
        }
        if self.has_gaps {
            self.measure_before(at, place, room);
        }
    }

    /// The entry that follows the one at a place of a chunk.
    fn following(&self, at: usize, place: usize) -> Option<&Taken> {
        let here = self.chunks[at].taken.get(place + 1);
        here.or_else(|| self.chunks.get(at + 1).and_then(|chunk| chunk.taken.first()))
    }

    /// The place of the first entry that does not start before `minute`.
    fn first_from(&self, minute: Minute) -> Near {
        let chunk = self.chunk_of(|(span, _)| span.from < minute);
        let place = self.chunks[chunk].taken.partition_point(|(span, _)| span.from < minute);
        Near { chunk, place }
    }

    /// Moves on to the first entry that does not start before `minute`.
    fn seek(&self, near: &mut Near, minute: Minute) {
        let ahead = self.chunks[near.chunk].taken[near.place..].iter().take(AHEAD);
        match ahead.enumerate().find(|(_, (span, _))| span.from >= minute) {
            Some((further, _)) => near.place += further,
            None => *near = self.first_from(minute),
        }
    }

    /// Entries that start before `minute`, the latest first.
    pub(crate) fn before(&self, minute: Minute) -> impl Iterator<Item = &Taken> {
        let Near { chunk, place } = self.first_from(minute);
        let earlier = self.chunks[..chunk]
            .iter()
            .rev()
            .flat_map(|chunk| chunk.taken.iter().rev());
        self.chunks[chunk].taken[..place].iter().rev().chain(earlier)
    }

    /// The entry that starts last before `minute`, and the first that does not. `near` is a place before that, and moved up to it.
    pub(crate) fn around(&self, near: &mut Near, minute: Minute) -> (Option<Taken>, Option<Taken>) {
        self.seek(near, minute);
        let chunk = &self.chunks[near.chunk];
        let before = match near.place.checked_sub(1) {
            Some(place) => chunk.taken.get(place),
            None => (near.chunk.checked_sub(1)).and_then(|before| self.chunks[before].taken.last()),
        };
        let after = chunk.taken.get(near.place);
        let after = after.or_else(|| self.chunks.get(near.chunk + 1).and_then(|chunk| chunk.taken.first()));
        (before.copied(), after.copied())
    }
}

impl Chunk {
    fn clear(&mut self) {
        self.taken.clear();
        self.after.clear();
        self.widest = 0;
    }
}
