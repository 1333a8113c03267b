//! Prices: where the shop buys, which sizes are sold there, at what price. The shopping list takes the cheapest of them all.

use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use quantity::{Currency, Money, UnitSystem, Volume};
use shop::model::{CanPrice, Seller, Settings};
use trade::Material;

use crate::app::App;
use crate::error::PageError;
use crate::pages::shelf::material_choices;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields, summary};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// `GET /shelf/prices`.
pub(crate) async fn page(State(app): State<App>, asked: Asked) -> Markup {
    whole(&asked, &app.settings(), &Typed::default(), &Typed::default())
}

fn whole(asked: &Asked, settings: &Settings, seller: &Typed, can: &Typed) -> Markup {
    let body = html! {
        h1 { "Prices" }
        p.lead { "Say where you buy, and what a can of each size costs there. The shopping list then takes the cheapest cans over all pieces, with the way to each seller counted once." }
        @for there in &settings.sellers { (of_seller(there, settings.units, settings.currency)) }
        @if !settings.sellers.is_empty() { (can_form(settings, can)) }
        (seller_form(seller))
        p { a.button.second href="/shelf" { "Back to the shelf" } }
    };
    shell::page(asked, "Prices", Here::Shelf, &body)
}

fn of_seller(seller: &Seller, units: UnitSystem, currency: Currency) -> Markup {
    let title = format!("seller-{}", shop::model::slug(&seller.name));
    html! {
        section.card aria-labelledby=(title) {
            div.head {
                h2 id=(title) { (seller.name) }
                p { @if seller.trip == Money::ZERO { "The way there costs nothing." } @else { "The way there costs " span.figure { (seller.trip.show(currency)) } "." } }
            }
            @if seller.cans.is_empty() { p { "No prices yet." } } @else {
                table {
                    caption.visually-hidden { "Prices of " (seller.name) }
                    thead { tr { th scope="col" { "Material" } th.number scope="col" { "Holds" } th.number scope="col" { "Costs" } th scope="col" { span.visually-hidden { "Change" } } } }
                    tbody { @for can in &seller.cans { (can_row(seller, can, units, currency)) } }
                }
            }
            form method="post" action="/shelf/prices/take-off" data-live {
                button.second name="seller" value=(seller.name) aria-label={ "Take off: " (seller.name) " with all prices" } { "Take this seller off" }
            }
        }
    }
}

fn can_row(seller: &Seller, can: &CanPrice, units: UnitSystem, currency: Currency) -> Markup {
    let size = can.size.show(units);
    let name = can.class.label();
    html! {
        tr {
            th scope="row" { (show::capital(name)) }
            td.number { (size) }
            td.number { (can.price.show(currency)) }
            td {
                form method="post" action="/shelf/prices/take-off" data-live {
                    input type="hidden" name="seller" value=(seller.name);
                    input type="hidden" name="class" value=(can.class.id());
                    input type="hidden" name="ml" value=(format!("{:.3}", can.size.ml()));
                    button.second aria-label={ "Take off: " (size) " of " (name) " at " (seller.name) } { "Take off" }
                }
            }
        }
    }
}

fn can_form(settings: &Settings, typed: &Typed) -> Markup {
    let fields = Fields { form: "can", typed };
    let sellers: Vec<Choice> = settings
        .sellers
        .iter()
        .map(|seller| (seller.name.clone(), seller.name.clone()))
        .collect();
    html! {
        section.card #can-price aria-labelledby="can-title" {
            h2 #can-title { "A price" }
            (summary(typed))
            form method="post" action="/shelf/prices" data-live {
                (fields.select("seller", "Sold by", "", &sellers))
                (fields.select_of("class", "What it is", "", &material_choices()))
                div.three {
                    (fields.text("size", "One holds", "such as 1 qt or 750 ml"))
                    (fields.text("price", "One costs", ""))
                }
                button { "Put it on the list" }
            }
        }
    }
}

fn seller_form(typed: &Typed) -> Markup {
    let fields = Fields { form: "seller", typed };
    html! {
        section.card #new-seller aria-labelledby="seller-title" {
            h2 #seller-title { "A seller" }
            (summary(typed))
            form method="post" action="/shelf/prices/seller" data-live {
                div.three {
                    (fields.text("name", "What you call them", "the name of one that is there changes the way"))
                    (fields.text("trip", "The way there costs", "the drive or the delivery; empty: nothing"))
                }
                button { "Put them on the list" }
            }
        }
    }
}

