//! The screens, one module each, and the address of every one.

mod bench;
mod by_hand;
mod colour;
mod layers;
mod leave_out;
mod light;
mod measure;
mod money;
mod new_piece;
mod pace;
mod pair;
mod piece;
mod piece_files;
mod pieces;
mod pin;
mod prices;
mod quick;
pub(crate) mod rule;
mod scan;
mod settings;
mod shelf;
mod spell;
mod spot_test;
mod supplies;
mod undo;
mod week;
mod zone;

use axum::Router;
use axum::routing::{get, post};

use crate::app::App;
use crate::assets;
use crate::error::PageError;

/// The largest form that is read, bytes.
const LARGEST_FORM: usize = 256 * 1024;

/// Every address.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/", get(quick::page))
        .route("/pieces", get(pieces::page).post(new_piece::take_in))
        .route("/pieces/new", get(new_piece::page))
        .route("/pieces/{id}", get(piece::page))
        .route("/pieces/{id}/drawing.svg", get(piece_files::drawing))
        .route("/pieces/{id}/form.stl", get(piece_files::form))
        .route("/pieces/{id}/edit", get(piece::edit_page).post(piece::edit))
        .route("/pieces/{id}/choose", post(piece::choose))
        .route("/pieces/{id}/stage", post(piece::stage))
        .route("/pieces/{id}/take-out", post(piece::take_out))
        .route("/pieces/{id}/zones", post(zone::add))
        .route("/pieces/{id}/zones/{zone}", get(zone::page).post(zone::save))
        .route(
            "/pieces/{id}/zones/{zone}/test",
            get(spot_test::page).post(spot_test::take),
        )
        .route("/pieces/{id}/zones/{zone}/check", get(leave_out::page))
        .route(
            "/pieces/{id}/zones/{zone}/layers/new",
            get(layers::new_page).post(layers::add),
        )
        .route(
            "/pieces/{id}/zones/{zone}/layers/{place}",
            get(layers::page).post(layers::change),
        )
        .route(
            "/pieces/{id}/zones/{zone}/steps",
            get(by_hand::page).post(by_hand::change),
        )
        .route("/pieces/{id}/zones/{zone}/steps/without", post(by_hand::without))
        .route("/rules/{id}", get(rule::page))
        .route("/week", get(week::page))
        .route("/week/pin", post(pin::pin))
        .route("/week/unpin", post(pin::unpin))
        .route("/week/block", post(week::block))
        .route("/week/unblock", post(week::unblock))
        .route("/week/air", post(spell::expect))
        .route("/week/air/back", post(spell::take_back))
        .route("/week/plan-anew", post(week::plan_anew))
        .route("/week/plan-again", post(week::plan_again))
        .route("/bench", get(bench::page))
        .route("/bench/mark", post(bench::mark))
        .route("/shelf", get(shelf::page).post(shelf::put))
        .route("/shelf/take-off", post(shelf::take_off))
        .route("/shelf/tick", post(shelf::tick))
        .route("/shelf/supply", post(supplies::put))
        .route("/shelf/supply/take-off", post(supplies::take_off))
        .route("/shelf/prices", get(prices::page).post(prices::put))
        .route("/shelf/prices/seller", post(prices::seller))
        .route("/shelf/prices/take-off", post(prices::take_off))
        .merge(colour::routes())
        .merge(measure::routes())
        .merge(scan::routes())
        .route("/money", get(money::page))
        .route("/shop", get(settings::page).post(settings::save))
        .route("/undo", post(undo::undo))
        .route("/redo", post(undo::redo))
        .route("/shop/pace", get(pace::page))
        .route("/light", post(light::set))
        .route("/pair/{word}", get(pair::page))
        .route("/static/{stamp}/{name}", get(assets::serve))
        .fallback(nowhere)
        .layer(axum::extract::DefaultBodyLimit::max(LARGEST_FORM))
}

async fn nowhere() -> PageError {
    PageError::NotFound("page")
}
