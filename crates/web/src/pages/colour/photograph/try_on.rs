//! One photograph: marking the part by taps, saying the old colour, trying new ones.
//!
//! Without scripts a tap on the picture is an image input: the browser sends where it was touched, the page comes back with the
//! mark. With scripts the same form is sent in place and the picture fills the page.

use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::{Extension, Form};
use colour::Srgb;
use maud::{Markup, html};
use shop::swatch::{MOST_CHOICES, Next, OldAs, Point, Trial, TrialChoice};

use super::ready::{Darkroom, Loaded, NotReady, stamp};
use crate::app::App;
use crate::error::PageError;
use crate::pages::colour::said::{self, Known};
use crate::pages::colour::{Question, dry_swatch_first, head, swatch};
use crate::typed::Typed;
use crate::view::fields::{Fields, summary};
use crate::view::shell::{self, Asked, Here};

/// Width of the picture that is tapped, in CSS pixels: on a phone and on a wide screen.
const NARROW: usize = 330;
const WIDE: usize = 760;

/// `GET /colour/photograph/{id}?size=wide&choice=0`.
pub(crate) async fn page(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    asked: Asked,
    Path(id): Path<i64>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    whole(&app, &darkroom, &asked, id, Typed::from(entries)).await
}

async fn whole(app: &App, darkroom: &Darkroom, asked: &Asked, id: i64, mut typed: Typed) -> Result<Markup, PageError> {
    let loaded = darkroom.load(app, id).await?;
    let piece = loaded.photograph.piece.clone();
    let (known, piece) = app
        .at_desk(move |desk, _| {
            Ok((
                said::known(desk)?,
                desk.shop
                    .piece(&piece)
                    .map(|piece| (piece.id.clone(), piece.name.clone())),
            ))
        })
        .await?;
    let ready = if loaded.trial.is_marked() {
        Some(darkroom.part(&loaded).await)
    } else {
        None
    };
    let (share, why) = match ready {
        Some(Ok(part)) => (Some(part.share), None),
        Some(Err(NotReady::Worded(words))) => (None, Some(words)),
        Some(Err(NotReady::Page(error))) => return Err(error),
        None => (None, None),
    };
    fill(&mut typed, &loaded.trial);
    let (id, name) = piece.unwrap_or_default();
    let body = html! {
        (head(Question::Photograph))
        h2 { a href={ "/pieces/" (id) } { (name) } @if !loaded.photograph.note.is_empty() { ": " (loaded.photograph.note) } }
        (mark_section(&loaded, &typed, why.as_deref(), share))
        (old_section(&loaded, &typed, &known))
        (colours_section(&loaded, &typed, &known, share.is_some()))
        @if share.is_some() && !loaded.trial.choices.is_empty() { (client_section(&loaded)) }
        p { a href="/colour/photograph" { "All photographs" } }
        (dry_swatch_first())
    };
    Ok(shell::page(asked, "Try it on the photograph", Here::Colour, &body))
}

/// What the forms begin with.
fn fill(typed: &mut Typed, trial: &Trial) {
    if let Some(choice) = typed
        .text("choice")
        .parse::<usize>()
        .ok()
        .and_then(|n| trial.choices.get(n))
    {
        typed.set("name", choice.name.clone());
        typed.set("new", choice.colour.to_string());
        typed.set("sheen", choice.sheen_pct.to_string());
        typed.set("grain", choice.grain_pct.to_string());
        typed.set("note", choice.note.clone());
    }
    if let OldAs::Said(said) = trial.old {
        typed.unless_said("old-pick", &said.to_string());
    }
    typed.unless_said("old-pick", "#6b4a32");
    typed.unless_said("new-pick", "#8a9a5b");
    typed.unless_said("sheen", "100");
    typed.unless_said("grain", "0");
}

