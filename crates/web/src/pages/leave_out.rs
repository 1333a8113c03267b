//! Disagreeing with the plan: steps are left out by hand, and the check says what goes wrong without them.

use axum::extract::{Path, Query, State};
use finish::{Finding, Severity, Step};
use maud::{Markup, html};
use shop::plan::{Checked, PlanFailure, check_steps};

use crate::app::App;
use crate::error::PageError;
use crate::pages::piece::{own_zones, path_word};
use crate::pages::rule;
use crate::typed::Typed;
use crate::view::cautions::source_line;
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// `GET /pieces/{id}/zones/{zone}/check?without-3=yes`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let typed = Typed::from(entries);
    let is_out = move |place: usize| typed.is_ticked(&format!("without-{place}"));
    let (back, zone, whole, out, checked) = app
        .at_desk(move |desk, _| {
            own_zones(desk, &id)?;
            let piece = desk.piece(&id)?.clone();
            let zone = piece.zone(&name).ok_or(PageError::NotFound("zone"))?.name.clone();
            let no_plan = |_: PlanFailure| PageError::NotFound("schedule for this zone");
            let whole = check_steps(&desk.shop, &piece, &zone, None).map_err(no_plan)?.steps;
            let out: Vec<bool> = (0..whole.len()).map(is_out).collect();
            let kept: Vec<Step> = whole
                .iter()
                .zip(&out)
                .filter(|(_, out)| !**out)
                .map(|(step, _)| step.clone())
                .collect();
            let checked = check_steps(&desk.shop, &piece, &zone, Some(&kept)).map_err(no_plan)?;
            let back = format!("/pieces/{id}/zones/{}", path_word(&zone));
            Ok((back, zone, whole, out, checked))
        })
        .await?;
    let title = format!("The {zone} without some of its steps");
    let body = html! {
        p { a href=(back) { "Back to the " (zone) } }
        h1 { (title) }
        p { "Tick what you would leave out. The same rules that made the schedule say what goes wrong without it; some of them you may overrule, a stop you may not." }
        (said(&checked))
        form method="get" action={ (back) "/check" } data-live {
            fieldset {
                legend { "Leave out" }
                @for (place, step) in whole.iter().enumerate() {
                    label.tick {
                        input type="checkbox" name={ "without-" (place) } value="yes" checked[out[place]];
                        span { (place + 1) ". " (show::capital(&step.words())) }
                    }
                }
            }
            button { "What goes wrong?" }
        }
        form method="post" action={ (back) "/steps/without" } {
            @for (place, _) in out.iter().enumerate().filter(|(_, out)| **out) {
                input type="hidden" name={ "without-" (place) } value="yes";
            }
            button.second { "Go on from here by hand: overrule, add, move, change" }
        }
    };
    Ok(shell::page(&asked, &title, Here::Pieces, &body))
}

fn said(checked: &Checked) -> Markup {
    html! {
        section.card.reply aria-labelledby="findings" {
            h2 #findings { @if checked.findings.is_empty() { "Nothing goes wrong" } @else { "What goes wrong" } }
            @for finding in &checked.findings { (told(finding)) }
        }
    }
}

fn told(finding: &Finding) -> Markup {
    let (class, sign) = match finding.severity {
        Severity::Stop => ("stop", "Stop: "),
        Severity::Warn => ("warn", "Warning: "),
        Severity::Note => ("note", "Note: "),
    };
    html! {
        div.caution.(class) {
            p {
                strong.sign { (sign) } (finding.message)
            }
            p { (finding.why) }
            p { strong { "What to do: " } (finding.do_) }
            p.small.soft { (source_line(&finding.source)) " · " (rule::link(&finding.rule)) }
        }
    }
}
