//! Colour: coats to hide, a match from the shelf, the piece in its new colour, colours that go together.

mod hide;
mod matching;
mod photograph;
mod said;
mod swatch;
mod together;

use axum::Router;
use axum::routing::{get, post};
use maud::{Markup, html};

use crate::app::{App, Desk};
use crate::error::PageError;

/// Every address under `/colour`.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/colour", get(hide::page))
        .route("/colour/wish", post(hide::wish))
        .route("/colour/match", get(matching::page))
        .route("/colour/match/reading", post(matching::keep_reading))
        .route("/colour/together", get(together::page))
        .merge(photograph::routes())
}

/// The four questions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Question {
    Hide,
    Match,
    Photograph,
    Together,
}

const QUESTIONS: [(Question, &str, &str); 4] = [
    (Question::Hide, "/colour", "Coats to hide"),
    (Question::Match, "/colour/match", "Mix a match"),
    (Question::Photograph, "/colour/photograph", "On the photograph"),
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

/// The photographs of all pieces: number, and the piece with what it shows.
fn photographs(desk: &Desk) -> Result<Vec<(i64, String)>, PageError> {
    let mut all = Vec::new();
    for piece in &desk.shop.pieces {
        for photograph in desk.store.photographs(&piece.id)? {
            let note = if photograph.note.is_empty() {
                format!("photograph {}", photograph.id)
            } else {
                photograph.note
            };
            all.push((photograph.id, format!("{}: {note}", piece.name)));
        }
    }
    Ok(all)
}
