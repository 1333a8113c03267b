//! The shelf: products with what is left, what the plan needs, and the shopping list with its ticks.

use axum::Form;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::Date;
use maud::{Markup, html};
use quantity::{BasisPoints, Currency, Minutes, Money, Spread, UnitSystem, Volume};
use shop::model::{Label, ShelfProduct};
use shop::plan::{Plan, Sum, ToHave, Trip, bought_for_words};
use store::Tick;
use trade::{Material, PrepClass};

use crate::app::{App, Desk};
use crate::draw::safe_colour;
use crate::error::PageError;
use crate::pages::quick::class_choices;
use crate::pages::supplies;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// `GET /shelf?product=…`: the shelf, with the form filled in for a product to change.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    whole(&app, &asked, Typed::from(entries)).await
}

async fn whole(app: &App, asked: &Asked, mut typed: Typed) -> Result<Markup, PageError> {
    let body = app
        .at_desk(move |desk, now| {
            let standing = desk.standing(now);
            let today = desk.zoned(now).date();
            if typed.is_sound()
                && let Some(product) = desk.shop.product(typed.text("product"))
            {
                typed = typed_of(product, desk.shop.settings.units, desk.shop.settings.currency);
            }
            let ticked = desk.store.ticked()?;
            Ok(html! {
                h1 { "Shelf" }
                @if let Some(plan) = &standing.plan { (shopping(plan, &ticked)) }
                (products(desk, today))
                (product_form(&typed))
                (supplies::held(desk))
            })
        })
        .await?;
    Ok(shell::page(asked, "Shelf", Here::Shelf, &body))
}

fn shopping(plan: &Plan, ticked: &[String]) -> Markup {
    let units = plan.shop.unit_system;
    let by_seller = plan.shopping_by_seller();
    let to_buy: Vec<&ToHave> = by_seller.iter().flat_map(|(_, lines)| lines).collect();
    let enough: Vec<&ToHave> = plan.shopping.iter().filter(|line| line.buy.is_empty()).collect();
    html! {
        section.card.printed aria-labelledby="buy-title" {
            h2 #buy-title { "To buy" }
            @if to_buy.is_empty() { p { "Nothing: the shelf holds all that the plan needs." } }
            @for (trip, lines) in &by_seller {
                @match trip {
                    Some(trip) => (at_seller(trip)),
                    None if !plan.trips.is_empty() => h3 { "Anywhere" },
                    None => {}
                }
                ul.shopping {
                    @for line in lines { (shopping_line(line, left_over_ml(plan, line), ticked, units)) }
                }
            }
            (still_to_pay(&to_buy, ticked))
            @if let Some(first) = plan.shopping.first() { p.small.soft { (bought_for_words(first.bought_for)) " " a href="/shop" { "The shop's settings" } } }
            (supplies::list(plan))
            p.no-print { a.button.second href="/shelf/prices" { "Prices of the sellers" } }
        }
        @if !enough.is_empty() {
            section aria-labelledby="enough-title" {
                h2 #enough-title { "Enough on the shelf" }
                ul.plain {
                    @for line in enough {
                        li { (swatch(line.colour.as_deref())) (show::capital(&line.words)) ": " span.figure { (show::volume(line.need_ml, units)) } " of " span.figure { (show::volume(line.on_shelf_ml, units)) } }
                    }
                }
            }
        }
    }
}

/// The head of what is bought at one seller's, with what it comes to.
fn at_seller(trip: &Trip) -> Markup {
    html! {
        div.head {
            h3 { (trip.seller) }
            p.figure {
                (trip.cans.show())
                @if trip.way.money != Money::ZERO { span.soft { " and " (trip.way.show()) " for the way: " } strong { (trip.together.show()) } }
            }
        }
    }
}

/// What the cans that are not bought yet cost together.
fn still_to_pay(to_buy: &[&ToHave], ticked: &[String]) -> Markup {
    let open = to_buy.iter().filter(|line| !ticked.contains(&line_key(line)));
    let prices: Vec<Sum> = open.flat_map(|line| &line.buy).map(|can| can.price).collect();
    let minor = prices
        .iter()
        .fold(0_i64, |sum, price| sum.saturating_add(price.money.minor()));
    html! {
        @match prices.first() {
            Some(first) => { p { strong { "Still to pay: " } span.figure { (Sum::new(Money::from_minor(minor), first.currency).show()) } } }
            None if !to_buy.is_empty() => { p { strong { "✓ All of it is bought." } " Put it on the shelf below, and the list is made anew." } }
            None => {}
        }
    }
}

