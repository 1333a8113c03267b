//! The bench: what to do now, what is running, what fits in the wait, what comes next. *Done* and *still tacky* are all it asks.

use axum::Form;
use axum::extract::State;
use axum::response::Redirect;
use jiff::ZonedDateTime;
use maud::{Markup, html};
use quantity::{UnitSystem, Volume};
use shop::bench;
use shop::model::MarkKind;
use shop::plan::{Plan, PlannedPiece, PlannedStep, PlannedZone, Progress};

use crate::app::{App, Desk, Standing};
use crate::error::PageError;
use crate::pages::piece::bar_card;
use crate::typed::Typed;
use crate::view::shell::{self, Asked, Here};
use crate::view::{cautions, drawing, show, steps};

/// How many steps after the present one are listed.
const NEXT_SHOWN: usize = 5;

/// A step with the piece and zone that it belongs to.
#[derive(Clone, Copy)]
struct At<'p> {
    piece: &'p PlannedPiece,
    zone: Option<&'p PlannedZone>,
    step: &'p PlannedStep,
}

impl At<'_> {
    fn place(&self) -> String {
        match self.zone {
            Some(zone) => format!("{}, {}", self.piece.name, zone.name),
            None => self.piece.name.clone(),
        }
    }
}

/// `GET /bench`.
pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Result<Markup, PageError> {
    let body = app
        .at_desk(|desk, now| {
            let standing = desk.standing(now);
            let now = desk.zoned(now);
            body(desk, &standing, &now)
        })
        .await?;
    Ok(shell::page(&asked, "Bench", Here::Bench, &body))
}

fn body(desk: &Desk, standing: &Standing, now: &ZonedDateTime) -> Result<Markup, PageError> {
    let last_change = super::undo::card(desk, "/bench")?;
    let Some(plan) = standing.plan.as_ref().filter(|plan| !plan.pieces.is_empty()) else {
        return Ok(html! {
            h1 { "Bench" }
            (last_change)
            @for bar in &standing.bars { (bar_card(bar)) }
            div.now { p.what { "Nothing is planned." } p { a href="/pieces/new" { "Take a piece in" } " and its first step comes up here." } }
        });
    };
    let mut to_do: Vec<At<'_>> = plan
        .steps()
        .map(|(piece, zone, step)| At { piece, zone, step })
        .filter(|at| at.step.progress != Progress::Done)
        .collect();
    // What hands are on comes first, then what begins soonest.
    to_do.sort_by_key(|at| (at.step.progress != Progress::Begun, at.step.starts.timestamp()));
    let running = running(plan);
    let (present, later) = to_do
        .split_first()
        .map_or((None, &[][..]), |(first, rest)| (Some(*first), rest));
    Ok(html! {
        div.bench {
            div.head {
                h1 { "Bench" }
                p.soft { (show::moment(now)) }
            }
            @match present {
                Some(at) => (now_card(desk, plan, at, now)),
                None => { div.now { p.what { "All done." } p { "No step is left; what is curing needs only time." } } }
            }
            (running_clocks(&running, now))
            (fits(&running, &to_do, now))
            (next(later, now))
            (lately_done(plan))
            (last_change)
        }
    })
}

/// The last thing done on each zone, where something waits for it to dry, set or work: the one that ends first in front.
///
/// One whose time is over stays until the next step is begun, for it may still be tacky.
fn running(plan: &Plan) -> Vec<At<'_>> {
    let mut running: Vec<At<'_>> = Vec::new();
    for piece in &plan.pieces {
        for zone in &piece.zones {
            let next = zone
                .steps
                .iter()
                .position(|step| step.progress != Progress::Done)
                .unwrap_or(zone.steps.len());
            let is_waiting = zone
                .steps
                .get(next)
                .is_some_and(|step| step.progress == Progress::Planned);
            if let Some(step) = next
                .checked_sub(1)
                .and_then(|last| zone.steps.get(last))
                .filter(|_| is_waiting)
            {
                running.push(At {
                    piece,
                    zone: Some(zone),
                    step,
                });
            }
        }
    }
    running.retain(|at| at.step.wait_ends.is_some() && at.step.wait.as_ref().is_some_and(|wait| wait.kind != "cure"));
    running.sort_by_key(|at| at.step.wait_ends.as_ref().map(ZonedDateTime::timestamp));
    running
}

