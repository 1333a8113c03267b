//! What is on it? The look, the feel and the usual spot tests of one zone; what they say, and which to make next.

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::response::Redirect;
use finish::identify::{Answer, Era, Identification, Observation, Outcome, Verdict, identify, next_test};
use maud::{Markup, html};
use shop::bench;
use shop::model::{FoundLayer, Made, Piece};
use trade::FinishClass;

use crate::app::App;
use crate::error::PageError;
use crate::pages::piece::{own_zones, path_word};
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// How many classes are told.
const TOLD: usize = 5;

/// `GET /pieces/{id}/zones/{zone}/test?era=…&look=…`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let (piece, zone) = app
        .at_desk(move |desk, _| {
            own_zones(desk, &id)?;
            let piece = desk.piece(&id)?.clone();
            let zone = piece.zone(&name).map(|zone| zone.name.clone());
            Ok((piece, zone.ok_or(PageError::NotFound("zone"))?))
        })
        .await?;
    let mut typed = Typed::from(entries);
    typed.unless_said("era", era_of(piece.made).id());
    let era = Era::parse(typed.text("era")).unwrap_or(Era::Unknown);
    let found = identify(era, &answers(&typed));
    let back = format!("/pieces/{}/zones/{}", piece.id, path_word(&zone));
    let title = format!("What is on the {zone}?");
    let body = html! {
        p { a href=(back) { "Back to the " (zone) } }
        h1 { (title) }
        p { "Look first, touch next, and try solvents last: on a spot that nobody sees, one after the other, each on a fresh place." }
        (said(&found, &piece, &zone))
        (form(&typed, &back))
        p.small.soft {
            "How often each kind of finish answers so is common practice, not a survey; the solvent rub follows MIL-HDBK-1110. "
            "A test patch of what you mean to put on has the last word."
        }
    };
    Ok(shell::page(&asked, &title, Here::Pieces, &body))
}

/// `POST /pieces/{id}/zones/{zone}/test`: plans with one class as what is found outermost.
pub(crate) async fn take(
    State(app): State<App>,
    Path((id, name)): Path<(String, String)>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    let class = FinishClass::parse(typed.text("class")).unwrap_or(FinishClass::Unknown);
    let to = format!("/pieces/{id}#zone-{}", shop::model::slug(&name));
    app.at_desk(move |desk, _| {
        own_zones(desk, &id)?;
        let mut zone = desk
            .piece(&id)?
            .zone(&name)
            .cloned()
            .ok_or(PageError::NotFound("zone"))?;
        match zone.found.last_mut() {
            Some(layer) => layer.class = class,
            None => zone.found.push(FoundLayer::of(class, 2)),
        }
        bench::edit_zone(&mut desk.shop, &id, zone)?;
        desk.keep_piece(&id)
    })
    .await?;
    Ok(Redirect::to(&to))
}

/// What has been answered; an answer that its question does not have counts as none.
fn answers(typed: &Typed) -> Vec<Answer> {
    let answer = |observation: &Observation| Answer::new(*observation, Outcome::parse(typed.text(observation.id()))?);
    Observation::EVERY.iter().filter_map(answer).collect()
}

fn era_of(made: Made) -> Era {
    match made {
        Made::Year(year) | Made::Decade(year) => Era::of_year(year),
        Made::Before(year) if year <= 1900 => Era::Before1900,
        Made::After(year) if year >= 2010 => Era::From2010,
        Made::Before(_) | Made::After(_) | Made::Unknown => Era::Unknown,
    }
}

fn said(found: &Identification, piece: &Piece, zone: &str) -> Markup {
    let verdict = match found.verdict() {
        Verdict::Likely(class) => format!("Most likely {}", class.label()),
        Verdict::CannotTell(classes) => {
            let labels: Vec<&str> = classes.iter().map(|class| class.label()).collect();
            format!("Cannot tell: {}", labels.join(" or "))
        }
        Verdict::TestOn => "Not sure yet".to_owned(),
    };
    let sure = matches!(found.verdict(), Verdict::Likely(_));
    html! {
        section.card.reply aria-labelledby="verdict" {
            h2 #verdict.answer { (verdict) }
            @if let Some(next) = next_test(found) {
                p { strong { "What tells the most next: " } (next.observation.label()) ". " (next.observation.how()) }
            } @else if !sure {
                p { "No test of this list would tell more." }
            }
            div.scroll tabindex="0" role="region" aria-label="How likely each finish is" {
                table {
                    caption { "How likely" }
                    thead { tr { th scope="col" { "Finish" } th.number scope="col" { "Chance" } th scope="col" { "Plan with it" } } }
                    tbody {
                        @for candidate in found.candidates().iter().take(TOLD) {
                            tr {
                                th scope="row" { (show::capital(candidate.class.label())) }
                                td.number { (show::percent(candidate.probability)) }
                                td { (take_button(piece, zone, candidate.class)) }
                            }
                        }
                        tr {
                            th scope="row" { "None of them for sure" }
                            td.number { "–" }
                            td { (take_button(piece, zone, FinishClass::Unknown)) }
                        }
                    }
                }
            }
            @if !sure {
                p { "Planned as unknown, only what suits any finish is put over it: it is scuffed, kept apart by a barrier coat, or stripped." }
            }
        }
    }
}

fn take_button(piece: &Piece, zone: &str, class: FinishClass) -> Markup {
    html! {
        form method="post" action={ "/pieces/" (piece.id) "/zones/" (path_word(zone)) "/test" } {
            input type="hidden" name="class" value=(class.id());
            button.second aria-label={ "Plan so: " (class.label()) } { "Plan so" }
        }
    }
}

fn form(typed: &Typed, back: &str) -> Markup {
    let fields = Fields { form: "test", typed };
    let eras: Vec<Choice> = Era::EVERY
        .iter()
        .map(|era| (era.id().to_owned(), era.label().to_owned()))
        .collect();
    let outcomes = |observation: Observation| {
        let none = (String::new(), "not tried".to_owned());
        let each = observation
            .outcomes()
            .into_iter()
            .map(|one| (one.id().to_owned(), one.label().to_owned()));
        std::iter::once(none).chain(each).collect::<Vec<Choice>>()
    };
    html! {
        form method="get" action={ (back) "/test" } data-live {
            (fields.select("era", "When it was finished, as far as anybody knows", "", &eras))
            @for observation in Observation::EVERY {
                (fields.select(observation.id(), observation.label(), observation.how(), &outcomes(*observation)))
            }
            button { "What do they say?" }
        }
    }
}
