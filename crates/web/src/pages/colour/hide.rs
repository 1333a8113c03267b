//! How many coats hide the old colour, and which colour of primer needs the fewest in all.

use axum::Form;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use colour::coats::coats_to_hide_at;
use colour::primer::{PrimedCoats, Primer, PrimerColour, primed};
use colour::warning::{Warning, warnings};
use colour::{Coats, Hiding, HidingClass, Lab, Scrutiny};
use maud::{Markup, html};
use quantity::{BasisPoints, Spread, UnitSystem, WetFilm};
use shop::bench;
use shop::model::Look;
use trade::finish_rows::Group;
use trade::{FinishClass, Material};

use super::said::{self, Known, Said};
use super::{Question, dry_swatch_first, head, swatch};
use crate::app::{App, Desk};
use crate::error::PageError;
use crate::pages::piece::own_zones;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields, choices};
use crate::view::shell::{self, Asked, Here};

/// What the page needs of the shop.
struct Around {
    known: Vec<Known>,
    zones: Vec<Choice>,
    /// Name, class and label spread of the shelf's coloured finishes.
    products: Vec<(String, FinishClass, Option<Spread>)>,
    units: UnitSystem,
}

/// `GET /colour?old=…&new=…`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let around = app.at_desk(|desk, _| around(desk)).await?;
    let mut typed = Typed::from(entries);
    let is_asked = ["old", "old-from", "old-pick"]
        .iter()
        .any(|field| !typed.text(field).is_empty());
    take_from_zone(&mut typed, &around);
    typed.unless_said("old-pick", "#6b4a32");
    typed.unless_said("new-pick", "#f4f3ee");
    typed.unless_said("class", FinishClass::WaterborneAcrylicEnamel.id());
    typed.unless_said("black", "#1d1c1a");
    typed.unless_said("white", "#f4f3ee");
    let reply = if is_asked { reply(&mut typed, &around) } else { None };
    let fields = Fields {
        form: "hide",
        typed: &typed,
    };
    let body = html! {
        (head(Question::Hide))
        section.card aria-labelledby="hide-title" {
            h2 #hide-title { "How many coats hide it?" }
            form method="get" action="/colour" data-live {
                div.two-said {
                    (said::fields(&fields, "old", "The old colour", &around.known))
                    (said::fields(&fields, "new", "The new colour", &around.known))
                }
                (fields.select_of("class", "Paint", "a can from the shelf brings its own class and spread", &paints()))
                (fields.select("hiding", "How well it hides", "", &hidings()))
                (fields.select("looked", "How closely will it be looked at?", "", &looked()))
                (fields.tick("bleeds", "Something underneath may bleed: tannin, knots, smoke, dye or stain"))
                @if !around.zones.is_empty() { (fields.select("for", "For which part", "takes its found colour, and can take the answer", &zones(&around))) }
                (measured(&fields))
                button { "How many coats?" }
            }
            @if let Some(reply) = reply { (reply) }
        }
        (shelf_colours(&around.known))
        (dry_swatch_first())
    };
    Ok(shell::page(&asked, "Coats to hide", Here::Colour, &body))
}

fn around(desk: &mut Desk) -> Result<Around, PageError> {
    let wants = desk.shop.pieces.iter().filter(|piece| piece.stage.wants_work());
    let zones = wants.flat_map(|piece| {
        let with_zones = shop::plan::with_zones(piece);
        let name = piece.name.clone();
        with_zones.zones.into_iter().map(move |zone| {
            (
                format!("{}/{}", with_zones.id, zone.name),
                format!("{name}, {}", zone.name),
            )
        })
    });
    let products = desk.shop.shelf.iter().filter_map(|product| match product.class {
        Material::Finish(class) => Some((product.name.clone(), class, product.label.spread)),
        Material::Prep(_) => None,
    });
    Ok(Around {
        known: said::known(desk)?,
        zones: zones.collect(),
        products: products.collect(),
        units: desk.shop.settings.units,
    })
}

