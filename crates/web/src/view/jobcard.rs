//! The job card: the drawing leads, name and dates beside it.

use maud::{Markup, html};
use quantity::UnitSystem;
use shop::model::{ForWhom, Piece, Placement};
use shop::plan::{Plan, PlannedPiece};

use crate::view::drawing::{self, Shown};
use crate::view::show;

/// The card that a piece's page begins with.
pub(crate) fn card(
    piece: &Piece,
    planned: Option<&PlannedPiece>,
    plan: Option<&Plan>,
    units: UnitSystem,
    shown: Shown,
) -> Markup {
    let late = plan.and_then(|plan| plan.schedule.late.iter().find(|late| late.piece == piece.name));
    html! {
        section.card.jobcard aria-labelledby="piece-name" {
            (drawing::turning(piece, units, shown))
            div.ticket {
                p.stage { (show::capital(piece.stage.words())) }
                h1 #piece-name { (piece.name) }
                dl.facts {
                    dt { "Measures" }
                    dd { (measures(piece, units)) }
                    @if piece.count > 1 { dt { "Alike" } dd { (piece.count) } }
                    dt { "Made" } dd { (piece.made.show()) }
                    @if piece.placement() == Placement::BuiltIn { dt { "Place" } dd { (Placement::BuiltIn.label()) } }
                    dt { "For" }
                    dd { @match piece.for_whom { ForWhom::Client => "a client", ForWhom::Sale => "sale" } }
                    @if let Some(due) = piece.due { dt { "Wanted by" } dd { (show::day(due)) } }
                    @if let Some(planned) = planned {
                        dt { "Surface" }
                        dd { (show::area(planned.area_m2, units)) span.soft { " ± " (show::area(planned.area_within_m2(), units)) } }
                        dt { "Ready" } dd { (show::moment(&planned.ready)) }
                        dt { "Fully cured" } dd { (show::day(planned.cured.date())) }
                        dt { "Price" } dd.figure { (planned.money.price.show()) }
                    }
                }
                (next_measure(piece))
                @if let Some(late) = late {
                    p.caution.warn { strong.sign { "Late: " } "ready " (show::hours(late.by_h)) " after the day it is wanted." }
                }
            }
        }
    }
}

/// Which single further measurement would make the area surest, and by how much.
fn next_measure(piece: &Piece) -> Markup {
    html! {
        @if let Some(next) = shop::plan::next_measure(piece) {
            p.small.next-measure {
                a href={ "/pieces/" (piece.id) "/edit#" (measure_field(next.name)) } { "Measure the " (next.words) }
                ": the area is then known to " span.figure { (show::share(next.share_then)) }
                " instead of " span.figure { (show::share(next.share_now)) } ", nine times in ten."
            }
        }
    }
}

/// The id of the field in which a measure of a piece is said.
pub(crate) fn measure_field(name: &str) -> String {
    match name {
        "width" | "depth" | "height" => format!("edit-{name}"),
        further => format!("edit-{}", further_field(further)),
    }
}

/// The name of the field of a further dimension.
pub(crate) fn further_field(name: &str) -> String {
    format!("dimension-{}", shop::model::slug(name))
}

/// Width × depth × height.
pub(crate) fn measures(piece: &Piece, units: UnitSystem) -> String {
    piece
        .form
        .outline()
        .map(|(_, length, how)| how.show(length, units))
        .join(" × ")
}
