//! Pictures out: the photograph with its marks, the part in a colour, and the sheet of choices for a client.

use std::sync::Arc;

use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use colour::photo::sheet::{Choice, choices};
use colour::photo::{Look, Mask, PhotoError, Picture};
use shop::swatch::{Trial, TrialChoice};

use super::ready::{Darkroom, NotReady, mask, off_thread, place};
use crate::app::App;
use crate::error::PageError;
use crate::pages::colour::said;
use crate::typed::Typed;

/// Quality of a picture on the screen.
const QUALITY: u8 = 84;

fn picture(kind: &'static str, file: Result<Vec<u8>, PhotoError>) -> Response {
    match file {
        Ok(bytes) => (
            [
                (header::CONTENT_TYPE, kind),
                (header::CACHE_CONTROL, "private, no-cache"),
            ],
            bytes,
        )
            .into_response(),
        Err(why) => (StatusCode::UNPROCESSABLE_ENTITY, why.to_string()).into_response(),
    }
}

fn not_ready(why: NotReady) -> Response {
    match why {
        NotReady::Worded(words) => (StatusCode::UNPROCESSABLE_ENTITY, words).into_response(),
        NotReady::Page(error) => error.into_response(),
    }
}

/// `GET /colour/photograph/{id}/marked.jpg`: the photograph with what was marked on it.
pub(crate) async fn marked(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    Path(id): Path<i64>,
) -> Result<Response, PageError> {
    let loaded = darkroom.load(&app, id).await?;
    let file = off_thread(move || with_marks(&loaded.picture, &loaded.trial)?.to_jpeg(QUALITY)).await?;
    Ok(picture("image/jpeg", file))
}

/// `GET /colour/photograph/{id}/view.jpg?choice=0`, or with the entries of the form that tries a colour: the part in that look.
pub(crate) async fn view(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    Path(id): Path<i64>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let known = app.at_desk(|desk, _| said::known(desk)).await?;
    let loaded = darkroom.load(&app, id).await?;
    let asked = match typed.text("choice").parse::<usize>() {
        Ok(choice) => loaded.trial.choices.get(choice).map(look),
        Err(_) => said::read(&mut typed, "new", &known).map(|said| Look {
            colour: said.colour,
            sheen: share(&typed, "sheen", 1.0, 3.0),
            grain: share(&typed, "grain", 0.0, 1.0),
        }),
    };
    let Some(asked) = asked else {
        return Err(PageError::NotFound("colour"));
    };
    match darkroom.part(&loaded).await {
        Ok(part) => Ok(picture(
            "image/jpeg",
            off_thread(move || part.repaint.paint(&asked).to_jpeg(QUALITY)).await?,
        )),
        Err(why) => Ok(not_ready(why)),
    }
}

/// `GET /colour/photograph/{id}/choices.png`: all choices side by side, over the words that a screen lies.
pub(crate) async fn sheet(
    State(app): State<App>,
    Extension(darkroom): Extension<Darkroom>,
    Path(id): Path<i64>,
) -> Result<Response, PageError> {
    let loaded = darkroom.load(&app, id).await?;
    let part = match darkroom.part(&loaded).await {
        Ok(part) => part,
        Err(why) => return Ok(not_ready(why)),
    };
    let shown: Vec<Choice> = loaded
        .trial
        .choices
        .iter()
        .map(|choice| Choice {
            name: choice.name.clone(),
            look: look(choice),
            note: choice.note.clone(),
        })
        .collect();
    let part = Arc::clone(&part);
    let mut response = picture(
        "image/png",
        off_thread(move || choices(&part.repaint, &shown).to_png()).await?,
    );
    let name = header::HeaderValue::from_static("inline; filename=\"choices.png\"");
    response.headers_mut().insert(header::CONTENT_DISPOSITION, name);
    Ok(response)
}

fn look(choice: &TrialChoice) -> Look {
    Look {
        colour: choice.colour.to_lab(),
        sheen: f64::from(choice.sheen_pct) / 100.0,
        grain: f64::from(choice.grain_pct) / 100.0,
    }
}

/// A slider in per cent as a share, kept within its limits.
fn share(typed: &Typed, field: &str, usual: f64, most: f64) -> f64 {
    typed
        .text(field)
        .parse::<f64>()
        .ok()
        .filter(|pct| pct.is_finite())
        .map_or(usual, |pct| (pct / 100.0).clamp(0.0, most))
}