/// A link from a part brings its found colour with it.
fn take_from_zone(typed: &mut Typed, around: &Around) {
    let key = format!("found:{}", typed.text("for"));
    if typed.text("old-pick").is_empty() && around.known.iter().any(|known| known.key == key) {
        typed.unless_said("old-from", &key);
    }
}

fn zones(around: &Around) -> Vec<Choice> {
    let mut zones = vec![(String::new(), "none in particular".to_owned())];
    zones.extend(around.zones.iter().cloned());
    zones
}

fn paints() -> Vec<(String, Vec<Choice>)> {
    let paints = FinishClass::CHOOSABLE
        .iter()
        .filter(|class| class.row().group == Group::Paint);
    vec![(String::new(), choices(paints.map(|class| (class.id(), class.label()))))]
}

const HIDING: [(HidingClass, &str, &str); 5] = [
    (HidingClass::Best, "best", "hides best: black, deep red oxide"),
    (HidingClass::Good, "good", "hides well: most dark and earthy tones"),
    (HidingClass::Fair, "fair", "hides fairly: most whites and pale tones"),
    (HidingClass::Weak, "weak", "hides weakly: strong clean colours"),
    (
        HidingClass::Sheer,
        "sheer",
        "hides hardly: bright yellow, orange and red, clear bases",
    ),
];

fn hidings() -> Vec<Choice> {
    let mut hidings = vec![(String::new(), "as such a colour usually does".to_owned())];
    hidings.extend(choices(HIDING.iter().map(|(_, id, words)| (*id, *words))));
    hidings
}

fn looked() -> Vec<Choice> {
    choices([
        ("", "edge to edge: a table top, a repair"),
        ("arm", "at arm's length: an inside, a back"),
    ])
}

/// The two better ways of saying how well a paint hides.
fn measured(fields: &Fields<'_>) -> Markup {
    let refused = [
        "ratio",
        "ratio-at",
        "over-black",
        "over-white",
        "black",
        "white",
        "drawn",
    ];
    let is_used = refused.iter().any(|name| fields.typed.refusal(name).is_some())
        || !fields.typed.text("ratio").is_empty()
        || !fields.typed.text("over-black").is_empty();
    html! {
        details open[is_used] {
            summary { "I know it better: the data sheet's contrast ratio, or a strip drawn at home" }
            fieldset {
                legend { "From the data sheet" }
                div.three {
                    (fields.text("ratio", "Contrast ratio", "such as 0.98 or 98 %"))
                    (fields.text("ratio-at", "At a spreading rate of", "such as 8 m²/l or 400 ft²/gal"))
                }
            }
            fieldset {
                legend { "A strip over a black and a white card, dry" }
                p.small.soft { "Lay tape of a known thickness along both sides, draw the paint level with it over half black, half white card, and compare or measure when dry." }
                div.three {
                    (fields.text("over-black", "Paint over the black", "#rrggbb or L a b"))
                    (fields.text("over-white", "Paint over the white", "#rrggbb or L a b"))
                    (fields.text("drawn", "Wet film drawn", "such as 100 µm or 4 mil"))
                    (fields.text("black", "The bare black", ""))
                    (fields.text("white", "The bare white", ""))
                }
            }
        }
    }
}

/// Reads how well the paint hides: a strip counts before a ratio, and that before a class.
fn read_hiding(typed: &mut Typed, new: Lab, units: UnitSystem) -> Option<Hiding> {
    if !typed.text("over-black").is_empty() || !typed.text("over-white").is_empty() {
        let over_black = typed.read("over-black", said::read_typed);
        let over_white = typed.read("over-white", said::read_typed);
        let black = typed.read("black", said::read_typed);
        let white = typed.read("white", said::read_typed);
        let film = typed.read("drawn", |text| WetFilm::parse_in(text, units));
        return Some(Hiding::Drawdown {
            over_black: over_black?,
            over_white: over_white?,
            black: black?,
            white: white?,
            film: film?,
        });
    }
    if !typed.text("ratio").is_empty() {
        let ratio = typed.read("ratio", |text| BasisPoints::parse(text).map(BasisPoints::fraction));
        let at = typed.read("ratio-at", |text| Spread::parse_in(text, units));
        return Some(Hiding::ContrastRatio { ratio: ratio?, at: at? });
    }
    let class = HIDING.iter().find(|(_, id, _)| *id == typed.text("hiding"));
    Some(Hiding::Class(
        class.map_or_else(|| HidingClass::guess(new), |(class, _, _)| *class),
    ))
}

