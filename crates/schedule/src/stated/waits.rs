//! Waits between two activities, and the order of dust and wet coats in a room.

use super::clocked::{Clocked, Shifted, Way};
use super::order::Order;
use super::{MOST_PAIRS, Stated, narrow, up};
use crate::compiled::Compiled;
use crate::learn::{ALWAYS, Lit};
use crate::model::{Activity, Breaks, Effect, Minute, Point, Wait};

impl<'a> Stated<'a> {
    /// `to` is not before the wait begun at `from` is over.
    fn not_before(&mut self, of: &'a Compiled<'a>, wait: Wait, from: Shifted, to: Shifted, condition: Lit) {
        let (a, b) = (self.starts[from.index], self.starts[to.index]);
        match wait {
            Wait::Minutes(minutes) => {
                let weight = narrow(up(from.by + minutes - to.by, self.grid));
                self.engine.arc(a, b, weight, condition);
                if condition == ALWAYS {
                    self.orders.wait(from.index, to.index, weight);
                }
            }
            Wait::Progress { .. } => {
                let wait = self.clocked(of, wait, from, to, Way::Earliest);
                self.engine.step_arc(a, b, Box::new(wait), condition);
                if condition == ALWAYS {
                    // However warm it is, a wait is never over before it began.
                    self.orders
                        .wait(from.index, to.index, narrow((from.by - to.by).div_euclid(self.grid)));
                }
            }
        }
    }

    /// `to` is not after the wait begun at `from` is over.
    fn not_after(&mut self, of: &'a Compiled<'a>, wait: Wait, from: Shifted, to: Shifted, condition: Lit) {
        let (a, b) = (self.starts[from.index], self.starts[to.index]);
        match wait {
            Wait::Minutes(minutes) => {
                let weight = narrow(-(from.by + minutes - to.by).div_euclid(self.grid));
                self.engine.arc(b, a, weight, condition);
                if condition == ALWAYS {
                    self.orders.wait(to.index, from.index, weight);
                }
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

    pub(super) fn lag(&mut self, of: &'a Compiled<'a>, index: usize) {
        let lag = &of.problem.lags[index];
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
            self.soon.push((index, soon));
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
                self.coat_and_dust(of, coat, dust, wet);
            }
        }
        Some(())
    }

    /// Either the dust comes once the coat is dry, or the coat once the dust is over.
    fn coat_and_dust(&mut self, of: &'a Compiled<'a>, coat: usize, dust: usize, wet: Wait) {
        let at = |index: usize, by: Minute| Shifted { index, by };
        let length = |index: usize| of.problem.activities[index].duration;
        let units = |index: usize| self.length(&of.problem.activities[index]);
        let order = self.orders.order((coat, units(coat)), (dust, units(dust)));
        let coat_first = match order {
            Order::First => Some(ALWAYS),
            Order::Second => None,
            Order::Open => {
                let lit = self.engine.question();
                self.orders.keep(coat, dust, lit);
                Some(lit)
            }
        };
        if let Some(condition) = coat_first {
            self.not_before(of, wet, at(coat, length(coat)), at(dust, 0), condition);
        }
        let dust_first = coat_first.map_or(ALWAYS, Lit::not);
        if coat_first != Some(ALWAYS) {
            self.not_before(of, Wait::Minutes(0), at(dust, length(dust)), at(coat, 0), dust_first);
        }
    }
}
