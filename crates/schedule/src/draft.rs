//! A schedule in the making: where each activity stands, and what has found no place yet.

use crate::compiled::Compiled;
use crate::model::{Breaks, HandId, Minute, Placement, Plan, Point, Span};

/// Where an activity stands; `team` is none where it takes nobody.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Place {
    pub(crate) start: Minute,
    pub(crate) end: Minute,
    pub(crate) team: Option<usize>,
}

impl Place {
    /// The minute of one of its ends.
    pub(crate) fn at(self, point: Point) -> Minute {
        match point {
            Point::Start => self.start,
            Point::End => self.end,
        }
    }
}

/// What came of one generation.
#[derive(Debug, Clone)]
pub(crate) struct Draft {
    pub(crate) places: Vec<Option<Place>>,
    /// Activities that found no place.
    pub(crate) missing: usize,
}

impl Draft {
    /// The plan, with who does what and in which stretches. Only for a draft in which nothing is missing.
    pub(crate) fn plan(&self, of: &Compiled<'_>) -> Plan {
        let placements = self.places.iter().enumerate().map(|(index, place)| {
            let Some(place) = place else {
                return Placement::default();
            };
            let activity = &of.problem.activities[index];
            let whole = vec![Span::new(place.start, place.end)];
            let Some(team) = place.team.map(|team| &of.teams[team]) else {
                return Placement {
                    start: place.start,
                    end: place.end,
                    hands: Vec::new(),
                    segments: whole,
                };
            };
            let split = activity.breaks == Breaks::Split && place.end - place.start != activity.duration;
            let segments = if split {
                team.calendar.stretches(place.start, activity.duration).unwrap_or(whole)
            } else {
                whole
            };
            let hands = team.hands.iter().map(|&hand| HandId(hand)).collect();
            Placement {
                start: place.start,
                end: place.end,
                hands,
                segments,
            }
        });
        Plan {
            placements: placements.collect(),
        }
    }
}
