//! Look-ups in a long series that take as few steps as in a short one.

use crate::number::{index, minutes, small};

/// Where to look among ascending keys: how many lie before each of as many equal stretches as there are keys, or about
/// twice as many. Where the keys are about evenly spread, as hours are, a look-up takes the same few steps in a long
/// series as in a short one.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Lookup {
    first: i64,
    /// A stretch is two to this power long.
    shift: u32,
    /// For each stretch the number of keys before it, and at the end the number of all keys.
    before: Vec<u32>,
}

impl Lookup {
    pub(crate) fn new(keys: impl ExactSizeIterator<Item = i64> + Clone) -> Self {
        let (Some(first), Some(last)) = (keys.clone().next(), keys.clone().last()) else {
            return Self::default();
        };
        let mut shift = 0;
        let most = 2 * minutes(keys.len()).max(1);
        while (last.saturating_sub(first) >> shift) > most {
            shift += 1;
        }
        let mut before = vec![0];
        for (place, key) in keys.clone().enumerate() {
            let stretch = index(key.saturating_sub(first) >> shift);
            if before.len() <= stretch {
                before.resize(stretch + 1, small(place));
            }
        }
        before.push(small(keys.len()));
        Self { first, shift, before }
    }

    /// The places at which the first key not before `key` may stand: from the first up to and including the second.
    #[inline]
    pub(crate) fn around(&self, key: i64) -> (usize, usize) {
        if key < self.first || self.before.is_empty() {
            return (0, 0);
        }
        let last = self.before.len() - 2;
        let stretch = index(key.saturating_sub(self.first) >> self.shift).min(last);
        (self.before[stretch] as usize, self.before[stretch + 1] as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::Lookup;

    #[test]
    fn a_key_is_where_reading_from_the_beginning_finds_it() {
        // Two a day, a long break, then every minute; some keys come twice.
        let days = (0..40).flat_map(|day| [day * 1_440 + 720, day * 1_440 + 1_020]);
        let keys: Vec<i64> = days.chain((90_000..90_050).flat_map(|key| [key, key])).collect();
        let lookup = Lookup::new(keys.iter().copied());
        for key in (-5..91_000).step_by(3) {
            let (from, to) = lookup.around(key);
            let place = keys.iter().position(|&known| known >= key).unwrap_or(keys.len());
            assert!(from <= place && place <= to, "{key}: {place} not in {from}..={to}");
        }
        let (from, to) = lookup.around(20 * 1_440 + 800);
        assert!(to - from <= 4, "among even keys there is little to read: {from}..{to}");
        assert_eq!(Lookup::new([].into_iter()).around(7), (0, 0));
    }
}