fn mark_section(loaded: &Loaded, typed: &Typed, why: Option<&str>, share: Option<f64>) -> Markup {
    let (trial, id) = (&loaded.trial, loaded.photograph.id);
    let is_wide = typed.text("size") == "wide";
    let width = if is_wide { WIDE } else { NARROW };
    let height = (width * loaded.picture.height() / loaded.picture.width().max(1)).max(1);
    let to = format!("/colour/photograph/{id}/mark");
    html! {
        section.card #mark aria-labelledby="mark-title" tabindex="-1" {
            h3 #mark-title { "1. Mark the part" }
            p role="status" { (marked_words(trial, share)) }
            @if let Some(why) = why { p.refusal { span.sign { "Not yet: " } (why) } }
            form.tapping method="post" action=(to) data-live {
                fieldset {
                    legend { "The next tap on the picture marks" }
                    div.ticks {
                        @for (next, word, words) in Next::EVERY {
                            label.tick { input type="radio" name="next" value=(word) checked[next == trial.next]; span { (words) } }
                        }
                    }
                }
                input type="hidden" name="width" value=(width);
                input type="hidden" name="height" value=(height);
                @if is_wide { input type="hidden" name="size" value="wide"; }
                input.tapped type="image" name="tap" data-tap width=(width) height=(height)
                    src={ "/colour/photograph/" (id) "/marked.jpg?v=" (stamp(loaded)) }
                    alt={ "Mark a place on the photograph. " (marked_words(trial, share)) };
                div.row {
                    button.second name="do" value="back" { "Take the last mark back" }
                    button.second name="do" value="another" { "Another outline" }
                    button.second name="do" value="clear" { "Begin again" }
                    a.button.second.without-script href={ "/colour/photograph/" (id) (if is_wide { "" } else { "?size=wide" }) } { (if is_wide { "Smaller picture" } else { "Larger picture" }) }
                }
            }
            details open[typed.refusal("corners").is_some()] {
                summary { "Type the corners instead" }
                form method="post" action=(to) data-live {
                    (Fields { form: "mark", typed }.text("corners", "Corners of the outline", "per cent from the left and from the top, such as 10 20, 90 20, 90 80, 10 80"))
                    button.second name="do" value="corners" { "Use these corners" }
                }
            }
        }
    }
}

fn marked_words(trial: &Trial, share: Option<f64>) -> String {
    let corners: usize = trial.outlines.iter().map(Vec::len).sum();
    let many = |n: usize, one: &str, more: &str| {
        if n == 1 {
            format!("1 {one}")
        } else {
            format!("{n} {more}")
        }
    };
    let mut words = vec![many(corners, "corner", "corners")];
    if !trial.inside.is_empty() {
        words.push(many(trial.inside.len(), "place to grow from", "places to grow from"));
    }
    if trial.old_at.is_some() {
        words.push("the old colour".to_owned());
    }
    if trial.card.is_some() {
        words.push("a grey card".to_owned());
    }
    let marked = format!("Marked so far: {}.", words.join(", "));
    match share {
        Some(share) => format!(
            "{marked} The part takes {:.0} % of the picture; the rest is shown darker.",
            share * 100.0
        ),
        None if corners > 0 && corners < 3 => format!("{marked} An outline needs three or more."),
        None => marked,
    }
}

fn old_section(loaded: &Loaded, typed: &Typed, known: &[Known]) -> Markup {
    let id = loaded.photograph.id;
    let now = match (loaded.trial.old, loaded.trial.old_at, loaded.trial.card) {
        (OldAs::Said(said), _, _) => format!("It counts as {}.", swatch::figures(said.to_lab())),
        (OldAs::Tapped, Some(_), Some(_)) => {
            "It is read off the photograph against the grey card: rough, but the light is taken out.".to_owned()
        }
        (OldAs::Tapped, Some(_), None) => {
            "It is read off the photograph as it looks there. A grey card, or a reading, makes the new colour truer."
                .to_owned()
        }
        (OldAs::Tapped, None, _) => "Not known yet: tap it on the picture above, or say it here.".to_owned(),
    };
    html! {
        section.card #old aria-labelledby="old-title" tabindex="-1" {
            h3 #old-title { "2. The old colour" }
            p { (now) }
            details open[typed.refusal("old").is_some()] {
                summary { "Say the old colour" }
                form method="post" action={ "/colour/photograph/" (id) "/old" } data-live {
                    (said::fields(&Fields { form: "old", typed }, "old", "What the part has now", known))
                    button.second { "Use this colour" }
                }
            }
        }
    }
}

