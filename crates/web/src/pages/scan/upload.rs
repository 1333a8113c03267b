//! The scan's file: which it is, in which unit, which way up; and why it cannot be used.

use axum::Extension;
use axum::extract::multipart::{Field, Multipart, MultipartError, MultipartRejection};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use takeoff::mesh::{MOST_TRIANGLES, Mesh, MeshUnit, UpAxis};

use super::{Held, LARGEST_MB, Scanned, Turn};
use std::sync::Arc;

use crate::app::App;
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};

/// The units a scan may be in, by their words in a form.
const UNITS: [(&str, &str, MeshUnit); 5] = [
    ("m", "metres", MeshUnit::Metre),
    ("mm", "millimetres", MeshUnit::Millimetre),
    ("cm", "centimetres", MeshUnit::Centimetre),
    ("in", "inches", MeshUnit::Inch),
    ("ft", "feet", MeshUnit::Foot),
];

/// `GET /pieces/{id}/scan`.
pub(super) async fn page(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Result<Markup, PageError> {
    whole(&app, &asked, id, &Typed::default()).await
}

async fn whole(app: &App, asked: &Asked, id: String, typed: &Typed) -> Result<Markup, PageError> {
    let (name, id) = app
        .at_desk(move |desk, _| Ok((desk.piece(&id)?.name.clone(), id)))
        .await?;
    let fields = Fields { form: "scan", typed };
    let body = html! {
        h1 { "A scan of the " (name) }
        p.lead { "A scan made with a telephone or a scanner gives the area of every part, curved and carved ones too, and becomes the form of the piece." }
        (summary(typed))
        form.card method="post" enctype="multipart/form-data" action={ "/pieces/" (id) "/scan" } {
            (file_field(typed))
            div.three {
                (fields.select("unit", "Its numbers are", "GLB and glTF are always metres", &choices(UNITS.iter().map(|(word, name, _)| (*word, *name)))))
                (fields.select("up", "Which way is up", "GLB and glTF are always y", &choices([("y", "y, as most telephones have it"), ("z", "z, as most workshops have it")])))
            }
            button { "Read it" }
        }
        section aria-labelledby="scan-how" {
            h2 #scan-how { "So that it can be measured" }
            ul {
                li { "Export the scan as a surface in OBJ, STL, PLY or GLB; not as points, and not zipped." }
                li { "Cut the floor and the wall away where it was scanned: whatever is in the file is measured." }
                li { "A tenth of the triangles that a scanner makes is plenty for an area; " (MOST_TRIANGLES / 1000) " thousand are taken at most." }
                li { "Lay a tape on the height, and say it on the page that follows: all areas follow it." }
            }
        }
        p { a.button.second href={ "/pieces/" (id) } { "Back to the piece" } }
    };
    Ok(shell::page(
        asked,
        &format!("A scan of the {name}"),
        Here::Pieces,
        &body,
    ))
}

fn file_field(typed: &Typed) -> Markup {
    let refusal = typed.refusal("file");
    html! {
        div.field {
            label for="scan-file" { "The scan" }
            span.hint #scan-file-hint { "OBJ, STL, PLY or GLB, up to " (LARGEST_MB) " MB" }
            input #scan-file type="file" name="file" accept=".obj,.stl,.ply,.glb,.gltf" aria-invalid=[refusal.map(|_| "true")]
                aria-describedby={ "scan-file-hint" @if refusal.is_some() { " scan-file-refusal" } };
            @if let Some(refusal) = refusal { span.refusal #scan-file-refusal { span.sign { "Not yet: " } (refusal) } }
        }
    }
}

/// What a form with a scan in it said.
#[derive(Default)]
struct Sent {
    typed: Typed,
    name: String,
    bytes: Vec<u8>,
}

/// `POST /pieces/{id}/scan`: reads a mesh and goes on to its parts.
pub(super) async fn send(
    State(app): State<App>,
    Extension(held): Extension<Held>,
    asked: Asked,
    Path(id): Path<String>,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Response, PageError> {
    let piece = id.clone();
    app.at_desk(move |desk, _| desk.piece(&piece).map(|_| ())).await?;
    let mut typed = match held.turn() {
        None => {
            let mut typed = Typed::default();
            typed.refuse("file", "another scan is being read; send this one again in a minute");
            typed
        }
        Some(turn) => {
            // The mesh before it is let go first, so that there is never more than one.
            held.put(None);
            let sent = receive(form).await;
            read(&held, &id, sent, turn).await?
        }
    };
    if typed.is_sound() {
        return Ok(Redirect::to(&format!("/pieces/{id}/scan/parts")).into_response());
    }
    typed.unless_said("unit", "m");
    let page = whole(&app, &asked, id, &typed).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

async fn receive(form: Result<Multipart, MultipartRejection>) -> Sent {
    let mut sent = Sent::default();
    let Ok(mut form) = form else {
        let words = "the form came without a scan; choose a file and send it again";
        sent.typed.refuse("file", words);
        return sent;
    };
    loop {
        match form.next_field().await {
            Ok(Some(field)) => receive_field(field, &mut sent).await,
            Ok(None) => break,
            Err(fault) => {
                sent.typed.refuse("file", broken(&fault));
                break;
            }
        }
        if !sent.typed.is_sound() {
            break;
        }
    }
    sent
}

/// Takes a field in piece by piece, and no more of it than is read.
async fn receive_field(mut field: Field<'_>, sent: &mut Sent) {
    if field.name() == Some("file") {
        sent.name = field.file_name().unwrap_or_default().chars().take(200).collect();
        loop {
            match field.chunk().await {
                Ok(Some(chunk)) if sent.bytes.len() + chunk.len() > LARGEST_MB * 1_000_000 => {
                    sent.bytes = Vec::new();
                    sent.typed.refuse("file", too_large());
                    return;
                }
                Ok(Some(chunk)) => sent.bytes.extend_from_slice(&chunk),
                Ok(None) => return,
                Err(fault) => {
                    sent.bytes = Vec::new();
                    sent.typed.refuse("file", broken(&fault));
                    return;
                }
            }
        }
    }
    let name = field.name().unwrap_or_default().to_owned();
    // The other fields are words of a list: what is longer is none of them.
    if let Ok(Some(chunk)) = field.chunk().await {
        let word: String = String::from_utf8_lossy(&chunk).chars().take(20).collect();
        sent.typed.set(&name, word);
    }
}

fn too_large() -> String {
    format!(
        "the file is larger than {LARGEST_MB} MB; reduce the scan where you made it (a tenth is plenty for an area), and export it again"
    )
}

fn broken(fault: &MultipartError) -> String {
    if fault.status() == StatusCode::PAYLOAD_TOO_LARGE {
        too_large()
    } else {
        "the file broke off on its way; send it again".to_owned()
    }
}

/// Reads the mesh off the threads that answer, and holds it; gives what was typed with what is wrong.
async fn read(held: &Held, id: &str, sent: Sent, turn: Turn) -> Result<Typed, PageError> {
    let Sent { mut typed, name, bytes } = sent;
    if !typed.is_sound() {
        return Ok(typed);
    }
    if name.is_empty() && bytes.is_empty() {
        typed.refuse("file", "no scan was chosen yet");
        return Ok(typed);
    }
    let unit = typed.read("unit", |word| {
        let known = UNITS.iter().find(|(known, _, _)| *known == word);
        known
            .map(|(_, _, unit)| *unit)
            .ok_or_else(|| "say in which unit the scan's numbers are".to_owned())
    });
    let up = typed.read("up", |word| match word {
        "y" => Ok(UpAxis::Y),
        "z" => Ok(UpAxis::Z),
        _ => Err("say which way of the scan is up".to_owned()),
    });
    let (Some(unit), Some(up)) = (unit, up) else {
        return Ok(typed);
    };
    let file = name.clone();
    let read = tokio::task::spawn_blocking(move || {
        let _turn = turn;
        Mesh::read(&bytes, &file, unit, up)
    })
    .await
    .map_err(|fault| PageError::fault(&fault))?;
    match read {
        Ok(mesh) => held.put(Some(Scanned {
            piece: id.to_owned(),
            file: name,
            unit,
            is_y_up: up == UpAxis::Y,
            mesh: Arc::new(mesh),
        })),
        Err(refusal) => typed.refuse("file", refusal),
    }
    Ok(typed)
}
