//! What leads up to the same end: for each activity, the due date or the last activity that it serves.

use crate::compiled::Compiled;

/// For each activity the number of its group, and how many groups there are.
pub(crate) fn groups(of: &Compiled<'_>) -> (Vec<usize>, usize) {
    let n = of.problem.activities.len();
    let mut group = vec![usize::MAX; n];
    let mut n_groups = 0;
    let mut ends: Vec<usize> = of.problem.dues.iter().map(|due| due.activity.0).collect();
    ends.extend((0..n).filter(|&at| of.next[at].is_empty()));
    let mut before: Vec<Vec<usize>> = vec![Vec::new(); n];
    for (at, next) in of.next.iter().enumerate() {
        next.iter().for_each(|&to| before[to].push(at));
    }
    for end in ends {
        if group[end] != usize::MAX {
            continue;
        }
        // Everything before it that no other end has taken.
        group[end] = n_groups;
        let mut open = vec![end];
        while let Some(at) = open.pop() {
            for &from in &before[at] {
                if group[from] == usize::MAX {
                    group[from] = n_groups;
                    open.push(from);
                }
            }
        }
        n_groups += 1;
    }
    // What goes round in a circle leads nowhere: a group of its own.
    if group.contains(&usize::MAX) {
        group
            .iter_mut()
            .filter(|group| **group == usize::MAX)
            .for_each(|group| *group = n_groups);
        n_groups += 1;
    }
    (group, n_groups)
}
