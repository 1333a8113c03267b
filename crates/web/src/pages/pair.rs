//! A phone opens the address that this machine shows, once, and is let in from then on.

use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};

use crate::app::App;
use crate::error::PageError;

/// `GET /pair/{word}`.
pub(crate) async fn page(State(app): State<App>, Path(word): Path<String>) -> Response {
    match app.pair(&word) {
        Some(pass) => {
            let cookie = format!("paired={pass}; Path=/; Max-Age=31536000; HttpOnly; SameSite=Lax");
            ([(header::SET_COOKIE, cookie)], Redirect::to("/bench")).into_response()
        }
        None => PageError::NotFound("invitation").into_response(),
    }
}
