//! Measuring a piece on a photograph: send the picture, say which sheet lies on the front, tap its corners, read the lengths.
//!
//! - `picture`: choosing or sending the photograph; its views, whole and enlarged.
//! - `state`: what has been tapped so far. All of it stands in the address, so that a reload, the way back and a page without scripts keep it.
//! - `tapping`: a point is tapped three times, each time on a larger view: roughly, nearer, exactly. Only the last counts, so
//!   that the taps are as good as under a magnifier.
//! - `lengths`: what the take-off reads from the taps, and a length made the piece's own.

mod lengths;
mod picture;
mod state;
mod tapping;

pub(crate) use picture::called;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};
use maud::{Markup, html};

use crate::app::App;
use crate::assets;

/// The largest picture that is read, bytes, with its form around it.
const LARGEST_PICTURE: usize = 41_000_000;

/// The addresses of measuring.
pub(super) fn routes() -> Router<App> {
    let upload = post(picture::send).layer(DefaultBodyLimit::max(LARGEST_PICTURE));
    Router::new()
        .route("/pieces/{id}/measure", get(picture::page).merge(upload))
        .route("/pieces/{id}/measure/{photograph}", get(tapping::page))
        .route("/pieces/{id}/measure/{photograph}/view", get(picture::view))
        .route("/pieces/{id}/measure/{photograph}/use", post(lengths::keep))
}

/// The look and the script of these pages, which only they need.
fn own_files() -> Markup {
    html! {
        link rel="stylesheet" href=(assets::address("measure.css"));
        script type="module" src=(assets::address("measure.js")) {}
    }
}
