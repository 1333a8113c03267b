//! The week: a score of every zone, the air above it, the day sheets below, and time taken out of it.

use axum::Form;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::{Date, DateTime};
use jiff::{ToSpan, ZonedDateTime};
use maud::{Markup, PreEscaped, html};
use shop::bench;
use shop::model::Settings;
use shop::plan::{Day, Plan, Progress};

use crate::app::{App, Desk, Standing};
use crate::draw::scale::{DayHours, Scale};
use crate::draw::score;
use crate::error::PageError;
use crate::pages::piece::bar_card;
use crate::typed::Typed;
use crate::view::fields::{Fields, summary};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// `GET /week?from=2027-03-08`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    whole(&app, &asked, Typed::from(entries)).await
}

pub(super) async fn whole(app: &App, asked: &Asked, typed: Typed) -> Result<Markup, PageError> {
    let body = app
        .at_desk(move |desk, now| {
            let standing = desk.standing(now);
            let now = desk.zoned(now);
            body(desk, &standing, &now, &typed)
        })
        .await?;
    Ok(shell::page(asked, "Week", Here::Week, &body))
}

fn body(desk: &Desk, standing: &Standing, now: &ZonedDateTime, typed: &Typed) -> Result<Markup, PageError> {
    let monday = typed
        .text("from")
        .parse::<Date>()
        .ok()
        .or_else(|| {
            standing
                .plan
                .as_ref()
                .map(|plan| now.date().max(plan.schedule.starts.date()))
        })
        .unwrap_or_else(|| now.date());
    let monday = week_of(monday);
    let last_change = super::undo::card(desk, &format!("/week?from={monday}"))?;
    Ok(html! {
        div.head {
            h1 { "Week of " (monday.strftime("%-d %B %Y").to_string()) }
            nav.row aria-label="Weeks" {
                a.button.second href={ "/week?from=" (shifted(monday, -7)) } { "← Before" }
                a.button.second href={ "/week?from=" (shifted(monday, 7)) } { "After →" }
            }
        }
        (last_change)
        @for bar in &standing.bars {
            @if let Some(piece) = &bar.piece { p { strong { (piece) } } }
            (bar_card(bar))
        }
        @match &standing.plan {
            Some(plan) => {
                p.lead { (plan.schedule.words) }
                @for late in &plan.schedule.late {
                    p.caution.warn { strong.sign { "Late: " } (late.piece) " is ready " (show::hours(late.by_h)) " after the day it is wanted." }
                }
                (score_of(plan, monday, &desk.shop.settings, now))
                (legend())
                (sheets(plan, monday, now))
            }
            None => { p { "Nothing is planned yet. " a href="/pieces/new" { "Take a piece in" } ", and its steps appear here." } }
        }
        (super::pin::form(desk, standing.plan.as_ref(), typed))
        (block_form(desk, typed))
        (super::spell::form(desk, typed))
    })
}

/// The Monday of a day's week.
fn week_of(day: Date) -> Date {
    let back = i64::from(day.weekday().to_monday_zero_offset());
    day.checked_sub(back.days()).unwrap_or(day)
}

fn shifted(day: Date, days: i64) -> Date {
    day.checked_add(days.days()).unwrap_or(day)
}

fn days_of(plan: &Plan, monday: Date) -> impl Iterator<Item = &Day> {
    let after = shifted(monday, 7);
    plan.days
        .iter()
        .filter(move |day| day.date >= monday && day.date < after)
}

fn score_of(plan: &Plan, monday: Date, settings: &Settings, now: &ZonedDateTime) -> Markup {
    let scale = Scale {
        first: monday,
        days: 7,
        hours: DayHours::of(&settings.hours),
    };
    let score = score::draw(plan, settings, &scale, now);
    html! {
        section aria-label="Score of the week" {
            div.score {
                div.score-labels { (PreEscaped(score.names)) }
                div.wide tabindex="0" role="region" aria-label="Score of the week, scrolls sideways" { (PreEscaped(score.lines)) }
            }
        }
    }
}

/// What the hatchings mean.
fn legend() -> Markup {
    let kinds = [
        ("dwell", "stripper works"),
        ("set", "glue or filler sets"),
        ("dry", "dries"),
        ("recoat", "waits for its next coat"),
        ("cure", "cures"),
    ];
    html! {
        ul.legend aria-label="What the marks mean" {
            li { svg width="34" height="16" aria-hidden="true" { rect x="0" y="0" width="34" height="16" fill="currentColor" {} } "hands work" }
            @for (kind, words) in kinds {
                li {
                    svg width="34" height="16" aria-hidden="true" {
                        rect x="0.5" y="0.5" width="33" height="15" fill={ "url(#hatch-" (kind) ")" } stroke="currentColor" {}
                    }
                    (words)
                }
            }
            li { svg width="34" height="16" aria-hidden="true" { rect x="1" y="3" width="32" height="10" fill="none" stroke="currentColor" stroke-dasharray="2 2" {} } "free hours" }
        }
    }
}

/// The day sheets of the week, those of days gone by folded up.
fn sheets(plan: &Plan, monday: Date, now: &ZonedDateTime) -> Markup {
    let (gone, coming): (Vec<&Day>, Vec<&Day>) = days_of(plan, monday).partition(|day| day.date < now.date());
    html! {
        div.days { @for day in coming { (day_sheet(plan, day, monday, now)) } }
        @if !gone.is_empty() {
            details.gone {
                summary { "Days gone by" }
                div.days { @for day in gone { (day_sheet(plan, day, monday, now)) } }
            }
        }
    }
}