/// What was asked, read.
struct Case {
    old: Said,
    new: Said,
    hiding: Hiding,
    film: WetFilm,
    scrutiny: Scrutiny,
    bleeds: bool,
    class: FinishClass,
    product: Option<String>,
}

fn read(typed: &mut Typed, around: &Around) -> Option<Case> {
    let old = said::read(typed, "old", &around.known);
    let new = said::read(typed, "new", &around.known);
    let class = typed.read("class", FinishClass::parse);
    let (old, new, mut class) = (old?, new?, class?);
    let can = new.key.as_deref().and_then(|key| key.strip_prefix("shelf:"));
    let product = can.and_then(|name| around.products.iter().find(|product| product.0 == name));
    if let Some((_, own, _)) = product {
        class = *own;
        typed.set("class", own.id());
    }
    let film = product
        .and_then(|(_, _, spread)| spread.map(Spread::wet_film))
        .unwrap_or_else(|| WetFilm::from_um(class.row().wet_film_um.unwrap_or(100.0)));
    let hiding = read_hiding(typed, new.colour, around.units)?;
    Some(Case {
        product: product.map(|product| product.0.clone()),
        old,
        new,
        hiding,
        film,
        scrutiny: if typed.text("looked") == "arm" {
            Scrutiny::ArmsLength
        } else {
            Scrutiny::SideBySide
        },
        bleeds: typed.is_ticked("bleeds"),
        class,
    })
}

/// A primer as it usually comes: hides fairly, a hundred micrometres wet, two coats at most.
const PRIMER: Primer = Primer {
    hiding: Hiding::Class(HidingClass::Fair),
    film: WetFilm::from_um(100.0),
    most_coats: 2,
};

fn reply(typed: &mut Typed, around: &Around) -> Option<Markup> {
    let case = read(typed, around)?;
    let coats = coats_to_hide_at(case.old.colour, case.new.colour, &case.hiding, case.film, case.scrutiny);
    let primed = primed(
        case.old.colour,
        case.new.colour,
        &case.hiding,
        case.film,
        &PRIMER,
        case.scrutiny,
    );
    match (coats, primed) {
        (Ok(coats), Ok(primed)) => Some(answer(&case, &coats, &primed, typed.text("for"), around)),
        (Err(why), _) | (_, Err(why)) => {
            let field = match case.hiding {
                Hiding::Drawdown { .. } => "over-black",
                Hiding::ContrastRatio { .. } => "ratio",
                Hiding::Class(_) => "new",
            };
            typed.refuse(field, why);
            None
        }
    }
}

fn answer(case: &Case, coats: &Coats, primed: &[PrimedCoats], zone: &str, around: &Around) -> Markup {
    let shown = usize::from(coats.priced()).min(coats.seen_after.len());
    let unit = if coats.to_string() == "1" { " coat" } else { " coats" };
    html! {
        div.reply role="status" tabindex="-1" {
            p.answer { (coats.to_string()) (unit) }
            p { (plan_words(coats)) }
            ul.patches {
                li { (swatch::named(&format!("Old: {}", case.old.name), case.old.colour)) }
                li { (swatch::named(&format!("New: {}", case.new.name), case.new.colour)) }
            }
            ol.patches {
                @for (coat, seen) in coats.seen_after.iter().take(shown).enumerate() {
                    li { (swatch::patch(*seen)) span.patch-words { span { "after coat " (coat + 1) } span.small.soft { (left_words(coats.left_after.get(coat).copied())) } } }
                }
            }
            @for warning in warnings(case.old.colour, case.new.colour, coats, case.bleeds) { (caution(&warning)) }
            (primers(primed))
            (to_wish(case, coats, zone, around))
            (figures(case, coats))
        }
    }
}