/// What a line of the list is ticked by: it stays ticked only as long as the same cans are to be bought.
fn line_key(line: &ToHave) -> String {
    let cans: Vec<String> = line
        .buy
        .iter()
        .map(|can| {
            let at = can
                .seller
                .as_ref()
                .map(|seller| format!("@{seller}"))
                .unwrap_or_default();
            format!("{}x{:.0}{at}", can.count, can.size_ml)
        })
        .collect();
    format!(
        "{} {} {}",
        line.class,
        line.colour.as_deref().unwrap_or(""),
        cans.join(" ")
    )
}

fn shopping_line(line: &ToHave, over_ml: Option<f64>, ticked: &[String], units: UnitSystem) -> Markup {
    let key = line_key(line);
    let is_ticked = ticked.contains(&key);
    let (mark, word, to) = if is_ticked {
        ("☑", "Bought", "off")
    } else {
        ("☐", "To buy", "on")
    };
    html! {
        li.bought[is_ticked] {
            form method="post" action="/shelf/tick" data-live data-keep {
                input type="hidden" name="line" value=(key);
                input type="hidden" name="to" value=(to);
                button.box aria-pressed=(if is_ticked { "true" } else { "false" }) aria-label={ "Bought: " (line.words) } { (mark) }
            }
            div {
                p { (swatch(line.colour.as_deref())) strong { (show::capital(&line.words)) } span.visually-hidden { " (" (word) ")" } }
                p.figure {
                    @for (place, can) in line.buy.iter().enumerate() {
                        @if place > 0 { ", " }
                        (can.count) " × " (show::volume(can.size_ml, units)) span.soft { " " (can.price.show()) }
                    }
                }
                p.small.soft {
                    "needs " (show::volume(line.need_ml, units))
                    @if line.on_shelf_ml > 0.0 { ", has " (show::volume(line.on_shelf_ml, units)) }
                    @if let Some(over) = over_ml { ", leaves " (show::volume(over, units)) }
                    br; (line.range_words(units))
                }
            }
        }
    }
}

/// What will be left of all cans of the material, if it is worth a word.
fn left_over_ml(plan: &Plan, line: &ToHave) -> Option<f64> {
    let same = |other: &&ToHave| other.class == line.class && other.colour == line.colour;
    let whole = plan.shopping.iter().find(same)?;
    let bought: f64 = whole.buy.iter().map(|can| can.size_ml * f64::from(can.count)).sum();
    Some(bought + whole.on_shelf_ml - whole.need_ml).filter(|over| *over >= 10.0)
}

/// A spot of a colour; the colour is named beside it for whoever cannot see it.
fn swatch(colour: Option<&str>) -> Markup {
    html! {
        @if colour.is_some() {
            svg.swatch viewBox="0 0 20 20" width="20" height="20" role="img" aria-label={ "colour " (safe_colour(colour)) } {
                rect x="1" y="1" width="18" height="18" fill=(safe_colour(colour)) stroke="currentColor" {}
            }
            " "
        }
    }
}

fn products(desk: &Desk, today: Date) -> Markup {
    let settings = &desk.shop.settings;
    html! {
        section aria-labelledby="products-title" {
            h2 #products-title { "On the shelf" }
            @if desk.shop.shelf.is_empty() { p { "Nothing yet. A product that you add is used before anything is bought, and its label beats the class's figures." } }
            @else {
                div.scroll tabindex="0" role="region" aria-label="Products on the shelf" {
                    table.schedules {
                        caption { "Products, what is left of each, and what a full one costs" }
                        thead { tr { th scope="col" { "Product" } th scope="col" { "What it is" } th.number scope="col" { "Left" } th.number scope="col" { "Price" } th scope="col" { "Good until" } th scope="col" { "Change" } } }
                        tbody {
                            @for product in &desk.shop.shelf { (product_row(product, today, settings.units, settings.currency)) }
                        }
                    }
                }
            }
        }
    }
}

