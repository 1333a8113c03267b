//! Taken stretches in order of their start, in short chunks: finding, adding and taking out stay cheap however many there are.
//!
//! Where it is asked for, each stretch also knows what room there is between it and the next, and each chunk the most of
//! its own: so the next gap that is wide enough is found without looking into every gap before it.

use crate::calendar::Calendar;
use crate::model::{Minute, Span};

/// A stretch and the activity that takes it.
pub(crate) type Taken = (Span, usize);

/// A chunk that grows beyond this is cut in two.
const LONGEST_CHUNK: usize = 64;

/// Taken stretches, ascending; two may share a minute.
#[derive(Debug, Clone)]
pub(crate) struct Stretches {
    /// Never empty; only the first chunk may have nothing in it, and then it is the only one.
    chunks: Vec<Vec<Taken>>,
    /// The first entry of each chunk but the first, side by side: to find a chunk, no other need be looked into.
    firsts: Vec<Taken>,
    /// Room after each stretch, and the most of each chunk; kept only where gaps are asked for.
    gaps: Option<Gaps>,
}

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

#[derive(Debug, Clone, Default)]
struct Gaps {
    after: Vec<Vec<Minute>>,
    widest: Vec<Minute>,
}

impl Stretches {
    pub(crate) fn new() -> Self {
        Self {
            chunks: vec![Vec::new()],
            firsts: Vec::new(),
            gaps: None,
        }
    }

    /// The same, with the gaps between them.
    pub(crate) fn with_gaps() -> Self {
        Self {
            chunks: vec![Vec::new()],
            firsts: Vec::new(),
            gaps: Some(Gaps {
                after: vec![Vec::new()],
                widest: vec![0],
            }),
        }
    }

    pub(crate) fn clear(&mut self) {
        self.chunks.truncate(1);
        self.chunks[0].clear();
        self.firsts.clear();
        if let Some(gaps) = &mut self.gaps {
            gaps.after.truncate(1);
            gaps.after[0].clear();
            gaps.widest.truncate(1);
        }
    }

    /// The chunk in which an entry stands or would stand.
    fn chunk_of(&self, is_before: impl Fn(&Taken) -> bool) -> usize {
        self.firsts.partition_point(is_before)
    }

    pub(crate) fn insert(&mut self, entry: Taken, room: &impl Room) {
        let at = self.chunk_of(|known| *known < entry);
        let chunk = &mut self.chunks[at];
        let place = chunk.partition_point(|known| *known < entry);
        chunk.insert(place, entry);
        let is_long = chunk.len() > LONGEST_CHUNK;
        if is_long {
            let later = chunk.split_off(LONGEST_CHUNK / 2);
            self.firsts.insert(at, later[0]);
            self.chunks.insert(at + 1, later);
        }
        if let Some(gaps) = &mut self.gaps {
            gaps.after[at].insert(place, 0);
            if is_long {
                let later = gaps.after[at].split_off(LONGEST_CHUNK / 2);
                gaps.after.insert(at + 1, later);
                gaps.widest.insert(at + 1, 0);
            }
            if is_long {
                self.widen(at);
                self.widen(at + 1);
            }
            let (at, place) = match place.checked_sub(self.chunks[at].len()) {
                Some(place) => (at + 1, place),
                None => (at, place),
            };
            self.measure(at, place, room);
            self.measure_before(at, place, room);
        }
    }

    pub(crate) fn remove(&mut self, entry: Taken, room: &impl Room) {
        let at = self.chunk_of(|known| *known <= entry);
        let Ok(place) = self.chunks[at].binary_search(&entry) else {
            return;
        };
        self.chunks[at].remove(place);
        let is_empty = self.chunks[at].is_empty() && self.chunks.len() > 1;
        if is_empty {
            self.chunks.remove(at);
            self.firsts.remove(at.saturating_sub(1));
        } else if let (Some(first), Some(chunk)) = (at.checked_sub(1), self.chunks.get(at)) {
            self.firsts[first] = chunk[0];
        }
        if let Some(gaps) = &mut self.gaps {
            gaps.after[at].remove(place);
            if is_empty {
                gaps.after.remove(at);
                gaps.widest.remove(at);
            } else {
                self.widen(at);
            }
            self.measure_before(at, place, room);
        }
    }

