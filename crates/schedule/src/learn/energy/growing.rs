//! A set of tasks that grows, and by when all of it can be done at the earliest: a tree of which each new task changes
//! one branch only (after Vilím 2004).

/// The work of some tasks, and by when it is done at the earliest.
#[derive(Debug, Clone, Copy)]
struct Part {
    work: i32,
    done: i32,
}

const NOTHING: Part = Part {
    work: 0,
    done: i32::MIN / 2,
};

/// Tasks by their place in the order of their earliest starts.
#[derive(Debug, Default)]
pub(super) struct Growing {
    /// A whole binary tree: the top at 1, what is below `at` at twice that and one more.
    parts: Vec<Part>,
    leaves: usize,
}

impl Growing {
    /// Empty, with room for so many.
    pub(super) fn clear(&mut self, most: usize) {
        self.leaves = most.next_power_of_two();
        self.parts.clear();
        self.parts.resize(2 * self.leaves, NOTHING);
    }

    /// The task at a place joins.
    pub(super) fn add(&mut self, place: usize, from: i32, work: i32) {
        let mut at = self.leaves + place;
        self.parts[at] = Part {
            work,
            done: from + work,
        };
        while at > 1 {
            at /= 2;
            let (first, rest) = (self.parts[2 * at], self.parts[2 * at + 1]);
            self.parts[at] = Part {
                work: first.work + rest.work,
                done: rest.done.max(first.done + rest.work),
            };
        }
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
        set.clear(5);
        let mut join = |place, from, work| {
            set.add(place, from, work);
            set.done()
        };
        assert_eq!(join(1, 4, 3), 7);
        assert_eq!(join(0, 0, 5), 8);
        assert_eq!(join(3, 9, 2), 11);
        assert_eq!(join(2, 6, 4), 14);
        set.clear(1);
        set.add(0, 2, 3);
        assert_eq!(set.done(), 5);
    }
}