fn now_card(desk: &Desk, plan: &Plan, at: At<'_>, now: &ZonedDateTime) -> Markup {
    let step = at.step;
    let units = plan.shop.unit_system;
    let is_begun = step.progress == Progress::Begun;
    let is_due = is_begun || step.starts <= *now;
    html! {
        section.now aria-labelledby="now-title" {
            div.now-head {
                @if let Some(piece) = desk.shop.piece(&at.piece.id) { (drawing::small(piece)) }
                div {
                    h2 #now-title { @if is_begun { "Now, begun" } @else if is_due { "Now" } @else { "Next, " (show::near(&step.starts, now)) } }
                    p.place { a href={ "/pieces/" (at.piece.id) } { (at.place()) } }
                }
            }
            p.what { (show::capital(&step.words)) }
            dl.facts {
                dt { "Work" } dd { (show::minutes(step.hands_on_min)) @if let Some(pace) = step.pace_words() { span.small.soft { " (" (pace) ")" } } }
                @if let Some(product) = &step.product { dt { "With" } dd { (product) } }
                @if let Some(quantity) = steps::quantity(step, units) { dt { "Takes" } dd { (quantity) } }
                @if let Some(mixing) = step.mixing(units) { dt { "Mix" } dd { (mixing) } }
                @if let Some(grit) = &step.grit { dt { "Grit" } dd { (grit) } }
                @if let Some(used) = step.uses_up(units) { dt { "Uses up" } dd { (used) } }
                @if let Some(wait) = steps::wait_words(step) { dt { "After it" } dd { (wait) } }
            }
            (cautions::of_ids(plan, &step.cautions))
            div.row.taps {
                @if !is_begun { (tap(&step.id, "begun", "Begin", "second", &step.words)) }
                (tap(&step.id, "done", "Done", "first", &step.words))
                @if is_begun { (tap(&step.id, "late", "15 min more", "second", &step.words)) }
            }
            (steps::because(&step.because))
        }
    }
}

/// One big button that says one thing of a step.
fn tap(step: &str, what: &str, words: &str, class: &str, of: &str) -> Markup {
    html! {
        form method="post" action="/bench/mark" data-live data-keep {
            input type="hidden" name="step" value=(step);
            input type="hidden" name="of" value=(of);
            button class=(class) name="what" value=(what) { (words) }
        }
    }
}

