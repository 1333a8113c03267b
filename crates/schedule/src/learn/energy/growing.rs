//! A set of tasks that grows, and by when all of it can be done at the earliest: a tree of which each new task changes
//! one branch only (after Vilím 2004). Of those that have not joined it knows the longest.

/// The work of some tasks, by when it is done at the earliest, and the longest of those that have not joined.
#[derive(Debug, Clone, Copy)]
struct Part {
    work: i32,
    done: i32,
    longest_out: i32,
}

impl Part {
    const NOTHING: Self = Self::out(0);

    const fn out(work: i32) -> Self {
        Self {
            work: 0,
            done: i32::MIN / 2,
            longest_out: work,
        }
    }

    fn of(first: Self, rest: Self) -> Self {
        Self {
            work: first.work + rest.work,
            done: rest.done.max(first.done + rest.work),
            longest_out: first.longest_out.max(rest.longest_out),
        }
    }
}

/// Tasks by their place in the order of their earliest starts.
#[derive(Debug, Default)]
pub(super) struct Growing {
    /// A whole binary tree: the top at 1, what is below `at` at twice that and one more.
    parts: Vec<Part>,
    leaves: usize,
}

impl Growing {
    /// Nobody has joined; the work of each by its place.
    pub(super) fn clear(&mut self, works: impl ExactSizeIterator<Item = i32>) {
        self.leaves = works.len().next_power_of_two();
        self.parts.clear();
        self.parts.resize(self.leaves, Part::NOTHING);
        self.parts.extend(works.map(Part::out));
        self.parts.resize(2 * self.leaves, Part::NOTHING);
        for at in (1..self.leaves).rev() {
            self.parts[at] = Part::of(self.parts[2 * at], self.parts[2 * at + 1]);
        }
    }

    /// The task at a place joins.
    pub(super) fn add(&mut self, place: usize, from: i32, work: i32) {
        let mut at = self.leaves + place;
        self.parts[at] = Part {
            work,
            done: from + work,
            longest_out: 0,
        };
        while at > 1 {
            at /= 2;
            self.parts[at] = Part::of(self.parts[2 * at], self.parts[2 * at + 1]);
        }
    }

    /// The most work of one that has not joined and comes before a place; 0 if there is none.
    pub(super) fn longest_out(&self, before: usize) -> i32 {
        let (mut at, mut longest) = (self.leaves + before, 0);
        if before >= self.leaves {
            return self.parts[1].longest_out;
        }
        while at > 1 {
            if !at.is_multiple_of(2) {
                longest = longest.max(self.parts[at - 1].longest_out);
            }
            at /= 2;
        }
        longest
    }

    /// By when all that have joined can be done at the earliest.
    pub(super) fn done(&self) -> i32 {
        self.parts[1].done
    }
}

#[cfg(test)]
mod tests {
    use super::Growing;

    /// By hand: 3 from 4 on are done at 7; with 5 from 0 on at 8; with 2 from 9 on at 11, and with 4 from 6 on: 3 and 4
    /// and 2 from 4 on end at 13, with the 5 from 0 on at 14.
    #[test]
    fn each_task_that_joins_makes_it_later() {
        let mut set = Growing::default();
        set.clear([5, 3, 4, 2, 7].into_iter());
        let mut join = |place, from, work| {
            set.add(place, from, work);
            set.done()
        };
        assert_eq!(join(1, 4, 3), 7);
        assert_eq!(join(0, 0, 5), 8);
        assert_eq!(join(3, 9, 2), 11);
        assert_eq!(join(2, 6, 4), 14);
        set.clear([3].into_iter());
        assert_eq!([0, 1].map(|before| set.longest_out(before)), [0, 3]);
        set.add(0, 2, 3);
        assert_eq!(set.longest_out(1), 0);
        assert_eq!(set.done(), 5);
    }

    #[test]
    fn the_longest_that_has_not_joined_is_known_up_to_each_place() {
        let mut set = Growing::default();
        set.clear([3, 9, 4, 2, 7].into_iter());
        let longest = |set: &Growing| [0, 1, 2, 3, 4, 5, 8].map(|before| set.longest_out(before));
        assert_eq!(longest(&set), [0, 3, 9, 9, 9, 9, 9]);
        set.add(1, 0, 9);
        assert_eq!(longest(&set), [0, 3, 3, 4, 4, 7, 7]);
        set.add(2, 0, 4);
        assert_eq!(longest(&set), [0, 3, 3, 3, 3, 7, 7]);
    }
}
