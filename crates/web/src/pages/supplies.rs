//! Supplies: discs, tape, rags and the like that the shop holds, and those that the plan uses up.

use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use quantity::{Currency, Length, Money, UnitSystem, Volume};
use shop::model::ShelfSupply;
use shop::plan::{Plan, Sum, SupplyToHave};
use trade::{Grit, Supply, SupplyKind, Unit};

use crate::app::{App, Desk};
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// The supplies that the plan uses up: part of what is to buy.
pub(crate) fn list(plan: &Plan) -> Markup {
    let units = plan.shop.unit_system;
    html! {
        @if !plan.supplies.is_empty() {
            h3 { "Supplies" }
            ul.plain {
                @for line in &plan.supplies { li { (supply_line(line, units)) } }
            }
            @if let Some(sum) = cost(plan) { p { strong { "Packs to pay: " } span.figure { (sum.show()) } } }
        }
    }
}

/// What the packs cost together; nothing where none is to be bought.
fn cost(plan: &Plan) -> Option<Sum> {
    let prices: Vec<Sum> = plan
        .supplies
        .iter()
        .flat_map(|line| &line.buy)
        .map(|pack| pack.price)
        .collect();
    let minor = prices
        .iter()
        .fold(0_i64, |sum, price| sum.saturating_add(price.money.minor()));
    prices
        .first()
        .map(|first| Sum::new(Money::from_minor(minor), first.currency))
}

fn supply_line(line: &SupplyToHave, units: UnitSystem) -> Markup {
    html! {
        span.figure { (line.amount_words(line.need, units)) }
        span.small.soft {
            " (" (line.range_words(units)) ")"
            @if line.on_shelf > 0.0 { ", there: " (line.amount_words(line.on_shelf, units)) }
        }
        @if !line.buy.is_empty() {
            ": buy "
            @for (place, pack) in line.buy.iter().enumerate() {
                @if place > 0 { ", " }
                (pack.count) " × " (pack.name) " " span.figure { (pack.price.show()) }
            }
        } @else if !line.is_priced {
            span.soft { " · no price known" }
        } @else {
            span.soft { " · enough on the shelf" }
        }
    }
}

/// What the shop holds, and the form that adds to it.
pub(crate) fn held(desk: &Desk) -> Markup {
    held_and_form(desk, &Typed::default())
}

fn held_and_form(desk: &Desk, typed: &Typed) -> Markup {
    let settings = &desk.shop.settings;
    let fields = Fields { form: "supply", typed };
    html! {
        section.card.no-print aria-labelledby="supplies-title" {
            h2 #supplies-title { "Discs, tape, rags" }
            @if !desk.shop.supplies.is_empty() {
                ul.plain {
                    @for supply in &desk.shop.supplies { li { (row(supply, settings.units, settings.currency)) } }
                }
            }
            (summary(typed))
            form method="post" action="/shelf/supply" {
                (fields.text("name", "What you call it", "the name of one that is there changes it"))
                div.three {
                    (fields.select("kind", "What it is", "", &choices(kinds())))
                    (fields.select("grit", "Grit", "for discs, sheets and pads", &choices(grits())))
                    (fields.text("pack", "A full pack holds", "such as 50, 50 m or 1 qt"))
                    (fields.text("left", "Left in all packs", "the same way; empty for a full pack"))
                    (fields.text("price", "A full pack costs", ""))
                }
                button { "Keep it" }
            }
        }
    }
}

fn kinds() -> impl Iterator<Item = (&'static str, &'static str)> {
    SupplyKind::EVERY
        .iter()
        .filter(|kind| **kind != SupplyKind::Water)
        .map(|kind| (kind.id(), kind.label()))
}

fn grits() -> impl Iterator<Item = (&'static str, &'static str)> {
    std::iter::once(("", "none")).chain(Grit::EVERY.iter().map(|grit| (grit.id(), grit.id())))
}

