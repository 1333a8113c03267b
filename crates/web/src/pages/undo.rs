//! Taking back: the last change by name, several steps back one after the other, and again what was taken back.

use axum::Form;
use axum::extract::State;
use axum::response::Redirect;
use maud::{Markup, html};
use shop::change::Way;
use store::Told;

use super::light::own_path;
use crate::app::{App, Desk};
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::show;

/// How many changes before the last one are listed.
const EARLIER_SHOWN: usize = 5;

/// What the last change moved, the way back from it, and what was changed before it; `back` is the page to return to.
pub(crate) fn card(desk: &Desk, back: &str) -> Result<Markup, PageError> {
    let (changes, taken_back) = (desk.changes()?, desk.taken_back()?);
    if changes.is_empty() && taken_back.is_empty() {
        return Ok(html! {});
    }
    let earlier: Vec<&Told> = changes.iter().skip(1).take(EARLIER_SHOWN).collect();
    Ok(html! {
        section.changes.no-print #last-change aria-label="Last change" {
            @if let Some(moved) = desk.moved() { p role="status" { (moved.to_string()) } }
            div.row {
                @if let Some(last) = changes.first() { (way_button(last, back, "/undo", "Undo")) }
                @if let Some(next) = taken_back.first() { (way_button(next, back, "/redo", "Again")) }
            }
            @if !earlier.is_empty() {
                details {
                    summary { "Changed before that" }
                    ol.plain { @for told in earlier { li { span.when { (show::moment(&desk.zoned(told.at))) } " " (told.words) } } }
                    p.small.soft { "Undo takes them back one after the other, the last one first." }
                }
            }
        }
    })
}

fn way_button(told: &Told, back: &str, action: &str, word: &str) -> Markup {
    html! {
        form method="post" action=(action) data-live {
            input type="hidden" name="back" value=(back);
            button.second name="change" value=(told.id) { (word) ": " (told.words) }
        }
    }
}

/// `POST /undo`.
pub(crate) async fn undo(state: State<App>, form: Form<Vec<(String, String)>>) -> Result<Redirect, PageError> {
    step(state, form, Way::Back).await
}

/// `POST /redo`.
pub(crate) async fn redo(state: State<App>, form: Form<Vec<(String, String)>>) -> Result<Redirect, PageError> {
    step(state, form, Way::Again).await
}

async fn step(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
    way: Way,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    let back = own_path(typed.text("back")).to_owned();
    app.at_desk(move |desk, _| match typed.text("change").parse::<i64>() {
        Ok(id) => desk.step(id, way),
        Err(_) => Err(PageError::NotFound("change")),
    })
    .await?;
    Ok(Redirect::to(&back))
}
