//! What the log says of each step, on the plan's own clock.

use std::collections::BTreeMap;

use super::calendar::PlanClock;
use super::output::Progress;
use crate::model::{Mark, MarkKind};

/// What was said of one step; the last word of each kind counts.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Said {
    /// When hands began.
    pub(crate) begun: Option<i64>,
    /// When hands ended.
    pub(crate) done: Option<i64>,
    /// It is not dry before this minute.
    pub(crate) tacky_until: Option<i64>,
    /// Minutes of work more than planned.
    pub(crate) more_min: u32,
    /// It is to begin at this minute.
    pub(crate) pinned: Option<i64>,
    /// How much of its material it took, mL.
    pub(crate) took_ml: Option<f64>,
}

impl Said {
    /// How far the step is.
    pub(crate) fn progress(self) -> Progress {
        match (self.begun, self.done) {
            (_, Some(_)) => Progress::Done,
            (Some(_), None) => Progress::Begun,
            (None, None) => Progress::Planned,
        }
    }
}

/// The log by step.
#[derive(Debug, Clone, Default)]
pub(crate) struct BenchLog {
    steps: BTreeMap<String, Said>,
}

impl BenchLog {
    /// Reads the log in the order it was written.
    pub(crate) fn read(marks: &[Mark], clock: &PlanClock) -> Self {
        let mut steps: BTreeMap<String, Said> = BTreeMap::new();
        for mark in marks {
            let said = steps.entry(mark.step.clone()).or_default();
            let at = clock.minute_of(mark.at);
            match mark.what {
                MarkKind::Begun => said.begun = Some(at),
                MarkKind::Done => said.done = Some(at.max(said.begun.unwrap_or(at))),
                MarkKind::StillTacky { more_min } => said.tacky_until = Some(at + i64::from(more_min)),
                MarkKind::RanLate { more_min } => said.more_min = said.more_min.saturating_add(more_min),
                MarkKind::Pinned { to } => said.pinned = Some(clock.minute_from(to)),
                MarkKind::Unpinned => said.pinned = None,
                MarkKind::Took { took_ml } => said.took_ml = Some(took_ml),
                MarkKind::Undone => {
                    *said = Said {
                        pinned: said.pinned,
                        ..Said::default()
                    }
                }
            }
        }
        BenchLog { steps }
    }

    /// What was said of a step; nothing by default.
    pub(crate) fn of(&self, step_id: &str) -> Said {
        self.steps.get(step_id).copied().unwrap_or_default()
    }

    /// The earliest minute that anything was begun or done at, no later than 0.
    pub(crate) fn earliest(&self) -> i64 {
        self.steps
            .values()
            .flat_map(|said| [said.begun, said.done])
            .flatten()
            .min()
            .unwrap_or(0)
            .min(0)
    }
}
