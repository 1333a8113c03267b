//! The photograph: sending or choosing one, and its views, whole and enlarged.

use std::sync::{Arc, Mutex, PoisonError};

use axum::extract::multipart::{Multipart, MultipartError, MultipartRejection};
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use colour::photo::{PhotoError, Picture};
use maud::{Markup, html};
use store::{Photograph, StoreError};
use takeoff::photograph::Tap;

use super::own_files;
use super::state::{Near, Shown, read_point};
use crate::app::App;
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::shell::{self, Asked, Here};

/// The longest side of the whole picture as it is sent to the page, pixels.
const WHOLE_PX: usize = 1400;
/// The longest side of a picture in a list: 240 CSS pixels on a sharp screen.
const SMALL_PX: usize = 480;
/// The least side of a picture that can be measured, pixels.
const LEAST_PX: usize = 200;
/// What a view shows where there is no picture.
const BEYOND: u8 = 0x80;
/// How well the views are kept, of 100.
const QUALITY: u8 = 88;

/// The photograph read last, so that the views of one measurement do not read it again and again.
static LAST: Mutex<Option<(String, Arc<Picture>)>> = Mutex::new(None);

/// `GET /pieces/{id}/measure`.
pub(super) async fn page(State(app): State<App>, asked: Asked, Path(id): Path<String>) -> Result<Markup, PageError> {
    sending(&app, &asked, id, None).await
}

async fn sending(app: &App, asked: &Asked, id: String, refusal: Option<String>) -> Result<Markup, PageError> {
    let (name, id, kept) = app
        .at_desk(move |desk, _| {
            let name = desk.piece(&id)?.name.clone();
            let kept = desk.store.photographs(&id)?;
            Ok((name, id, kept))
        })
        .await?;
    let body = html! {
        (own_files())
        h1 { "Measure the " (name) " on a photograph" }
        ol.how {
            li { "Lay a sheet of known size flat on the front: Letter or A4 paper, or a bank card on something small. Tape it if it curls." }
            li { "Stand squarely before the front, so that all of it and the sheet are in the picture, and use the main camera. Do not crop the picture." }
            li { "What is measured must lie in the plane of the sheet. A leg or a top that stands nearer or farther reads wrongly." }
        }
        form.card method="post" enctype="multipart/form-data" action={ "/pieces/" (id) "/measure" } {
            div.field {
                label for="picture" { "Photograph" }
                span.hint id="picture-hint" { "JPEG, PNG or WebP, up to 40 MB and 50 million pixels; it is kept with the piece" }
                input type="file" id="picture" name="picture" accept="image/jpeg,image/png,image/webp"
                    aria-invalid=[refusal.as_ref().map(|_| "true")]
                    aria-describedby=(if refusal.is_some() { "picture-hint picture-refusal" } else { "picture-hint" });
                @if let Some(refusal) = &refusal {
                    span.refusal id="picture-refusal" role="alert" { span.sign { "Not yet: " } (refusal) }
                }
            }
            button { "Send it" }
        }
        @if !kept.is_empty() {
            section aria-labelledby="kept" {
                h2 #kept { "Or one that is kept already" }
                ul.plain {
                    @for photograph in &kept {
                        li { a.button.second href={ "/pieces/" (id) "/measure/" (photograph.id) } { (called(photograph)) } }
                    }
                }
            }
        }
        p { a.button.second href={ "/pieces/" (id) } { "Back to the piece" } }
    };
    Ok(shell::page(asked, &format!("Measure the {name}"), Here::Pieces, &body))
}

/// What a photograph is called in a list.
pub(crate) fn called(photograph: &Photograph) -> String {
    let day = photograph.taken.get(..10).unwrap_or(&photograph.taken);
    let note = if photograph.note.is_empty() {
        "photograph"
    } else {
        &photograph.note
    };
    format!("No. {}, {day}, {note}", photograph.id)
}

