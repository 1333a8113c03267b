//! Cautions and what was taken for granted.

use super::lines::Page;
use crate::plan::{Caution, Level, Plan};

/// Sets what must be met before anything else is read.
pub(crate) fn stops(page: &mut Page, plan: &Plan) {
    let stops: Vec<&Caution> = plan
        .cautions
        .iter()
        .filter(|caution| caution.level == Level::Stop)
        .collect();
    if stops.is_empty() {
        return;
    }
    page.heading("BEFORE ANY WORK", "");
    for caution in stops {
        page.hanging("  ! ", &format!("{} ({})", caution.text, caution.pieces.join(", ")));
    }
}

/// Sets every caution, the gravest first, and the assumptions.
pub(crate) fn write(page: &mut Page, plan: &Plan) {
    if !plan.cautions.is_empty() {
        page.heading("CAUTIONS", "labels, safety data sheets and local rules come first");
        for caution in &plan.cautions {
            let mark = match caution.level {
                Level::Stop => "stop",
                Level::Warn => "warn",
                Level::Note => "note",
            };
            page.hanging(
                &format!("  {mark}  "),
                &format!(
                    "{}: {} [{}; {}]",
                    caution.id,
                    caution.text,
                    caution.pieces.join(", "),
                    caution.source
                ),
            );
        }
    }
    if !plan.assumed.is_empty() {
        page.heading("TAKEN FOR GRANTED", "");
        for assumed in &plan.assumed {
            page.hanging("  – ", assumed);
        }
    }
}
