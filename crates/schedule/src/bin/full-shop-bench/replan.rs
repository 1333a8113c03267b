//! Replans after a slip, and what came of them.

use crate::shop::DAY;
use crate::slip::{Slip, follow, slip};
use crate::{late, plan, say, told};
use schedule::{Minute, Pin, Previous, Problem, Solution};

/// What a move must save: the shop's own.
const WORTH_MOVING_MIN: Minute = 60;

/// What came of replans.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Tally {
    /// Untouched steps that moved, and how many there were.
    moved: i64,
    untouched: i64,
    /// Weighted minutes late with nothing else moved (where such a plan was found), and as replanned.
    late_if_kept: i64,
    late: i64,
    longest_ms: f64,
}

impl Tally {
    pub(crate) fn add(&mut self, other: Self) {
        self.moved += other.moved;
        self.untouched += other.untouched;
        self.late_if_kept += other.late_if_kept;
        self.late += other.late;
        self.longest_ms = self.longest_ms.max(other.longest_ms);
    }

    pub(crate) fn print(&self, of: &str) {
        say(&format!(
            "{of}: {} of {} steps moved that no slip touched ({:.1} %), {} weighted minutes late where nothing else moves and {} as \
             replanned, longest {:.0} ms",
            self.moved,
            self.untouched,
            as_float(100 * self.moved) / as_float(self.untouched.max(1)),
            self.late_if_kept,
            self.late,
            self.longest_ms
        ));
    }
}

#[expect(clippy::cast_precision_loss, reason = "small counts, for printing")]
fn as_float(count: i64) -> f64 {
    count as f64
}

/// Replans after a slip on a day.
pub(crate) fn replan(problem: &Problem, before: &Solution, kind: Slip, day: i64, seed: u64, schedules: u64) -> Tally {
    let now = day * DAY + 900;
    let mut problem = problem.clone();
    for (activity, placement) in problem.activities.iter_mut().zip(&before.plan.placements) {
        if placement.start < now {
            activity.pin = Some(Pin {
                start: placement.start,
                hands: placement.hands.clone(),
                begun: true,
            });
        }
    }
    problem.not_before = now;
    let mut touched = slip(&mut problem, &before.plan, kind, now, seed);
    follow(&problem, &before.plan, &mut touched);
    problem.previous = Some(Previous {
        placements: before.plan.placements.iter().cloned().map(Some).collect(),
        worth_moving_min: WORTH_MOVING_MIN,
    });
    let repaired = plan(&problem, 1).map(|(repaired, _)| repaired.plan);
    let Some((after, milliseconds)) = plan(&problem, schedules) else {
        say(&format!("{kind:?} on day {day}: no replan"));
        return Tally::default();
    };
    let moved = |at: usize| after.plan.placements[at].start != before.plan.placements[at].start;
    let open = |at: usize| problem.activities[at].pin.is_none();
    let all = (0..touched.len()).filter(|&at| open(at));
    let (mut n_touched, mut of_touched, mut n_others, mut of_others) = (0_i64, 0_i64, 0_i64, 0_i64);
    for at in all {
        let (n, of) = match touched[at] {
            true => (&mut n_touched, &mut of_touched),
            false => (&mut n_others, &mut of_others),
        };
        *n += i64::from(moved(at));
        *of += 1;
    }
    say(&format!(
        "{kind:?} on day {day}: replan in {milliseconds:.1} ms, {n_touched} of {of_touched} touched steps moved and {n_others} of \
         {of_others} others; {}; with nothing else moved {}",
        told(&problem, &after.plan),
        repaired
            .as_ref()
            .map_or("none found".to_owned(), |plan| told(&problem, plan))
    ));
    Tally {
        moved: n_others,
        untouched: of_others,
        late_if_kept: repaired.map_or(0, |plan| late(&problem, &plan)),
        late: late(&problem, &after.plan),
        longest_ms: milliseconds,
    }
}