/// What nobody pays for a can or a way.
fn price(text: &str, currency: Currency) -> Result<Money, String> {
    let price = Money::parse(text, currency).map_err(|refusal| refusal.to_string())?;
    if (0..=10_000_000).contains(&price.minor()) {
        Ok(price)
    } else {
        Err(format!(
            "{} is outside of what is reckoned with: nothing to {}",
            price.show(currency),
            Money::from_minor(10_000_000).show(currency)
        ))
    }
}

/// Changes the settings by what was typed, and keeps them if nothing in it is wrong.
async fn change(
    app: &App,
    entries: Vec<(String, String)>,
    read: fn(&mut Settings, &mut Typed),
) -> Result<(Typed, Settings), PageError> {
    let mut typed = Typed::from(entries);
    app.at_desk(move |desk, _| {
        let mut settings = desk.shop.settings.clone();
        read(&mut settings, &mut typed);
        if typed.is_sound() {
            desk.shop.settings = settings.clone();
            desk.keep_settings()?;
        }
        Ok((typed, settings))
    })
    .await
}

/// `POST /shelf/prices/seller`: a new seller, or another way to one that is there.
pub(crate) async fn seller(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let (typed, settings) = change(&app, entries, read_seller).await?;
    Ok(answer(&asked, &settings, typed, Typed::default()))
}

fn read_seller(settings: &mut Settings, typed: &mut Typed) {
    let name: String = typed.text("name").chars().filter(|c| !c.is_control()).collect();
    if name.is_empty() || name.chars().count() > 80 {
        typed.refuse("name", "a seller needs a name of 1 to 80 characters");
    }
    let currency = settings.currency;
    let trip = typed
        .read_if_said("trip", |text| price(text, currency))
        .unwrap_or_default();
    let is_full = settings.sellers.len() >= Seller::MOST;
    match settings.sellers.iter_mut().find(|seller| seller.name == name) {
        Some(there) => there.trip = trip,
        None if is_full => {
            typed.refuse(
                "name",
                format!("{} sellers are on the list, and that is the most", Seller::MOST),
            );
        }
        None => settings.sellers.push(Seller {
            name,
            trip,
            cans: Vec::new(),
        }),
    }
}

/// `POST /shelf/prices`: a price, new or changed.
pub(crate) async fn put(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let (typed, settings) = change(&app, entries, read_can).await?;
    Ok(answer(&asked, &settings, Typed::default(), typed))
}

fn read_can(settings: &mut Settings, typed: &mut Typed) {
    let (units, currency) = (settings.units, settings.currency);
    let class = typed.read("class", Material::parse);
    let size = typed.read("size", |text| {
        let size = Volume::parse_in(text, units).map_err(|refusal| refusal.to_string())?;
        if (1.0..=250_000.0).contains(&size.ml()) {
            Ok(size)
        } else {
            Err(format!("{} is no can: 1 ml to 250 l", size.show(units)))
        }
    });
    let price = typed.read("price", |text| price(text, currency));
    let name = typed.text("seller").to_owned();
    let Some(seller) = settings.sellers.iter_mut().find(|seller| seller.name == name) else {
        typed.refuse(
            "seller",
            "this seller is not on the list; choose one, or put them there first",
        );
        return;
    };
    let (Some(class), Some(size), Some(price)) = (class, size, price) else {
        return;
    };
    if seller.cans.len() >= Seller::MOST_CANS {
        typed.refuse(
            "class",
            format!("{} prices are on this list, and that is the most", Seller::MOST_CANS),
        );
        return;
    }
    seller.put(CanPrice { class, size, price });
}

fn answer(asked: &Asked, settings: &Settings, seller: Typed, can: Typed) -> Response {
    if seller.is_sound() && can.is_sound() {
        return Redirect::to("/shelf/prices").into_response();
    }
    let page = whole(asked, settings, &seller, &can);
    (StatusCode::UNPROCESSABLE_ENTITY, page).into_response()
}

/// `POST /shelf/prices/take-off`: a price, or a seller with all prices.
pub(crate) async fn take_off(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    app.at_desk(move |desk, _| {
        let name = typed.text("seller");
        let sellers = &mut desk.shop.settings.sellers;
        match Material::parse(typed.text("class")) {
            Ok(class) => {
                let ml: f64 = typed.text("ml").parse().unwrap_or(f64::NAN);
                for seller in sellers.iter_mut().filter(|seller| seller.name == name) {
                    seller
                        .cans
                        .retain(|can| can.class != class || (can.size.ml() - ml).abs() > 0.05);
                }
            }
            Err(_) => sellers.retain(|seller| seller.name != name),
        }
        desk.keep_settings()
    })
    .await?;
    Ok(Redirect::to("/shelf/prices"))
}
