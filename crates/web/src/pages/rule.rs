//! A rule of the check: what it says is wrong, why it matters, what to do, and where it comes from.

use axum::extract::Path;
use finish::{RuleId, Severity};
use maud::{Markup, html};

use crate::error::PageError;
use crate::view::cautions::source_line;
use crate::view::shell::{self, Asked, Here};

/// `GET /rules/{id}`.
pub(crate) async fn page(asked: Asked, Path(id): Path<String>) -> Result<Markup, PageError> {
    let rule = RuleId::parse(&id).map_err(|_| PageError::NotFound("rule"))?;
    let words = rule.rule();
    let weight = match words.severity {
        Severity::Stop => "A stop: nothing overrules it, and no schedule breaks it.",
        Severity::Warn => {
            "A warning: no derived schedule breaks it; in one of your own you may overrule it with a reason."
        }
        Severity::Note => "A note: it asks for nothing.",
    };
    let body = html! {
        p { "Rule of the check" }
        h1 { (words.message) }
        p { strong { "Why: " } (words.why) }
        p { strong { "What to do: " } (words.do_) }
        p { (weight) }
        dl.facts {
            dt { "Rule" } dd { (rule.id()) }
            dt { "Source" } dd { (source_line(&words.source)) }
            @if let Some(about) = &words.about { dt { "In our tables" } dd { (about) } }
        }
    };
    Ok(shell::page(&asked, &words.message, Here::Pieces, &body))
}

/// A rule's id, leading to its page where it has one.
pub(crate) fn link(rule: &str) -> Markup {
    html! {
        @if RuleId::parse(rule).is_ok() { a href={ "/rules/" (rule) } { "rule " (rule) } } @else { "rule " (rule) }
    }
}