fn colours_section(loaded: &Loaded, typed: &Typed, known: &[Known], is_ready: bool) -> Markup {
    let id = loaded.photograph.id;
    let (trial, mark) = (&loaded.trial, stamp(loaded));
    let fields = Fields { form: "choice", typed };
    html! {
        section.card #colours aria-labelledby="colours-title" tabindex="-1" {
            h3 #colours-title { "3. Try colours" }
            @if !is_ready { p.soft { "The colours are shown on the picture once the part is marked and its old colour known." } }
            @if !trial.choices.is_empty() {
                ul.tried {
                    @for (n, choice) in trial.choices.iter().enumerate() {
                        li {
                            @if is_ready {
                                img src={ "/colour/photograph/" (id) "/view.jpg?v=" (mark) "&choice=" (n) "&" (look_query(choice)) } loading="lazy"
                                    alt={ "The part in " (choice.name) ", " (swatch::figures(choice.colour.to_lab())) };
                            }
                            div.row { (swatch::named(&choice.name, choice.colour.to_lab())) }
                            p.small { "Sheen " (choice.sheen_pct) " %, grain " (choice.grain_pct) " %" @if !choice.note.is_empty() { ". " (choice.note) } }
                            div.row {
                                a.button.second href={ "/colour/photograph/" (id) "?choice=" (n) "#colours" } aria-label={ "Change " (choice.name) } { "Change" }
                                form method="post" action={ "/colour/photograph/" (id) "/drop" } data-live { button.second name="name" value=(choice.name) aria-label={ "Take away " (choice.name) } { "Take away" } }
                            }
                        }
                    }
                }
            }
            (summary(typed))
            form method="post" action={ "/colour/photograph/" (id) "/choice" } data-live data-preview=[is_ready.then(|| format!("/colour/photograph/{id}/view.jpg?v={mark}"))] {
                (fields.text("name", "What you call it", "the name of one above changes it"))
                (said::fields(&fields, "new", "The new colour", known))
                div.two-said {
                    (slider(typed, "sheen", "Sheen", "100 is as the piece gleams now, 0 dead flat", 300))
                    (slider(typed, "grain", "Grain", "0 is paint, 100 a stain that shows all of the figure", 100))
                }
                (fields.text("note", "A line to go with it", "such as the recipe"))
                button { "Try this colour" }
            }
            @if trial.choices.len() >= MOST_CHOICES { p.small.soft { "Six colours is the most that is shown side by side." } }
        }
    }
}

/// The look in the address too, so that a changed choice is not shown from the browser's memory.
fn look_query(choice: &TrialChoice) -> String {
    format!(
        "of={}-{}-{}",
        choice.colour.to_string().trim_start_matches('#'),
        choice.sheen_pct,
        choice.grain_pct
    )
}

fn slider(typed: &Typed, name: &str, label: &str, hint: &str, most: u16) -> Markup {
    let id = format!("choice-{name}");
    html! {
        div.field {
            label for=(id) { (label) ", per cent" }
            span.hint id={ (id) "-hint" } { (hint) }
            div.slider {
                span.small aria-hidden="true" { "0" }
                input type="range" id=(id) name=(name) min="0" max=(most) step="5" value=(typed.text(name)) aria-describedby={ (id) "-hint" };
                output.figure for=(id) { (typed.text(name)) }
            }
        }
    }
}

