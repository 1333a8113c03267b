//! Discs and sheets, grit by grit.

use quantity::Range;
use trade::Grit;
use trade::abrasives::{SandingRow, SandingTool};

use super::Share;

/// What one grit of a sanding step needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AbrasiveNeed {
    /// The grit.
    pub grit: Grit,
    /// What holds it.
    pub tool: SandingTool,
    /// Discs or sheets worn out, shares of one counted: what to add up over several zones.
    pub worn: Range<f64>,
    /// Whole discs or sheets to have at hand for this step alone.
    pub pieces: Range<u32>,
}

/// The discs or sheets that a sanding step takes on these shares, for each of its grits.
///
/// Each grit goes over the whole area; worked surfaces count with the allowance for their detail. A started disc counts
/// whole. Nothing to sand needs nothing.
#[must_use]
pub fn abrasives(shares: &[Share], step: &SandingRow) -> Vec<AbrasiveNeed> {
    step.grits
        .iter()
        .filter_map(|&grit| abrasive(shares, grit, step))
        .collect()
}

/// The discs or sheets of one grit that a pass over these shares takes, as long-lived as the step's row says; `None` for
/// nothing to sand.
#[must_use]
pub fn abrasive(shares: &[Share], grit: Grit, step: &SandingRow) -> Option<AbrasiveNeed> {
    let area: f64 = shares
        .iter()
        .map(|share| share.area.m2().max(0.0) * (1.0 + share.detail.row().area_allowance_pct / 100.0))
        .sum();
    if area <= 0.0 || !area.is_finite() {
        return None;
    }
    let life = step.sheet_life_m2;
    let worn = Range::new(area / life.high, area / life.typical, area / life.low);
    Some(AbrasiveNeed {
        grit,
        tool: step.tool,
        worn,
        pieces: worn.map(whole),
    })
}

/// Rounded up, at least one.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a positive number of discs; a float cast saturates"
)]
fn whole(pieces: f64) -> u32 {
    (pieces - 1e-9).ceil().max(1.0) as u32
}

/// By how much the grain of one grit is larger than that of the next: how hard it is to take its scratch out.
///
/// # Source
/// `fepa-43-1`.
///
/// ```
/// use trade::Grit;
/// assert!((takeoff::quantities::grain_ratio(Grit::P120, Grit::P180) - 1.52).abs() < 0.01);
/// ```
#[must_use]
pub fn grain_ratio(coarser: Grit, finer: Grit) -> f64 {
    coarser.row().particle_um / finer.row().particle_um
}
