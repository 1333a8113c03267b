//! The page of a schedule by hand: where it stands, its steps with what the check says at each, what it takes.

use finish::{Finding, Severity, Step};
use maud::{Markup, html};
use shop::model::{Overruled, OwnStep};
use shop::plan::{Judged, Sum};

use super::{Seen, Wrong, step_form};
use crate::pages::piece::path_word;
use crate::pages::rule;
use crate::typed::Typed;
use crate::view::cautions::source_line;
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// The whole page; `wrong` is what could not be done of what was sent, and `typed` what was sent.
pub(super) fn page(asked: &Asked, seen: &Seen, typed: &Typed, wrong: Option<&Wrong>) -> Markup {
    let title = format!("The steps of the {} by hand", seen.zone);
    let sheet = Sheet {
        address: format!("/pieces/{}/zones/{}/steps", seen.piece.id, path_word(&seen.zone)),
        seen,
        typed,
        wrong,
    };
    let body = html! {
        p { a href={ "/pieces/" (seen.piece.id) "#zone-" (shop::model::slug(&seen.zone)) } { "← " (seen.piece.name) } }
        h1 { (title) }
        p { "Put steps in, change, move or take out: each change is kept at once as a draft. The same rules that derive a schedule say what goes wrong with yours. "
            "A warning may be overruled with a reason; a stop may not." }
        @if let Some(wrong) = wrong.filter(|wrong| wrong.at.is_empty()) { (refused(wrong)) }
        (sheet.standing())
        ol.steps.own {
            @for (place, step) in seen.own.schedule.steps.iter().enumerate() { (sheet.step(place, step)) }
        }
        (sheet.add(seen.steps.len()))
        (sheet.at_the_end())
        (sheet.idle())
    };
    shell::page(asked, &title, Here::Pieces, &body)
}

fn refused(wrong: &Wrong) -> Markup {
    let refusal = &wrong.refusal;
    html! {
        p.refusal role="alert" {
            span.sign { "Not done: " }
            @if !refusal.found.is_empty() { (refusal.found) "; " }
            (refusal.limit) "; " (refusal.right)
        }
    }
}

struct Sheet<'s> {
    address: String,
    seen: &'s Seen,
    typed: &'s Typed,
    wrong: Option<&'s Wrong>,
}

