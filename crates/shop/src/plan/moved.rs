//! What a change did to the plan: how many steps stand elsewhere, and which pieces are ready at another time.

use std::fmt;

use jiff::ZonedDateTime;

use super::output::{Plan, Progress};
use super::solve::PreviousStarts;

/// How many pieces are told of by name.
const MOST_TOLD: usize = 3;

/// The difference between a plan and the one before it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Moved {
    /// Open steps that now begin at another time.
    pub steps: usize,
    /// Open steps that were in both plans.
    pub of: usize,
    /// Open steps that were in no plan before.
    pub new: usize,
    /// Pieces that are ready at another time than before, those that are late in front.
    pub ready: Vec<ReadyMoved>,
}

/// A piece that is ready at another time.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadyMoved {
    /// Its name.
    pub piece: String,
    /// When it is ready now.
    pub now: ZonedDateTime,
    /// Hours by which that is after the day it is wanted; 0 for in time.
    pub late_h: f64,
}

impl Moved {
    /// What differs from the plan before.
    pub fn between(before: &PreviousStarts, plan: &Plan) -> Self {
        let mut moved = Moved::default();
        for (_, _, step) in plan.steps().filter(|(_, _, step)| step.progress == Progress::Planned) {
            match before.steps.get(&step.id) {
                Some((from, _)) => {
                    moved.of += 1;
                    moved.steps += usize::from(*from != step.starts.timestamp());
                }
                None => moved.new += 1,
            }
        }
        for piece in &plan.pieces {
            let was = before.ready.get(&piece.id);
            if was.is_some_and(|was| *was != piece.ready.timestamp()) {
                let late = plan.schedule.late.iter().find(|late| late.piece == piece.name);
                moved.ready.push(ReadyMoved {
                    piece: piece.name.clone(),
                    now: piece.ready.clone(),
                    late_h: late.map_or(0.0, |late| late.by_h),
                });
            }
        }
        moved.ready.sort_by(|a, b| b.late_h.total_cmp(&a.late_h));
        moved
    }
}

impl fmt::Display for Moved {
    /// `2 of 31 steps moved; nightstand is now ready Fri 12 Mar 14:00.`
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.steps, self.of) {
            (0, _) => f.write_str("No step moved")?,
            (moved, of) => write!(f, "{moved} of {of} steps moved")?,
        }
        if self.new > 0 {
            write!(f, ", {} new", self.new)?;
        }
        for piece in self.ready.iter().take(MOST_TOLD) {
            write!(
                f,
                "; {} is now ready {}",
                piece.piece,
                piece.now.strftime("%a %-d %b %-H:%M")
            )?;
            if piece.late_h > 0.0 {
                write!(f, ", {:.0} h after the day it is wanted", piece.late_h.max(1.0))?;
            }
        }
        match self.ready.len().saturating_sub(MOST_TOLD) {
            0 => {}
            more => write!(f, "; {more} more at another time")?,
        }
        f.write_str(".")
    }
}
