//! Taken stretches in order of their start, in short chunks: finding, adding and taking out stay cheap however many there are.

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
}

impl Stretches {
    pub(crate) fn new() -> Self {
        Self {
            chunks: vec![Vec::new()],
        }
    }

    pub(crate) fn clear(&mut self) {
        self.chunks.truncate(1);
        self.chunks[0].clear();
    }

    /// The chunk in which an entry stands or would stand.
    fn chunk_of(&self, is_before: impl Fn(&Taken) -> bool) -> usize {
        self.chunks
            .partition_point(|chunk| chunk.first().is_some_and(&is_before))
            .saturating_sub(1)
    }

    pub(crate) fn insert(&mut self, entry: Taken) {
        let at = self.chunk_of(|known| *known < entry);
        let chunk = &mut self.chunks[at];
        let place = chunk.partition_point(|known| *known < entry);
        chunk.insert(place, entry);
        if chunk.len() > LONGEST_CHUNK {
            let later = chunk.split_off(LONGEST_CHUNK / 2);
            self.chunks.insert(at + 1, later);
        }
    }

    pub(crate) fn remove(&mut self, entry: Taken) {
        let at = self.chunk_of(|known| *known <= entry);
        let chunk = &mut self.chunks[at];
        if let Ok(place) = chunk.binary_search(&entry) {
            chunk.remove(place);
        }
        if chunk.is_empty() && self.chunks.len() > 1 {
            self.chunks.remove(at);
        }
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
    use super::{Span, Stretches};

    #[test]
    fn many_entries_stay_in_order_through_adding_and_taking_out() {
        let mut stretches = Stretches::new();
        let start = |k: i64| (k * 7_919) % 1_000;
        for k in 0..1_000 {
            stretches.insert((Span::new(start(k), start(k) + 5), usize::try_from(k).unwrap()));
        }
        let all: Vec<i64> = stretches.before(i64::MAX).map(|(span, _)| span.from).collect();
        assert_eq!(all, (0..1_000).rev().collect::<Vec<i64>>());
        for k in 0..1_000 {
            if start(k) % 2 == 1 {
                stretches.remove((Span::new(start(k), start(k) + 5), usize::try_from(k).unwrap()));
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
            stretches.insert((Span::new(k, k + 1), 0));
        }
        for k in 0..200 {
            stretches.remove((Span::new(k, k + 1), 0));
        }
        assert_eq!(stretches.before(i64::MAX).count(), 0);
        stretches.insert((Span::new(3, 4), 9));
        assert_eq!(stretches.around(4).0, Some((Span::new(3, 4), 9)));
    }
}
