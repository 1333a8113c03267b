//! A zone: what is found on it, layer by layer, and what it should become.

use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use shop::bench;
use shop::model::{
    Condition, Contaminant, Defect, DefectKind, FoundLayer, LeadAmount, LeadField, LeadTest, LeadTested, Look, Piece,
    Sheen, TestKind, Wish, Without, Zone,
};
use trade::{FinishClass, Substrate};

use crate::app::App;
use crate::error::PageError;
use crate::pages::piece::{own_zones, path_word};
use crate::pages::quick::class_choices;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// Most layers that the form has rows for.
const MOST_LAYERS: usize = crate::pages::layers::MOST_LAYERS;

/// `GET /pieces/{id}/zones/{zone}`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
) -> Result<Markup, PageError> {
    let (piece, zone) = app
        .at_desk(move |desk, _| {
            own_zones(desk, &id)?;
            let piece = desk.piece(&id)?.clone();
            let zone = piece.zone(&name).cloned().ok_or(PageError::NotFound("zone"))?;
            Ok((piece, zone))
        })
        .await?;
    Ok(form_page(&asked, &piece, &zone, &typed_of(&zone)))
}

/// `POST /pieces/{id}/zones`: another zone, bare wood to begin with.
pub(crate) async fn add(
    State(app): State<App>,
    Path(id): Path<String>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    let name: String = typed
        .text("zone")
        .chars()
        .filter(|c| !c.is_control())
        .take(40)
        .collect();
    if name.is_empty() {
        return Ok(Redirect::to(&format!("/pieces/{id}")));
    }
    let to = format!("/pieces/{id}/zones/{}", path_word(&name));
    app.at_desk(move |desk, _| {
        own_zones(desk, &id)?;
        if desk.piece(&id)?.zone(&name).is_none() {
            bench::edit_zone(&mut desk.shop, &id, Zone::new(&name, Substrate::Wood))?;
        }
        desk.keep_piece(&id)
    })
    .await?;
    Ok(Redirect::to(&to))
}