fn plan_words(coats: &Coats) -> String {
    let (likely, maybe) = (coats.planned(), coats.priced());
    match (coats.likely, coats.maybe) {
        (None, _) => format!(
            "Even {} coats of it leave the old colour to be seen. Change the ground first: see the primers below.",
            colour::coats::MOST_COATS
        ),
        (Some(_), None) => format!(
            "Plan the days for {likely}; where the film is thin even {maybe} may not do, so look at the primers below before buying."
        ),
        (Some(_), Some(_)) if maybe > likely => format!(
            "Plan the days for {likely}; price and buy for {maybe}, because edges and hurried coats come out thinner."
        ),
        (Some(_), Some(_)) => "Plan and buy for that; a thin coat does not change it.".to_owned(),
    }
}

fn left_words(left: Option<f64>) -> &'static str {
    match left {
        Some(left) if left <= 1.0 => "hidden, even edge to edge",
        Some(left) if left <= 2.0 => "hidden at arm's length",
        Some(left) if left <= 5.0 => "still shows",
        _ => "plainly shows",
    }
}

fn caution(warning: &Warning) -> Markup {
    html! {
        div.caution.warn {
            p { strong.sign { "Mind: " } (warning.message) }
            p { (warning.remedy) }
            p.small.soft { (warning.why) }
        }
    }
}

fn primer_name(primer: PrimerColour) -> &'static str {
    match primer {
        PrimerColour::None => "no primer",
        PrimerColour::White => "white primer",
        PrimerColour::Grey => "primer tinted grey",
        PrimerColour::NearTarget => "primer tinted near the paint",
    }
}

fn primers(primed: &[PrimedCoats]) -> Markup {
    let without = primed.iter().find(|one| one.primer == PrimerColour::None);
    let best = primed.first();
    let saved = match (best, without) {
        (Some(best), Some(without)) if best.primer != PrimerColour::None => {
            without.priced().saturating_sub(best.priced())
        }
        _ => 0,
    };
    html! {
        h3 { "Which primer saves coats" }
        @if let Some(best) = best {
            p {
                @if best.primer == PrimerColour::None { "None: without a primer it takes the fewest coats in all. One may be needed all the same, to stick or to seal." }
                @else {
                    strong { "A " (primer_name(best.primer)) ": " } (best.primer_coats) " of it, then " (best.paint.to_string()) " of the paint"
                    @if saved > 0 { ", " (saved) " fewer in all than without." } @else { "; as many to buy for in all as without a primer." }
                }
            }
        }
        table.primers {
            caption { "Coats in all, fewest first" }
            thead { tr { th scope="col" { "Ground" } th.number scope="col" { "Primer" } th.number scope="col" { "Paint" } th.number scope="col" { "In all" } } }
            tbody {
                @for one in primed {
                    tr {
                        th scope="row" { (crate::view::show::capital(primer_name(one.primer))) }
                        td.number { (one.primer_coats) }
                        td.number { (one.paint.to_string()) }
                        td.number { (in_all(one)) }
                    }
                }
            }
        }
    }
}

fn in_all(one: &PrimedCoats) -> String {
    match (one.paint.hides(), one.priced() > one.planned()) {
        (false, _) => "never".to_owned(),
        (true, true) => format!("{}–{}", one.planned(), one.priced()),
        (true, false) => one.planned().to_string(),
    }
}

/// The way into a part's wish.
fn to_wish(case: &Case, coats: &Coats, zone: &str, around: &Around) -> Markup {
    let chosen = around.zones.iter().find(|(key, _)| key == zone);
    html! {
        @if !around.zones.is_empty() && coats.hides() {
            form.row.to-wish method="post" action="/colour/wish" {
                input type="hidden" name="colour" value=(case.new.hex());
                input type="hidden" name="class" value=(case.class.id());
                input type="hidden" name="coats" value=(coats.planned());
                @if let Some(product) = &case.product { input type="hidden" name="product" value=(product); }
                @if let Some((key, name)) = chosen {
                    button name="zone" value=(key) { "Wish this for " (name) }
                } @else {
                    div.field {
                        label for="wish-zone" { "Wish this for" }
                        select id="wish-zone" name="zone" { @for (key, name) in &around.zones { option value=(key) { (name) } } }
                    }
                    button.second { "Put it there" }
                }
            }
        }
    }
}

