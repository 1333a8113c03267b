//! Waits between two activities, and the order of dust and wet coats in a room.

use super::clocked::{Clocked, Shifted, Way};
use super::{MOST_PAIRS, Stated, narrow, up};
use crate::compiled::Compiled;
use crate::learn::{ALWAYS, Lit};
use crate::model::{Activity, Breaks, Effect, Lag, Point, Wait};

impl<'a> Stated<'a> {
    /// `to` is not before the wait begun at `from` is over.
    fn not_before(&mut self, of: &'a Compiled<'a>, wait: Wait, from: Shifted, to: Shifted, condition: Lit) {
        let (a, b) = (self.starts[from.index], self.starts[to.index]);
        match wait {
            Wait::Minutes(minutes) => {
                self.engine
                    .arc(a, b, narrow(up(from.by + minutes - to.by, self.grid)), condition);
            }
            Wait::Progress { .. } => {
                let wait = self.clocked(of, wait, from, to, Way::Earliest);
                self.engine.step_arc(a, b, Box::new(wait), condition);
            }
        }
    }

    /// `to` is not after the wait begun at `from` is over.
    fn not_after(&mut self, of: &'a Compiled<'a>, wait: Wait, from: Shifted, to: Shifted, condition: Lit) {
        let (a, b) = (self.starts[from.index], self.starts[to.index]);
        match wait {
            Wait::Minutes(minutes) => {
                self.engine.arc(
                    b,
                    a,
                    narrow(-(from.by + minutes - to.by).div_euclid(self.grid)),
                    condition,
                );
            }
            Wait::Progress { .. } => {
                // The same said of `from`: it is not before the earliest beginning that is over late enough.
                let wait = self.clocked(of, wait, from, to, Way::Latest);
                self.engine.step_arc(b, a, Box::new(wait), condition);
            }
        }
    }

    fn clocked(&self, of: &'a Compiled<'a>, wait: Wait, from: Shifted, to: Shifted, way: Way) -> Clocked<'a> {
        Clocked {
            of,
            wait,
            from_by: from.by + self.origin,
            to_by: to.by + self.origin,
            grid: self.grid,
            way,
        }
    }

    pub(super) fn lag(&mut self, of: &'a Compiled<'a>, lag: &Lag) {
        if self.is_out(lag.from.0) || self.is_out(lag.to.0) {
            return;
        }
        let (from, to) = (&of.problem.activities[lag.from.0], &of.problem.activities[lag.to.0]);
        let splits = |activity: &Activity| activity.breaks == Breaks::Split && activity.hands > 0;
        let shift = |point: Point, activity: &Activity| if point == Point::End { activity.duration } else { 0 };
        let from_stretches = lag.from_point == Point::End && splits(from);
        let to_stretches = lag.to_point == Point::End && splits(to);
        self.is_exact &= !from_stretches && !to_stretches;
        let from = Shifted {
            index: lag.from.0,
            by: shift(lag.from_point, from),
        };
        let to = Shifted {
            index: lag.to.0,
            by: shift(lag.to_point, to),
        };
        // A split activity ends later than its minutes say: that only helps a shortest wait to its end.
        if !to_stretches {
            self.not_before(of, lag.min, from, to, ALWAYS);
        }
        if let (Some(max), false) = (lag.max, from_stretches) {
            self.not_after(of, max, from, to, ALWAYS);
        }
        if let (Some((within, again)), false) = (lag.closed, from_stretches || to_stretches) {
            let soon = self.engine.question();
            self.not_after(of, within, from, to, soon);
            self.not_before(of, again, from, to, soon.not());
        }
    }

    /// Each pair of dust and coat in a room has one of two orders.
    pub(super) fn rooms(&mut self, of: &'a Compiled<'a>) -> Option<()> {
        let n = of.problem.activities.len();
        let mut pairs = 0;
        for coat in 0..n {
            let Some((room, Effect::Coat { wet })) = of.room_of[coat].filter(|_| !self.is_out(coat)) else {
                continue;
            };
            for dust in 0..n {
                if of.room_of[dust] != Some((room, Effect::Dust)) || self.is_out(dust) {
                    continue;
                }
                pairs += 1;
                if pairs > MOST_PAIRS {
                    return None;
                }
                let coat_first = self.engine.question();
                let ends = Shifted {
                    index: coat,
                    by: of.problem.activities[coat].duration,
                };
                self.not_before(of, wet, ends, Shifted { index: dust, by: 0 }, coat_first);
                let over = Shifted {
                    index: dust,
                    by: of.problem.activities[dust].duration,
                };
                self.not_before(
                    of,
                    Wait::Minutes(0),
                    over,
                    Shifted { index: coat, by: 0 },
                    coat_first.not(),
                );
            }
        }
        Some(())
    }
}
