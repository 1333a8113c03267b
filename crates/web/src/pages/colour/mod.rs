//! Colour: coats to hide, a match from the shelf, the piece in its new colour, colours that go together.

mod hide;
mod said;
mod swatch;
mod together;

use axum::Router;
use axum::routing::{get, post};
use maud::{Markup, html};

use crate::app::App;

/// Every address under `/colour`.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/colour", get(hide::page))
        .route("/colour/wish", post(hide::wish))
        .route("/colour/together", get(together::page))
}

/// The four questions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Question {
    Hide,
    Together,
}

const QUESTIONS: [(Question, &str, &str); 2] = [
    (Question::Hide, "/colour", "Coats to hide"),
    (Question::Together, "/colour/together", "Goes together"),
];

/// The heading of each colour page: the ways to the others.
fn head(here: Question) -> Markup {
    html! {
        h1 { "Colour" }
        nav.colour-ways aria-label="Colour questions" {
            ul {
                @for (question, address, name) in QUESTIONS {
                    li { a href=(address) aria-current=[(question == here).then_some("page")] { (name) } }
                }
            }
        }
    }
}

/// What is true of every answer about colour.
fn dry_swatch_first() -> Markup {
    html! {
        p.dry-first {
            strong { "Dry swatch first. " }
            "Screens and photographs lie about colour. Paint a card or a hidden spot, let it dry, and see it on the piece by daylight and by lamp before any can is bought or mixed."
        }
    }
}
