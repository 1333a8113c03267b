//! Pages: forms in, HTML out.
//!
//! Every page is made here on the server and works without scripts; a change is a form that answers with a redirect. The
//! pages compute nothing of the trade: they ask [`shop`] and show what it says.
//!
//! - [`App`]: the shop, its plan, the clock.
//! - [`router`]: every address.
//! - `pages`: one module a screen; `view`: what screens share; `draw`: our own drawings.

mod app;
mod assets;
mod draw;
mod error;
mod guard;
mod pages;
pub mod qr;
mod typed;
mod view;

pub use app::{App, Clock, Opening, Pairing};

use axum::Router;
use axum::middleware::{from_fn, from_fn_with_state};

/// Every page of the shop.
pub fn router(app: App) -> Router {
    pages::routes()
        .layer(from_fn_with_state(app.clone(), guard::pair))
        .layer(from_fn(guard::guard))
        .with_state(app)
}
