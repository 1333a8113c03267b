//! The shop: its hours, people, room and its air, rates, tools, units.

use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use quantity::{AirChanges, BasisPoints, Currency, Humidity, Length, Minutes, Money, Temperature, UnitSystem, Volume};
use shop::model::{BuyFor, Equipment, Hand, Prefer, Room, Settings, parse_day, show_day};
use trade::methods::Method;

use crate::app::App;
use crate::error::PageError;
use crate::qr::Qr;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

const DAYS: [(&str, &str); 7] = [
    ("mon", "Monday"),
    ("tue", "Tuesday"),
    ("wed", "Wednesday"),
    ("thu", "Thursday"),
    ("fri", "Friday"),
    ("sat", "Saturday"),
    ("sun", "Sunday"),
];

const LEANINGS: [(&str, &str); 6] = [
    ("balanced", "a bit of everything"),
    ("cost", "the least spent"),
    ("hands", "the least time at the bench"),
    ("soon", "the earliest end"),
    ("wear", "what bears most"),
    ("health", "what is gentlest to breathe"),
];

/// `GET /shop`.
pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Result<Markup, PageError> {
    let (settings, folder) = app
        .at_desk(|desk, _| {
            let folder = desk.store.folder().map(|folder| folder.display().to_string());
            Ok((desk.shop.settings.clone(), folder))
        })
        .await?;
    Ok(form_page(
        &asked,
        &typed_of(&settings),
        folder.as_deref(),
        app.invitation().as_deref(),
    ))
}

