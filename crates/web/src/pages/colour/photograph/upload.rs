//! Photographs in: which there are, and a file added to a piece, or the words why it cannot be used.

use axum::Extension;
use axum::extract::multipart::{Field, Multipart, MultipartRejection};
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use colour::photo::Picture;
use maud::{Markup, html};

use super::ready::{Darkroom, off_thread};
use crate::app::{App, Desk};
use crate::error::PageError;
use crate::pages::colour::{Question, dry_swatch_first, head, photographs};
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields};
use crate::view::shell::{self, Asked, Here};

/// `GET /colour/photograph?piece=…`: the photographs and the form for another.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    whole(&app, &asked, Typed::from(entries)).await
}

/// What the page needs of the shop.
struct Around {
    pieces: Vec<Choice>,
    photographs: Vec<(i64, String)>,
}

fn around(desk: &Desk) -> Result<Around, PageError> {
    let pieces = desk.shop.pieces.iter();
    Ok(Around {
        pieces: pieces.map(|piece| (piece.id.clone(), piece.name.clone())).collect(),
        photographs: photographs(desk)?,
    })
}

async fn whole(app: &App, asked: &Asked, typed: Typed) -> Result<Markup, PageError> {
    let Around { pieces, photographs } = app.at_desk(|desk, _| around(desk)).await?;
    let fields = Fields {
        form: "photograph",
        typed: &typed,
    };
    let body = html! {
        (head(Question::Photograph))
        @if !photographs.is_empty() {
            section aria-labelledby="pictures-title" {
                h2 #pictures-title { "Photographs of the pieces" }
                ul.pictures {
                    @for (id, name) in &photographs {
                        li { a href={ "/colour/photograph/" (id) } { img src={ "/colour/photograph/" (id) "/marked.jpg" } alt="" width="240" loading="lazy"; span { (name) } } }
                    }
                }
            }
        }
        section.card aria-labelledby="photograph-title" {
            h2 #photograph-title { "Try a colour on a photograph" }
            @if pieces.is_empty() {
                p { "A photograph belongs to a piece. " a href="/pieces/new" { "Take a piece in" } " first: a name, a form and three numbers are enough." }
            } @else {
                p { "Take it square on, in even daylight, without flash; a grey card beside the piece makes the colours truer." }
                form method="post" action="/colour/photograph/add" enctype="multipart/form-data" {
                    (fields.select("piece", "Which piece", "", &pieces))
                    (file_field(&typed))
                    (fields.text("note", "What it shows", "such as front, before"))
                    button { "Use this photograph" }
                }
            }
        }
        (dry_swatch_first())
    };
    Ok(shell::page(asked, "Try it on the photograph", Here::Colour, &body))
}

fn file_field(typed: &Typed) -> Markup {
    let refusal = typed.refusal("file");
    html! {
        div.field {
            label for="photograph-file" { "The photograph" }
            span.hint #photograph-file-hint { "JPEG, PNG or WebP, up to 40 MB and 50 million pixels" }
            input #photograph-file type="file" name="file" accept="image/jpeg,image/png,image/webp" aria-invalid=[refusal.map(|_| "true")]
                aria-describedby={ "photograph-file-hint" @if refusal.is_some() { " photograph-file-refusal" } };
            @if let Some(refusal) = refusal { span.refusal #photograph-file-refusal { span.sign { "Not yet: " } (refusal) } }
        }
    }
}

/// What a form with a file in it said.
#[derive(Default)]
struct Sent {
    typed: Typed,
    file: Vec<u8>,
}

async fn read(form: Result<Multipart, MultipartRejection>) -> Sent {
    let mut sent = Sent::default();
    let Ok(mut form) = form else {
        sent.typed
            .refuse("file", "the form came without a file; choose one and send it again");
        return sent;
    };
    loop {
        match form.next_field().await {
            Ok(Some(field)) => read_field(field, &mut sent).await,
            Ok(None) => break,
            Err(_) => {
                too_large_or_broken(&mut sent.typed);
                break;
            }
        }
    }
    sent
}

async fn read_field(field: Field<'_>, sent: &mut Sent) {
    let name = field.name().unwrap_or_default().to_owned();
    if name == "file" {
        match field.bytes().await {
            Ok(bytes) => sent.file = bytes.to_vec(),
            Err(_) => too_large_or_broken(&mut sent.typed),
        }
    } else if let Ok(text) = field.text().await {
        let text: String = text.chars().filter(|c| !c.is_control()).take(80).collect();
        sent.typed.set(&name, text);
    }
}

fn too_large_or_broken(typed: &mut Typed) {
    typed.refuse(
        "file",
        "the file is larger than 40 MB, or broke off on its way; send it in the camera's middle size, as JPEG",
    );
}

/// `POST /colour/photograph/add`.
pub(crate) async fn add(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    asked: Asked,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Response, PageError> {
    let Sent { mut typed, file } = read(form).await;
    if typed.is_sound() && file.is_empty() {
        typed.refuse("file", "no photograph was chosen yet");
    }
    if typed.is_sound() {
        let (decoded, file) = off_thread(move || (Picture::decode(&file), file)).await?;
        match decoded {
            Ok(picture) => match keep(&app, &typed, file).await? {
                Ok(id) => {
                    darkroom.keep_picture(id, &picture);
                    return Ok(Redirect::to(&format!("/colour/photograph/{id}")).into_response());
                }
                Err(why) => typed.refuse("file", why),
            },
            Err(why) => typed.refuse("file", why),
        }
    }
    let page = whole(&app, &asked, typed).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// Keeps the file with its piece; what the store refuses comes back in words.
async fn keep(app: &App, typed: &Typed, file: Vec<u8>) -> Result<Result<i64, String>, PageError> {
    let (piece, note) = (typed.text("piece").to_owned(), typed.text("note").to_owned());
    app.at_desk(move |desk, now| {
        use store::StoreError;
        match desk.store.add_photograph(&piece, &file, now, &note) {
            Ok(id) => Ok(Ok(id)),
            Err(
                why @ (StoreError::NotAPicture
                | StoreError::PictureTooLarge { .. }
                | StoreError::NoFolder
                | StoreError::NoPiece(_)),
            ) => Ok(Err(why.to_string())),
            Err(fault) => Err(fault.into()),
        }
    })
    .await
}
