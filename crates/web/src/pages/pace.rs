//! The shop's own pace: how long work takes here against the table, and how much it took of its materials.

use axum::extract::State;
use maud::{Markup, html};
use quantity::{UnitSystem, Volume};
use shop::plan::{Learned, learned};

use crate::app::App;
use crate::error::PageError;
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// `GET /shop/pace`.
pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Result<Markup, PageError> {
    let body = app
        .at_desk(|desk, _| Ok(body(&learned(&desk.shop), desk.shop.settings.units)))
        .await?;
    Ok(shell::page(&asked, "Your own pace", Here::Shop, &body))
}

fn body(learned: &Learned, units: UnitSystem) -> Markup {
    html! {
        h1 { "Your own pace" }
        @if learned.operations.is_empty() {
            p { "Nothing is logged yet. Tap Begin and Done at the bench, and the next plan takes your own minutes in place of the table's." }
        } @else {
            p { "Steps begun and done in the log: " (learned.logged) ". An operation with few of them leans on the others."
                @if learned.left_out > 0 { " Left out as interruptions or slips: " (learned.left_out) "." }
            }
            div.scroll tabindex="0" role="region" aria-label="Pace of each operation" {
                table {
                    caption { "Minutes here against the table's" }
                    thead { tr { th scope="col" { "Operation" } th.number scope="col" { "Steps" } th.number scope="col" { "Times the table" } th.number scope="col" { "Nine in ten between" } } }
                    tbody {
                        @for one in &learned.operations {
                            tr {
                                th scope="row" { (show::capital(one.operation.label())) }
                                td.number { (one.rate.logged) }
                                td.number { (format!("{:.2}", one.rate.typical)) }
                                td.number { (format!("{:.2}–{:.2}", one.rate.low, one.rate.high)) }
                            }
                        }
                    }
                }
            }
        }
        @if !learned.amounts.is_empty() {
            h2 { "What it took" }
            ul.plain {
                @for one in learned.amounts.iter().take(20) {
                    li {
                        (show::capital(&one.planned.words)) ": "
                        span.figure { (Volume::from_ml(one.took_ml).show(units)) } ", "
                        (one.verdict()) " " span.figure { (show::volume(one.planned.low_ml, units)) " to " (show::volume(one.planned.high_ml, units)) }
                    }
                }
            }
        }
        p { a href="/shop" { "The shop's settings" } }
    }
}