fn client_section(loaded: &Loaded) -> Markup {
    let address = format!("/colour/photograph/{}/choices.png", loaded.photograph.id);
    html! {
        section.card aria-labelledby="client-title" {
            h3 #client-title { "4. For the client" }
            p { "All colours side by side in one picture, each with its name and line, over the words that a screen shows neither the exact colour nor the sheen." }
            p.row { a.button href=(address) download="choices.png" { "Save the picture" } a.button.second href=(address) { "Look at it" } }
        }
    }
}

/// Changes the trial of a photograph.
async fn change(app: &App, id: i64, change: impl FnOnce(&mut Trial) + Send + 'static) -> Result<(), PageError> {
    app.at_desk(move |desk, _| {
        desk.store.photograph(id)?.ok_or(PageError::NotFound("photograph"))?;
        let mut trial = desk.store.trial(id)?;
        change(&mut trial);
        Ok(desk.store.save_trial(id, &trial)?)
    })
    .await
}

/// `POST /colour/photograph/{id}/mark`: a tap, typed corners, or a mark taken back.
pub(crate) async fn mark(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    asked: Asked,
    Path(id): Path<i64>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let next = Next::parse(typed.text("next"));
    let tapped = tapped(&typed);
    let what = typed.text("do").to_owned();
    let corners = if what == "corners" {
        typed.read("corners", read_corners)
    } else {
        None
    };
    if !typed.is_sound() {
        let page = whole(&app, &darkroom, &asked, id, typed).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    }
    let size = if typed.text("size") == "wide" { "?size=wide" } else { "" };
    change(&app, id, move |trial| {
        trial.next = next.unwrap_or(trial.next);
        match (what.as_str(), tapped, corners) {
            ("back", _, _) => trial.take_back(),
            ("another", _, _) => trial.another_outline(),
            ("clear", _, _) => {
                *trial = Trial {
                    choices: std::mem::take(&mut trial.choices),
                    ..Trial::default()
                };
            }
            (_, _, Some(corners)) => trial.outlines = vec![corners],
            (_, Some(at), None) => trial.tap(at),
            _ => {}
        }
    })
    .await?;
    Ok(Redirect::to(&format!("/colour/photograph/{id}{size}#mark")).into_response())
}

/// Where the picture was touched. A key pressed on it sends its corner, which marks nothing.
fn tapped(typed: &Typed) -> Option<Point> {
    let read = |field: &str| typed.text(field).parse::<f64>().ok().filter(|value| value.is_finite());
    let (x, y) = (read("tap.x")?, read("tap.y")?);
    let (width, height) = (read("width")?, read("height")?);
    let is_key = x == 0.0 && y == 0.0;
    Some(Point {
        x: share_of(x, width)?,
        y: share_of(y, height)?,
    })
    .filter(|_| !is_key)
}

/// A place along a side in ten-thousandths; `None` where the side has no length.
fn share_of(at: f64, side: f64) -> Option<u16> {
    (side >= 1.0).then(|| ten_thousandths(at / side))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=10000 before"
)]
fn ten_thousandths(share: f64) -> u16 {
    (share * 10_000.0).round().clamp(0.0, 10_000.0) as u16
}

/// Reads `10 20, 90 20, 90 80`: pairs of per cent.
fn read_corners(text: &str) -> Result<Vec<Point>, String> {
    let numbers: Vec<f64> = text
        .split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
        .filter_map(|word| word.parse().ok())
        .collect();
    let right = "write each corner as two numbers from 0 to 100, from the left and from the top, such as 10 20, 90 20, 90 80, 10 80";
    if numbers.len() % 2 == 1 || numbers.len() < 6 || numbers.len() > 120 {
        return Err(format!(
            "{} numbers do not make an outline of 3 to 60 corners; {right}",
            numbers.len()
        ));
    }
    if let Some(wrong) = numbers.iter().find(|number| !(0.0..=100.0).contains(*number)) {
        return Err(format!("{wrong} lies outside of the picture; {right}"));
    }
    Ok(numbers
        .chunks_exact(2)
        .map(|pair| Point {
            x: ten_thousandths(pair[0] / 100.0),
            y: ten_thousandths(pair[1] / 100.0),
        })
        .collect())
}

