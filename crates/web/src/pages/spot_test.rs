//! What is on it? The look, the feel and the usual spot tests of one zone; what they say, and which to make next.

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::response::Redirect;
use finish::identify::{Answer, Era, Identification, Observation, Outcome, Verdict, next_test};
use maud::{Markup, html};
use shop::Shop;
use shop::bench;
use shop::model::{FoundLayer, Guess, Made, Piece, Zone};
use shop::plan::GuessRisk;
use trade::FinishClass;

use crate::app::App;
use crate::error::PageError;
use crate::pages::piece::{own_zones, path_word};
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields};
use crate::view::shell::{self, Asked, Here};
use crate::view::{risk, show};

/// How many classes are told.
const TOLD: usize = 5;

/// `GET /pieces/{id}/zones/{zone}/test?era=…&look=…`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let mut typed = Typed::from(entries);
    let (typed, piece, zone, risk) = app
        .at_desk(move |desk, _| {
            own_zones(desk, &id)?;
            let piece = desk.piece(&id)?.clone();
            let zone = piece.zone(&name).ok_or(PageError::NotFound("zone"))?.clone();
            let layer = layer_of(&zone, &typed);
            remember(&mut typed, &zone, layer);
            typed.unless_said("era", era_of(piece.made).id());
            let risk = consequences_of(&desk.shop, &piece, &zone.name, layer, &guess_of(&typed));
            Ok((typed, piece, zone.name, risk))
        })
        .await?;
    let found = guess_of(&typed).identification();
    let back = format!("/pieces/{}/zones/{}", piece.id, path_word(&zone));
    let title = format!("What is on the {zone}?");
    let body = html! {
        p { a href=(back) { "Back to the " (zone) } }
        h1 { (title) }
        p { "Look first, touch next, and try solvents last: on a spot that nobody sees, one after the other, each on a fresh place." }
        (said(&found, &piece, &zone, &typed))
        @if let Some(risk) = &risk { (differs(&found, risk)) }
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
        let guess = Some(guess_of(&typed)).filter(|guess| !guess.answers.is_empty());
        let layer = layer_of(&zone, &typed);
        if zone.found.is_empty() {
            zone.found.push(FoundLayer::of(class, 2));
        }
        if let Some(layer) = zone.found.get_mut(layer) {
            layer.class = class;
            layer.guess = guess;
        }
        bench::edit_zone(&mut desk.shop, &id, zone)?;
        desk.keep_piece(&id)
    })
    .await?;
    Ok(Redirect::to(&to))
}

/// The layer that is asked about, from 0; the outermost where none is said.
fn layer_of(zone: &Zone, typed: &Typed) -> usize {
    let last = zone.found.len().saturating_sub(1);
    typed.text("layer").parse().unwrap_or(last).min(last)
}

/// Where nothing was sent yet, the answers that the layer was identified by before.
fn remember(typed: &mut Typed, zone: &Zone, layer: usize) {
    let is_asked = typed.is_ticked("era") || Observation::EVERY.iter().any(|each| typed.is_ticked(each.id()));
    let guess = zone.found.get(layer).and_then(|layer| layer.guess.as_ref());
    if let Some(guess) = guess.filter(|_| !is_asked) {
        typed.set("era", guess.era.id());
        for answer in &guess.answers {
            typed.set(answer.observation().id(), answer.outcome().id());
        }
    }
    if zone.found.len() > 1 {
        typed.set("layer", layer.to_string());
    }
}

fn guess_of(typed: &Typed) -> Guess {
    Guess {
        era: Era::parse(typed.text("era")).unwrap_or(Era::Unknown),
        answers: answers(typed),
    }
}

/// What differs in consequence between the classes that are left, where any test was made and none is sure.
fn consequences_of(shop: &Shop, piece: &Piece, zone: &str, layer: usize, guess: &Guess) -> Option<GuessRisk> {
    let found = guess.identification();
    if guess.answers.is_empty() || matches!(found.verdict(), Verdict::Likely(_)) {
        return None;
    }
    shop::plan::consequences(shop, piece, zone, layer, found.likeliest().class, guess).ok()
}

fn differs(found: &Identification, risk: &GuessRisk) -> Markup {
    html! {
        section.card.risk aria-labelledby="differs" {
            h2 #differs {
                @if matches!(found.verdict(), Verdict::CannotTell(_)) { "They answer alike. What differs between them" } @else { "What a wrong guess would do" }
            }
            @if risk.holds_whatever_it_is {
                p { "Planned as " (risk.planned_as_words) ", the steps hold over each of the others that it may well be: there is no need to know." }
            } @else {
                p { "Planned as " (risk.planned_as_words) ", the chance that something goes wrong is " strong.figure { (show::percent(risk.fails)) } "." }
            }
            (risk::list(risk))
        }
    }
}

/// What has been answered; an answer that its question does not have counts as none.
fn answers(typed: &Typed) -> Vec<Answer> {
    let answer =
        |observation: &Observation| Answer::new(*observation, Outcome::parse(typed.text(observation.id())).ok()?);
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

fn said(found: &Identification, piece: &Piece, zone: &str, typed: &Typed) -> Markup {
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
                                td { (take_button(piece, zone, candidate.class, typed)) }
                            }
                        }
                        tr {
                            th scope="row" { "None of them for sure" }
                            td.number { "–" }
                            td { (take_button(piece, zone, FinishClass::Unknown, typed)) }
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

fn take_button(piece: &Piece, zone: &str, class: FinishClass, typed: &Typed) -> Markup {
    html! {
        form method="post" action={ "/pieces/" (piece.id) "/zones/" (path_word(zone)) "/test" } {
            input type="hidden" name="class" value=(class.id());
            input type="hidden" name="era" value=(typed.text("era"));
            @if !typed.text("layer").is_empty() { input type="hidden" name="layer" value=(typed.text("layer")); }
            @for answer in answers(typed) {
                input type="hidden" name=(answer.observation().id()) value=(answer.outcome().id());
            }
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
            @if !typed.text("layer").is_empty() { input type="hidden" name="layer" value=(typed.text("layer")); }
            (fields.select("era", "When it was finished, as far as anybody knows", "", &eras))
            @for observation in Observation::EVERY {
                (fields.select(observation.id(), observation.label(), observation.how(), &outcomes(*observation)))
            }
            button { "What do they say?" }
        }
    }
}
