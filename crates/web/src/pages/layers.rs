//! The found build-up, layer by layer: a section to tap on, and a page for each layer to change it, move it or take it off.

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use quantity::Minutes;
use shop::bench;
use shop::model::{FoundLayer, Guess, Soundness, Zone};
use trade::FinishClass;

use crate::app::App;
use crate::draw::section;
use crate::error::PageError;
use crate::pages::piece::{own_zones, path_word};
use crate::pages::quick::class_choices;
use crate::typed::Typed;
use crate::view::fields::{Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// Most layers that a zone is found with.
pub(crate) const MOST_LAYERS: usize = 12;
/// The oldest age that is typed, minutes: from two years on a coat is long cured.
const OLDEST_MIN: i64 = 2 * 366 * 24 * 60;

/// The section through what is found, outermost layer on top; each layer leads to its own page.
pub(crate) fn stack(piece_id: &str, zone: &Zone) -> Markup {
    let address = address(piece_id, &zone.name);
    html! {
        section.card aria-labelledby="coats-title" {
            h2 #coats-title { "What is on it, cut through" }
            p.small.soft { "The outermost layer on top, as it lies. Tap a layer to change it, to move it, or to say that you do not know it." }
            @if zone.found.len() < MOST_LAYERS {
                p { a.button.second.wide-button href={ (address) "/new?at=" (zone.found.len()) } { "+ Add a layer on top" } }
            }
            ol.coats {
                @for (place, layer) in zone.found.iter().enumerate().rev() {
                    li {
                        a.coat href={ (address) "/" (place) } {
                            span.band { (PreEscaped(section::band(layer.class, layer.coats, layer.colour.as_deref(), place))) }
                            span.coat-words {
                                strong { (show::capital(name(layer))) }
                                span { (facts(layer)) }
                            }
                        }
                    }
                }
                li.coat.wood {
                    span.band { (PreEscaped(section::wood_band())) }
                    span.coat-words { strong { (show::capital(&zone.substrate.label())) } @if zone.found.is_empty() { span { "bare" } } }
                }
            }
        }
    }
}

fn name(layer: &FoundLayer) -> &str {
    if layer.class == FinishClass::Unknown {
        "I don't know"
    } else {
        layer.class.label()
    }
}

/// Coats, soundness, age, and whether it is a guess.
fn facts(layer: &FoundLayer) -> String {
    let coats = if layer.coats == 1 {
        "1 coat".to_owned()
    } else {
        format!("{} coats", layer.coats)
    };
    let soundness = layer.soundness.map(|soundness| soundness.label().to_owned());
    let age = layer.age.map_or_else(
        || "long cured".to_owned(),
        |age| format!("{} old", show::minutes(u32::try_from(age.get()).unwrap_or(u32::MAX))),
    );
    let sure = layer.guess.as_ref().map(|guess| {
        let chance = guess.identification().probability_of(layer.class);
        if layer.class == FinishClass::Unknown {
            "tested, not told".to_owned()
        } else {
            format!("by test, {}", show::percent(chance))
        }
    });
    let parts = [Some(coats), soundness, Some(age), sure];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

fn address(piece_id: &str, zone: &str) -> String {
    format!("/pieces/{piece_id}/zones/{}/layers", path_word(zone))
}

/// `GET /pieces/{id}/zones/{zone}/layers/new?at=1`.
pub(crate) async fn new_page(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let mut typed = Typed::from(entries);
    let zone = zone_of(&app, &id, &name).await?;
    let at = typed
        .text("at")
        .parse()
        .unwrap_or(zone.found.len())
        .min(zone.found.len());
    typed.set("at", at.to_string());
    typed.unless_said("class", FinishClass::Unknown.id());
    typed.unless_said("coats", "1");
    Ok(new_form(&asked, &id, &zone, &typed))
}

fn new_form(asked: &Asked, id: &str, zone: &Zone, typed: &Typed) -> Markup {
    let at: usize = typed.text("at").parse().unwrap_or(zone.found.len());
    let under = at.checked_sub(1).and_then(|under| zone.found.get(under));
    let title = format!("Another layer on the {}", zone.name);
    let body = html! {
        p { a href={ "/pieces/" (id) "/zones/" (path_word(&zone.name)) } { "← The " (zone.name) } }
        h1 { (title) }
        p { "It lies on " @match under { Some(layer) => (name(layer)), None => (zone.substrate.label()) } "." }
        (summary(typed))
        form.card method="post" action={ (address(id, &zone.name)) "/new" } {
            input type="hidden" name="at" value=(at);
            (fields(typed))
            button { "Put it there" }
        }
    };
    shell::page(asked, &title, Here::Pieces, &body)
}

/// `POST /pieces/{id}/zones/{zone}/layers/new`.
pub(crate) async fn add(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let mut zone = zone_of(&app, &id, &name).await?;
    let at = typed
        .text("at")
        .parse()
        .unwrap_or(zone.found.len())
        .min(zone.found.len());
    if zone.found.len() >= MOST_LAYERS {
        typed.refuse(
            "class",
            format!("a zone has at most {MOST_LAYERS} layers; put like coats together as one"),
        );
    }
    match read(None, &mut typed) {
        Some(layer) if typed.is_sound() => {
            zone.found.insert(at, layer);
            keep(&app, id, zone).await
        }
        _ => Ok((StatusCode::UNPROCESSABLE_ENTITY, new_form(&asked, &id, &zone, &typed)).into_response()),
    }
}

/// `GET /pieces/{id}/zones/{zone}/layers/{place}`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Path((id, name, place)): Path<(String, String, usize)>,
) -> Result<Markup, PageError> {
    let zone = zone_of(&app, &id, &name).await?;
    let layer = zone.found.get(place).ok_or(PageError::NotFound("layer"))?;
    Ok(layer_page(&asked, &id, &zone, place, &typed_of(layer)))
}

fn layer_page(asked: &Asked, id: &str, zone: &Zone, place: usize, typed: &Typed) -> Markup {
    let title = format!("Layer {} of the {}", place + 1, zone.name);
    let layers = address(id, &zone.name);
    let was = zone.found.get(place).map_or("", |layer| layer.class.id());
    let is_full = zone.found.len() >= MOST_LAYERS;
    let body = html! {
        p { a href={ "/pieces/" (id) "/zones/" (path_word(&zone.name)) } { "← The " (zone.name) } }
        h1 { (title) }
        p { "Counted from the " (zone.substrate.label()) " outwards; " (zone.found.len()) " in all." }
        p { a.button.second.wide-button href={ "/pieces/" (id) "/zones/" (path_word(&zone.name)) "/test?layer=" (place) } { "I don't know what it is: look, touch and test" } }
        (summary(typed))
        form.card method="post" action={ (layers) "/" (place) } {
            input type="hidden" name="was" value=(was);
            (fields(typed))
            button name="act" value="save" { "Keep it so" }
        }
        form.row.taps method="post" action={ (layers) "/" (place) } {
            input type="hidden" name="was" value=(was);
            button.second name="act" value="outwards" disabled[place + 1 >= zone.found.len()] { "↑ Move outwards" }
            button.second name="act" value="inwards" disabled[place == 0] { "↓ Move inwards" }
            button.second name="act" value="remove" { "It is not there: take it out" }
        }
        @if !is_full {
            div.row {
                a.button.second href={ (layers) "/new?at=" (place + 1) } { "+ Add a layer above it" }
                a.button.second href={ (layers) "/new?at=" (place) } { "+ Add a layer below it" }
            }
        }
    };
    shell::page(asked, &title, Here::Pieces, &body)
}

/// `POST /pieces/{id}/zones/{zone}/layers/{place}`.
pub(crate) async fn change(
    State(app): State<App>,
    asked: Asked,
    Path((id, name, place)): Path<(String, String, usize)>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let mut zone = zone_of(&app, &id, &name).await?;
    let before = zone.found.get(place).cloned().ok_or(PageError::NotFound("layer"))?;
    if typed.text("was") != before.class.id() {
        return Err(PageError::Refused(
            "The layers were changed elsewhere meanwhile; look at them as they are now, and tap again.".to_owned(),
        ));
    }
    match typed.text("act") {
        "outwards" if place + 1 < zone.found.len() => zone.found.swap(place, place + 1),
        "inwards" if place > 0 => zone.found.swap(place, place - 1),
        "remove" => {
            zone.found.remove(place);
        }
        "save" => match read(Some(&before), &mut typed) {
            Some(layer) if typed.is_sound() => zone.found[place] = layer,
            _ => {
                let page = layer_page(&asked, &id, &zone, place, &typed);
                return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
            }
        },
        _ => {}
    }
    keep(&app, id, zone).await
}

async fn zone_of(app: &App, id: &str, name: &str) -> Result<Zone, PageError> {
    let (id, name) = (id.to_owned(), name.to_owned());
    app.at_desk(move |desk, _| {
        own_zones(desk, &id)?;
        desk.piece(&id)?.zone(&name).cloned().ok_or(PageError::NotFound("zone"))
    })
    .await
}

async fn keep(app: &App, id: String, zone: Zone) -> Result<Response, PageError> {
    let to = format!("/pieces/{id}/zones/{}#coats-title", path_word(&zone.name));
    app.at_desk(move |desk, _| {
        bench::edit_zone(&mut desk.shop, &id, zone)?;
        desk.keep_piece(&id)
    })
    .await?;
    Ok(Redirect::to(&to).into_response())
}

fn fields(typed: &Typed) -> Markup {
    let fields = Fields { form: "layer", typed };
    let mut classes = vec![(
        String::new(),
        vec![(FinishClass::Unknown.id().to_owned(), "I don't know".to_owned())],
    )];
    classes.extend(class_choices());
    let mut soundness = vec![(String::new(), "as the zone as a whole".to_owned())];
    soundness.extend(choices(Soundness::EVERY.iter().map(|each| (each.id(), each.label()))));
    html! {
        (fields.select_of("class", "What it is", "", &classes))
        div.three {
            (fields.text("coats", "Coats of it", ""))
            (fields.select("soundness", "How it holds", "", &soundness))
            (fields.text("age", "How old", "such as 3 days; empty: long cured"))
        }
        (fields.colour("colour", "Its colour"))
    }
}

fn typed_of(layer: &FoundLayer) -> Typed {
    let mut typed = Typed::default();
    typed.set("class", layer.class.id());
    typed.set("coats", layer.coats.to_string());
    typed.set("soundness", layer.soundness.map_or("", |soundness| soundness.id()));
    if let Some(age) = layer.age {
        typed.set("age", show::minutes(u32::try_from(age.get()).unwrap_or(u32::MAX)));
    }
    if let Some(colour) = &layer.colour {
        typed.set("colour", colour.clone());
        typed.set("colour-has", "yes");
    }
    typed
}

/// The layer as the form says; what it was identified by is kept as long as it is of the same class.
fn read(before: Option<&FoundLayer>, typed: &mut Typed) -> Option<FoundLayer> {
    let class = typed.read("class", FinishClass::parse);
    let coats = typed.count("coats", 1, 30).unwrap_or(1);
    let age = typed.read_if_said("age", |text| {
        let age = Minutes::parse(text).map_err(|why| why.to_string())?;
        if (0..=OLDEST_MIN).contains(&age.get()) {
            Ok(age)
        } else {
            Err("an age from nothing to two years; older counts as long cured, so leave it empty".to_owned())
        }
    });
    let colour = crate::pages::zone::colour("colour", typed);
    let soundness = Soundness::parse(typed.text("soundness")).ok();
    let class = class?;
    let guess: Option<Guess> = before
        .filter(|before| before.class == class)
        .and_then(|before| before.guess.clone());
    Some(FoundLayer {
        colour,
        age,
        soundness,
        guess,
        ..FoundLayer::of(class, u8::try_from(coats).unwrap_or(1))
    })
}