/// `POST /colour/photograph/{id}/old`: the old colour, said.
pub(crate) async fn old(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    asked: Asked,
    Path(id): Path<i64>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let known = app.at_desk(|desk, _| said::known(desk)).await?;
    let Some(said) = said::read(&mut typed, "old", &known) else {
        let page = whole(&app, &darkroom, &asked, id, typed).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    };
    change(&app, id, move |trial| {
        trial.old = OldAs::Said(Srgb::nearest(said.colour))
    })
    .await?;
    Ok(Redirect::to(&format!("/colour/photograph/{id}#old")).into_response())
}

/// `POST /colour/photograph/{id}/choice`: a colour tried, or the one of its name changed.
pub(crate) async fn add_choice(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    asked: Asked,
    Path(id): Path<i64>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    keep_choice(&app, &darkroom, &asked, id, Typed::from(entries)).await
}

/// `POST /colour/photograph/choice`: a mixture from another page, tried on the photograph that is named.
pub(crate) async fn add_choice_by_name(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let id = typed
        .text("photograph")
        .parse::<i64>()
        .map_err(|_| PageError::NotFound("photograph"))?;
    let colour = typed.text("colour").to_owned();
    typed.set("new", colour);
    keep_choice(&app, &darkroom, &asked, id, typed).await
}

async fn keep_choice(
    app: &App,
    darkroom: &Darkroom,
    asked: &Asked,
    id: i64,
    mut typed: Typed,
) -> Result<Response, PageError> {
    let known = app.at_desk(|desk, _| said::known(desk)).await?;
    let there = app.at_desk(move |desk, _| Ok(desk.store.trial(id)?.choices)).await?;
    let choice = read_choice(&mut typed, &known);
    let is_new = choice
        .as_ref()
        .is_some_and(|choice| there.iter().all(|other| other.name != choice.name));
    if is_new && there.len() >= MOST_CHOICES {
        typed.refuse(
            "name",
            format!("{MOST_CHOICES} colours are tried already; take one away, or give the name of one to change it"),
        );
    }
    let Some(choice) = choice.filter(|_| typed.is_sound()) else {
        let page = whole(app, darkroom, asked, id, typed).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    };
    change(app, id, move |trial| {
        match trial.choices.iter_mut().find(|other| other.name == choice.name) {
            Some(other) => *other = choice,
            None => trial.choices.push(choice),
        }
    })
    .await?;
    Ok(Redirect::to(&format!("/colour/photograph/{id}#colours")).into_response())
}

fn read_choice(typed: &mut Typed, known: &[Known]) -> Option<TrialChoice> {
    let said = said::read(typed, "new", known);
    let pct = |text: u32| u16::try_from(text).unwrap_or(u16::MAX);
    let sheen_pct = typed.count("sheen", 0, 300).map_or(100, pct);
    let grain_pct = typed.count("grain", 0, 100).map_or(0, pct);
    let short = |text: &str, most: usize| text.chars().filter(|c| !c.is_control()).take(most).collect::<String>();
    let said = said?;
    let name = match typed.text("name") {
        "" => short(&said.name, 40),
        name => short(name, 40),
    };
    Some(TrialChoice {
        name,
        colour: Srgb::nearest(said.colour),
        sheen_pct,
        grain_pct,
        note: short(typed.text("note"), 160),
    })
}

/// `POST /colour/photograph/{id}/drop`: a colour taken away.
pub(crate) async fn drop_choice(
    State(app): State<App>,
    Path(id): Path<i64>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    change(&app, id, move |trial| {
        trial.choices.retain(|choice| choice.name != typed.text("name"))
    })
    .await?;
    Ok(Redirect::to(&format!("/colour/photograph/{id}#colours")))
}
