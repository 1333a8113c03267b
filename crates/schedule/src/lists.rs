//! Many short lists side by side in one piece of memory: what belongs to each activity is found without a detour.

use crate::number::small;
use std::ops::Index;

/// For each of `0..n` a list of indexes.
#[derive(Debug, Clone, Default)]
pub(crate) struct Lists {
    items: Vec<usize>,
    /// Where each list ends and the next begins.
    ends: Vec<u32>,
}

impl Lists {
    /// Lists from `(owner, item)` pairs; each keeps the order in which its items come.
    pub(crate) fn of_pairs(n: usize, pairs: &[(usize, usize)]) -> Self {
        let mut begins = vec![0_u32; n + 1];
        for &(owner, _) in pairs {
            begins[owner + 1] += 1;
        }
        for at in 0..n {
            begins[at + 1] += begins[at];
        }
        let mut items = vec![0; pairs.len()];
        for &(owner, item) in pairs {
            items[begins[owner] as usize] = item;
            begins[owner] += 1;
        }
        // By now each beginning has moved up to its end.
        begins.truncate(n);
        Self { items, ends: begins }
    }

    /// Adds one more list.
    pub(crate) fn push(&mut self, list: &[usize]) {
        self.items.extend_from_slice(list);
        self.ends.push(small(self.items.len()));
    }

    pub(crate) fn iter(&self) -> impl Iterator<Item = &[usize]> {
        (0..self.ends.len()).map(|at| &self[at])
    }
}

impl Index<usize> for Lists {
    type Output = [usize];

    fn index(&self, at: usize) -> &[usize] {
        let begin = at.checked_sub(1).map_or(0, |before| self.ends[before]);
        &self.items[begin as usize..self.ends[at] as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::Lists;

    #[test]
    fn each_list_keeps_its_own_items_in_order() {
        let mut lists = Lists::of_pairs(4, &[(2, 7), (0, 5), (2, 1), (0, 6)]);
        lists.push(&[9, 8]);
        let all: Vec<&[usize]> = lists.iter().collect();
        assert_eq!(all, [&[5, 6][..], &[], &[7, 1], &[], &[9, 8]]);
        assert_eq!(lists[2], [7, 1]);
        assert!(lists[3].is_empty());
    }
}
