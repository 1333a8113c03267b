//! Why each step is there: leave it out, and see which rule objects.
//!
//! The reason is not written beside the step but found: the schedule is run through the rules without it, and what they say then
//! and did not say before is what the step was for. A step whose absence nobody notices has no reason and does not belong.

use trade::Operation;

use crate::act::Act;
use crate::bench::Bench;
use crate::effect::apply;
use crate::object::{at_end, object};
use crate::rule::{Hits, RuleId};
use crate::step::Reason;
use crate::surface::Surface;

/// Every rule that objects somewhere in the run of `acts`, the end included.
pub(crate) fn all_hits<'x>(acts: impl Iterator<Item = &'x Act>, bench: &Bench<'_>) -> Hits {
    let mut surface = Surface::found(bench);
    let mut hits = Hits::default();
    for act in acts {
        hits = hits.union(object(&surface, act, bench));
        surface = apply(&surface, act, act.hands_on_min, bench);
    }
    hits.union(at_end(&surface, bench))
}

/// The rules that object when the act at `idx` is left out and did not object before.
pub(crate) fn without(idx: usize, acts: &[Act], base: Hits, bench: &Bench<'_>) -> Hits {
    let rest = acts.iter().enumerate().filter(|(at, _)| *at != idx).map(|(_, act)| act);
    let new = all_hits(rest, bench).without(base);
    // A patch test is only a note, but sparing it is reason enough for a barrier.
    let mut reasons = new.serious();
    reasons.add_if(new.has(RuleId::TryAPatchFirst), RuleId::TryAPatchFirst);
    reasons
}

/// The reasons of each act of a run, the most telling first.
pub(crate) fn reasons(acts: &[Act], bench: &Bench<'_>) -> Vec<Vec<Reason>> {
    let base = all_hits(acts.iter(), bench);
    let of_act = |(idx, act): (usize, &Act)| {
        let mut rules: Vec<RuleId> = without(idx, acts, base, bench).iter().collect();
        rules.sort_by_key(|rule| remoteness(act.op, *rule));
        rules.into_iter().map(reason).collect()
    };
    acts.iter().enumerate().map(of_act).collect()
}

/// How far a reason lies from what the step is for: what the step is done for comes before what it happens to save.
fn remoteness(op: Operation, rule: RuleId) -> u8 {
    match rule {
        RuleId::OldFinishLeft | RuleId::SoftenedFinishLeft if op.is_stripping() => 0,
        RuleId::FlakingUnderCoat | RuleId::CannotSoakIn | RuleId::NeverOver | RuleId::FilmTooThick
            if op.is_stripping() =>
        {
            1
        }
        RuleId::GreaseUnderCoat | RuleId::WaxUnderCoat | RuleId::NicotineUnderCoat if op.is_stripping() => 4,
        RuleId::SandingOverGrease | RuleId::SandingOverResidue => 5,
        RuleId::LastCoatDulled => 6,
        _ => 3,
    }
}

fn reason(rule: RuleId) -> Reason {
    let words = rule.rule();
    Reason {
        rule: rule.id().to_owned(),
        text: words.why.clone(),
        source: words.source.clone(),
    }
}
