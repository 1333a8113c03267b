//! A new piece: a name, a form and three numbers; the rest is defaults.

use axum::Form;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use quantity::UnitSystem;
use shop::bench;
use shop::model::{FormKind, FormSaid, FoundLayer, Look, Shop, Wish, Zone};
use trade::finish_rows::Group;
use trade::{FinishClass, Substrate};

use crate::app::App;
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};

/// The forms that three numbers describe, in everyday words.
pub(crate) const FORMS: [(&str, &str); 9] = [
    ("case", "Case: chest, cabinet, sideboard, box"),
    ("table", "Table or desk"),
    ("chair", "Chair"),
    ("bench", "Bench or stool"),
    ("bed", "Bed"),
    ("frame", "Frame or mirror"),
    ("door", "Door"),
    ("panel", "Board or panel"),
    ("turned", "Turned: leg, lamp base"),
];

/// The form's kind by its word.
pub(crate) fn read_kind(word: &str) -> Result<FormKind, String> {
    FormKind::WORDS
        .iter()
        .find(|(known, _)| *known == word)
        .map(|(_, kind)| *kind)
        .ok_or_else(|| format!("“{word}” is no form known here"))
}

/// Form and three numbers as typed.
pub(crate) fn read_form(typed: &mut Typed, units: UnitSystem) -> Option<FormSaid> {
    let kind = typed.read("form", read_kind);
    let [width, depth, height] = ["width", "depth", "height"].map(|field| typed.measure(field, units, None));
    let mut form = FormSaid::of(kind?, [width?.0, depth?.0, height?.0]);
    for (name, read) in [("width", width), ("depth", depth), ("height", height)] {
        if let Some((length, how)) = read {
            form.set(name, length, how);
        }
    }
    Some(form)
}

/// `GET /pieces/new`.
pub(crate) async fn page(State(app): State<App>, asked: Asked, Query(entries): Query<Vec<(String, String)>>) -> Markup {
    form_page(&asked, &Typed::from(entries), app.settings().units)
}

fn form_page(asked: &Asked, typed: &Typed, units: UnitSystem) -> Markup {
    let fields = Fields { form: "piece", typed };
    let example = match units {
        UnitSystem::Imperial => "42, 3'6\" or 107 cm",
        UnitSystem::Metric => "107, 1.07 m or 42 in",
    };
    let body = html! {
        h1 { "New piece" }
        p.lead { "A name, a form and three numbers. Everything else gets a sensible default, which you can change on the piece's page." }
        (summary(typed))
        form.card method="post" action="/pieces" {
            (fields.text("name", "Name", "what you call it at the bench"))
            (fields.select("form", "Form", "", &choices(FORMS)))
            div.three {
                (fields.text("width", "Width", "left to right"))
                (fields.text("depth", "Depth", "front to back"))
                (fields.text("height", "Height", "floor to top"))
            }
            p.hint { "Such as " (example) "." }
            button { "Take it in" }
        }
    };
    shell::page(asked, "New piece", Here::Pieces, &body)
}

/// `POST /pieces`: takes a piece in and goes to its page; what cannot be read comes back as it was typed.
pub(crate) async fn take_in(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let (id, typed, units) = app
        .at_desk(move |desk, _| {
            let units = desk.shop.settings.units;
            if typed.text("from") == "answer" {
                assume(&mut typed);
            }
            let id = taken_in(&mut desk.shop, &mut typed, units);
            if let Some(id) = &id {
                desk.keep_piece(id)?;
            }
            Ok((id, typed, units))
        })
        .await?;
    Ok(match id {
        Some(id) => Redirect::to(&format!("/pieces/{id}")).into_response(),
        None => (
            axum::http::StatusCode::UNPROCESSABLE_ENTITY,
            form_page(&asked, &typed, units),
        )
            .into_response(),
    })
}

/// An answer that becomes a piece may lack a name and measures: those of an ordinary chest stand in until they are corrected.
fn assume(typed: &mut Typed) {
    for (field, text) in [
        ("name", "unnamed piece"),
        ("form", "case"),
        ("width", "36 in"),
        ("depth", "18 in"),
        ("height", "30 in"),
    ] {
        typed.unless_said(field, text);
    }
}

fn taken_in(shop: &mut Shop, typed: &mut Typed, units: UnitSystem) -> Option<String> {
    let form = read_form(typed, units);
    if typed.text("name").is_empty() {
        typed.refuse("name", "a piece needs a name, such as hall bench");
    }
    let form = form.filter(|_| typed.is_sound())?;
    let zone = asked_zone(typed);
    match bench::take_in(shop, typed.text("name"), form) {
        Ok(id) => {
            if let (Some(zone), Some(piece)) = (zone, shop.piece_mut(&id)) {
                piece.zones.push(zone);
            }
            Some(id)
        }
        Err(refusal) => {
            typed.refuse("name", format!("{}; {}", refusal.limit, refusal.right));
            None
        }
    }
}

/// The zone that a quick answer spoke of, if it spoke of one.
fn asked_zone(typed: &Typed) -> Option<Zone> {
    let class = FinishClass::parse(typed.text("class")).ok()?;
    let look = match class.row().group {
        Group::Paint | Group::Primer => Look::Paint,
        Group::Stain => Look::Stain,
        Group::Wax => Look::Wax,
        Group::Clear | Group::Oil | Group::Sealer => Look::Clear,
    };
    let gives_the_look = !matches!(class.row().group, Group::Primer | Group::Sealer);
    let wish = Wish {
        class: gives_the_look.then_some(class),
        colour: (look == Look::Paint).then(|| "#f4f3ee".to_owned()),
        ..Wish::for_look(look)
    };
    let (substrate, found) = found_of(typed.text("found"));
    Some(Zone {
        found,
        wish,
        ..Zone::new("body", substrate)
    })
}

/// Substrate and layers that *what is there* of a quick answer speaks of.
fn found_of(word: &str) -> (Substrate, Vec<FoundLayer>) {
    let layer = |class| vec![FoundLayer::of(class, 2)];
    match word {
        "bare-wood" | "bare-wood-tannin-knot" => (Substrate::Wood, Vec::new()),
        "bare-metal" => (Substrate::parse("steel").unwrap_or(Substrate::Wood), Vec::new()),
        "laminate-melamine" => (Substrate::parse("laminate").unwrap_or(Substrate::Wood), Vec::new()),
        other => (
            Substrate::Wood,
            layer(FinishClass::parse(other).unwrap_or(FinishClass::OilBasedPolyurethane)),
        ),
    }
}
