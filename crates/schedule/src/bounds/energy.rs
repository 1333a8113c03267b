//! A bound on completion by the work there is: what cannot begin before a head and has a tail after it takes its time in
//! between, however it is shared out.

use super::pool::Pool;
use super::tails::Tails;
use crate::compiled::Compiled;
use crate::model::Minute;

/// So many heads are tried, evenly chosen; more would cost more than they say.
const MOST_HEADS: usize = 64;

/// One activity's work, between its head and its tail.
#[derive(Debug, Clone, Copy)]
struct Piece {
    head: Minute,
    tail: Minute,
    work: i64,
}

/// No plan ends earlier, since nobody works outside their hours.
pub(super) fn of_hands(of: &Compiled<'_>, spans: &[(Minute, Minute)], tails: &Tails, pool: &Pool) -> Minute {
    let work = |index: usize| {
        let activity = &of.problem.activities[index];
        activity.duration * i64::try_from(activity.hands).unwrap_or(0)
    };
    bound(pieces(of, spans, tails, work), pool)
}

/// No plan ends earlier, since there is no more of a resource than there is.
pub(super) fn of_resource(of: &Compiled<'_>, spans: &[(Minute, Minute)], tails: &Tails, resource: usize) -> Minute {
    let pool = Pool::of_resource(of, &of.problem.resources[resource]);
    let work = |index: usize| {
        let activity = &of.problem.activities[index];
        let uses = activity.uses.iter().filter(|used| used.resource.0 == resource);
        activity.duration * uses.map(|used| i64::from(used.amount)).sum::<i64>()
    };
    bound(pieces(of, spans, tails, work), &pool)
}

/// What is still free to be placed; what is pinned may stand outside all hours.
fn pieces(of: &Compiled<'_>, spans: &[(Minute, Minute)], tails: &Tails, work: impl Fn(usize) -> i64) -> Vec<Piece> {
    let free = (0..spans.len()).filter(|&index| of.problem.activities[index].pin.is_none());
    let piece = |index: usize| Piece {
        head: spans[index].0,
        tail: tails.of[index].unwrap_or(0).max(0),
        work: work(index),
    };
    free.map(piece).filter(|piece| piece.work > 0).collect()
}

fn bound(mut pieces: Vec<Piece>, pool: &Pool) -> Minute {
    let mut heads: Vec<Minute> = pieces.iter().map(|piece| piece.head).collect();
    heads.sort_unstable();
    heads.dedup();
    pieces.sort_by_key(|piece| std::cmp::Reverse(piece.tail));
    let mut least = Minute::MIN / 4;
    for &head in heads.iter().step_by(heads.len().div_ceil(MOST_HEADS).max(1)) {
        let before = pool.before(head);
        let mut work = 0;
        for (at, piece) in pieces.iter().enumerate() {
            work += if piece.head >= head { piece.work } else { 0 };
            // Those with as long a tail count together.
            if pieces.get(at + 1).is_none_or(|next| next.tail < piece.tail) && work > 0 {
                least = least.max(pool.done(before + work) + piece.tail);
            }
        }
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::earliest::spans;
    use crate::model::{Activity, ActivityId, Hand, Lag, Problem, Resource, ResourceId, Span, Use, Wait};

    fn problem() -> Problem {
        Problem {
            horizon: 10_000,
            hands: vec![Hand {
                name: "you".into(),
                periods: vec![Span::new(0, 100), Span::new(200, 300), Span::new(400, 500)],
            }],
            activities: vec![Activity::new("a", 70), Activity::new("b", 60), Activity::new("c", 40)],
            ..Problem::default()
        }
    }

    fn hands_bound(problem: &Problem) -> Minute {
        let of = Compiled::new(problem);
        of_hands(&of, &spans(&of).unwrap(), &Tails::to_last(&of), &Pool::of_hands(&of))
    }

    /// By hand: 170 minutes of work, 100 of them in the first period: 70 into the second. The critical path says 70.
    #[test]
    fn work_fills_the_hours_of_one_hand() {
        assert_eq!(hands_bound(&problem()), 270);
    }

    /// By hand: b and c begin at 200 at the earliest and take 100: until 300, and 500 of waiting and d (no hands, 5) after both.
    #[test]
    fn heads_and_tails_hold_work_apart() {
        let mut problem = problem();
        problem.activities[1].release = 150;
        problem.activities[2].release = 160;
        let last = problem.add(Activity::unattended("d", 5));
        for index in [1, 2] {
            problem
                .lags
                .push(Lag::after(ActivityId(index), last, Wait::Minutes(500)));
        }
        assert_eq!(hands_bound(&problem), 805);
    }

    /// By hand: three of 10 that take two of three places each: 60 units at 3 a minute are 20, and none ends before 100 + 20.
    #[test]
    fn a_resource_has_energy_too() {
        let mut problem = problem();
        problem.resources = vec![Resource::constant("rack", 3)];
        problem.activities = (0..3).map(|_| Activity::unattended("soak", 10)).collect();
        for activity in &mut problem.activities {
            activity.release = 100;
            activity.uses = vec![Use {
                resource: ResourceId(0),
                amount: 2,
            }];
        }
        let of = Compiled::new(&problem);
        assert_eq!(of_resource(&of, &spans(&of).unwrap(), &Tails::to_last(&of), 0), 120);
    }
}