fn product_row(product: &ShelfProduct, today: Date, units: UnitSystem, currency: Currency) -> Markup {
    let address = format!(
        "/shelf?product={}#product-title",
        crate::pages::piece::path_word(&product.name)
    );
    html! {
        tr {
            th scope="row" { (swatch(product.colour.as_deref())) (product.name) }
            td data-label="What it is" { (product.class.label()) }
            td.number data-label="Left" { (product.left_volume().show(units)) span.soft { " of " (product.size.show(units)) } }
            td.number data-label="Price" { (product.price.show(currency)) }
            td data-label="Good until" {
                @match product.goes_off {
                    Some(day) if !product.is_good_on(today) => { strong { "! off since " (show::day(day)) } }
                    Some(day) if is_soon(day, today) => { strong { "soon: " (show::day(day)) } }
                    Some(day) => (show::day(day)),
                    None => "not said",
                }
            }
            td.row {
                a.button.second href=(address) aria-label={ "Change " (product.name) } { "Change" }
                form method="post" action="/shelf/take-off" data-live {
                    button.second name="product" value=(product.name) aria-label={ "Take off the shelf: " (product.name) } { "Take off" }
                }
            }
        }
    }
}

/// Whether a day is within the next thirty.
fn is_soon(day: Date, today: Date) -> bool {
    today
        .checked_add(jiff::Span::new().days(30))
        .is_ok_and(|limit| day <= limit)
}

pub(super) fn material_choices() -> Vec<(String, Vec<Choice>)> {
    let mut groups = class_choices();
    groups.push((
        "Preparation".to_owned(),
        choices(PrepClass::EVERY.iter().map(|class| (class.id(), class.label()))),
    ));
    groups
}

fn product_form(typed: &Typed) -> Markup {
    let fields = Fields { form: "product", typed };
    html! {
        section.card.no-print aria-labelledby="product-title" {
            h2 #product-title { "Put a product on the shelf" }
            (summary(typed))
            form method="post" action="/shelf" {
                (fields.text("name", "What you call it", "the name of one that is there changes it"))
                (fields.select_of("class", "What it is", "", &material_choices()))
                div.three {
                    (fields.text("size", "A full one holds", "such as 1 qt or 750 ml"))
                    (fields.text("left", "How full it is", "such as 60 %"))
                    (fields.text("price", "A full one costs", ""))
                }
                (fields.colour("colour", "Its colour"))
                details {
                    summary { "What the label says, and until when it is good" }
                    div.three {
                        (fields.text("recoat", "Next coat after", "such as 2 h"))
                        (fields.text("recoat-max", "Next coat within", "such as 24 h"))
                        (fields.text("dry", "Dry after", ""))
                        (fields.text("cure", "Cured after", "such as 21 d"))
                        (fields.text("spread", "Covers", "such as 300 ft²/gal"))
                        (fields.text("coats", "Coats", ""))
                        (fields.text("solids", "Solids by volume", "such as 38 %"))
                        (fields.text("hiding", "Hides", "contrast ratio, such as 98 %"))
                        (fields.text("hiding-at", "Hiding holds at", "the spread, such as 8 m²/L"))
                        (fields.text("thinner", "Thin by", "such as 10 %"))
                        (fields.text("mix", "Base to hardener", "such as 4:1"))
                        (fields.text("pot-life", "A mix keeps", "such as 3 h"))
                        (fields.day("good-until", "Good until", ""))
                    }
                }
                button { "Put it there" }
            }
        }
    }
}

fn typed_of(product: &ShelfProduct, units: UnitSystem, currency: Currency) -> Typed {
    let mut typed = Typed::default();
    typed.set("name", product.name.clone());
    typed.set("class", product.class.id());
    typed.set("size", product.size.show(units));
    typed.set("left", show::percent(product.left));
    typed.set("price", product.price.show(currency));
    if let Some(colour) = &product.colour {
        typed.set("colour", colour.clone());
        typed.set("colour-has", "yes");
    }
    let label = &product.label;
    let minutes = |minutes: Option<Minutes>| minutes.map(|minutes| minutes.to_string()).unwrap_or_default();
    typed.set("recoat", minutes(label.recoat_min));
    typed.set("recoat-max", minutes(label.recoat_max));
    typed.set("dry", minutes(label.dry));
    typed.set("cure", minutes(label.cure));
    typed.set(
        "spread",
        label.spread.map(|spread| spread.show(units)).unwrap_or_default(),
    );
    typed.set("coats", label.coats.map(|coats| coats.to_string()).unwrap_or_default());
    let percent = |share: Option<f64>| share.map(share_text).unwrap_or_default();
    typed.set("solids", percent(label.solids));
    typed.set("hiding", percent(label.hiding));
    typed.set("thinner", percent(label.thinner));
    typed.set(
        "hiding-at",
        label.hiding_at.map(|spread| spread.show(units)).unwrap_or_default(),
    );
    typed.set(
        "mix",
        label
            .mix
            .map(|(base, hardener)| format!("{base}:{hardener}"))
            .unwrap_or_default(),
    );
    typed.set("pot-life", minutes(label.pot_life));
    typed.set(
        "good-until",
        product.goes_off.map(|day| day.to_string()).unwrap_or_default(),
    );
    typed
}