/// `POST /pieces/{id}/measure`: keeps a photograph and goes on to its corners.
pub(super) async fn send(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
    form: Result<Multipart, MultipartRejection>,
) -> Result<Response, PageError> {
    let kept = match received(form).await {
        Ok(bytes) => keep(&app, id.clone(), bytes).await?,
        Err(refusal) => Err(refusal),
    };
    match kept {
        Ok(number) => Ok(Redirect::to(&format!("/pieces/{id}/measure/{number}")).into_response()),
        Err(refusal) => {
            let page = sending(&app, &asked, id, Some(refusal)).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    }
}

/// The bytes of the picture in the form, or what is wrong with it.
async fn received(form: Result<Multipart, MultipartRejection>) -> Result<Vec<u8>, String> {
    const NONE: &str = "no photograph came with the form; choose one first";
    let mut form = form.map_err(|_| NONE.to_owned())?;
    while let Some(field) = form.next_field().await.map_err(|fault| broken(&fault))? {
        if field.name() == Some("picture") {
            let bytes = field.bytes().await.map_err(|fault| broken(&fault))?;
            return if bytes.is_empty() {
                Err(NONE.to_owned())
            } else {
                Ok(bytes.to_vec())
            };
        }
    }
    Err(NONE.to_owned())
}

fn broken(fault: &MultipartError) -> String {
    if fault.status() == StatusCode::PAYLOAD_TOO_LARGE {
        "the file is larger than 40 MB; send it in the camera's middle size, as JPEG".to_owned()
    } else {
        "the file broke off on its way; send it again".to_owned()
    }
}

/// Keeps a picture that can be read and measured; gives its number, or what is wrong with it.
async fn keep(app: &App, id: String, bytes: Vec<u8>) -> Result<Result<i64, String>, PageError> {
    let (bytes, read) = tokio::task::spawn_blocking(move || {
        let read = Picture::decode(&bytes);
        (bytes, read)
    })
    .await
    .map_err(|fault| PageError::fault(&fault))?;
    match read {
        Err(refusal) => return Ok(Err(refusal.to_string())),
        Ok(picture) if picture.width().min(picture.height()) < LEAST_PX => {
            let (width, height) = (picture.width(), picture.height());
            return Ok(Err(format!(
                "the picture has {width} × {height} pixels; at least {LEAST_PX} each way are needed. Send it as the camera made it"
            )));
        }
        Ok(_) => {}
    }
    app.at_desk(move |desk, now| {
        desk.piece(&id)?;
        match desk.store.add_photograph(&id, &bytes, now, "to measure") {
            Ok(number) => Ok(Ok(number)),
            Err(refusal @ (StoreError::NotAPicture | StoreError::PictureTooLarge { .. } | StoreError::NoFolder)) => {
                Ok(Err(refusal.to_string()))
            }
            Err(fault) => Err(fault.into()),
        }
    })
    .await
}

/// A photograph of a piece with its pixels.
pub(super) async fn pixels(app: &App, id: &str, number: i64) -> Result<Arc<Picture>, PageError> {
    let piece = id.to_owned();
    let (key, bytes) = app
        .at_desk(move |desk, _| {
            desk.piece(&piece)?;
            let photograph = desk
                .store
                .photograph(number)?
                .filter(|photograph| photograph.piece == piece)
                .ok_or(PageError::NotFound("photograph"))?;
            let bytes = desk.store.photograph_bytes(&photograph)?;
            let folder = desk
                .store
                .folder()
                .map(|folder| folder.display().to_string())
                .unwrap_or_default();
            Ok((format!("{folder}/{}/{}", photograph.file, bytes.len()), bytes))
        })
        .await?;
    let read = tokio::task::spawn_blocking(move || {
        let mut last = LAST.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((known, picture)) = last.as_ref()
            && *known == key
        {
            return Ok(Arc::clone(picture));
        }
        let picture = Arc::new(Picture::decode(&bytes)?);
        *last = Some((key, Arc::clone(&picture)));
        Ok::<_, PhotoError>(picture)
    })
    .await
    .map_err(|fault| PageError::fault(&fault))?;
    read.map_err(|refusal| PageError::Refused(refusal.to_string()))
}

/// `GET /pieces/{id}/measure/{photograph}/view?near=…&at=…&shown=…&size=…`: the picture, whole or enlarged about a place.
pub(super) async fn view(
    State(app): State<App>,
    Path((id, number)): Path<(String, i64)>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let typed = Typed::from(entries);
    let picture = pixels(&app, &id, number).await?;
    let near = Near::parse(typed.text("near"));
    let out = Shown::parse(typed.text("shown")).width_px() * 3 / 2;
    let at = read_point(typed.text("at"));
    let whole_px = if typed.text("size") == "small" {
        SMALL_PX
    } else {
        WHOLE_PX
    };
    let file = tokio::task::spawn_blocking(move || {
        let size = size_of(&picture);
        match (near.side_px(size), at) {
            (Some(side), Some(at)) => enlarged(&picture, at, side, out)?.to_jpeg(QUALITY),
            _ => picture.shrunk_to(whole_px).to_jpeg(QUALITY),
        }
    })
    .await
    .map_err(|fault| PageError::fault(&fault))?
    .map_err(|fault| PageError::fault(&fault))?;
    let headers = [
        (header::CONTENT_TYPE, "image/jpeg"),
        (header::CACHE_CONTROL, "private, max-age=86400"),
    ];
    Ok((headers, file).into_response())
}

/// The size as the take-off wants it.
pub(super) fn size_of(picture: &Picture) -> takeoff::photograph::Picture {
    let px = |count: usize| u32::try_from(count).map_or(0.0, f64::from);
    takeoff::photograph::Picture {
        width_px: px(picture.width()),
        height_px: px(picture.height()),
    }
}

/// A square about a place, as a picture of `out` pixels each way; between pixels the mean of the four around.
fn enlarged(picture: &Picture, at: Tap, side_px: f64, out: u32) -> Result<Picture, PhotoError> {
    let scale = side_px / f64::from(out);
    let line = |middle: f64| -> Vec<(i64, f64)> {
        (0..out)
            .map(|step| {
                let place = middle - side_px / 2.0 + (f64::from(step) + 0.5) * scale - 0.5;
                (whole(place), place - place.floor())
            })
            .collect()
    };
    let (columns, rows) = (line(at.x_px), line(at.y_px));
    let mut rgb = Vec::with_capacity(columns.len() * rows.len() * 3);
    for (y, down) in &rows {
        for (x, right) in &columns {
            let [a, b, c, d] = [
                pixel(picture, *x, *y),
                pixel(picture, x + 1, *y),
                pixel(picture, *x, y + 1),
                pixel(picture, x + 1, y + 1),
            ];
            for (((a, b), c), d) in a.into_iter().zip(b).zip(c).zip(d) {
                let [a, b, c, d] = [a, b, c, d].map(f64::from);
                let (above, below) = (a + right * (b - a), c + right * (d - c));
                rgb.push(byte(above + down * (below - above)));
            }
        }
    }
    Picture::from_rgb(columns.len(), rows.len(), rgb)
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a place on a picture or beside it: a few ten thousand at most, else cut to that"
)]
fn whole(place: f64) -> i64 {
    place.clamp(-1e6, 1e6).floor() as i64
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "cut to 0 to 255 just before"
)]
fn byte(value: f64) -> u8 {
    value.round().clamp(0.0, 255.0) as u8
}

