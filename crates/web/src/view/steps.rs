//! The steps of a zone: what, with what, how much, when, and why, with the cautions where the step is.

use std::collections::BTreeSet;

use maud::{Markup, html};
use quantity::UnitSystem;
use shop::plan::{Because, Plan, PlannedStep, Progress};

use crate::pages::rule;
use crate::view::{cautions, show};

/// A list of steps in order.
pub(crate) fn list(plan: &Plan, steps: &[PlannedStep]) -> Markup {
    let mut said = BTreeSet::new();
    html! {
        ol.steps {
            @for step in steps { (line(plan, step, &mut said)) }
        }
    }
}

fn line<'p>(plan: &'p Plan, step: &PlannedStep, said: &mut BTreeSet<&'p str>) -> Markup {
    let units = plan.shop.unit_system;
    html! {
        li id=(step.id) class=[(step.progress == Progress::Done).then_some("done")] {
            div {
                p.what {
                    (show::capital(&step.words))
                    @match step.progress {
                        Progress::Done => { span.soft { " · done" } }
                        Progress::Begun => { span.soft { " · begun" } }
                        Progress::Planned => {}
                    }
                }
                p.facts-line {
                    (show::moment(&step.starts)) " · " (show::minutes(step.hands_on_min)) " of work"
                    @if let Some(quantity) = quantity(step, units) { " · " span.figure { (quantity) } }
                    @if let Some(mixing) = step.mixing(units) { " · " (mixing) }
                    @if let Some(wait) = wait_words(step) { " · then " (wait) }
                }
                @if let Some(used) = step.uses_up(units) { p.facts-line { "uses up " (used) } }
                div.folds {
                    (cautions::at_step(plan, &step.cautions, said))
                    (because(&step.because))
                }
            }
        }
    }
}

/// How much of its material a step takes, from the least to the most.
pub(crate) fn quantity(step: &PlannedStep, units: UnitSystem) -> Option<String> {
    step.takes(units)
}

/// The wait after a step in words.
pub(crate) fn wait_words(step: &PlannedStep) -> Option<String> {
    let wait = step.wait.as_ref()?;
    let kind = match wait.kind.as_str() {
        "dwell" => "let it work",
        "set" => "let it set",
        "dry" => "let it dry",
        "recoat" => "next coat after",
        "cure" => "let it cure",
        other => other,
    };
    let length = step.wait_ends.as_ref().map_or(wait.min_min, |end| {
        show::between(step.ends.timestamp(), end.timestamp())
    });
    let latest = wait
        .max_min
        .map(|most| format!(", at the latest after {}", show::minutes(most)))
        .unwrap_or_default();
    Some(format!("{kind} {}{latest}", show::minutes(length)))
}

/// Why a step is there, folded up.
pub(crate) fn because(reasons: &[Because]) -> Markup {
    html! {
        @if !reasons.is_empty() {
            details.because {
                summary { "Because" }
                ul {
                    @for reason in reasons {
                        li {
                            (reason.text)
                            " " span.source { (cautions::source_line(&reason.source)) " · " (rule::link(&reason.rule)) }
                        }
                    }
                }
            }
        }
    }
}
