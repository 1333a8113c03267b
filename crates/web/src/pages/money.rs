//! Money: what each piece costs, what to ask for it, and the chance of losing by it.

use axum::extract::State;
use maud::{Markup, html};
use shop::plan::{Plan, PlannedPiece};

use crate::app::App;
use crate::error::PageError;
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// `GET /money`.
pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Result<Markup, PageError> {
    let body = app
        .at_desk(|desk, now| {
            let standing = desk.standing(now);
            Ok(html! {
                h1 { "Money" }
                @match &standing.plan {
                    Some(plan) if !plan.pieces.is_empty() => (table(plan)),
                    _ => { p { "No piece is planned yet, so there is nothing to reckon." } }
                }
                p.small.soft { "Wage, overhead and margin are the shop's own: " a href="/shop" { "change them in the shop's settings" } "." }
            })
        })
        .await?;
    Ok(shell::page(&asked, "Money", Here::Money, &body))
}

fn table(plan: &Plan) -> Markup {
    html! {
        div.scroll tabindex="0" role="region" aria-label="Cost and price of each piece" {
            table {
                caption { "Cost and price of each piece" }
                thead {
                    tr {
                        th scope="col" { "Piece" }
                        th.number scope="col" { "Materials" }
                        th.number scope="col" { "Labour" }
                        th.number scope="col" { "Overhead" }
                        th.number scope="col" { "Paid" }
                        th.number scope="col" { "Cost" }
                        th.number scope="col" { "Ask" }
                        th.number scope="col" { "Between" }
                        th.number scope="col" { "Chance of a loss" }
                    }
                }
                tbody { @for piece in &plan.pieces { (row(piece)) } }
            }
        }
    }
}

fn row(piece: &PlannedPiece) -> Markup {
    let money = &piece.money;
    html! {
        tr {
            th scope="row" { a href={ "/pieces/" (piece.id) "#price" } { (piece.name) } }
            @for sum in [money.materials, money.labour, money.overhead, money.purchase, money.total] {
                td.number { (sum.show()) }
            }
            td.number { strong { (money.price.show()) } }
            td.number { (money.price_p10.show()) "–" (money.price_p90.show()) }
            td.number { (show::percent(money.loss_chance)) }
        }
    }
}