/// A share in percent, to a hundredth of one, as it reads back.
fn share_text(share: f64) -> String {
    format!("{} %", (share * 10_000.0).round() / 100.0)
}

/// A share of more than nothing and at most all.
fn share_above_nothing(text: &str) -> Result<f64, String> {
    let share = BasisPoints::parse(text)
        .map(BasisPoints::fraction)
        .map_err(|refused| refused.to_string())?;
    if share > 0.0 && share <= 1.0 {
        Ok(share)
    } else {
        Err("above 0 % and at most 100 %".to_owned())
    }
}

fn read(typed: &mut Typed, units: UnitSystem, currency: Currency) -> Option<ShelfProduct> {
    let name: String = typed
        .text("name")
        .chars()
        .filter(|c| !c.is_control())
        .take(80)
        .collect();
    if name.is_empty() {
        typed.refuse("name", "a product needs a name to be known by");
    }
    let class = typed.read("class", Material::parse);
    let size = typed.read("size", |text| Volume::parse_in(text, units));
    let left = typed.read("left", |text| BasisPoints::parse(text).map(BasisPoints::fraction));
    let price = typed.read("price", |text| Money::parse(text, currency));
    let label = Label {
        recoat_min: typed.read_if_said("recoat", Minutes::parse),
        recoat_max: typed.read_if_said("recoat-max", Minutes::parse),
        dry: typed.read_if_said("dry", Minutes::parse),
        cure: typed.read_if_said("cure", Minutes::parse),
        spread: typed.read_if_said("spread", |text| Spread::parse_in(text, units)),
        coats: typed.count("coats", 1, 12).and_then(|coats| u8::try_from(coats).ok()),
        solids: typed.read_if_said("solids", share_above_nothing),
        hiding: typed.read_if_said("hiding", share_above_nothing),
        hiding_at: typed.read_if_said("hiding-at", |text| Spread::parse_in(text, units)),
        thinner: typed.read_if_said("thinner", |text| BasisPoints::parse(text).map(BasisPoints::fraction)),
        mix: typed.read_if_said("mix", |text| {
            shop::file::read_mix(text).ok_or("parts of base and hardener, such as 4:1")
        }),
        pot_life: typed.read_if_said("pot-life", Minutes::parse),
    };
    let goes_off = typed.read_if_said("good-until", |text| {
        text.parse::<Date>().map_err(|_| "a day such as 2027-03-20".to_owned())
    });
    let colour = typed
        .is_ticked("colour-has")
        .then(|| shop::file::read_colour(typed.text("colour")))
        .flatten();
    Some(ShelfProduct {
        name,
        class: class?,
        size: size?,
        left: left?,
        price: price?,
        label,
        opened: None,
        goes_off,
        colour,
    })
    .filter(|_| typed.is_sound())
}

/// `POST /shelf`: puts a product there, or changes the one of its name.
pub(crate) async fn put(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let (is_put, typed) = app
        .at_desk(move |desk, _| {
            let settings = &desk.shop.settings;
            let Some(mut product) = read(&mut typed, settings.units, settings.currency) else {
                return Ok((false, typed));
            };
            match desk.shop.shelf.iter_mut().find(|there| there.name == product.name) {
                Some(there) => {
                    product.opened = there.opened;
                    *there = product;
                }
                None => desk.shop.shelf.push(product),
            }
            desk.keep_shelf()?;
            Ok((true, typed))
        })
        .await?;
    if is_put {
        return Ok(Redirect::to("/shelf").into_response());
    }
    let page = whole(&app, &asked, typed).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// `POST /shelf/take-off`.
pub(crate) async fn take_off(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    app.at_desk(move |desk, _| {
        desk.shop.shelf.retain(|product| product.name != typed.text("product"));
        desk.keep_shelf()
    })
    .await?;
    Ok(Redirect::to("/shelf"))
}

/// `POST /shelf/tick`: a line of the list is bought, or not after all.
pub(crate) async fn tick(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    app.at_desk(move |desk, now| {
        let line: String = typed.text("line").chars().take(300).collect();
        let tick = if typed.text("to") == "off" { Tick::Off } else { Tick::On };
        Ok(desk.store.tick(&line, now, tick)?)
    })
    .await?;
    Ok(Redirect::to("/shelf"))
}
