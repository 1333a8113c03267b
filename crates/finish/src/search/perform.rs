//! Doing one act: the surface after it and after the wait it needs, and what it took.

use trade::{Operation, PrepClass};

use crate::act::Act;
use crate::bench::Bench;
use crate::effect::apply;
use crate::effort::{Effort, effort};
use crate::search::Spent;
use crate::step::WaitKind;
use crate::surface::{Residue, Surface};

/// Does an act: the surface after it and after the wait it needs, the act with its minutes and wait, and what it took.
pub(crate) fn perform(before: &Surface, act: Act, bench: &Bench<'_>) -> (Surface, Act, Spent) {
    let taken = effort(&act, before, bench);
    let worked = apply(before, &act, taken.hands_on_min, bench);
    let (wait_kind, wait_min) = wait_after(&act, &worked, bench);
    let mut after = worked;
    after.pass(wait_min);
    let mut done = act;
    done.hands_on_min = taken.hands_on_min;
    done.wait_kind = wait_kind;
    done.wait_min = wait_min;
    (after, done, spent_on(&taken, wait_min, bench))
}

/// An effort and the wait after it in the measures of the search.
pub(super) fn spent_on(taken: &Effort, wait_min: u32, bench: &Bench<'_>) -> Spent {
    let materials = thousandths(taken.materials_minor);
    let labour = thousandths(taken.exact_min * bench.limits.labour_minor_per_min);
    Spent {
        elapsed_min: taken.hands_on_min + wait_min,
        hands_on_min: taken.hands_on_min,
        cost: materials + labour,
        materials,
        exposure: thousandths(taken.exposure),
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the range of the type"
)]
fn thousandths(value: f64) -> u64 {
    (value * 1000.0).round().clamp(0.0, 1e15) as u64
}

/// The wait that what was just done needs before anything else is sensible.
fn wait_after(act: &Act, worked: &Surface, bench: &Bench<'_>) -> (WaitKind, u32) {
    if let Some(class) = act
        .prep_class()
        .filter(|_| matches!(act.op, Operation::StripChemical | Operation::Bleach))
    {
        return (WaitKind::Dwell, dwell_min(class));
    }
    if worked.residue == Residue::Cleaner && act.op == Operation::Clean {
        return (WaitKind::Dwell, act.prep_class().map_or(0, dwell_min));
    }
    if worked.softened > 0 || worked.residue != Residue::None {
        return (WaitKind::Dwell, 0);
    }
    if act.is_full_coat() {
        let recoat_min = act.finish().map_or(0, |class| bench.figures(class).recoat_min);
        return (WaitKind::Recoat, recoat_min);
    }
    let left = |clock: crate::surface::Clock| clock.need_min.saturating_sub(clock.age_min);
    let (drying, setting) = (left(worked.drying), left(worked.setting));
    let kind = if setting > drying { WaitKind::Set } else { WaitKind::Dry };
    (kind, drying.max(setting))
}

/// Dwell of a preparation material at the table's usual figure, minutes.
fn dwell_min(class: PrepClass) -> u32 {
    class
        .row()
        .dwell_min
        .map_or(0, |dwell| crate::effort::whole_minutes(dwell.typical))
}