impl Sheet<'_> {
    fn wrong_at(&self, at: &str) -> Option<&Wrong> {
        self.wrong.filter(|wrong| wrong.at == at)
    }

    /// What is planned now, what is in the way of planning this, and what it takes.
    fn standing(&self) -> Markup {
        let seen = self.seen;
        let in_the_way = seen.own.judged.iter().filter(|judged| judged.is_in_the_way()).count();
        let overruled = seen.own.judged.iter().filter(|judged| judged.consent.is_some()).count();
        html! {
            section.card #findings aria-labelledby="standing" tabindex="-1" {
                h2 #standing {
                    @match in_the_way {
                        0 if overruled == 0 => "Nothing is in its way",
                        0 => { "Nothing is in its way: " (overruled) @if overruled == 1 { " warning" } @else { " warnings" } " overruled" }
                        1 => "One thing is in its way",
                        many => { (many) " things are in its way" }
                    }
                }
                p {
                    @if seen.is_own_planned { "Your own schedule is planned" } @else { "The derived schedule is planned" }
                    @if seen.is_draft { ", not yet what stands here." } @else { "; it is what stands here." }
                }
                @if in_the_way > 0 {
                    ul {
                        @for judged in seen.own.judged.iter().filter(|judged| judged.is_in_the_way()) {
                            li { (link_to(&judged.finding)) }
                        }
                    }
                }
                (self.measures())
                form.row method="post" action=(self.address) data-live {
                    @if seen.is_draft {
                        button name="act" value="plan" { "Plan it so" }
                        button.second name="act" value="forget" { "Forget these changes" }
                    }
                    @if seen.is_own_planned { button.second name="act" value="derived" { "Back to the derived one" } }
                }
            }
        }
    }

    /// The five measures beside those of what is planned now.
    fn measures(&self) -> Markup {
        let measures = &self.seen.own.schedule.measures;
        let cost = Sum::new(quantity::Money::from_minor(measures.cost_minor), self.seen.currency);
        let planned = self.seen.planned.as_ref().filter(|_| self.seen.is_draft);
        let elapsed_h = f64::from(measures.elapsed_min) / 60.0;
        let rows = [
            ("Cost", cost.show(), planned.map(|planned| planned.cost.show())),
            (
                "Hands on",
                show::minutes(measures.hands_on_min),
                planned.map(|planned| show::minutes(planned.hands_on_min)),
            ),
            (
                "Until dry",
                show::hours(elapsed_h),
                planned.map(|planned| show::hours(planned.elapsed_h)),
            ),
            (
                "Wear, of 5",
                measures.wear.to_string(),
                planned.map(|planned| format!("{:.0}", planned.wear)),
            ),
            (
                "Breathed",
                measures.exposure.to_string(),
                planned.map(|planned| format!("{:.0}", planned.exposure)),
            ),
        ];
        html! {
            table.lines {
                caption { "What it takes" }
                thead { tr { th scope="col" { "Measure" } th.number scope="col" { "By hand" } @if planned.is_some() { th.number scope="col" { "Planned now" } } } }
                tbody {
                    @for (name, ours, theirs) in &rows {
                        tr { th scope="row" { (name) } td.number { (ours) } @if let Some(theirs) = theirs { td.number { (theirs) } } }
                    }
                }
            }
        }
    }

    fn step(&self, place: usize, step: &Step) -> Markup {
        let number = place + 1;
        let own = &self.seen.steps[place];
        let found = self.seen.own.judged.iter().enumerate();
        let found = found.filter(|(_, judged)| judged.finding.step == Some(place));
        html! {
            li id={ "step-" (number) } {
                div {
                    p.what { (show::capital(&step.words())) }
                    p.facts-line {
                        (show::minutes(step.hands_on_min)) " of work"
                        @if let Some(ml) = step.quantity.as_ref().map(|quantity| quantity.ml.typical).filter(|ml| *ml > 0.0) {
                            " · " span.figure { (show::volume(ml, self.seen.units)) }
                        }
                        @if let Some(wait) = step.wait {
                            " · then " (wait_words(wait.kind)) " " (show::minutes(wait.min_min))
                            @if own.wait_min.is_some() { " (yours)" }
                            @if let Some(most) = wait.max_min { ", at the latest after " (show::minutes(most)) }
                        }
                    }
                    @for (finding, judged) in found { (self.told(finding, judged)) }
                    (self.moves(place, own))
                    div.folds {
                        (self.change(place, own))
                        (because(step))
                    }
                    @if self.adds_at(place) { (self.add(place)) }
                }
            }
        }
    }

    /// Up, down, out.
    fn moves(&self, place: usize, own: &OwnStep) -> Markup {
        let last = self.seen.steps.len().saturating_sub(1);
        let words = own.operation.label();
        let number = place + 1;
        html! {
            form.row.moves method="post" action=(self.address) data-live {
                input type="hidden" name="at" value=(place);
                input type="hidden" name="was" value=(own.operation.id());
                button.second name="act" value="up" disabled[place == 0] aria-label={ "Step " (number) ", " (words) ": up" } { "↑ Up" }
                button.second name="act" value="down" disabled[place == last] aria-label={ "Step " (number) ", " (words) ": down" } { "↓ Down" }
                button.second name="act" value="remove" aria-label={ "Step " (number) ", " (words) ": take out" } { "Take out" }
                a.button.second href={ (self.address) "?add=" (place) "#add-" (place) } aria-label={ "+ Before it: add a step before step " (number) } { "+ Before it" }
            }
        }
    }

    fn change(&self, place: usize, own: &OwnStep) -> Markup {
        let wrong = self.wrong_at(&format!("change-{place}"));
        let kept = step_form::typed_of(own);
        let typed = if wrong.is_some() { self.typed } else { &kept };
        html! {
            details open[wrong.is_some()] {
                summary { "Change it" }
                form method="post" action=(self.address) data-live {
                    @if let Some(wrong) = wrong { (refused(wrong)) }
                    input type="hidden" name="at" value=(place);
                    input type="hidden" name="was" value=(own.operation.id());
                    (step_form::fields(&format!("change-{place}"), own.operation, typed))
                    button name="act" value="change" { "Change step " (place + 1) }
                }
            }
        }
    }

    /// Whether the form for a new step stands before this one: it was asked for there, or what was sent from there was refused.
    fn adds_at(&self, place: usize) -> bool {
        let asked = self.wrong.is_none() && self.typed.text("add").parse() == Ok(place);
        asked || self.wrong_at(&format!("add-{place}")).is_some()
    }

    /// The form for a new step at this place; at the end it waits folded up.
    fn add(&self, place: usize) -> Markup {
        let wrong = self.wrong_at(&format!("add-{place}"));
        let empty = Typed::default();
        let typed = if wrong.is_some() { self.typed } else { &empty };
        let is_end = place == self.seen.steps.len();
        html! {
            details.add-step id={ "add-" (place) } open[self.adds_at(place)] {
                summary { @if is_end { "Add a step at the end" } @else { "Add a step before step " (place + 1) } }
                form method="post" action=(self.address) data-live {
                    @if let Some(wrong) = wrong { (refused(wrong)) }
                    input type="hidden" name="at" value=(place);
                    (step_form::new_fields(&format!("add-{place}"), typed))
                    button name="act" value="add" { "Add it" }
                }
            }
        }
    }

    /// A finding with what the user says to it.
    fn told(&self, finding_idx: usize, judged: &Judged) -> Markup {
        let finding = &judged.finding;
        let (class, sign) = match finding.severity {
            Severity::Stop => ("stop", "Stop: "),
            Severity::Warn if judged.consent.is_some() => ("note", "Overruled: "),
            Severity::Warn => ("warn", "Warning: "),
            Severity::Note => ("note", "Note: "),
        };
        let message =
            finish::RuleId::parse(&finding.rule).map_or(finding.message.as_str(), |rule| &rule.rule().message);
        html! {
            div.caution.(class) id={ "finding-" (finding_idx) } {
                p { strong.sign { (sign) } (message) }
                p { (finding.why) }
                p { strong { "What to do: " } (finding.do_) }
                p.small.soft { (source_line(&finding.source)) " · " (rule::link(&finding.rule)) }
                @if let Some(consent) = &judged.consent {
                    p { "You go on in spite of it: “" (consent.reason) "” (" (consent.by) ", " (consent.on) ")." }
                    (self.take_back(consent))
                } @else if finding.severity == Severity::Stop {
                    p { strong { "A stop cannot be overruled." } " Change the schedule, or the zone." }
                } @else if finding.can_be_overruled() {
                    (self.overrule(finding_idx, judged))
                }
            }
        }
    }

    fn overrule(&self, finding_idx: usize, judged: &Judged) -> Markup {
        let finding = &judged.finding;
        let at = format!("overrule-{finding_idx}");
        let wrong = self.wrong_at(&at);
        let mut typed = Typed::default();
        if let Some(lapsed) = &judged.lapsed {
            typed.set("reason", lapsed.consent.reason.clone());
        }
        typed.set("by", self.seen.by.clone());
        let typed = if wrong.is_some() { self.typed } else { &typed };
        let fields = crate::view::fields::Fields { form: &at, typed };
        html! {
            @if let Some(lapsed) = &judged.lapsed {
                p {
                    strong { "Your consent of " (lapsed.consent.on) " has lapsed: " }
                    "it was given for another situation. "
                    @if !lapsed.then.is_empty() { "Then: " (lapsed.then.join(", ")) ". " }
                    @if !lapsed.now.is_empty() { "Now: " (lapsed.now.join(", ")) "." }
                }
            }
            details open[wrong.is_some()] {
                summary { "Go on in spite of it" }
                form method="post" action=(self.address) data-live {
                    @if let Some(wrong) = wrong { (refused(wrong)) }
                    input type="hidden" name="rule" value=(finding.rule);
                    input type="hidden" name="situation" value=(finding.situation);
                    input type="hidden" name="finding" value=(finding_idx);
                    (fields.text("reason", "Why", "kept with the plan, and told on the job card"))
                    (fields.text("by", "Who says so", ""))
                    button name="act" value="overrule" { "Overrule this warning" }
                }
            }
        }
    }

    fn take_back(&self, consent: &Overruled) -> Markup {
        html! {
            form method="post" action=(self.address) data-live {
                input type="hidden" name="rule" value=(consent.rule);
                input type="hidden" name="situation" value=(consent.situation);
                button.second name="act" value="take-back" aria-label={ "Take the consent to " (consent.rule) " back" } { "Take it back" }
            }
        }
    }

    /// What is wrong with the schedule as a whole.
    fn at_the_end(&self) -> Markup {
        let found = self.seen.own.judged.iter().enumerate();
        let found: Vec<_> = found.filter(|(_, judged)| judged.finding.step.is_none()).collect();
        html! {
            @if !found.is_empty() {
                section aria-labelledby="at-the-end" {
                    h2 #at-the-end { "When all steps are done" }
                    @for (finding, judged) in found { (self.told(finding, judged)) }
                }
            }
        }
    }

    /// Consents that cover nothing here.
    fn idle(&self) -> Markup {
        html! {
            @if !self.seen.own.idle.is_empty() {
                section aria-labelledby="idle" {
                    h2 #idle { "Consents that cover nothing here" }
                    p { "They were given for another situation, or to a warning that is mended. They do no harm, and hold again if that situation comes back." }
                    ul.plain {
                        @for consent in &self.seen.own.idle {
                            li {
                                p { (consent.rule) ": “" (consent.reason) "” (" (consent.by) ", " (consent.on) ")" }
                                (self.take_back(consent))
                            }
                        }
                    }
                }
            }
        }
    }
}