/// `POST /pieces/{id}/zones/{zone}`.
pub(crate) async fn save(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let to = format!("/pieces/{id}#zone-{}", shop::model::slug(&name));
    let (typed, piece) = app
        .at_desk(move |desk, _| {
            own_zones(desk, &id)?;
            let piece = desk.piece(&id)?.clone();
            let before = piece.zone(&name).cloned().ok_or(PageError::NotFound("zone"))?;
            if typed.is_ticked("take-off") && piece.zones.len() > 1 {
                if let Some(piece) = desk.shop.piece_mut(&id) {
                    piece.zones.retain(|zone| zone.name != name);
                }
                desk.keep_piece(&id)?;
                return Ok((typed, piece));
            }
            let zone = read(&before, &mut typed);
            if typed.is_sound() {
                bench::edit_zone(&mut desk.shop, &id, zone)?;
                desk.keep_piece(&id)?;
            }
            typed.set("zone-name", name);
            Ok((typed, piece))
        })
        .await?;
    if typed.is_sound() {
        return Ok(Redirect::to(&to).into_response());
    }
    let zone = piece.zone(typed.text("zone-name")).ok_or(PageError::NotFound("zone"))?;
    let page = form_page(&asked, &piece, zone, &typed);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

fn typed_of(zone: &Zone) -> Typed {
    let mut typed = Typed::default();
    typed.set("substrate", zone.substrate.id());
    for (row, layer) in zone.found.iter().enumerate() {
        typed.set(&format!("layer-{row}-class"), layer.class.id());
        typed.set(&format!("layer-{row}-coats"), layer.coats.to_string());
        if let Some(colour) = &layer.colour {
            typed.set(&format!("layer-{row}-colour"), colour.clone());
            typed.set(&format!("layer-{row}-colour-has"), "yes");
        }
    }
    for state in &zone.state {
        typed.set(&format!("state-{}", state.id()), "yes");
    }
    for contaminant in &zone.contaminants {
        typed.set(&format!("on-{}", contaminant.id()), "yes");
    }
    for defect in &zone.defects {
        typed.set(&format!("defect-{}", defect.kind.id()), defect.count.to_string());
    }
    typed.set("lead", zone.lead.said.id());
    typed.set("lead-by", zone.lead.by.map_or("", TestKind::id));
    typed.set(
        "lead-amount",
        zone.lead.amount.map(LeadAmount::show).unwrap_or_default(),
    );
    wish_typed(&zone.wish, &mut typed);
    typed
}

fn wish_typed(wish: &Wish, typed: &mut Typed) {
    typed.set("look", wish.look.id());
    typed.set("sheen", wish.sheen.map_or("", |sheen| sheen.id()));
    if let Some(colour) = &wish.colour {
        typed.set("colour", colour.clone());
        typed.set("colour-has", "yes");
    }
    typed.set(
        "strip",
        match wish.strip {
            Some(true) => "yes",
            Some(false) => "no",
            None => "",
        },
    );
    typed.set("class", wish.class.map_or("", |class| class.id()));
    typed.set("coats", wish.coats.map(|coats| coats.to_string()).unwrap_or_default());
    for without in &wish.without {
        typed.set(&format!("without-{}", without.id()), "yes");
    }
    if wish.distress {
        typed.set("distress", "yes");
    }
    if wish.glaze {
        typed.set("glaze", "yes");
    }
}

/// The zone as the form says, over what it was.
fn read(before: &Zone, typed: &mut Typed) -> Zone {
    let mut zone = before.clone();
    if let Some(substrate) = typed.read("substrate", Substrate::parse) {
        // The form knows no thickness of veneer: one that was told is kept.
        if substrate.id() != before.substrate.id() {
            zone.substrate = substrate;
        }
    }
    zone.found = (0..MOST_LAYERS)
        .filter_map(|row| layer(row, before.found.get(row), typed))
        .collect();
    zone.state = Condition::EVERY
        .iter()
        .copied()
        .filter(|state| typed.is_ticked(&format!("state-{}", state.id())))
        .collect();
    zone.contaminants = Contaminant::EVERY
        .iter()
        .copied()
        .filter(|each| typed.is_ticked(&format!("on-{}", each.id())))
        .collect();
    zone.defects = DefectKind::EVERY
        .iter()
        .filter_map(|kind| defect(*kind, before, typed))
        .collect();
    zone.lead = lead(typed).unwrap_or(before.lead);
    let wish = wish(typed, &before.wish);
    if wish != before.wish {
        zone.chosen = None;
    }
    zone.wish = wish;
    zone
}

/// The lead test; `None` if it was refused.
fn lead(typed: &mut Typed) -> Option<LeadTested> {
    let said = LeadTest::parse(typed.text("lead")).unwrap_or(LeadTest::NotTested);
    let by = typed.read_if_said("lead-by", TestKind::parse);
    let amount = typed.read_if_said("lead-amount", |text| {
        LeadAmount::parse(text).map_err(|limit| format!("“{text}” is not {limit}; right is {}", LeadAmount::RIGHT))
    });
    if typed.refusal("lead-by").is_some() || typed.refusal("lead-amount").is_some() {
        return None;
    }
    let refused = match LeadTested::of(said, by, amount) {
        Ok(tested) => return Some(tested),
        Err(refused) => refused,
    };
    let field = match refused.field {
        LeadField::Said => "lead",
        LeadField::Amount => "lead-amount",
    };
    typed.refuse(field, format!("{}; right is {}", refused.limit, refused.right));
    None
}

/// A row of the form. What it does not ask for is kept as long as the layer is of the same class.
fn layer(row: usize, before: Option<&FoundLayer>, typed: &mut Typed) -> Option<FoundLayer> {
    let class_field = format!("layer-{row}-class");
    let class = typed.read_if_said(&class_field, FinishClass::parse)?;
    let coats = typed.count(&format!("layer-{row}-coats"), 1, 30).unwrap_or(1);
    let colour_field = format!("layer-{row}-colour");
    Some(FoundLayer {
        coats: u8::try_from(coats).unwrap_or(1),
        colour: colour(&colour_field, typed),
        ..before
            .filter(|before| before.class == class)
            .cloned()
            .unwrap_or_else(|| FoundLayer::of(class, 1))
    })
}

/// A colour whose box is ticked.
pub(super) fn colour(field: &str, typed: &mut Typed) -> Option<String> {
    if !typed.is_ticked(&format!("{field}-has")) {
        return None;
    }
    typed.read(field, |text| {
        shop::file::read_colour(text).ok_or_else(|| format!("“{text}” is no colour; such as #35506b"))
    })
}

fn defect(kind: DefectKind, before: &Zone, typed: &mut Typed) -> Option<Defect> {
    let count = typed
        .count(&format!("defect-{}", kind.id()), 0, 200)
        .filter(|count| *count > 0)?;
    let depth = before
        .defects
        .iter()
        .find(|defect| defect.kind == kind)
        .and_then(|defect| defect.depth);
    Some(Defect { kind, count, depth })
}

fn wish(typed: &mut Typed, before: &Wish) -> Wish {
    let coats = typed.count("coats", 1, 12).and_then(|coats| u8::try_from(coats).ok());
    Wish {
        look: Look::parse(typed.text("look")).unwrap_or(before.look),
        sheen: Sheen::parse(typed.text("sheen")).ok(),
        colour: colour("colour", typed),
        strip: match typed.text("strip") {
            "yes" => Some(true),
            "no" => Some(false),
            _ => None,
        },
        class: typed.read_if_said("class", FinishClass::parse),
        product: before.product.clone(),
        coats,
        without: Without::EVERY
            .iter()
            .copied()
            .filter(|each| typed.is_ticked(&format!("without-{}", each.id())))
            .collect(),
        distress: typed.is_ticked("distress"),
        glaze: typed.is_ticked("glaze"),
    }
}

fn form_page(asked: &Asked, piece: &Piece, zone: &Zone, typed: &Typed) -> Markup {
    let (piece_id, piece_name, zone_name) = (&piece.id, &piece.name, &zone.name);
    let fields = Fields { form: "zone", typed };
    let body = html! {
        p { a href={ "/pieces/" (piece_id) } { "← " (piece_name) } }
        h1 { "The " (zone_name) " of the " (piece_name) }
        (summary(typed))
        (crate::pages::layers::stack(piece_id, zone))
        form method="post" action={ "/pieces/" (piece_id) "/zones/" (path_word(zone_name)) } {
            section.card aria-labelledby="found-title" {
                h2 #found-title { "What is there" }
                (fields.select("substrate", "Made of", "", &substrates()))
                details open[!typed.is_sound()] {
                    summary { "All layers in one form" }
                    (layers(&fields, typed))
                }
                p { a href={ "/pieces/" (piece_id) "/zones/" (path_word(zone_name)) "/test" } { "I don't know what is on it: look, touch and test" } }
                (state(&fields))
                (lead_fields(&fields))
            }
            p { a href={ "/pieces/" (piece_id) "/zones/" (path_word(zone_name)) "/check" } { "What goes wrong if a step is left out?" } }
            p { a href={ "/pieces/" (piece_id) "/zones/" (path_word(zone_name)) "/steps" } { "Write its steps by hand" } }
            section.card aria-labelledby="wish-title" {
                h2 #wish-title { "What it should become" }
                (wish_fields(&fields))
                p { a href={ "/colour?for=" (path_word(&format!("{piece_id}/{zone_name}"))) } { "How many coats hide the old colour?" } }
            }
            div.row {
                button { "Plan it so" }
                a.button.second href={ "/pieces/" (piece_id) } { "Leave it" }
                button.second name="take-off" value="yes" { "Take this zone off the piece" }
            }
        }
    };
    shell::page(asked, &format!("{zone_name} of the {piece_name}"), Here::Pieces, &body)
}

fn substrates() -> Vec<Choice> {
    Substrate::every()
        .map(|substrate| (substrate.id(), substrate.label()))
        .collect()
}

/// The found layers, the wood below and one empty row on top for another.
fn layers(fields: &Fields<'_>, typed: &Typed) -> Markup {
    let filled = (0..MOST_LAYERS)
        .rev()
        .find(|row| !typed.text(&format!("layer-{row}-class")).is_empty())
        .map_or(0, |row| row + 1);
    let rows = (filled + 1).min(MOST_LAYERS);
    let mut classes = vec![(
        String::new(),
        vec![
            (String::new(), "nothing (no layer)".to_owned()),
            (FinishClass::Unknown.id().to_owned(), "I don't know".to_owned()),
            (
                FinishClass::WaxedShellac.id().to_owned(),
                "old shellac, with its wax".to_owned(),
            ),
        ],
    )];
    classes.extend(class_choices());
    html! {
        fieldset {
            legend { "Layers on it, from the surface of the wood or metal outwards" }
            p.small.soft { "Save to get a further empty row. A row set to nothing is left out." }
            @for row in 0..rows {
                div.layer role="group" aria-label={ "Layer " (row + 1) } {
                    (fields.select_of(&format!("layer-{row}-class"), &format!("Layer {}", row + 1), "", &classes))
                    (fields.text(&format!("layer-{row}-coats"), "Coats of it", ""))
                    (fields.colour(&format!("layer-{row}-colour"), "Its colour"))
                }
            }
        }
    }
}

fn state(fields: &Fields<'_>) -> Markup {
    html! {
        fieldset {
            legend { "How it is" }
            div.ticks {
                @for each in Condition::EVERY { (fields.tick(&format!("state-{}", each.id()), each.label())) }
            }
        }
        fieldset {
            legend { "On the surface" }
            div.ticks {
                @for each in Contaminant::EVERY { (fields.tick(&format!("on-{}", each.id()), each.label())) }
            }
        }
        fieldset {
            legend { "Damage, how many of each" }
            div.three {
                @for kind in DefectKind::EVERY { (fields.text(&format!("defect-{}", kind.id()), kind.label(), "")) }
            }
        }
    }
}

/// What a lead test said, and what each kind of test can and cannot tell.
fn lead_fields(fields: &Fields<'_>) -> Markup {
    let results = LeadTest::EVERY.iter().map(|each| (each.id(), each.label()));
    let mut kinds = choices([("", "not noted")]);
    kinds.extend(choices(TestKind::EVERY.iter().map(|each| (each.id(), each.label()))));
    html! {
        fieldset {
            legend { "Lead in the old paint" }
            p.hint { "From before 1978, or of unknown age: test before sanding." }
            div.three.wide {
                (fields.select("lead", "Lead test", "what it said", &choices(results)))
                (fields.select("lead-by", "Kind of test", "", &kinds))
                (fields.text("lead-amount", "How much lead", "2.4 mg/cm2, 0.8 %, 5000 ppm"))
            }
            details {
                summary { "What each kind of test can and cannot tell" }
                dl {
                    @for row in shop::model::lead_tests() {
                        dt { (show::capital(row.kind.label())) }
                        dd { (show::capital(&row.can)) ". But " (row.cannot) "." }
                    }
                }
            }
        }
    }
}

fn wish_fields(fields: &Fields<'_>) -> Markup {
    let mut sheens = vec![(String::new(), "as the finish gives".to_owned())];
    sheens.extend(choices(Sheen::EVERY.iter().map(|each| (each.id(), each.label()))));
    let mut classes = vec![(String::new(), vec![(String::new(), "whatever serves best".to_owned())])];
    classes.extend(class_choices());
    html! {
        div.three {
            (fields.select("look", "Look", "", &choices(Look::EVERY.iter().map(|each| (each.id(), each.label())))))
            (fields.select("sheen", "Sheen", "", &sheens))
            (fields.select("strip", "The old finish", "", &choices([("", "whichever serves"), ("yes", "goes, down to the bare surface"), ("no", "stays")])))
        }
        (fields.colour("colour", "New colour"))
        div.three {
            (fields.select_of("class", "Finish", "", &classes))
            (fields.text("coats", "Coats", "empty: as many as it takes"))
        }
        fieldset {
            legend { "Without" }
            div.ticks {
                @for each in Without::EVERY { (fields.tick(&format!("without-{}", each.id()), each.label())) }
            }
        }
        div.ticks {
            (fields.tick("distress", "Wear the edges through on purpose"))
            (fields.tick("glaze", "Leave a glaze in the recesses"))
        }
    }
}
