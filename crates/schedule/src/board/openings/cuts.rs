//! What cuts starts away: hands at work, the room, resources and closed stretches of waits.

use super::{Board, Opening, Waits};
use crate::model::{Effect, Minute, Point, Span, Wait};

/// Stretches of starts that are not allowed, each as the last start before and the first after it; both ascend.
#[derive(Debug)]
pub(super) struct Cuts(Vec<(Minute, Minute)>);

impl Cuts {
    /// Room for about what the days that are looked at hold, lest it grow piece by piece.
    pub(super) fn none() -> Self {
        Self(Vec::with_capacity(64))
    }

    /// Cuts out the starts between the two, which are both still allowed.
    fn cut(&mut self, after: Minute, before: Minute) {
        if after < before - 1 {
            self.0.push((after, before));
        }
    }

    /// Puts cuts from several sources in order; those that leave nothing between them are one.
    fn settle(&mut self) {
        self.0.sort_unstable();
        self.0.dedup_by(|next, kept| {
            let touches = next.0 < kept.1;
            if touches {
                kept.1 = kept.1.max(next.1);
            }
            touches
        });
    }
}

/// Adds what two lists of cuts leave of an opening. `at` says how far the lists are done with; it moves up with openings that
/// ascend.
pub(super) fn leave(whole: Opening, cuts: [&Cuts; 2], at: &mut [usize; 2], found: &mut Vec<Opening>) {
    let Opening { mut from, to, .. } = whole;
    while from <= to {
        let (here, mut last) = (from, to);
        for (Cuts(cuts), at) in cuts.iter().zip(&mut *at) {
            while cuts.get(*at).is_some_and(|&(_, before)| before <= from) {
                *at += 1;
            }
            match cuts.get(*at) {
                Some(&(after, before)) if after < from => from = before,
                Some(&(after, _)) => last = last.min(after),
                None => {}
            }
        }
        if from == here {
            found.push(Opening {
                from,
                to: last,
                ..whole
            });
            from = last + 1;
        }
    }
}

impl Board<'_> {
    /// What room, resources and closed stretches cut out of the starts of work of a length.
    pub(super) fn common_cuts(&self, index: usize, starts: Span, length: Minute, waits: &Waits) -> Cuts {
        let mut cuts = Cuts::none();
        self.cut_room(index, starts, length, &mut cuts);
        let uses = &self.of.problem.activities[index].uses;
        for used in uses {
            let short = self.free[used.resource.0].short(starts.from, starts.to + length, i64::from(used.amount));
            for stretch in short {
                cuts.cut(stretch.from - length, stretch.to);
            }
        }
        for &(point, after, before) in &waits.closed {
            let shift = match point {
                Point::Start => 0,
                Point::End => length,
            };
            cuts.cut(after - shift, before - shift);
        }
        if !uses.is_empty() || !waits.closed.is_empty() {
            cuts.settle();
        }
        cuts
    }

    /// What the hands of a team have to do.
    pub(super) fn hand_cuts(&self, index: usize, team: usize, starts: Span, length: Minute, by_hand: bool) -> Cuts {
        let mut cuts = Cuts::none();
        let hands = &self.of.teams[team].hands;
        if !by_hand || length == 0 {
            return cuts;
        }
        let clean_up = self.of.longest_clean_up;
        for &hand in hands {
            // Taken stretches of one hand do not overlap: the first that begins before all that is asked is the last.
            let reach = starts.to + length + clean_up;
            // From the last start before what is taken to the first after it; stretches that leave no room between are one.
            let mut shut: Option<(Minute, Minute)> = None;
            for &(span, other) in self.hands[hand].before(reach) {
                let last = span.from - self.clean_up(index, other) - length;
                let next = span.to + self.clean_up(other, index);
                shut = match shut {
                    Some((before, after)) if next > before => Some((last.min(before), after.max(next))),
                    other => {
                        if let Some((before, after)) = other {
                            cuts.cut(before, after);
                        }
                        Some((last, next))
                    }
                };
                if span.to + clean_up <= starts.from {
                    break;
                }
            }
            if let Some((before, after)) = shut {
                cuts.cut(before, after);
            }
        }
        match hands.len() {
            1 => cuts.0.reverse(),
            _ => cuts.settle(),
        }
        cuts
    }

    fn cut_room(&self, index: usize, starts: Span, length: Minute, cuts: &mut Cuts) {
        let Some((room, effect)) = self.of.room_of[index] else {
            return;
        };
        let room = &self.rooms[room];
        let others = match effect {
            Effect::Dust => &room.coats,
            Effect::Coat { .. } => &room.dusts,
        };
        let wet = match effect {
            Effect::Dust => Wait::Minutes(0),
            Effect::Coat { wet } => wet,
        };
        let reach = self.of.over(wet, starts.to + length);
        let near = others
            .before(reach)
            .take_while(|(span, _)| span.from + room.longest > starts.from);
        // What lies so close together that nothing fits between is cut out in one piece.
        let needed = length + self.of.shortest(wet);
        let mut shut: Option<Span> = None;
        // Over and done with by the time the others begin, or begun after they are over.
        let mut leave_out = |shut: Span| cuts.cut(self.of.latest_begin(wet, shut.from) - length, shut.to);
        for &(span, _) in near {
            shut = match shut {
                Some(shut) if span.to + needed > shut.from => Some(Span::new(span.from, shut.to.max(span.to))),
                other => {
                    other.into_iter().for_each(&mut leave_out);
                    Some(span)
                }
            };
        }
        shut.into_iter().for_each(leave_out);
        cuts.0.reverse();
    }
}
