//! *Will it stick?* What is there, what goes on: verdict, preparation, why.

use maud::{Markup, html};
use shop::quick::{self, Stick};
use trade::{FinishClass, FoundSurface};

use super::{becomes_piece, class_choices};
use crate::typed::Typed;
use crate::view::cautions::source_line;
use crate::view::fields::{Choice, Fields, choices};
use crate::view::show;

/// Bare surfaces and those with something else on them, which no finish class names.
const BARE: [FoundSurface; 5] = [
    FoundSurface::BareWood,
    FoundSurface::BareWoodTanninKnot,
    FoundSurface::BareMetal,
    FoundSurface::LaminateMelamine,
    FoundSurface::SiliconeContaminated,
];

/// What may be found: bare surfaces, then every old finish.
fn found_choices() -> Vec<(String, Vec<Choice>)> {
    let bare = choices(BARE.iter().map(|surface| (surface.id(), surface.label())));
    let mut groups = vec![("Bare, or with something on it".to_owned(), bare)];
    groups.extend(class_choices());
    groups.push((
        "Only ever found".to_owned(),
        choices([FinishClass::WaxedShellac, FinishClass::Unknown].map(|class| (class.id(), class.label()))),
    ));
    groups
}

/// The surface that a choice of [`found_choices`] means: an old finish counts as cured.
fn read_found(word: &str) -> Result<FoundSurface, String> {
    if let Some(surface) = BARE.iter().find(|surface| surface.id() == word) {
        return Ok(*surface);
    }
    FinishClass::parse(word)
        .map(FinishClass::surface_when_cured)
        .or_else(|_| FoundSurface::parse(word))
        .map_err(|unknown| unknown.to_string())
}

/// The question, and its answer if it was asked.
pub(super) fn question(typed: &mut Typed, is_asked: bool) -> Markup {
    let found = typed.read("found", read_found);
    let new = typed.read("new", FinishClass::parse);
    let answer = match (is_asked, found, new) {
        (true, Some(found), Some(new)) => Some(quick::will_it_stick(found, new)),
        _ => None,
    };
    let fields = Fields { form: "stick", typed };
    html! {
        section.card.question aria-labelledby="stick-title" {
            h2 #stick-title { "Will it stick?" }
            form method="get" action="/" data-live {
                input type="hidden" name="ask" value="stick";
                (fields.select_of("found", "What is there", "", &found_choices()))
                (fields.select_of("new", "What goes on", "", &class_choices()))
                button { "Will it stick?" }
            }
            @if let Some(answer) = &answer { (reply(answer, typed)) }
        }
    }
}

fn reply(answer: &Stick, typed: &Typed) -> Markup {
    let sign = if answer.is_possible { "✓ " } else { "✕ " };
    html! {
        div.reply role="status" tabindex="-1" {
            p.answer { span aria-hidden="true" { (sign) } (show::capital(&answer.words)) }
            @if !answer.preparation.is_empty() { p { strong { "First: " } (answer.preparation) } }
            @if let Some((coarse, fine)) = &answer.scuff {
                p { strong { "Scuff with: " } (coarse) @if coarse != fine { " to " (fine) } }
            }
            p { strong { "Why: " } (answer.why) }
            p.source { (source_line(&answer.source)) @if let Some(rule) = &answer.rule { " · rule " (rule) } }
            (becomes_piece(&[("found", typed.text("found")), ("class", typed.text("new"))]))
        }
    }
}
