//! Pieces: what is in the shop and where it stands.

use axum::extract::State;
use maud::{Markup, html};
use shop::model::{Piece, PieceStage};

use crate::app::{App, Standing};
use crate::error::PageError;
use crate::view::shell::{self, Asked, Here};
use crate::view::{drawing, jobcard, show};

/// `GET /pieces`.
pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Result<Markup, PageError> {
    let body = app
        .at_desk(|desk, now| {
            let standing = desk.standing(now);
            let units = desk.shop.settings.units;
            let stages = PieceStage::WORDS.iter().map(|(_, stage)| *stage);
            Ok(html! {
                div.head {
                    h1 { "Pieces" }
                    a.button href="/pieces/new" { "New piece" }
                }
                @if desk.shop.pieces.is_empty() {
                    p { "Nothing is in the shop yet. A new piece needs a name, a form and three numbers; all the rest can wait." }
                }
                @for stage in stages {
                    @let pieces: Vec<&Piece> = desk.shop.pieces.iter().filter(|piece| piece.stage == stage).collect();
                    @if !pieces.is_empty() {
                        h2 { (show::capital(stage.words())) }
                        ul.cards {
                            @for piece in pieces { li.card { (card(piece, &standing, units)) } }
                        }
                    }
                }
            })
        })
        .await?;
    Ok(shell::page(&asked, "Pieces", Here::Pieces, &body))
}

fn card(piece: &Piece, standing: &Standing, units: quantity::UnitSystem) -> Markup {
    let planned = standing
        .plan
        .as_ref()
        .and_then(|plan| plan.pieces.iter().find(|planned| planned.id == piece.id));
    html! {
        a.piece-link href={ "/pieces/" (piece.id) } {
            (drawing::small(piece))
            h3 {
                (piece.name)
                @if piece.count > 1 { span.soft { " × " (piece.count) } }
            }
        }
        p.soft { (jobcard::measures(piece, units)) }
        @if let Some(planned) = planned {
            p { "Ready " (show::moment(&planned.ready)) }
        }
        @if standing.bars_of(&piece.name).next().is_some() {
            p { strong { "! Cannot be planned yet" } }
        }
    }
}