/// `POST /shop`.
pub(crate) async fn save(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let (typed, folder) = app
        .at_desk(move |desk, _| {
            let mut settings = desk.shop.settings.clone();
            read(&mut settings, &mut typed);
            if typed.is_sound() {
                desk.shop.settings = settings;
                desk.keep_settings()?;
            }
            Ok((typed, desk.store.folder().map(|folder| folder.display().to_string())))
        })
        .await?;
    if typed.is_sound() {
        return Ok(Redirect::to("/shop").into_response());
    }
    let page = form_page(&asked, &typed, folder.as_deref(), app.invitation().as_deref());
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// The address that lets one phone in, to read with its camera or to type.
fn phone(address: &str) -> Markup {
    html! {
        section.card.no-print aria-labelledby="phone-title" {
            h2 #phone-title { "Let a phone in" }
            p { "A phone on the same network opens this once, and is let in until the program ends. Then there is another address here for the next one." }
            p.figure { (address) }
            @if let Some(qr) = Qr::of(address) { (PreEscaped(qr.svg("QR code of this address"))) }
        }
    }
}

fn typed_of(settings: &Settings) -> Typed {
    let mut typed = Typed::default();
    let (units, currency) = (settings.units, settings.currency);
    typed.set("shop", settings.name.clone());
    typed.set("units", units.to_string());
    typed.set("currency", currency.code());
    typed.set("zone", settings.zone_id.clone());
    for ((day, _), periods) in DAYS.iter().zip(&settings.hours.days) {
        typed.set(day, show_day(periods));
    }
    let hands: Vec<&str> = settings.hands.iter().map(|hand| hand.name.as_str()).collect();
    typed.set("hands", hands.join(", "));
    let worth_moving = u32::try_from(settings.worth_moving.get()).unwrap_or(0);
    typed.set("worth-moving", show::minutes_of_work(worth_moving));
    typed.set("wage", settings.wage_per_h.show(currency));
    typed.set("overhead", settings.overhead_per_h.show(currency));
    typed.set("margin", show::percent(settings.margin));
    let leaning = Prefer::WORDS.iter().find(|(_, prefer)| *prefer == settings.prefer);
    typed.set("buy-for", settings.buy_for.word());
    typed.set("prefer", leaning.map_or("balanced", |(word, _)| word));
    for (tool, has) in [
        ("spray-gun", settings.tools.spray_gun),
        ("sander", settings.tools.sander),
        ("heat-gun", settings.tools.heat_gun),
    ] {
        if has {
            typed.set(tool, "yes");
        }
    }
    let equipment = settings.equipment;
    typed.set("by-hand", equipment.by_hand.id());
    typed.set("sprayer", equipment.sprayer.id());
    let (loss, disc) = (equipment.cup_loss, equipment.disc);
    typed.set("cup-loss", loss.map(|loss| loss.show(units)).unwrap_or_default());
    typed.set("disc", disc.map(|disc| disc.show(units)).unwrap_or_default());
    let room = settings.rooms.first().cloned().unwrap_or_default();
    typed.set("room", room.name.clone());
    typed.set("temperature", room.temperature.show(units));
    typed.set("humidity", show::percent(room.humidity.fraction()));
    typed.set("volume", room.volume.show(units));
    typed.set("air-changes", format!("{}", room.air_changes_per_h));
    typed
}

fn read(settings: &mut Settings, typed: &mut Typed) {
    let units = typed.read("units", UnitSystem::parse).unwrap_or(settings.units);
    let currency = typed.read("currency", Currency::parse).unwrap_or(settings.currency);
    settings.name = typed
        .text("shop")
        .chars()
        .filter(|c| !c.is_control())
        .take(80)
        .collect();
    settings.units = units;
    settings.currency = currency;
    if let Some(zone) = typed.read("zone", |text| {
        jiff::tz::TimeZone::get(text)
            .map(|_| text.to_owned())
            .map_err(|_| format!("“{text}” is no time zone; such as America/Chicago or Europe/Berlin"))
    }) {
        settings.zone_id = zone;
    }
    for (day_idx, (day, _)) in DAYS.iter().enumerate() {
        if let Some(periods) = typed.read(day, parse_day) {
            settings.hours.days[day_idx] = periods;
        }
    }
    read_hands(settings, typed);
    if let Some(worth_moving) = typed.read_if_said("worth-moving", worth_moving) {
        settings.worth_moving = worth_moving;
    }
    if let Some(wage) = typed.read("wage", |text| Money::parse(text, currency)) {
        settings.wage_per_h = wage;
    }
    if let Some(overhead) = typed.read("overhead", |text| Money::parse(text, currency)) {
        settings.overhead_per_h = overhead;
    }
    if let Some(margin) = typed.read("margin", margin) {
        settings.margin = margin;
    }
    if let Some((_, buy_for)) = BuyFor::WORDS.iter().find(|(word, _)| *word == typed.text("buy-for")) {
        settings.buy_for = *buy_for;
    }
    if let Some((_, prefer)) = Prefer::WORDS.iter().find(|(word, _)| *word == typed.text("prefer")) {
        settings.prefer = *prefer;
    }
    settings.tools.spray_gun = typed.is_ticked("spray-gun");
    settings.tools.sander = typed.is_ticked("sander");
    settings.tools.heat_gun = typed.is_ticked("heat-gun");
    read_equipment(&mut settings.equipment, typed, units);
    read_room(settings, typed, units);
}

/// What coats go on with, as choices.
fn methods(methods: &[Method]) -> Vec<Choice> {
    choices(methods.iter().map(|method| (method.id(), method.label())))
}

fn read_equipment(equipment: &mut Equipment, typed: &mut Typed, units: UnitSystem) {
    let method = |typed: &mut Typed, field: &str, known: &[Method]| {
        typed.read_if_said(field, |word| {
            known.iter().find(|method| method.id() == word).copied().ok_or_else(|| {
                format!(
                    "“{word}” is no tool for this; one of {}",
                    known.iter().map(|method| method.label()).collect::<Vec<_>>().join(", ")
                )
            })
        })
    };
    equipment.by_hand = method(typed, "by-hand", &Equipment::BY_HAND).unwrap_or(equipment.by_hand);
    equipment.sprayer = method(typed, "sprayer", &Equipment::SPRAYERS).unwrap_or(equipment.sprayer);
    equipment.cup_loss = typed.read_if_said("cup-loss", |text| {
        let loss = Volume::parse_in(text, units).map_err(|refusal| refusal.to_string())?;
        if (1.0..=5_000.0).contains(&loss.ml()) {
            Ok(loss)
        } else {
            Err(format!("{} is outside what a gun keeps: 1 ml to 5 l", loss.show(units)))
        }
    });
    equipment.disc = typed.read_if_said("disc", |text| {
        let disc = Length::parse_in(text, units).map_err(|refusal| refusal.to_string())?;
        if (25.0..=300.0).contains(&disc.mm()) {
            Ok(disc)
        } else {
            Err(format!(
                "{} is no sanding disc: 25 mm to 300 mm across",
                disc.show(units)
            ))
        }
    });
}

fn worth_moving(text: &str) -> Result<Minutes, String> {
    let minutes = Minutes::parse(text).map_err(|refusal| refusal.to_string())?;
    if minutes > Settings::MOST_WORTH_MOVING {
        return Err("7 days is the most; such as 1 h".to_owned());
    }
    Ok(minutes)
}

fn margin(text: &str) -> Result<f64, String> {
    let share = BasisPoints::parse(text)
        .map_err(|refusal| refusal.to_string())?
        .fraction();
    if share > 0.9 {
        return Err(format!("{} is kept of a price at most; 90 %", show::percent(share)));
    }
    Ok(share)
}

fn read_hands(settings: &mut Settings, typed: &mut Typed) {
    let names: Vec<String> = typed
        .text("hands")
        .split(',')
        .map(|name| name.trim().chars().take(40).collect::<String>())
        .filter(|name| !name.is_empty())
        .collect();
    if names.is_empty() || names.len() > 6 {
        typed.refuse("hands", "one to six names, with commas between");
        return;
    }
    settings.hands = names
        .into_iter()
        .map(|name| {
            let hours = settings
                .hands
                .iter()
                .find(|hand| hand.name == name)
                .and_then(|hand| hand.hours.clone());
            Hand { name, hours }
        })
        .collect();
}

fn read_room(settings: &mut Settings, typed: &mut Typed, units: UnitSystem) {
    if settings.rooms.is_empty() {
        settings.rooms.push(Room::default());
    }
    let name = typed.text("room").to_owned();
    let temperature = typed.read("temperature", |text| Temperature::parse_in(text, units));
    let humidity = typed.read("humidity", Humidity::parse);
    let volume = typed.read("volume", |text| Volume::parse_in(text, units));
    let changes = typed.read("air-changes", AirChanges::parse);
    let Some(room) = settings.rooms.first_mut() else {
        return;
    };
    if !name.is_empty() {
        room.name = name;
    }
    room.temperature = temperature.unwrap_or(room.temperature);
    room.humidity = humidity.unwrap_or(room.humidity);
    room.volume = volume.unwrap_or(room.volume);
    room.air_changes_per_h = changes.map_or(room.air_changes_per_h, |changes| changes.per_h());
}

fn form_page(asked: &Asked, typed: &Typed, folder: Option<&str>, invitation: Option<&str>) -> Markup {
    let fields = Fields { form: "shop", typed };
    let body = html! {
        h1 { "Shop" }
        p { a href="/shop/pace" { "Your own pace" } ": what the bench log has taught." }
        (summary(typed))
        form method="post" action="/shop" {
            section.card aria-labelledby="hours-title" {
                h2 #hours-title { "Hours and hands" }
                p { "Periods such as 9:00-12:00 13:00-17:00; empty is a day off." }
                div.three { @for (day, name) in DAYS { (fields.text(day, name, "")) } }
                (fields.text("hands", "Whose hands", "names with commas between; each is one pair of hands"))
                (fields.text("worth-moving", "After a slip, moving a step must save", "lateness, such as 1 h; the more, the more of the week stays as it was laid out"))
            }
            section.card aria-labelledby="room-title" {
                h2 #room-title { "The room and its air" }
                div.three {
                    (fields.text("room", "Called", ""))
                    (fields.text("temperature", "Temperature", "such as 58 °F"))
                    (fields.text("humidity", "Humidity", "such as 65 %"))
                    (fields.text("volume", "Volume", "such as 3200 ft3 or 90 m3"))
                    (fields.text("air-changes", "Fresh air, room volumes an hour", ""))
                }
            }
            section.card aria-labelledby="rates-title" {
                h2 #rates-title { "Rates" }
                div.three {
                    (fields.text("wage", "An hour at the bench earns", ""))
                    (fields.text("overhead", "Rent, power and tools, an hour", ""))
                    (fields.text("margin", "Kept of a price", "such as 20 %"))
                }
                (fields.select("prefer", "Among good ways, lean to", "", &choices(LEANINGS)))
                (fields.select("buy-for", "Buy for", "", &choices([("likely", "what the work is likely to take"), ("high", "the most that it ordinarily takes")])))
            }
            section.card aria-labelledby="tools-title" {
                h2 #tools-title { "Machines" }
                div.ticks {
                    (fields.tick("sander", "Sanding machine with extraction"))
                    (fields.tick("spray-gun", "Spray gun"))
                    (fields.tick("heat-gun", "Heat gun or infra-red heater"))
                }
                div.three {
                    (fields.select("by-hand", "By hand, coats go on with a", "", &methods(&Equipment::BY_HAND)))
                    (fields.select("sprayer", "The spray gun is", "", &methods(&Equipment::SPRAYERS)))
                    (fields.text("cup-loss", "What stays in gun and cup at each fill", "empty: what such a gun usually keeps"))
                    (fields.text("disc", "The sanding disc measures", "across, such as 5 in or 150 mm; empty: 125 mm"))
                }
            }
            section.card aria-labelledby="words-title" {
                h2 #words-title { "Units, money, clock" }
                div.three {
                    (fields.text("shop", "The shop is called", ""))
                    (fields.select("units", "Units", "", &choices([("imperial", "inches, pints, °F"), ("metric", "centimetres, litres, °C")])))
                    (fields.text("currency", "Currency", "three letters, such as USD"))
                    (fields.text("zone", "Time zone", "such as America/Chicago"))
                }
            }
            button { "Save" }
        }
        @if let Some(address) = invitation { (phone(address)) }
        section.card aria-labelledby="folder-title" {
            h2 #folder-title { "Where it is kept" }
            p { @match folder { Some(folder) => { "Everything is in the folder " span.figure { (folder) } ". A copy of that folder is a copy of the shop." }, None => "This shop is kept in memory only, and is gone when the program ends." } }
        }
    };
    shell::page(asked, "Shop", Here::Shop, &body)
}
