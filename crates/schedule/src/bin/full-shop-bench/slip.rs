//! What can come between a plan and the bench, and what of the plan it touches.

use crate::WEEKS;
use crate::shop::{DAY, rates};
use schedule::{Block, Clock, Effect, Lag, Minute, Plan, Problem, Span, Wait};

/// What can come between a plan and the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Slip {
    /// The first coat of the day needs four hours more before its next step.
    StillTacky,
    /// The step at work takes two hours longer.
    RanLate,
    /// Nobody works the day after.
    DayOff,
    /// From now on everything dries at two fifths of the pace, for two days.
    ColdSnap,
}

impl Slip {
    pub(crate) const ALL: [Self; 4] = [Self::StillTacky, Self::RanLate, Self::DayOff, Self::ColdSnap];
}

/// Puts the slip into the problem as it stands at `now`, and marks what it touches at first hand.
pub(crate) fn slip(problem: &mut Problem, before: &Plan, slip: Slip, now: Minute, seed: u64) -> Vec<bool> {
    let n = problem.activities.len();
    let start = |at: usize| before.placements[at].start;
    let mut touched = vec![false; n];
    match slip {
        Slip::StillTacky => {
            let next = |lag: &&Lag| start(lag.from.0) < now && start(lag.to.0) >= now && lag.min != Wait::Minutes(0);
            let held = problem.lags.iter().filter(next).map(|lag| lag.to.0);
            if let Some(held) = held.min_by_key(|&at| start(at)) {
                problem.activities[held].release = start(held) + 240;
                touched[held] = true;
            }
        }
        Slip::RanLate => {
            if let Some(at) = (0..n).filter(|&at| start(at) < now).max_by_key(|&at| start(at)) {
                // Whoever does it is not free for what they were to do meanwhile.
                let was = &before.placements[at];
                let longer = Span::new(was.start, was.end + 120);
                for (other, placement) in before.placements.iter().enumerate() {
                    let shares = placement.hands.iter().any(|hand| was.hands.contains(hand));
                    touched[other] = shares && longer.overlaps(Span::new(placement.start, placement.end));
                }
                problem.activities[at].duration += 120;
            }
        }
        Slip::DayOff => {
            let day = (now / DAY + 1) * DAY;
            let off = Span::new(day, day + DAY);
            problem.blocks.push(Block {
                name: "away".into(),
                hand: None,
                span: off,
            });
            for (at, placement) in before.placements.iter().enumerate() {
                touched[at] = off.overlaps(Span::new(placement.start, placement.end));
            }
        }
        Slip::ColdSnap => {
            let cold = now..now + 2 * DAY;
            let slower = |(from, rate): (Minute, i64)| (from, if cold.contains(&from) { rate * 2 / 5 } else { rate });
            problem.clocks[0] = Clock::new(rates(WEEKS, seed).into_iter().map(slower).collect());
        }
    }
    touched
}

/// What cannot stay for what the slip changed: each step whose wait is no longer over, dust where a coat is still wet, and all that
/// follow what is touched.
pub(crate) fn follow(problem: &Problem, before: &Plan, touched: &mut [bool]) {
    let over = |wait: Wait, begun: Minute| match wait {
        Wait::Minutes(minutes) => begun + minutes,
        Wait::Progress { clock, progress } => problem.clocks[clock.0].done_at(begun, progress),
    };
    for lag in &problem.lags {
        let from = &before.placements[lag.from.0];
        let ends = from.start + problem.activities[lag.from.0].duration.max(from.end - from.start);
        touched[lag.to.0] |= over(lag.min, ends) > before.placements[lag.to.0].start;
    }
    for (coat, wet) in problem.activities.iter().zip(&before.placements) {
        let Some((room, Effect::Coat { wet: wait })) = coat.room else {
            continue;
        };
        let wet = Span::new(wet.start, over(wait, wet.end));
        for (at, (other, placement)) in problem.activities.iter().zip(&before.placements).enumerate() {
            let is_dust = other.room == Some((room, Effect::Dust));
            touched[at] |= is_dust && wet.overlaps(Span::new(placement.start, placement.end));
        }
    }
    for _ in 0..touched.len() {
        let mut more = false;
        for lag in &problem.lags {
            if touched[lag.from.0] && !touched[lag.to.0] {
                touched[lag.to.0] = true;
                more = true;
            }
        }
        if !more {
            return;
        }
    }
}