const DARK: [u8; 3] = [20, 18, 16];
const LIGHT: [u8; 3] = [255, 252, 240];

/// The photograph, what is outside of the part dimmed, its border and every mark drawn dark on light.
fn with_marks(picture: &Picture, trial: &Trial) -> Result<Picture, PhotoError> {
    let mut sheet = Sheet {
        width: picture.width(),
        height: picture.height(),
        rgb: picture.rgb().to_vec(),
    };
    if let Some(mask) = mask(picture, trial).ok().filter(|mask| mask.share() > 0.0) {
        sheet.dim_outside(&mask);
    }
    for outline in &trial.outlines {
        let corners: Vec<(usize, usize)> = outline.iter().map(|point| place(picture, *point)).collect();
        for (i, from) in corners.iter().enumerate() {
            let to = corners
                .get(i + 1)
                .or_else(|| corners.first().filter(|_| corners.len() > 2));
            if let Some(to) = to {
                sheet.line(*from, *to);
            }
        }
        corners.iter().for_each(|corner| sheet.dot(*corner, 6));
    }
    trial
        .inside
        .iter()
        .for_each(|point| sheet.cross(place(picture, *point)));
    trial
        .old_at
        .iter()
        .for_each(|point| sheet.dot(place(picture, *point), 11));
    trial.card.iter().for_each(|point| sheet.square(place(picture, *point)));
    Picture::from_rgb(sheet.width, sheet.height, sheet.rgb)
}

struct Sheet {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
}

impl Sheet {
    fn put(&mut self, x: usize, y: usize, ink: [u8; 3]) {
        if x < self.width && y < self.height {
            let at = (y * self.width + x) * 3;
            self.rgb[at..at + 3].copy_from_slice(&ink);
        }
    }

    fn dim_outside(&mut self, mask: &Mask) {
        for (pixel, cover) in self.rgb.chunks_exact_mut(3).zip(mask.cover()) {
            if *cover < 128 {
                pixel.iter_mut().for_each(|level| *level /= 2);
            }
        }
    }

    /// A dark line with a light middle, seen on any ground.
    fn line(&mut self, from: (usize, usize), to: (usize, usize)) {
        let steps = from.0.abs_diff(to.0).max(from.1.abs_diff(to.1)).max(1);
        let along = |a: usize, b: usize, i: usize| (a * (steps - i) + b * i) / steps;
        for (half, ink) in [(2, DARK), (1, LIGHT)] {
            for i in 0..=steps {
                let (x, y) = (along(from.0, to.0, i), along(from.1, to.1, i));
                for dy in 0..2 * half {
                    for dx in 0..2 * half {
                        self.put((x + dx).saturating_sub(half), (y + dy).saturating_sub(half), ink);
                    }
                }
            }
        }
    }

    /// A ring: light inside dark.
    fn dot(&mut self, at: (usize, usize), radius: usize) {
        for y in at.1.saturating_sub(radius)..=at.1 + radius {
            for x in at.0.saturating_sub(radius)..=at.0 + radius {
                let away = x.abs_diff(at.0).pow(2) + y.abs_diff(at.1).pow(2);
                if away <= radius.pow(2) && away > (radius / 2).pow(2) {
                    self.put(x, y, if away > (radius - 2).pow(2) { DARK } else { LIGHT });
                }
            }
        }
    }

    fn cross(&mut self, at: (usize, usize)) {
        let arm = 10;
        let (left, top) = (at.0.saturating_sub(arm), at.1.saturating_sub(arm));
        self.line((left, top), (at.0 + arm, at.1 + arm));
        self.line((left, at.1 + arm), (at.0 + arm, top));
    }

    fn square(&mut self, at: (usize, usize)) {
        let arm = 11;
        let (left, top, right, bottom) = (
            at.0.saturating_sub(arm),
            at.1.saturating_sub(arm),
            at.0 + arm,
            at.1 + arm,
        );
        for (from, to) in [
            ((left, top), (right, top)),
            ((right, top), (right, bottom)),
            ((right, bottom), (left, bottom)),
            ((left, bottom), (left, top)),
        ] {
            self.line(from, to);
        }
    }
}