    /// The entry that follows the one at a place of a chunk.
    fn following(&self, at: usize, place: usize) -> Option<&Taken> {
        let here = self.chunks[at].get(place + 1);
        here.or_else(|| self.chunks.get(at + 1).and_then(|chunk| chunk.first()))
    }

    /// Measures the room after the entry at a place of a chunk.
    fn measure(&mut self, at: usize, place: usize, room: &impl Room) {
        let to = self.following(at, place).map_or(Minute::MAX / 4, |(span, _)| span.from);
        let width = room.between(self.chunks[at][place].0.to, to);
        if let Some(gaps) = &mut self.gaps {
            gaps.after[at][place] = width;
        }
        self.widen(at);
    }

    /// Measures the room after the entry before a place of a chunk, which may be the last of the chunk before.
    fn measure_before(&mut self, at: usize, place: usize, room: &impl Room) {
        if place > 0 {
            self.measure(at, place - 1, room);
        } else if at > 0 {
            let last = self.chunks[at - 1].len() - 1;
            self.measure(at - 1, last, room);
        }
    }

    /// Notes the widest gap of a chunk.
    fn widen(&mut self, at: usize) {
        if let Some(gaps) = &mut self.gaps {
            gaps.widest[at] = gaps.after[at].iter().copied().max().unwrap_or(0);
        }
    }

    /// The first minute from `from` on in or before a gap in which so many minutes may fit; nothing if there is none.
    /// `is_wide` is asked about the entries on both sides of a gap that is long enough. Every place that fits begins there or
    /// later.
    pub(crate) fn next_gap(
        &self,
        from: Minute,
        least: Minute,
        is_wide: impl Fn(&Taken, Option<&Taken>) -> bool,
    ) -> Option<Minute> {
        let Some(gaps) = &self.gaps else { return Some(from) };
        let fits = |at: usize, place: usize| {
            gaps.after[at][place] >= least && is_wide(&self.chunks[at][place], self.following(at, place))
        };
        let (at, place) = self.first_from(from);
        let before = match place.checked_sub(1) {
            Some(place) => Some((at, place)),
            None => at.checked_sub(1).map(|at| (at, self.chunks[at].len() - 1)),
        };
        if before.is_none_or(|(at, place)| fits(at, place)) {
            return Some(from);
        }
        let in_chunk = |at: usize, mut place: usize| {
            let after = &gaps.after[at];
            while let Some(further) = after[place..].iter().position(|&width| width >= least) {
                place += further;
                if is_wide(&self.chunks[at][place], self.following(at, place)) {
                    return Some(self.chunks[at][place].0.to.max(from));
                }
                place += 1;
            }
            None
        };
        in_chunk(at, place).or_else(|| {
            let mut at = at + 1;
            while let Some(further) = gaps.widest[at..].iter().position(|&width| width >= least) {
                at += further;
                let found = in_chunk(at, 0);
                if found.is_some() {
                    return found;
                }
                at += 1;
            }
            None
        })
    }

    /// Chunk and place of the first entry that does not start before `minute`.
    fn first_from(&self, minute: Minute) -> (usize, usize) {
        let at = self.chunk_of(|(span, _)| span.from < minute);
        (at, self.chunks[at].partition_point(|(span, _)| span.from < minute))
    }

    /// Entries that start before `minute`, the latest first.
    pub(crate) fn before(&self, minute: Minute) -> impl Iterator<Item = &Taken> {
        let (at, place) = self.first_from(minute);
        let earlier = self.chunks[..at].iter().rev().flat_map(|chunk| chunk.iter().rev());
        self.chunks[at][..place].iter().rev().chain(earlier)
    }

    /// The entry that starts last before `minute`, and the first that does not.
    pub(crate) fn around(&self, minute: Minute) -> (Option<Taken>, Option<Taken>) {
        let (at, place) = self.first_from(minute);
        let before = match place.checked_sub(1) {
            Some(place) => self.chunks[at].get(place),
            None => at.checked_sub(1).and_then(|at| self.chunks[at].last()),
        };
        let after = self.chunks[at]
            .get(place)
            .or_else(|| self.chunks.get(at + 1).and_then(|chunk| chunk.first()));
        (before.copied(), after.copied())
    }
}