/// Whether nobody has begun on a step.
fn is_open(plan: &Plan, step: &str) -> bool {
    plan.step(step).is_some_and(|step| step.progress == Progress::Planned)
}

fn day_sheet(plan: &Plan, day: &Day, monday: Date, now: &ZonedDateTime) -> Markup {
    let many_hands = plan.shop.hands.len() > 1;
    html! {
        section.card.day aria-label={ "Day sheet of " (show::day(day.date)) } {
            h2 {
                (show::day(day.date))
                @if day.date == now.date() { span.soft { " today" } }
            }
            p.soft { (show::minutes(day.free_min)) " of the working hours are free" }
            ol.sheet {
                @for block in &day.blocks {
                    li id={ "sheet-" (block.step) } {
                        span.when { (show::clock(&block.from)) "–" (show::clock(&block.to)) }
                        span {
                            strong { (block.piece) @if !block.zone.is_empty() { ", " (block.zone) } }
                            " " (block.words)
                            @if is_open(plan, &block.step) {
                                " " a.move href={ "/week?from=" (monday) "&step=" (block.step) "#pin-step" } aria-label={ "Move: " (block.piece) ", " (block.words) } { "move" }
                            }
                            @if many_hands { span.soft { " · " (plan.shop.hands.get(block.hand).map_or("", String::as_str)) } }
                        }
                    }
                }
            }
        }
    }
}

fn block_form(desk: &Desk, typed: &Typed) -> Markup {
    let fields = Fields { form: "block", typed };
    html! {
        section.card.no-print aria-labelledby="block-title" {
            h2 #block-title { "Time taken out" }
            @if !desk.shop.settings.blocks.is_empty() {
                ul.blocks {
                    @for (place, block) in desk.shop.settings.blocks.iter().enumerate() {
                        li.row {
                            span { (block.from.strftime("%a %-d %b %H:%M").to_string()) " to " (block.to.strftime("%a %-d %b %H:%M").to_string()) @if !block.why.is_empty() { ": " (block.why) } }
                            form method="post" action="/week/unblock" data-live {
                                button.second name="place" value=(place) { "Give it back" }
                            }
                        }
                    }
                }
            }
            (summary(typed))
            form method="post" action="/week/block" data-live {
                div.three {
                    (fields.day("day", "Day", ""))
                    (fields.text("begins", "From", "such as 9:00"))
                    (fields.text("ends", "Until", "such as 12:30"))
                    (fields.text("why", "Why", "if you like"))
                }
                button { "Take it out" }
            }
            form method="post" action="/week/plan-again" data-live {
                p { "Behind, or ahead? What was to be done by now is laid out from now on, and the rest stays where it can." }
                button.second { "Plan again from now" }
            }
            form method="post" action="/week/plan-anew" data-live {
                p { "Has so much changed that the week is better laid out afresh? Then every step that is not begun may move, whoever was told what." }
                button.second { "Lay everything out anew" }
            }
        }
    }
}

/// `POST /week/block`: nobody is at the bench in this time.
pub(crate) async fn block(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let day = typed.read("day", |text| {
        text.parse::<Date>().map_err(|_| "a day such as 2027-03-11".to_owned())
    });
    let from = typed.read("begins", |text| clock_time(day, text));
    let to = typed.read("ends", |text| clock_time(day, text));
    if let (Some(from), Some(to), true) = (from, to, typed.is_sound()) {
        let why = typed.text("why").to_owned();
        let refusal = app
            .at_desk(
                move |desk, _| match bench::block(&mut desk.shop, None, from, to, &why) {
                    Ok(()) => desk.keep_settings().map(|()| None),
                    Err(refusal) => Ok(Some(refusal)),
                },
            )
            .await?;
        match refusal {
            None => return Ok(Redirect::to(&format!("/week?from={}", from.date())).into_response()),
            Some(refusal) => typed.refuse("ends", format!("{}; {}", refusal.limit, refusal.right)),
        }
    }
    let page = whole(&app, &asked, typed).await?;
    Ok((axum::http::StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

pub(super) fn clock_time(day: Option<Date>, text: &str) -> Result<DateTime, String> {
    let wrong = || format!("“{text}” is not a clock time; such as 9:00 or 17:30");
    let (hour, minute) = text.split_once(':').unwrap_or((text, "00"));
    let hour: i8 = hour.trim().parse().map_err(|_| wrong())?;
    let minute: i8 = minute.trim().parse().map_err(|_| wrong())?;
    let time = jiff::civil::Time::new(hour, minute, 0, 0).map_err(|_| wrong())?;
    Ok(day.unwrap_or(Date::ZERO).to_datetime(time))
}

/// `POST /week/unblock`.
pub(crate) async fn unblock(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    app.at_desk(move |desk, _| {
        let place = typed.text("place").parse::<usize>().ok();
        let blocks = &mut desk.shop.settings.blocks;
        match place.filter(|place| *place < blocks.len()) {
            Some(place) => {
                blocks.remove(place);
                desk.keep_settings()
            }
            None => Ok(()),
        }
    })
    .await?;
    Ok(Redirect::to("/week"))
}

/// `POST /week/plan-anew`.
pub(crate) async fn plan_anew(State(app): State<App>) -> Result<Redirect, PageError> {
    app.at_desk(|desk, _| {
        desk.plan_anew();
        Ok(())
    })
    .await?;
    Ok(Redirect::to("/week"))
}

/// `POST /week/plan-again`.
pub(crate) async fn plan_again(State(app): State<App>) -> Result<Redirect, PageError> {
    app.at_desk(|desk, _| {
        desk.plan_again();
        Ok(())
    })
    .await?;
    Ok(Redirect::to("/week"))
}
