//! The parts of a scan: what was found, how it is divided, which zone each part belongs to, and the form that it becomes.
//!
//! How the scan is divided stands in the address, so that a reload and a page without scripts keep it.

use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::{Extension, Form};
use maud::{Markup, PreEscaped, html};
use quantity::{Length, UnitSystem};
use shop::model::{FormKind, FormSaid, HowMeasured, Means, MeshFile, Piece, Zone};
use takeoff::drawing::{self, View, ZoneLook};
use takeoff::mesh::{Health, Mesh, Pick};
use takeoff::{Scan, ScanPart};
use trade::Substrate;

use super::{Held, Scanned};
use crate::app::App;
use crate::error::PageError;

use crate::typed::Typed;
use crate::view::fields::{Choice, Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// How many bands can be cut out of a scan.
const BANDS: usize = 4;
/// Most parts of which a zone can be made.
const MOST_PARTS: usize = 24;
/// How far a surface may turn away from the side that it is said to face, degrees.
const FACING_DEGREES: f64 = 45.0;

/// The ways a surface can face: right, back and up are the scan's own.
const FACINGS: [(&str, &str, [f64; 3]); 6] = [
    ("up", "up: tops, shelves, seats", [0.0, 0.0, 1.0]),
    ("down", "down: undersides", [0.0, 0.0, -1.0]),
    ("front", "to the front", [0.0, -1.0, 0.0]),
    ("back", "to the back", [0.0, 1.0, 0.0]),
    ("left", "to the left", [-1.0, 0.0, 0.0]),
    ("right", "to the right", [1.0, 0.0, 0.0]),
];

/// `GET /pieces/{id}/scan/parts?name-1=…`: the parts as they are divided.
pub(super) async fn page(
    State(app): State<App>,
    Extension(held): Extension<Held>,
    asked: Asked,
    Path(id): Path<String>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let Some(scanned) = held.of(&id) else {
        // It was let go, or never sent.
        return Ok(Redirect::to(&format!("/pieces/{id}/scan")).into_response());
    };
    let (piece, units) = around(&app, id).await?;
    let mut typed = Typed::from(entries);
    let divided = divided(&scanned, &mut typed, units).await?;
    Ok(whole(&asked, &piece, &scanned, &divided, &typed, units).into_response())
}

async fn around(app: &App, id: String) -> Result<(Piece, UnitSystem), PageError> {
    app.at_desk(move |desk, _| Ok((shop::plan::with_zones(desk.piece(&id)?), desk.shop.settings.units)))
        .await
}

/// A scan with its parts and what is wrong with it.
struct Divided {
    scan: Scan,
    health: Health,
}

/// Divides the scan as typed, off the threads that answer; bands that cannot be read are left out and refused.
async fn divided(scanned: &Scanned, typed: &mut Typed, units: UnitSystem) -> Result<Divided, PageError> {
    let picks: Vec<(String, Pick)> = (1..=BANDS)
        .filter_map(|band| read_band(band, &scanned.mesh, typed, units))
        .collect();
    let mesh = std::sync::Arc::clone(&scanned.mesh);
    tokio::task::spawn_blocking(move || Divided {
        scan: Scan::divided(&mesh, &picks),
        health: mesh.health(),
    })
    .await
    .map_err(|fault| PageError::fault(&fault))
}

/// A band of the form; `None` where it is left empty or cannot be read.
fn read_band(band: usize, mesh: &Mesh, typed: &mut Typed, units: UnitSystem) -> Option<(String, Pick)> {
    let field = |what: &str| format!("{what}-{band}");
    let name: String = typed.text(&field("name")).chars().take(40).collect();
    if name.is_empty() {
        return None;
    }
    let group = typed.read_if_said(&field("group"), |place| {
        let place = place.parse::<usize>().ok().filter(|place| *place < mesh.groups.len());
        place.ok_or_else(|| "this scan has no such group".to_owned())
    });
    let facing = typed.read_if_said(&field("facing"), |word| {
        let known = FACINGS.iter().find(|(known, _, _)| *known == word);
        known
            .map(|(_, _, direction)| (*direction, FACING_DEGREES))
            .ok_or_else(|| format!("“{word}” is no way to face"))
    });
    let height = |field: &str, typed: &mut Typed| {
        typed.read_if_said(field, |text| {
            let height = Length::parse_in(text, units).map_err(|refusal| refusal.to_string())?;
            if (0.0..=20.0).contains(&height.m()) {
                Ok(height)
            } else {
                Err("a height above the lowest point of the scan".to_owned())
            }
        })
    };
    let (low, high) = (height(&field("from"), typed), height(&field("to"), typed));
    if let (Some(low), Some(high)) = (low, high)
        && low >= high
    {
        typed.refuse(&field("to"), "the band ends below where it begins");
    }
    for what in ["group", "facing", "from", "to"] {
        typed.refusal(&field(what)).is_none().then_some(())?;
    }
    let band =
        (low.is_some() || high.is_some()).then(|| (low.unwrap_or(Length::ZERO), high.unwrap_or(Length::from_m(100.0))));
    Some((
        name,
        Pick {
            group,
            facing,
            height: band,
        },
    ))
}

fn whole(
    asked: &Asked,
    piece: &Piece,
    scanned: &Scanned,
    divided: &Divided,
    typed: &Typed,
    units: UnitSystem,
) -> Markup {
    let address = format!("/pieces/{}/scan/parts", piece.id);
    let fields = Fields { form: "parts", typed };
    let body = html! {
        h1 { "The scan of the " (piece.name) }
        (summary(typed))
        section.card.jobcard aria-labelledby="found-title" {
            div.drawing { (PreEscaped(likeness(&divided.scan, &piece.name))) }
            (found(scanned, divided, units))
        }
        form method="get" action=(address) {
            section.card aria-labelledby="parts-title" {
                h2 #parts-title { "Its parts" }
                @if divided.scan.parts.len() > MOST_PARTS {
                    p.caution.warn { strong.sign { "Many parts: " } (divided.scan.parts.len()) " of them; the first " (MOST_PARTS) " can be given to zones. Join groups where you made the scan, or cut bands out of all of them below." }
                }
                ul.plain { @for part in divided.scan.parts.iter().take(MOST_PARTS) { (part_row(part, piece, &divided.scan, fields, units)) } }
                (zones_that_go(piece, divided, fields))
                (fields.text("height", "Height by the tape", "empty: as the scan has it, and all areas less sure"))
                button formmethod="post" { "Make it the form of the piece" }
            }
            section.card aria-labelledby="bands-title" {
                h2 #bands-title { "Divide it otherwise" }
                p { "Each of these takes its surfaces before the next; what none takes stays with its group of the file. Heights are above the lowest point." }
                @for band in 1..=BANDS { (band_fields(band, &scanned.mesh, fields)) }
                button.second { "Divide it so" }
            }
        }
        p { a.button.second href={ "/pieces/" (piece.id) "/scan" } { "Send another scan" } }
    };
    shell::page(asked, &format!("The scan of the {}", piece.name), Here::Pieces, &body)
}

fn likeness(scan: &Scan, name: &str) -> String {
    let looks = ZoneLook::paper().titled(format!("Drawing of the scan of the {name}"));
    let view = View {
        width_px: 460,
        ..View::default()
    };
    drawing::svg(&takeoff::Form::Mesh(scan.clone()), &looks, view)
}

/// What the scan holds, and what is wrong with it, in the words of the bench.
fn found(scanned: &Scanned, divided: &Divided, units: UnitSystem) -> Markup {
    let [width, depth, height] = divided.scan.scanned.map(|side| side.show(units));
    let health = &divided.health;
    html! {
        div.ticket {
            h2 #found-title { (scanned.file) }
            dl.facts {
                dt { "Measures" } dd { (width) " × " (depth) " × " (height) }
                dt { "Surface" } dd { (scanned.mesh.area().show(units)) }
                dt { "Triangles" } dd { (scanned.mesh.triangle_count()) }
            }
            @if health.is_whole() { p { "✓ The surface is closed: nothing is missing." } }
            @if health.holes > 0 {
                p.caution.warn {
                    strong.sign { (health.holes) @if health.holes == 1 { " hole: " } @else { " holes: " } }
                    "places that the scanner did not see, " span.figure { (health.open_edge.show(units)) } " round in all. Up to "
                    span.figure { (health.missing.show(units)) } " of surface may be missing there; the areas are taken as that much less sure."
                }
            }
            @if health.shared_edges > 0 {
                p.caution.warn {
                    strong.sign { "Surfaces that run into each other: " }
                    "at " (health.shared_edges) " edges more than two meet, as where a drawer sits inside its case. What is hidden inside may be counted with the rest: cut it away in the scan, or give that part to no zone."
                }
            }
            @if health.flat_triangles > 0 { p.small.soft { (health.flat_triangles) " slivers have no area and count nothing." } }
        }
    }
}

fn part_row(part: &ScanPart, piece: &Piece, scan: &Scan, fields: Fields<'_>, units: UnitSystem) -> Markup {
    let area: f64 = scan.parts.iter().map(|part| part.area.m2()).sum();
    let share = if area > 0.0 { part.area.m2() / area } else { 0.0 };
    let field = zone_field(part);
    let mut typed = fields.typed.clone();
    typed.unless_said(&field, &proposed(part, piece));
    let fields = Fields {
        typed: &typed,
        ..fields
    };
    let hint = format!("{}, {} of it all", part.area.show(units), show::percent(share));
    html! {
        li { (fields.select(&field, &show::capital(&words(part)), &hint, &zone_choices(part, piece))) }
    }
}

fn words(part: &ScanPart) -> String {
    part.id.replace('-', " ")
}

fn zone_field(part: &ScanPart) -> String {
    format!("zone-of-{}", part.id)
}

fn zone_choices(part: &ScanPart, piece: &Piece) -> Vec<Choice> {
    let name = words(part);
    let mut choices: Vec<Choice> = piece
        .zones
        .iter()
        .map(|zone| (format!("there {}", zone.name), format!("belongs to the {}", zone.name)))
        .collect();
    if piece.zone(&name).is_none() {
        choices.push(("new".to_owned(), format!("a zone of its own: {name}")));
    }
    choices.push(("none".to_owned(), "is not finished".to_owned()));
    choices
}

/// The zone of the part's name where there is one, else one of its own.
fn proposed(part: &ScanPart, piece: &Piece) -> String {
    match piece.zone(&words(part)) {
        Some(zone) => format!("there {}", zone.name),
        None => "new".to_owned(),
    }
}

/// The zone that a part is given to: a word of [`zone_choices`].
fn given(part: &ScanPart, piece: &Piece, typed: &Typed) -> String {
    match typed.text(&zone_field(part)) {
        "" => proposed(part, piece),
        said => said.to_owned(),
    }
}

/// The zones that get no part, and the box that lets them go.
fn zones_that_go(piece: &Piece, divided: &Divided, fields: Fields<'_>) -> Markup {
    let without = without_parts(piece, &divided.scan, fields.typed);
    html! {
        @if !without.is_empty() {
            p { "No part of the scan belongs to: " strong { (without.join(", ")) } "." }
            (fields.tick("let-go", "Take these zones out of the piece, with what was found and wished for them"))
            @if let Some(refusal) = fields.typed.refusal("let-go") { span.refusal role="alert" { span.sign { "Not yet: " } (refusal) } }
        }
    }
}

fn without_parts(piece: &Piece, scan: &Scan, typed: &Typed) -> Vec<String> {
    let given: Vec<String> = scan
        .parts
        .iter()
        .take(MOST_PARTS)
        .map(|part| given(part, piece, typed))
        .collect();
    piece
        .zones
        .iter()
        .filter(|zone| !given.contains(&format!("there {}", zone.name)))
        .map(|zone| zone.name.clone())
        .collect()
}

fn band_fields(band: usize, mesh: &Mesh, fields: Fields<'_>) -> Markup {
    let any = |words: &str| vec![(String::new(), words.to_owned())];
    let mut groups = any("of any group");
    groups.extend(
        mesh.groups
            .iter()
            .enumerate()
            .take(60)
            .map(|(place, name)| (place.to_string(), name.clone())),
    );
    let mut facings = any("any way");
    facings.extend(choices(FACINGS.iter().map(|(word, words, _)| (*word, *words))));
    html! {
        fieldset {
            legend { "Part " (band) }
            div.three {
                (fields.text(&format!("name-{band}"), "Call it", "such as top"))
                (fields.select(&format!("facing-{band}"), "What faces", "within 45°", &facings))
                (fields.text(&format!("from-{band}"), "From height", "empty: the floor"))
                (fields.text(&format!("to-{band}"), "To height", "empty: the top"))
                @if mesh.groups.len() > 1 { (fields.select(&format!("group-{band}"), "Only of", "", &groups)) }
            }
        }
    }
}

/// `POST /pieces/{id}/scan/parts`: the scan becomes the form of the piece, its parts the surfaces of the zones.
pub(super) async fn keep(
    State(app): State<App>,
    Extension(held): Extension<Held>,
    asked: Asked,
    Path(id): Path<String>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let Some(scanned) = held.of(&id) else {
        let words = "the scan is no longer held: send its file again, then divide it";
        return Err(PageError::Refused(words.to_owned()));
    };
    let (mut piece, units) = around(&app, id.clone()).await?;
    let mut typed = Typed::from(entries);
    let divided = divided(&scanned, &mut typed, units).await?;
    let taped = typed.text("height").to_owned();
    let taped = (!taped.is_empty())
        .then(|| typed.measure("height", units, None))
        .flatten();
    assign(&mut piece, &divided.scan, &mut typed);
    if !typed.is_sound() {
        let page = whole(&asked, &piece_of(&app, &id).await?, &scanned, &divided, &typed, units);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    }
    piece.form = form_of(&scanned, divided.scan, taped);
    app.at_desk(move |desk, _| {
        let place = desk.shop.piece_mut(&piece.id).ok_or(PageError::NotFound("piece"))?;
        let id = piece.id.clone();
        (place.form, place.zones) = (piece.form, piece.zones);
        desk.keep_piece(&id)
    })
    .await?;
    held.put(None);
    Ok(Redirect::to(&format!("/pieces/{id}")).into_response())
}

async fn piece_of(app: &App, id: &str) -> Result<Piece, PageError> {
    around(app, id.to_owned()).await.map(|(piece, _)| piece)
}

/// Gives each zone the parts that belong to it.
fn assign(piece: &mut Piece, scan: &Scan, typed: &mut Typed) {
    let before = piece.clone();
    let without = without_parts(piece, scan, typed);
    if !without.is_empty() && !typed.is_ticked("let-go") {
        let words = format!(
            "{} would be left without a surface: give each a part, or tick that they go",
            without.join(", ")
        );
        typed.refuse("let-go", words);
        return;
    }
    piece.zones.retain(|zone| !without.contains(&zone.name));
    for zone in &mut piece.zones {
        (zone.of, zone.area) = (Vec::new(), None);
    }
    for part in scan.parts.iter().take(MOST_PARTS) {
        let given = given(part, &before, typed);
        match given.strip_prefix("there ") {
            Some(name) => {
                if let Some(zone) = piece.zones.iter_mut().find(|zone| zone.name == name) {
                    zone.of.push(part.id.clone());
                }
            }
            None if given == "new" => {
                let mut zone = Zone::new(&words(part), Substrate::Wood);
                zone.of.push(part.id.clone());
                piece.zones.push(zone);
            }
            None => {}
        }
    }
    if piece.zones.is_empty() {
        typed.refuse("let-go", "no part is finished: give at least one to a zone");
    }
}

/// The form that a scan becomes.
fn form_of(scanned: &Scanned, scan: Scan, taped: Option<(Length, HowMeasured)>) -> FormSaid {
    let own = HowMeasured::with_error(Means::Scan, scan.height.standard_error);
    let (height, by) = taped.unwrap_or((scan.scanned[2], own));
    let stretch = if scan.scanned[2].m() > 1e-6 {
        height / scan.scanned[2]
    } else {
        1.0
    };
    let [width, depth] = [scan.scanned[0] * stretch, scan.scanned[1] * stretch];
    let mut form = FormSaid::of(FormKind::Mesh, [width, depth, height]);
    form.measured.height = by;
    form.details.mesh = Some(MeshFile {
        file: scanned.file.clone(),
        unit_m: scanned.unit.metres(),
        y_up: scanned.is_y_up,
        scan: Some(Box::new(scan)),
    });
    form
}
