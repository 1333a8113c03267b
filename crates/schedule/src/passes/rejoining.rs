//! A pass that differs from another in one stretch of the order only: what the end of the stretch tells of the rest.
//!
//! From there on both place the same activities in the same order. If by then nothing stands elsewhere, both timetables
//! are the same; and one that has lost much by then seldom makes up for it.

use super::{Laid, Timetable};
use crate::project::Project;

/// Who is behind by more than this part of the whole length, with everything there is, is given up.
const BEHIND: i64 = 100;

/// The place in the order from which on it is that of `like`.
pub(super) fn place(order: &[u32], like: &Laid) -> usize {
    let ends = order.iter().rev().zip(like.order.iter().rev());
    order.len() - ends.take_while(|(one, other)| one == other).count()
}

/// Whether the stretch just placed stands otherwise than in `like`, and not much later.
pub(super) fn is_promising(of: &Project, stretch: &[u32], like: &Laid, now: &Timetable) -> bool {
    let mut is_other = false;
    let mut behind = 0;
    for &activity in stretch {
        let at = activity as usize;
        let later = i64::from(now.start[at]) - i64::from(like.table.start[at]);
        is_other |= later != 0;
        behind += later * of.load[at];
    }
    is_other && behind * BEHIND <= of.full() * i64::from(like.table.length)
}

#[cfg(test)]
mod tests {
    use super::place;
    use crate::compiled::Compiled;
    use crate::passes::{Laid, NEVER, Passes, Timetable};
    use crate::project::Project;
    use crate::project::examples::two_places;

    /// Starts and length of a pass in an order after one in another, and how many starts it assigned.
    fn passed(before: [u32; 5], order: [u32; 5]) -> (Vec<i32>, i32, u64) {
        let problem = two_places();
        let compiled = Compiled::new(&problem);
        let project = Project::of(&compiled).unwrap();
        let mut passes = Passes::new(&project);
        let mut like = Laid {
            order: before.to_vec(),
            table: Timetable::default(),
        };
        passes.pass(&project.forward, &before, NEVER, None, &mut like.table);
        assert_eq!((like.table.length, passes.assigned), (11, 5));
        let mut table = Timetable::default();
        passes.pass(&project.forward, &order, NEVER, Some(&like), &mut table);
        (table.start, table.length, passes.assigned - 5)
    }

    #[test]
    fn orders_rejoin_after_the_last_place_that_differs() {
        let like = Laid {
            order: vec![0, 1, 2, 3, 4],
            table: Timetable::default(),
        };
        assert_eq!(place(&[0, 2, 1, 3, 4], &like), 3);
        assert_eq!(place(&[1, 0, 2, 4, 3], &like), 5);
        assert_eq!(place(&[0, 1, 2, 3, 4], &like), 0);
    }

    #[test]
    fn a_stretch_in_another_order_in_which_everything_stands_where_it_stood_is_given_up() {
        // The 4 and the first 3 minutes both start at 5, whichever comes first; the last is never looked at.
        let (_, length, assigned) = passed([0, 1, 2, 3, 4], [0, 1, 3, 2, 4]);
        assert_eq!((length, assigned), (NEVER, 2));
        // The same order costs one, so that asking for it again and again comes to an end.
        let (_, length, assigned) = passed([0, 1, 2, 3, 4], [0, 1, 2, 3, 4]);
        assert_eq!((length, assigned), (NEVER, 1));
    }

    #[test]
    fn what_is_not_behind_where_the_orders_rejoin_is_placed_to_the_end() {
        // The 4 minutes first and the second 5 after them: one of two places is used a minute sooner.
        let (start, length, assigned) = passed([0, 1, 2, 3, 4], [0, 2, 1, 3, 4]);
        assert_eq!((start, length, assigned), (vec![0, 4, 0, 5, 8], 11, 4));
    }

    #[test]
    fn what_has_lost_a_hundredth_of_all_by_then_is_given_up() {
        // The other way round half of the capacity is lost for a minute of eleven.
        let (_, length, assigned) = passed([0, 2, 1, 3, 4], [0, 1, 2, 3, 4]);
        assert_eq!((length, assigned), (NEVER, 2));
    }
}