fn running_clocks(running: &[At<'_>], now: &ZonedDateTime) -> Markup {
    html! {
        @if !running.is_empty() {
            section aria-labelledby="running-title" {
                h2 #running-title { "Running" }
                ul.clocks {
                    @for at in running {
                        @if let Some(end) = &at.step.wait_ends {
                            li.card {
                                p { strong { (at.place()) } ": " (at.step.words) }
                                p.clock data-until=(shop::plan::rfc3339(end)) data-now=(shop::plan::rfc3339(now)) {
                                    @if end > now { (show::minutes(show::between(now.timestamp(), end.timestamp()))) } @else { "over" }
                                }
                                p.soft { @if let Some(wait) = &at.step.wait { (wait_name(&wait.kind)) } " until " (show::near(end, now)) }
                                @if dries(at.step) { (tap(&at.step.id, "tacky", "Still tacky", "second", &at.step.words)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Whether the wait is for something to dry or set, and not for a cleaner or stripper to work.
fn dries(step: &PlannedStep) -> bool {
    step.wait.as_ref().is_some_and(|wait| wait.kind != "dwell")
}

fn wait_name(kind: &str) -> &'static str {
    match kind {
        "dwell" => "stripper works",
        "set" => "sets",
        "recoat" => "next coat not before it is over;",
        _ => "dries",
    }
}

/// Steps that end before the first running wait does.
fn fits(running: &[At<'_>], to_do: &[At<'_>], now: &ZonedDateTime) -> Markup {
    let Some(end) = running
        .iter()
        .filter_map(|at| at.step.wait_ends.as_ref())
        .find(|end| *end > now)
    else {
        return html! {};
    };
    let fitting: Vec<&At<'_>> = to_do
        .iter()
        .filter(|at| at.step.progress == Progress::Planned && at.step.ends <= *end)
        .filter(|at| at.step.starts.date() <= now.date())
        .collect();
    html! {
        section aria-labelledby="fits-title" {
            h2 #fits-title { "Fits in this wait" }
            @if fitting.is_empty() {
                p { "Nothing that the plan holds fits before " (show::near(end, now)) "." }
            } @else {
                ul.plain { @for at in fitting.iter().take(NEXT_SHOWN) { li { (one_line(at, now)) } } }
            }
        }
    }
}

fn one_line(at: &At<'_>, now: &ZonedDateTime) -> Markup {
    html! {
        span.when { (show::near(&at.step.starts, now)) } " "
        strong { (at.place()) } ": " (at.step.words)
        span.soft { " · " (show::minutes(at.step.hands_on_min)) }
    }
}

fn next(later: &[At<'_>], now: &ZonedDateTime) -> Markup {
    html! {
        @if !later.is_empty() {
            section aria-labelledby="next-title" {
                h2 #next-title { "Next" }
                ol.plain { @for at in later.iter().take(NEXT_SHOWN) { li { (one_line(at, now)) } } }
                p { a href="/week" { "The whole week" } }
            }
        }
    }
}

/// What was done last, to take back a slip of the thumb.
fn lately_done(plan: &Plan) -> Markup {
    let mut done: Vec<At<'_>> = plan
        .steps()
        .map(|(piece, zone, step)| At { piece, zone, step })
        .filter(|at| at.step.progress == Progress::Done)
        .collect();
    done.sort_by_key(|at| std::cmp::Reverse(at.step.ends.timestamp()));
    html! {
        @if let Some(last) = done.first() {
            section.no-print aria-labelledby="last-title" {
                h2 #last-title { "Done last" }
                div.row {
                    p { strong { (last.place()) } ": " (last.step.words) }
                    (tap(&last.step.id, "undone", "Not done after all", "second", &last.step.words))
                }
                (took(last.step, plan.shop.unit_system))
            }
        }
    }
}

/// How much of its material a step really took: asked once it is done, for whoever cares to say.
fn took(step: &PlannedStep, units: UnitSystem) -> Markup {
    html! {
        @if let Some(planned) = step.takes(units) {
            @if let Some(told) = step.took_words(units) { p { (show::capital(&told)) ", " (planned) "." } }
            @else {
                form.row method="post" action="/bench/mark" {
                    input type="hidden" name="step" value=(step.id);
                    input type="hidden" name="what" value="took";
                    label for="took" { "It took" }
                    input #took name="took" inputmode="text" placeholder=(planned);
                    button.second { "Keep it" }
                }
            }
        }
    }
}

/// `POST /bench/mark`: what happened to a step; everything else follows.
pub(crate) async fn mark(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    app.at_desk(move |desk, now| {
        let standing = desk.standing(now);
        let plan = standing.plan.as_ref().ok_or(PageError::NotFound("plan"))?;
        let step = typed.text("step");
        let what = match typed.text("what") {
            "begun" => MarkKind::Begun,
            "done" => MarkKind::Done,
            "tacky" => MarkKind::StillTacky {
                more_min: bench::usual_more_min(plan, step),
            },
            "late" => MarkKind::RanLate { more_min: 15 },
            "undone" => MarkKind::Undone,
            "took" => {
                let read = Volume::parse_in(typed.text("took"), desk.shop.settings.units);
                let Ok(volume) = read else {
                    // What cannot be read is not kept; the field stands there empty again.
                    return Ok(());
                };
                MarkKind::Took { took_ml: volume.ml() }
            }
            _ => return Err(PageError::NotFound("word for what happened")),
        };
        let piece = plan
            .steps()
            .find(|(_, _, each)| each.id == step)
            .map(|(piece, _, _)| piece.id.clone());
        bench::mark(&mut desk.shop, plan, step, what, now)?;
        if let Some(mark) = desk.shop.log.last() {
            desk.store.add_mark(mark)?;
        }
        if let Some(piece) = piece {
            desk.keep_piece(&piece)?;
        }
        desk.plan_again();
        Ok(())
    })
    .await?;
    Ok(Redirect::to("/bench"))
}