#[cfg(test)]
mod tests {
    use super::{NoRoom, Span, Stretches};
    use crate::calendar::Calendar;

    #[test]
    fn many_entries_stay_in_order_through_adding_and_taking_out() {
        let mut stretches = Stretches::new();
        let start = |k: i64| (k * 7_919) % 1_000;
        for k in 0..1_000 {
            stretches.insert(
                (Span::new(start(k), start(k) + 5), usize::try_from(k).unwrap()),
                &NoRoom,
            );
        }
        let all: Vec<i64> = stretches.before(i64::MAX).map(|(span, _)| span.from).collect();
        assert_eq!(all, (0..1_000).rev().collect::<Vec<i64>>());
        for k in 0..1_000 {
            if start(k) % 2 == 1 {
                stretches.remove(
                    (Span::new(start(k), start(k) + 5), usize::try_from(k).unwrap()),
                    &NoRoom,
                );
            }
        }
        let back: Vec<i64> = stretches.before(500).map(|(span, _)| span.from).collect();
        assert_eq!(back, (0..250).rev().map(|k| 2 * k).collect::<Vec<i64>>());
        let (before, after) = stretches.around(501);
        assert_eq!((before.unwrap().0.from, after.unwrap().0.from), (500, 502));
        let (before, after) = stretches.around(0);
        assert_eq!((before, after.unwrap().0.from), (None, 0));
        assert_eq!(stretches.around(2_000).1, None);
    }

    #[test]
    fn emptied_it_is_as_new() {
        let mut stretches = Stretches::new();
        for k in 0..200 {
            stretches.insert((Span::new(k, k + 1), 0), &NoRoom);
        }
        for k in 0..200 {
            stretches.remove((Span::new(k, k + 1), 0), &NoRoom);
        }
        assert_eq!(stretches.before(i64::MAX).count(), 0);
        stretches.insert((Span::new(3, 4), 9), &NoRoom);
        assert_eq!(stretches.around(4).0, Some((Span::new(3, 4), 9)));
    }

    /// Every gap, looked at one by one.
    fn by_hand(taken: &[Span], calendar: &Calendar, from: i64, least: i64) -> Option<i64> {
        let before = taken.iter().rposition(|span| span.from < from);
        let ends = taken.iter().skip(1).map(|span| span.from).chain([i64::MAX / 4]);
        let gaps: Vec<i64> = taken
            .iter()
            .zip(ends)
            .map(|(span, end)| calendar.room_between(span.to, end))
            .collect();
        match before {
            None => Some(from),
            Some(at) if gaps[at] >= least => Some(from),
            Some(at) => (at + 1..taken.len())
                .find(|&at| gaps[at] >= least)
                .map(|at| taken[at].to.max(from)),
        }
    }

    #[test]
    fn the_next_gap_is_the_one_found_by_looking_at_all() {
        let periods = (0..40).map(|day| Span::new(day * 1_000, day * 1_000 + 400)).collect();
        let calendar = Calendar::new(periods);
        let mut stretches = Stretches::with_gaps();
        let mut taken: Vec<Span> = Vec::new();
        // Places by a rule that fills the days unevenly, then half of them taken out again.
        for k in 0..900_i64 {
            let from = ((k * 7_919) % 900) / 22 * 1_000 + ((k * 7_919) % 900) % 22 * 17;
            let span = Span::new(from, from + 3 + k % 13);
            taken.push(span);
            stretches.insert((span, usize::try_from(k).unwrap()), &calendar);
        }
        for k in (0..900_usize).rev().filter(|k| k % 5 < 2) {
            let span = taken[k];
            stretches.remove((span, k), &calendar);
            taken.remove(k);
        }
        taken.sort_unstable();
        for from in (0..41_000).step_by(97) {
            for least in [1, 9, 14, 20, 40, 390, 401] {
                let found = stretches.next_gap(from, least, |_, _| true);
                assert_eq!(found, by_hand(&taken, &calendar, from, least), "{least} from {from}");
            }
        }
    }
}
