//! Try it on the photograph: the pictures of the shop, one to add, and for each the page to mark a part and try colours.
//!
//! - `upload`: a file in, or the words why not.
//! - `try_on`: the page of one picture, its taps and its colours.
//! - `render`: pictures out.
//! - `ready`: pictures taken apart once and kept for the next colour.

mod ready;
mod render;
mod try_on;
mod upload;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};

use crate::app::App;
use ready::Darkroom;

/// The largest upload that is read, bytes: the largest photograph kept and the form around it.
const LARGEST_UPLOAD: usize = 41_000_000;

/// Every address under `/colour/photograph`.
pub(super) fn routes() -> Router<App> {
    Router::new()
        .route("/colour/photograph", get(upload::page))
        .route(
            "/colour/photograph/add",
            post(upload::add).layer(DefaultBodyLimit::max(LARGEST_UPLOAD)),
        )
        .route("/colour/photograph/choice", post(try_on::add_choice_by_name))
        .route("/colour/photograph/{id}", get(try_on::page))
        .route("/colour/photograph/{id}/mark", post(try_on::mark))
        .route("/colour/photograph/{id}/old", post(try_on::old))
        .route("/colour/photograph/{id}/choice", post(try_on::add_choice))
        .route("/colour/photograph/{id}/drop", post(try_on::drop_choice))
        .route("/colour/photograph/{id}/marked.jpg", get(render::marked))
        .route("/colour/photograph/{id}/view.jpg", get(render::view))
        .route("/colour/photograph/{id}/choices.png", get(render::sheet))
        .layer(axum::Extension(Darkroom::default()))
}
