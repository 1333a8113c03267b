//! Moving a step by hand: it is pinned to a moment if the rules allow it there, all else follows, and it can be let go again.

use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::Date;
use jiff::tz::TimeZone;
use maud::{Markup, html};
use shop::model::{Mark, MarkKind, Shop};
use shop::plan::{Plan, Progress};

use super::week;
use crate::app::{App, Desk};
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields};
use crate::view::shell::Asked;

/// The form that pins, and what is pinned.
pub(crate) fn form(desk: &Desk, plan: Option<&Plan>, typed: &Typed) -> Markup {
    let fields = Fields { form: "pin", typed };
    let pinned = pinned(&desk.shop);
    html! {
        section.card.no-print aria-labelledby="pin-title" {
            h2 #pin-title { "Move a step" }
            @if !pinned.is_empty() {
                ul.blocks {
                    @for (step, to) in &pinned {
                        li.row {
                            span { (words_of(plan, step)) " stays at " (desk.zoned(*to).strftime("%a %-d %b %H:%M").to_string()) }
                            form method="post" action="/week/unpin" data-live {
                                button.second name="step" value=(step) aria-label={ "Let it go: " (words_of(plan, step)) } { "Let it go" }
                            }
                        }
                    }
                }
            }
            @if let Some(plan) = plan {
                form method="post" action="/week/pin" data-live {
                    (fields.select("step", "Which step", "", &open_steps(plan)))
                    div.three {
                        (fields.day("to-day", "Day", ""))
                        (fields.text("to-clock", "At", "such as 9:00"))
                    }
                    button { "Move it there" }
                }
                p.small.soft { "It stays there, and everything else is laid out around it. Where a wait, a recoat window, the air or the hours do not allow it, nothing is changed and the nearest times that would do are named." }
            }
        }
    }
}

/// `POST /week/pin`.
pub(crate) async fn pin(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let day = typed.read("to-day", |text| {
        text.parse::<Date>().map_err(|_| "a day such as 2027-03-11".to_owned())
    });
    let at = typed.read("to-clock", |text| week::clock_time(day, text));
    if let (Some(at), true) = (at, typed.is_sound()) {
        let step = typed.text("step").to_owned();
        let refused = app
            .at_desk(move |desk, now| {
                let Ok(to) = moment(&desk.time_zone(), at) else {
                    return Ok(Some("the clock skips this time on that day".to_owned()));
                };
                if to < now {
                    return Ok(Some("that time has gone by; choose one from now on".to_owned()));
                }
                desk.move_step(&step, to, now)
            })
            .await?;
        match refused {
            None => return Ok(Redirect::to(&format!("/week?from={}", at.date())).into_response()),
            Some(why) => typed.refuse("to-clock", why),
        }
    }
    let page = week::whole(&app, &asked, typed).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// `POST /week/unpin`.
pub(crate) async fn unpin(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    app.at_desk(move |desk, now| {
        let step = typed.text("step").to_owned();
        if pinned(&desk.shop).iter().any(|(known, _)| *known == step) {
            desk.shop.log.push(Mark {
                step,
                at: now,
                what: MarkKind::Unpinned,
                of: None,
            });
            keep_last_mark(desk)?;
        }
        Ok(())
    })
    .await?;
    Ok(Redirect::to("/week"))
}

fn keep_last_mark(desk: &mut Desk) -> Result<(), PageError> {
    if let Some(mark) = desk.shop.log.last() {
        desk.store.add_mark(mark)?;
    }
    desk.plan_again();
    Ok(())
}

fn moment(zone: &TimeZone, at: jiff::civil::DateTime) -> Result<jiff::Timestamp, jiff::Error> {
    Ok(zone.to_ambiguous_zoned_datetime(at).unambiguous()?.timestamp())
}

/// The steps that are pinned, each with its moment, by the last word of the log.
fn pinned(shop: &Shop) -> Vec<(String, jiff::Timestamp)> {
    let mut pinned: Vec<(String, jiff::Timestamp)> = Vec::new();
    for mark in &shop.log {
        match mark.what {
            MarkKind::Pinned { to } => {
                pinned.retain(|(step, _)| *step != mark.step);
                pinned.push((mark.step.clone(), to));
            }
            MarkKind::Unpinned | MarkKind::Begun | MarkKind::Done => pinned.retain(|(step, _)| *step != mark.step),
            _ => {}
        }
    }
    pinned
}

fn open_steps(plan: &Plan) -> Vec<Choice> {
    plan.steps()
        .filter(|(_, _, step)| step.progress == Progress::Planned)
        .map(|(_, _, step)| {
            let words = format!(
                "{} ({})",
                words_of(Some(plan), &step.id),
                step.starts.strftime("%a %-d %b %H:%M")
            );
            (step.id.clone(), words)
        })
        .collect()
}

fn words_of(plan: Option<&Plan>, id: &str) -> String {
    let found = plan.and_then(|plan| plan.steps().find(|(_, _, step)| step.id == id));
    match found {
        Some((piece, Some(zone), step)) => format!("{}, {}: {}", piece.name, zone.name, step.words),
        Some((piece, None, step)) => format!("{}: {}", piece.name, step.words),
        None => id.to_owned(),
    }
}
