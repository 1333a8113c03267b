//! What waits to placed activities allow of an activity's two ends.

use super::Board;
use crate::model::{Minute, Point, Span};

/// For each end the least and the most, and stretches (ends excluded) that are closed.
#[derive(Debug)]
pub(super) struct Waits {
    pub(super) start: (Minute, Minute),
    end: (Minute, Minute),
    /// `(point, after, before)`
    pub(super) closed: Vec<(Point, Minute, Minute)>,
}

impl Waits {
    /// Those of the starts that are allowed for work of a length.
    pub(super) fn starts(&self, starts: Span, length: Minute) -> Span {
        let (least, most) = (
            self.start.0.max(self.end.0 - length),
            self.start.1.min(self.end.1 - length),
        );
        Span::new(starts.from.max(least), starts.to.min(most))
    }

    fn allow(&mut self, point: Point, least: Minute, most: Minute) {
        let range = match point {
            Point::Start => &mut self.start,
            Point::End => &mut self.end,
        };
        *range = (range.0.max(least), range.1.min(most));
    }
}

impl Board<'_> {
    /// What the waits to placed activities leave.
    pub(super) fn waits(&self, index: usize) -> Waits {
        let of = self.of;
        let any = (Minute::MIN / 4, Minute::MAX / 4);
        let mut waits = Waits {
            start: any,
            end: any,
            closed: Vec::new(),
        };
        for &lag in &of.lags_of[index] {
            let lag = &of.problem.lags[lag];
            if lag.to.0 == index {
                let Some(other) = self.places[lag.from.0] else {
                    continue;
                };
                let begun = other.at(lag.from_point);
                let most = lag.max.map_or(any.1, |max| of.over(max, begun));
                waits.allow(lag.to_point, of.over(lag.min, begun), most);
                if let Some((within, again)) = lag.closed {
                    let (last, first) = (of.over(within, begun), of.over(again, begun));
                    waits.closed.push((lag.to_point, last, first));
                }
            } else {
                let Some(other) = self.places[lag.to.0] else {
                    continue;
                };
                let theirs = other.at(lag.to_point);
                let least = lag.max.map_or(any.0, |max| of.earliest_begin(max, theirs));
                waits.allow(lag.from_point, least, of.latest_begin(lag.min, theirs));
                if let Some((within, again)) = lag.closed {
                    let (last, first) = (of.latest_begin(again, theirs), of.earliest_begin(within, theirs));
                    waits.closed.push((lag.from_point, last, first));
                }
            }
        }
        waits
    }
}
