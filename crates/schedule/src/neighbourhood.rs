//! What may move while everything else stays: the neighbourhoods of a plan.
//!
//! Of plain projects stretches of time, of all others parts of several shapes, which let go of what has to end sooner.
//! Their size follows what happens: refuted quickly, larger; out of patience, smaller.

mod aims;
mod parts;
mod stretch;

use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::learn::{Lit, Status};
use crate::model::Minute;
use crate::number::small;
use crate::strands::Strands;

/// A neighbourhood as assumptions that fix all the rest, and how many activities are free.
#[derive(Debug)]
pub(crate) struct Near {
    pub(crate) fixed: Vec<Lit>,
    pub(crate) free: u64,
}

/// Chooses neighbourhoods of a size that suits.
#[derive(Debug)]
pub(crate) struct Neighbourhood {
    /// Activities free to move, about, for each shape.
    sizes: [f64; SHAPES],
    shape: usize,
    /// No shape grows beyond this.
    largest: f64,
    strands: Strands,
    plain: bool,
    /// For a short search, which should gain soon or not at all.
    short: bool,
}

/// Shapes of neighbourhoods.
const SHAPES: usize = 5;

impl Neighbourhood {
    pub(crate) fn new(of: &Compiled<'_>) -> Self {
        Self {
            sizes: [25.0; SHAPES],
            shape: 0,
            largest: f64::from(small(of.problem.activities.len())),
            strands: Strands::new(of),
            plain: of.problem.activities.iter().all(|a| a.hands == 0 && a.pin.is_none()),
            short: false,
        }
    }

    /// The same for a short search: stretches where more is left free are rather chosen.
    pub(crate) fn short(self) -> Self {
        Self { short: true, ..self }
    }

    pub(crate) const fn is_short(&self) -> bool {
        self.short
    }

    fn size(&self) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 5 and the number of activities"
        )]
        let size = self.sizes[self.shape] as usize;
        size
    }

    /// Grows or shrinks by what came of the last.
    pub(crate) fn learn(&mut self, status: Status) {
        let growth = if self.plain { 1.02 } else { 1.03 };
        let size = &mut self.sizes[self.shape];
        match status {
            Status::NotSo | Status::Never => *size = (*size * growth).min(self.largest),
            Status::Limit => *size = (*size * 0.95).max(5.0),
            Status::Found => {}
        }
    }
}

/// Activities by their start.
fn by_start(draft: &Draft) -> Vec<(Minute, usize)> {
    let starts = draft.places.iter().map(|place| place.map_or(0, |p| p.start));
    let mut by_start: Vec<(Minute, usize)> = starts.zip(0..).collect();
    by_start.sort_unstable();
    by_start
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Activity, Problem};

    #[test]
    fn what_is_refuted_quickly_grows_and_what_runs_out_of_patience_shrinks_to_five_and_no_further() {
        let mut problem = Problem {
            horizon: 10_000,
            ..Problem::default()
        };
        for _ in 0..60 {
            problem.add(Activity::unattended("", 10));
        }
        let of = Compiled::new(&problem);
        let mut near = Neighbourhood::new(&of);
        // 25 × 1.02^29 is 44.4; none is larger than everything.
        for _ in 0..29 {
            near.learn(Status::NotSo);
        }
        assert_eq!(near.size(), 44);
        for _ in 0..100 {
            near.learn(Status::NotSo);
        }
        assert_eq!(near.size(), 60);
        for _ in 0..100 {
            near.learn(Status::Limit);
        }
        assert_eq!(near.size(), 5);
        // Work of hands: 25 × 1.03^29 is 58.9.
        problem.activities[0].hands = 1;
        let of = Compiled::new(&problem);
        let mut near = Neighbourhood::new(&of);
        (0..29).for_each(|_| near.learn(Status::NotSo));
        assert_eq!(near.size(), 58);
    }
}