fn figures(case: &Case, coats: &Coats) -> Markup {
    let known = match case.hiding {
        Hiding::Class(class) => {
            let (low, typical, high) = class.contrast_ratio();
            format!("a class of hiding: contrast ratio {typical} ({low} to {high}) at 8 m²/l")
        }
        Hiding::ContrastRatio { ratio, at } => format!("contrast ratio {ratio} at {:.1} m²/l", at.m2_per_litre()),
        Hiding::Drawdown { film, .. } => format!("a strip of {:.0} µm over black and white", film.um()),
    };
    html! {
        details {
            summary { "The figures" }
            dl.facts {
                dt { "Film" } dd { (format!("{:.0} µm wet a coat", case.film.um())) }
                dt { "Hiding" } dd { (known) }
                dt { "Passes" } dd { (format!("a difference of {:.0} (CIEDE2000)", coats.passes)) }
                dt { "Old" } dd { (lab_words(case.old.colour)) }
                dt { "New" } dd { (lab_words(case.new.colour)) }
            }
            table {
                caption { "Difference from the paint's own colour" }
                thead { tr { th scope="col" { "After coat" } th.number scope="col" { "Likely" } th.number scope="col" { "At worst" } } }
                tbody {
                    @for (coat, (left, worst)) in coats.left_after.iter().zip(&coats.left_after_at_worst).enumerate() {
                        tr { th scope="row" { (coat + 1) } td.number { (format!("{left:.2}")) } td.number { (format!("{worst:.2}")) } }
                    }
                }
            }
            p.small.soft { "Reckoned by bands of light over the old colour itself (Kubelka and Munk). A primer counts as one that hides fairly, 100 µm wet." }
        }
    }
}

pub(super) fn lab_words(lab: Lab) -> String {
    format!("L {:.1}, a {:.1}, b {:.1}", lab.l, lab.a, lab.b)
}

fn shelf_colours(known: &[Known]) -> Markup {
    let shelf: Vec<&Known> = known.iter().filter(|known| known.kind == said::Kind::Shelf).collect();
    html! {
        @if !shelf.is_empty() {
            section aria-labelledby="shelf-title" {
                h2 #shelf-title { "Colours on the shelf" }
                ul.patches { @for known in shelf { li { (swatch::named(&known.name, known.colour)) } } }
            }
        }
    }
}

/// `POST /colour/wish`: the answer becomes what is wished for a part.
pub(crate) async fn wish(
    State(app): State<App>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let (id, name) = typed
        .text("zone")
        .split_once('/')
        .map(|(id, name)| (id.to_owned(), name.to_owned()))
        .unwrap_or_default();
    let colour = typed.read("colour", said::read_typed);
    let class = typed.read("class", FinishClass::parse);
    let coats = typed.count("coats", 1, 12).and_then(|coats| u8::try_from(coats).ok());
    let (Some(colour), Some(class)) = (colour, class) else {
        return Ok((
            StatusCode::UNPROCESSABLE_ENTITY,
            "The colour or the paint of this wish cannot be read. Go back and ask for the coats again.",
        )
            .into_response());
    };
    let product = typed.text("product").to_owned();
    let to = format!("/pieces/{id}#zone-{}", shop::model::slug(&name));
    app.at_desk(move |desk, _| {
        own_zones(desk, &id)?;
        let zone = desk.piece(&id)?.zone(&name).ok_or(PageError::NotFound("zone"))?;
        let mut wish = zone.wish.clone();
        wish.look = Look::Paint;
        wish.colour = Some(colour::Srgb::nearest(colour).to_string());
        wish.class = Some(class);
        wish.coats = coats;
        wish.product = desk.shop.product(&product).map(|product| product.name.clone());
        bench::wish(&mut desk.shop, &id, &name, wish)?;
        desk.keep_piece(&id)
    })
    .await?;
    Ok(Redirect::to(&to).into_response())
}
