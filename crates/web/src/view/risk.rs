//! What a wrong guess at the found finish would do, class by class: on the piece page, and where the guess is made.

use maud::{Markup, html};
use shop::model::Piece;
use shop::plan::{GuessRisk, IfItIs, PlannedZone};

use crate::pages::rule;
use crate::view::cautions::source_line;
use crate::view::show;

/// The risk of a zone from a layer that was told by tests.
pub(crate) fn of_layer(risk: &GuessRisk, test_address: &str) -> Markup {
    html! {
        section.card.risk {
            h3 { "Planned as " (risk.planned_as_words) ", by test" }
            p {
                (show::percent(risk.chance)) " sure. "
                @if risk.holds_whatever_it_is {
                    "The planned steps hold over every finish that it may well be."
                } @else {
                    "The chance that something goes wrong for it: " strong.figure { (show::percent(risk.fails)) } "; the price counts it in. "
                    "On the mean, doing it over comes to " span.figure { (risk.expected.show()) } "."
                }
            }
            (list(risk))
            a.button.second href=(test_address) aria-label={ "Test the " (risk.planned_as_words) " further" } { "Test further" }
        }
    }
}

/// The schedule of a zone that holds whatever its guessed layers are, where the planned one does not.
pub(crate) fn safe(piece: &Piece, zone: &PlannedZone) -> Markup {
    let holds = zone.risks.iter().all(|risk| risk.holds_whatever_it_is);
    html! {
        @if let Some(safe) = zone.safe.as_ref().filter(|_| !holds) {
            form.row method="post" action={ "/pieces/" (piece.id) "/choose" } {
                input type="hidden" name="zone" value=(zone.name);
                button.second name="key" value=(safe.key) { "Plan the schedule that holds whatever it is" }
                span.small.soft { (safe.words) }
            }
        }
    }
}

/// What happens, class by class.
pub(crate) fn list(risk: &GuessRisk) -> Markup {
    html! {
        ul.plain {
            @for other in &risk.others { (line(other)) }
        }
    }
}

fn line(other: &IfItIs) -> Markup {
    html! {
        li {
            p {
                strong { (show::percent(other.chance)) ": if it is " (other.words) " after all" }
                @if other.happens.is_empty() { ", nothing goes wrong." } @else { ":" }
            }
            @for happens in &other.happens {
                details.because {
                    summary { @if happens.severity == "stop" { "Stop: " } @else { "Warning: " } (happens.message) }
                    @if let Some(at) = &happens.at { p { "At step " (at) "." } }
                    p { (happens.why) }
                    p { strong { "What to do: " } (happens.do_) }
                    p.small.soft { (source_line(&happens.source)) " · " (rule::link(&happens.rule)) }
                }
            }
            @if let (Some(redo), Some(minutes)) = (other.redo, other.redo_hands_on_min) {
                p { "To take it off again and do it right costs about " span.figure { (redo.show()) } ", with " (show::minutes(minutes)) " of work." }
            }
            p.small {
                @match &other.test {
                    Some(test) => { strong { "The test that would tell: " } (test.words) ". " (test.how) }
                    None => "No test of the list that is still open parts the two: they answer alike. A test patch of the new coat has the last word.",
                }
            }
        }
    }
}
