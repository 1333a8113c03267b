//! The good schedules of a zone side by side in their five measures, each one tap away.

use maud::{Markup, html};
use shop::model::Piece;
use shop::plan::{PlannedZone, ScheduleChoice};

use crate::view::show;

/// The choices of a zone as a table with one button a row.
pub(crate) fn table(piece: &Piece, zone: &PlannedZone) -> Markup {
    let caption = format!("Ways to do the {}", zone.name);
    html! {
        div.scroll tabindex="0" role="region" aria-label=(caption) {
            table.schedules {
                caption { (caption) }
                thead {
                    tr {
                        th scope="col" { "Best at" }
                        th.number scope="col" { "Cost" }
                        th.number scope="col" { "Hands on" }
                        th.number scope="col" { "Until dry" }
                        th.number scope="col" { "Wear" }
                        th.number scope="col" { "Breathed" }
                        th scope="col" { "Plan with it" }
                    }
                }
                tbody {
                    @for choice in &zone.schedules { (row(piece, zone, choice)) }
                }
            }
        }
    }
}

fn row(piece: &Piece, zone: &PlannedZone, choice: &ScheduleChoice) -> Markup {
    let name = choice.best_at.join(", ");
    html! {
        tr class=[choice.chosen.then_some("chosen")] {
            th scope="row" {
                (show::capital(&name))
                details.outline {
                    summary { "Its steps" }
                    ol { @for line in &choice.outline { li { (line) } } }
                }
            }
            td.number data-label="Cost" { (choice.cost.show()) }
            td.number data-label="Hands on" { (show::minutes(choice.hands_on_min)) }
            td.number data-label="Until dry" { (show::hours(choice.elapsed_h)) }
            td.number data-label="Wear" { (format!("{:.0}", choice.wear)) span.soft { " of 5" } }
            td.number data-label="Breathed" { (format!("{:.0}", choice.exposure)) }
            td {
                @if choice.chosen {
                    span.chosen-mark { "✓ planned" }
                } @else {
                    form method="post" action={ "/pieces/" (piece.id) "/choose" } data-live {
                        input type="hidden" name="zone" value=(zone.name);
                        button.second name="key" value=(choice.key) aria-label={ "Choose: " (name) } { "Choose" }
                    }
                }
            }
        }
    }
}