fn row(supply: &ShelfSupply, units: UnitSystem, currency: Currency) -> Markup {
    html! {
        strong { (supply.name) } " (" (supply.what.label()) "): "
        span.figure { (amount(supply.left, supply.what.unit(), units)) } " left, "
        span.figure { (supply.price.show(currency)) } " for " (amount(supply.pack, supply.what.unit(), units)) " "
        form method="post" action="/shelf/supply/take-off" {
            input type="hidden" name="name" value=(supply.name);
            button.second aria-label={ "Take off: " (supply.name) } { "Take off" }
        }
    }
}

fn amount(amount: f64, unit: Unit, units: UnitSystem) -> String {
    match unit {
        Unit::Piece => format!("{amount:.0}"),
        Unit::Metre => Length::from_m(amount).show(units),
        Unit::Millilitre => show::volume(amount, units),
    }
}

fn read(typed: &mut Typed, units: UnitSystem, currency: Currency) -> Option<ShelfSupply> {
    let name: String = typed
        .text("name")
        .chars()
        .filter(|c| !c.is_control())
        .take(80)
        .collect();
    if name.is_empty() {
        typed.refuse("name", "a supply needs a name to be known by");
    }
    let kind = typed.read("kind", SupplyKind::parse)?;
    let grit = if kind.has_grit() {
        typed.read("grit", Grit::parse)
    } else {
        None
    };
    let pack = typed.read("pack", |text| read_amount(text, kind.unit(), units));
    let left = if typed.text("left").is_empty() {
        pack
    } else {
        typed.read("left", |text| match text {
            "0" => Ok(0.0),
            more => read_amount(more, kind.unit(), units),
        })
    };
    let price = typed.read("price", |text| Money::parse(text, currency));
    Some(ShelfSupply {
        name,
        what: Supply::Ware(kind, grit),
        pack: pack?,
        left: left?,
        price: price?,
    })
    .filter(|_| typed.is_sound())
}

/// An amount in a supply's own unit, above nothing.
fn read_amount(text: &str, unit: Unit, units: UnitSystem) -> Result<f64, String> {
    let amount = match unit {
        Unit::Piece => f64::from(
            text.parse::<u32>()
                .map_err(|_| "a whole number, such as 50".to_owned())?,
        ),
        Unit::Metre => {
            let length = Length::parse_in(text, units).map_err(|refused| refused.to_string())?;
            length.m()
        }
        Unit::Millilitre => {
            let volume = Volume::parse_in(text, units).map_err(|refused| refused.to_string())?;
            volume.ml()
        }
    };
    if amount > 0.0 && amount <= 1_000_000.0 {
        Ok(amount)
    } else {
        Err("more than nothing, such as 50, 50 m or 1 qt".to_owned())
    }
}

/// `POST /shelf/supply`: keeps a supply, or changes the one of its name.
pub(crate) async fn put(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let refused = app
        .at_desk(move |desk, _| {
            let settings = &desk.shop.settings;
            let Some(supply) = read(&mut typed, settings.units, settings.currency) else {
                return Ok(Some(held_and_form(desk, &typed)));
            };
            match desk.shop.supplies.iter_mut().find(|there| there.name == supply.name) {
                Some(there) => *there = supply,
                None => desk.shop.supplies.push(supply),
            }
            desk.keep_supplies()?;
            Ok(None)
        })
        .await?;
    Ok(match refused {
        None => Redirect::to("/shelf").into_response(),
        Some(form) => {
            let body = html! { h1 { "Shelf" } (form) p { a href="/shelf" { "The whole shelf" } } };
            let page = shell::page(&asked, "Shelf", Here::Shelf, &body);
            (StatusCode::UNPROCESSABLE_ENTITY, page).into_response()
        }
    })
}

/// `POST /shelf/supply/take-off`.
pub(crate) async fn take_off(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    app.at_desk(move |desk, _| {
        desk.shop.supplies.retain(|supply| supply.name != typed.text("name"));
        desk.keep_supplies()
    })
    .await?;
    Ok(Redirect::to("/shelf"))
}
