//! A cold snap, a wet week: the week's page is told that a room's air will be other than usual, and plans on it.

use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::{Date, DateTime};
use maud::{Markup, html};
use quantity::{Humidity, Temperature};
use shop::bench;
use shop::model::Spell;

use super::week;
use crate::app::{App, Desk};
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields};
use crate::view::shell::Asked;

/// What is expected, and the form that says more.
pub(crate) fn form(desk: &Desk, typed: &Typed) -> Markup {
    let fields = Fields { form: "spell", typed };
    let settings = &desk.shop.settings;
    let rooms = settings.rooms.iter().enumerate();
    let expected: Vec<(usize, usize, &str, &Spell)> = rooms
        .clone()
        .flat_map(|(room_idx, room)| {
            let spells = room.spells.iter().enumerate();
            spells.map(move |(place, spell)| (room_idx, place, room.name.as_str(), spell))
        })
        .collect();
    let choices: Vec<Choice> = rooms
        .map(|(room_idx, room)| (room_idx.to_string(), room.name.clone()))
        .collect();
    html! {
        section.card.no-print aria-labelledby="spell-title" {
            h2 #spell-title { "A cold snap, or a wet week" }
            @if !expected.is_empty() {
                ul.blocks {
                    @for (room_idx, place, room, spell) in &expected {
                        @let words = format!("{room} at {}, {} to {}", spell.air(settings.units), told(spell.from), told(spell.to));
                        li.row {
                            span { (words) }
                            form method="post" action="/week/air/back" data-live {
                                input type="hidden" name="room" value=(room_idx);
                                button.second name="place" value=(place) aria-label={ "Take it back: " (words) } { "Take it back" }
                            }
                        }
                    }
                }
            }
            form method="post" action="/week/air" data-live {
                @if choices.len() > 1 { (fields.select("air-room", "Which room", "", &choices)) }
                div.three {
                    (fields.day("air-from", "From the day", ""))
                    (fields.text("air-begins", "From", "such as 18:00; empty: as the day begins"))
                    (fields.day("air-to", "Until the day", ""))
                    (fields.text("air-ends", "Until", "such as 9:00; empty: as the day ends"))
                    (fields.text("air-temperature", "Temperature", "such as 41 °F or 5 °C; empty: as it is"))
                    (fields.text("air-humidity", "Humidity", "such as 85 %; empty: as it is"))
                }
                button { "Plan with it" }
            }
            p.small.soft { "Coats then dry as slowly as that air lets them, and none goes on where it is too cold for it or too near the dew point. What need not move stays." }
        }
    }
}

fn told(moment: DateTime) -> String {
    moment.strftime("%a %-d %b %-H:%M").to_string()
}

/// `POST /week/air`: a room's air will be other than usual for a while.
pub(crate) async fn expect(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let units = app.settings().units;
    let room_idx = typed.text("air-room").parse::<usize>().unwrap_or(0);
    let from = moment(&mut typed, "air-from", "air-begins", false);
    let to = moment(&mut typed, "air-to", "air-ends", true);
    let temperature = typed.read_if_said("air-temperature", |text| Temperature::parse_in(text, units));
    let humidity = typed.read_if_said("air-humidity", Humidity::parse);
    if let (Some(from), Some(to), true) = (from, to, typed.is_sound()) {
        let spell = Spell {
            from,
            to,
            temperature,
            humidity,
        };
        let refusal = app
            .at_desk(
                move |desk, _| match bench::expect_air(&mut desk.shop, room_idx, spell) {
                    Ok(()) => desk.keep_settings().map(|()| None),
                    Err(refusal) => Ok(Some(refusal)),
                },
            )
            .await?;
        match refusal {
            None => return Ok(Redirect::to(&format!("/week?from={}", from.date())).into_response()),
            Some(refusal) => {
                let field = match refusal.field.as_str() {
                    "to" => "air-ends",
                    "humidity" => "air-humidity",
                    "room" => "air-room",
                    _ => "air-temperature",
                };
                typed.refuse(field, format!("{}; {}", refusal.limit, refusal.right));
            }
        }
    }
    let page = week::whole(&app, &asked, typed).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// A day and a clock time; without the time, when the day begins or ends.
fn moment(typed: &mut Typed, day: &str, clock: &str, at_end: bool) -> Option<DateTime> {
    let day = typed.read(day, |text| {
        text.parse::<Date>().map_err(|_| "a day such as 2027-03-11".to_owned())
    });
    if typed.text(clock).is_empty() {
        let day = if at_end { day?.tomorrow().ok()? } else { day? };
        return Some(day.to_datetime(jiff::civil::Time::midnight()));
    }
    typed
        .read(clock, |text| week::clock_time(day, text))
        .filter(|_| day.is_some())
}

/// `POST /week/air/back`: it does not come to that.
pub(crate) async fn take_back(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    app.at_desk(move |desk, _| {
        let number = |field: &str| typed.text(field).parse::<usize>().ok();
        let (Some(room), Some(place)) = (number("room"), number("place")) else {
            return Ok(());
        };
        match desk.shop.settings.rooms.get_mut(room) {
            Some(room) if place < room.spells.len() => {
                room.spells.remove(place);
                desk.keep_settings()
            }
            _ => Ok(()),
        }
    })
    .await?;
    Ok(Redirect::to("/week"))
}