fn pixel(picture: &Picture, x: i64, y: i64) -> [u8; 3] {
    let (Ok(x), Ok(y)) = (usize::try_from(x), usize::try_from(y)) else {
        return [BEYOND; 3];
    };
    if x >= picture.width() || y >= picture.height() {
        return [BEYOND; 3];
    }
    let from = (y * picture.width() + x) * 3;
    let rgb = picture.rgb();
    [rgb[from], rgb[from + 1], rgb[from + 2]]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_of_an_enlarged_view_is_the_place_it_was_asked_for() {
        // A picture half black and half white: the edge at x = 20 comes to the middle of the view.
        let rgb: Vec<u8> = (0..40 * 40)
            .flat_map(|i| if i % 40 < 20 { [0; 3] } else { [255; 3] })
            .collect();
        let picture = Picture::from_rgb(40, 40, rgb).unwrap();
        let view = enlarged(&picture, Tap { x_px: 20.0, y_px: 20.0 }, 10.0, 100).unwrap();
        let dark = |x: usize| view.rgb()[(50 * 100 + x) * 3];
        assert_eq!((dark(40), dark(60)), (0, 255));
        assert!(dark(49) < 128 && dark(50) > 127, "{} {}", dark(49), dark(50));
    }

    #[test]
    fn beside_the_picture_the_view_is_grey() {
        let picture = Picture::from_rgb(4, 4, vec![255; 48]).unwrap();
        let view = enlarged(&picture, Tap { x_px: 0.0, y_px: 0.0 }, 8.0, 8).unwrap();
        assert_eq!((view.rgb()[0], view.rgb()[(5 * 8 + 5) * 3]), (BEYOND, 255));
    }
}