fn link_to(finding: &Finding) -> Markup {
    let message = finish::RuleId::parse(&finding.rule).map_or(finding.message.as_str(), |rule| &rule.rule().message);
    let sign = if finding.severity == Severity::Stop {
        "Stop"
    } else {
        "Warning"
    };
    html! {
        @match finding.step {
            Some(place) => { a href={ "#step-" (place + 1) } { (sign) " at step " (place + 1) ": " (message) } }
            None => { a href="#at-the-end" { (sign) " at the end: " (message) } }
        }
    }
}

fn wait_words(kind: finish::WaitKind) -> &'static str {
    match kind {
        finish::WaitKind::Dwell => "let it work",
        finish::WaitKind::Set => "let it set",
        finish::WaitKind::Dry => "let it dry",
        finish::WaitKind::Recoat => "next coat after",
        finish::WaitKind::Cure => "let it cure",
    }
}

fn because(step: &Step) -> Markup {
    html! {
        @if step.because.is_empty() {
            p.small.soft { "No rule asks for this step." }
        } @else {
            details.because {
                summary { "Because" }
                ul {
                    @for reason in &step.because {
                        li { (reason.text) " " span.source { (source_line(&reason.source)) " · " (rule::link(&reason.rule)) } }
                    }
                }
            }
        }
    }
}
