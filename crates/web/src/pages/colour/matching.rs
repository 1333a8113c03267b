//! A match mixed from what stands on the shelf, and a batch in the pot mended by additions.

use axum::Form;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use colour::mix::{Batch, Correction, Measure, Prospect, Recipe, Shelf, ShelfPaint};
use colour::{Lab, Light, Spectrum, difference};
use maud::{Markup, html};
use quantity::{UnitSystem, Volume};
use shop::swatch::{SwatchReading, read_lab, read_spectrum};
use trade::Material;

use super::said::{self, Kind, Known};
use super::{Question, dry_swatch_first, head, swatch};
use crate::app::{App, Desk};
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};

/// What the page needs of the shop.
struct Around {
    known: Vec<Known>,
    paints: Vec<Paint>,
    readings: Vec<SwatchReading>,
    photographs: Vec<(i64, String)>,
    units: UnitSystem,
}

/// A product of the shelf with a colour.
#[derive(Clone)]
struct Paint {
    name: String,
    colour: Lab,
    class: Material,
    left: Volume,
    tint: Option<Lab>,
    is_white: bool,
}

fn around(desk: &mut Desk) -> Result<Around, PageError> {
    let known = said::known(desk)?;
    let readings = desk.store.swatches()?;
    let on_shelf = known.iter().filter(|known| known.kind == Kind::Shelf);
    let paints = on_shelf.filter_map(|known| {
        let product = desk.shop.product(&known.name)?;
        let reading = readings.iter().find(|reading| reading.product == product.name);
        Some(Paint {
            name: product.name.clone(),
            colour: known.colour,
            class: product.class,
            left: product.left_volume(),
            tint: reading.and_then(|reading| reading.tint),
            is_white: reading.is_some_and(|reading| reading.is_white),
        })
    });
    Ok(Around {
        paints: paints.collect(),
        photographs: super::photographs(desk)?,
        known,
        readings,
        units: desk.shop.settings.units,
    })
}

/// `GET /colour/match?target=…`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    whole(&app, &asked, Typed::from(entries), Typed::default()).await
}

async fn whole(app: &App, asked: &Asked, mut typed: Typed, measured: Typed) -> Result<Markup, PageError> {
    let around = app.at_desk(|desk, _| around(desk)).await?;
    let is_asked = !typed.text("target-pick").is_empty();
    if !is_asked {
        for paint in &around.paints {
            typed.set(&format!("use:{}", paint.name), "yes");
        }
    }
    typed.unless_said("target-pick", "#8a9a5b");
    typed.unless_said("most", "3");
    typed.unless_said("job", &Volume::from_ml(500.0).show(around.units));
    let (typed, replied, around) = if is_asked {
        replied(typed, around).await?
    } else {
        (typed, None, around)
    };
    let fields = Fields {
        form: "match",
        typed: &typed,
    };
    let body = html! {
        (head(Question::Match))
        section.card aria-labelledby="match-title" {
            h2 #match-title { "Mix a match from the shelf" }
            @if around.paints.len() < 2 {
                p { "To mix takes at least two products on the " a href="/shelf" { "shelf" } " that have a colour; there " (if around.paints.len() == 1 { "is one." } else { "are none yet." }) }
            }
            form method="get" action="/colour/match" data-live {
                (said::fields(&fields, "target", "The colour to match", &around.known))
                (spectrum_field(&typed))
                (paints_field(&fields, &around.paints))
                div.three {
                    (fields.text("job", "How much is needed", "such as 500 ml or 1 pt"))
                    (fields.select("most", "At most", "fewer are easier to mix again", &choices([("2", "2 paints"), ("3", "3 paints"), ("4", "4 paints")])))
                }
                (pot_fields(&fields, &around.paints))
                button { "Find a recipe" }
            }
            @if let Some(reply) = replied { (reply) }
        }
        (measured_swatches(&around, &measured))
        (dry_swatch_first())
    };
    Ok(shell::page(asked, "Mix a match", Here::Colour, &body))
}

/// The search takes its time: it is done off the threads that answer.
async fn replied(mut typed: Typed, around: Around) -> Result<(Typed, Option<Markup>, Around), PageError> {
    tokio::task::spawn_blocking(move || {
        let markup = reply(&mut typed, &around);
        (typed, markup, around)
    })
    .await
    .map_err(|fault| PageError::fault(&fault))
}

fn spectrum_field(typed: &Typed) -> Markup {
    let refusal = typed.refusal("spectrum");
    html! {
        details open[!typed.text("spectrum").is_empty()] {
            summary { "I have a spectrum from a meter" }
            div.field {
                label for="match-spectrum" { "Spectrum" }
                span.hint #match-spectrum-hint { "Paste lines of wavelength and reflectance, 400 to 700 nm. It counts before the colour above, and says more about lamp light." }
                textarea #match-spectrum name="spectrum" rows="5" spellcheck="false" aria-invalid=[refusal.map(|_| "true")] aria-describedby={ "match-spectrum-hint" @if refusal.is_some() { " match-spectrum-refusal" } } { (typed.text("spectrum")) }
                @if let Some(refusal) = refusal { span.refusal #match-spectrum-refusal { span.sign { "Not yet: " } (refusal) } }
            }
        }
    }
}

fn paints_field(fields: &Fields<'_>, paints: &[Paint]) -> Markup {
    html! {
        @if !paints.is_empty() {
            fieldset {
                legend { "Paints to mix from" }
                @if let Some(refusal) = fields.typed.refusal("paints") { span.refusal role="alert" { span.sign { "Not yet: " } (refusal) } }
                ul.patches {
                    @for paint in paints {
                        li {
                            (swatch::patch(paint.colour))
                            span.patch-words {
                                (fields.tick(&format!("use:{}", paint.name), &paint.name))
                                span.small.soft { (paint.class.label()) ", " (swatch::figures(paint.colour)) @if paint.is_white { ", the white of the tints" } @else if paint.tint.is_some() { ", tint measured" } }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn pot_fields(fields: &Fields<'_>, paints: &[Paint]) -> Markup {
    let is_used = !fields.typed.text("pot-reads").is_empty() || fields.typed.refusal("pot").is_some();
    html! {
        @if paints.len() > 1 {
            details open[is_used] {
                summary { "A batch is already in the pot, and its dry swatch is off" }
                @if let Some(refusal) = fields.typed.refusal("pot") { span.refusal role="alert" { span.sign { "Not yet: " } (refusal) } }
                p.small.soft { "Nothing can be taken out of a pot; what comes is what to add." }
                (fields.text("pot-reads", "What its dry swatch reads", "#rrggbb or a reading: L a b"))
                div.three {
                    @for paint in paints { (fields.text(&format!("pot:{}", paint.name), &paint.name, "how much went in")) }
                    (fields.text("pot-most", "Add at most", "empty: as much again"))
                }
            }
        }
    }
}

/// What was asked, read.
struct Case {
    target: Spectrum,
    is_spectrum: bool,
    paints: Vec<Paint>,
    shelf: Shelf,
    job: Volume,
    most: usize,
}

fn read(typed: &mut Typed, around: &Around) -> Option<Case> {
    let is_spectrum = !typed.text("spectrum").is_empty();
    let (target, own) = if is_spectrum {
        (typed.read("spectrum", read_spectrum), None)
    } else {
        let said = said::read(typed, "target", &around.known);
        let own = said
            .as_ref()
            .and_then(|said| said.key.as_ref()?.strip_prefix("shelf:").map(str::to_owned));
        (said.map(|said| Spectrum::nearest(said.colour).0), own)
    };
    let job = typed
        .read("job", |text| Volume::parse_in(text, around.units))
        .filter(|job| job.ml() > 0.0);
    if job.is_none() {
        typed.refuse("job", "it must be more than nothing, such as 500 ml");
    }
    let most = match typed.text("most") {
        "2" => 2,
        "4" => 4,
        _ => 3,
    };
    // A paint that is to be matched is not its own recipe.
    let used = around
        .paints
        .iter()
        .filter(|paint| own.as_deref() != Some(paint.name.as_str()));
    let paints: Vec<Paint> = used
        .filter(|paint| typed.is_ticked(&format!("use:{}", paint.name)))
        .cloned()
        .collect();
    let white = paints.iter().position(|paint| paint.is_white);
    let known = paints.iter().map(|paint| ShelfPaint {
        name: paint.name.clone(),
        colour: paint.colour,
        tint_with_white: paint.tint.filter(|_| !paint.is_white),
    });
    match Shelf::try_new(known.collect(), white) {
        Ok(shelf) => Some(Case {
            target: target?,
            is_spectrum,
            paints,
            shelf,
            job: job?,
            most,
        }),
        Err(why) => {
            typed.refuse("paints", why);
            None
        }
    }
}

fn reply(typed: &mut Typed, around: &Around) -> Option<Markup> {
    let case = read(typed, around)?;
    let recipes = case.shelf.recipes(&case.target, case.most);
    let goal = case.target.lab(Light::Day);
    let mended = mended(typed, &case, around);
    if typed.refusal("pot").is_some() || typed.refusal("pot-reads").is_some() {
        return None;
    }
    Some(html! {
        div.reply role="status" tabindex="-1" {
            @if let Some((batch, corrections)) = &mended { (corrections_card(&case, batch, corrections, around.units)) }
            @for (place, recipe) in recipes.iter().enumerate() {
                @if place == 0 && mended.is_none() { (recipe_card(&case, recipe, goal, around)) }
                @else { details { summary { (if mended.is_some() { "A fresh batch: " } else { "Another way: " }) (parts_words(&case.shelf.measure_out(recipe, case.job), recipe)) } (recipe_card(&case, recipe, goal, around)) } }
            }
            @if !is_of_one_kind(&case.paints) {
                div.caution.warn { p { strong.sign { "Mind: " } "These paints are not all of one class. Mix only what the labels let you mix; water and solvent do not mix." } }
            }
            p { strong { "Dry swatch first: " } "mix a spoonful by these parts, let it dry, compare by daylight and by lamp, and only then mix the batch." }
        }
    })
}

fn is_of_one_kind(paints: &[Paint]) -> bool {
    paints.windows(2).all(|pair| pair[0].class.id() == pair[1].class.id())
}

/// "3 parts white, 1 part blue"; in shares where no whole parts come near enough.
fn parts_words(measures: &[Measure], recipe: &Recipe) -> String {
    let whole = measures.iter().all(|measure| measure.parts > 0);
    let words: Vec<String> = measures
        .iter()
        .zip(&recipe.lines)
        .map(|(measure, line)| match (whole, measure.parts) {
            _ if measures.len() == 1 => format!("{} as it is", measure.name),
            (true, 1) => format!("1 part {}", measure.name),
            (true, parts) => format!("{parts} parts {}", measure.name),
            (false, _) => format!("{:.1} % {}", line.share * 100.0, measure.name),
        })
        .collect();
    words.join(", ")
}

/// How near it will come, in words for the eye: `aimed` is how far the mixture is from the target where all swatches are read right.
fn near_words(prospect: &Prospect, aimed: f64) -> &'static str {
    match prospect.likely {
        likely if likely <= 1.0 => "Likely not told apart, even edge to edge",
        likely if likely <= 2.0 => "Likely right at arm's length, seen edge to edge",
        likely if likely <= 5.0 => "Likely near, but seen beside the target",
        _ if aimed <= 2.0 => {
            "It may come near or not: too little is known of these paints. Measure a tint of each with white, or go by swatches"
        }
        _ => "Plainly another colour: this shelf cannot make it",
    }
}

fn range_words(prospect: &Prospect) -> String {
    let word = |value: f64| match value {
        value if value <= 1.0 => "not seen edge to edge",
        value if value <= 2.0 => "seen only edge to edge",
        value if value <= 5.0 => "seen at a glance",
        _ => "plainly another colour",
    };
    let (best, worst) = (word(prospect.low), word(prospect.high));
    if best == worst {
        format!("Nine times in ten: {best}.")
    } else {
        format!("Nine times in ten between \u{201c}{best}\u{201d} and \u{201c}{worst}\u{201d}.")
    }
}

fn lamp_words(recipe: &Recipe) -> &'static str {
    let more = recipe.under_lamp - recipe.prospect.likely;
    match more {
        more if more <= 0.7 => "Under a lamp it keeps its distance from the target about as by daylight.",
        more if more <= 2.0 => "Under a lamp it parts from the target a little more than by daylight.",
        _ => "Under a lamp it parts plainly from the target: look at the swatch in the room by night.",
    }
}

fn recipe_card(case: &Case, recipe: &Recipe, goal: Lab, around: &Around) -> Markup {
    let measures = case.shelf.measure_out(recipe, case.job);
    let words = parts_words(&measures, recipe);
    html! {
        p.answer { (words) }
        p { strong { (near_words(&recipe.prospect, difference(recipe.by_day, goal))) "." } " " (range_words(&recipe.prospect)) }
        p { (lamp_words(recipe)) @if !case.is_spectrum { " Without a spectrum of the target that is a guess." } }
        ul.patches {
            li { (swatch::named("Target", goal)) }
            li { (swatch::named("Mixture by daylight", recipe.by_day)) }
            li { (swatch::named("Mixture by lamp", recipe.by_lamp)) }
        }
        table.primers {
            caption { "For " (case.job.show(around.units)) " of it" }
            thead { tr { th scope="col" { "Paint" } th.number scope="col" { "Parts" } th.number scope="col" { "Amount" } th.number scope="col" { "Drops" } } }
            tbody { @for measure in &measures { (measure_row(measure, case, around.units)) } }
        }
        (to_photograph(&words, recipe, around))
        details {
            summary { "The figures" }
            dl.facts {
                dt { "Difference by day" } dd { (format!("{:.1} likely; {:.1} to {:.1} in nine of ten (CIEDE2000)", recipe.prospect.likely, recipe.prospect.low, recipe.prospect.high)) }
                dt { "By lamp" } dd { (format!("{:.1}", recipe.under_lamp)) }
                dt { "Target" } dd { (super::hide::lab_words(goal)) }
                dt { "Mixture by day" } dd { (super::hide::lab_words(recipe.by_day)) }
                @for line in &recipe.lines { @if let Some(paint) = case.paints.get(line.paint) { dt { (paint.name) } dd { (format!("{:.2} %", line.share * 100.0)) } } }
            }
            p.small.soft { "The range comes from how far several ways of reading the same swatches disagree about this mixture. Metallic, pearl and fluorescent paints fall outside of it. 20 drops are taken as 1 ml; count yours." }
        }
    }
}

fn measure_row(measure: &Measure, case: &Case, units: UnitSystem) -> Markup {
    let left = case.paints.get(measure.paint).map(|paint| paint.left);
    let short = left.filter(|left| left.ml() < measure.volume.ml());
    html! {
        tr {
            th scope="row" { (measure.name) @if let Some(left) = short { span.small.soft { " only " (left.show(units)) " left" } } }
            td.number { @if measure.parts > 0 { (measure.parts) } @else { "–" } }
            td.number { (amount(measure.volume)) }
            td.number { @if let Some(drops) = measure.drops { (drops) } @else { "–" } }
        }
    }
}

/// Millilitres as they are read off a cup or a syringe.
fn amount(volume: Volume) -> String {
    let ml = volume.ml();
    if ml < 20.0 {
        format!("{ml:.1} ml")
    } else {
        format!("{ml:.0} ml")
    }
}

fn to_photograph(words: &str, recipe: &Recipe, around: &Around) -> Markup {
    html! {
        @if !around.photographs.is_empty() {
            form.row.to-wish method="post" action="/colour/photograph/choice" {
                input type="hidden" name="colour" value=(colour::Srgb::nearest(recipe.by_day));
                input type="hidden" name="name" value="from the shelf";
                input type="hidden" name="note" value=(words);
                div.field {
                    label for={ "try-on-" (recipe.lines.len()) } { "Try it on the photograph" }
                    select id={ "try-on-" (recipe.lines.len()) } name="photograph" { @for (id, name) in &around.photographs { option value=(id) { (name) } } }
                }
                button.second { "Try it" }
            }
        }
    }
}

/// The corrections of the batch in the pot, where one was entered.
fn mended(typed: &mut Typed, case: &Case, around: &Around) -> Option<(Batch, Vec<Correction>)> {
    let mut parts = Vec::new();
    for (index, paint) in case.paints.iter().enumerate() {
        let field = format!("pot:{}", paint.name);
        if let Some(volume) = typed.read_if_said(&field, |text| Volume::parse_in(text, around.units)) {
            parts.push((index, volume));
        }
    }
    if parts.is_empty() && typed.text("pot-reads").is_empty() {
        return None;
    }
    let reads = typed.read("pot-reads", said::read_typed)?;
    let total = parts.iter().fold(Volume::ZERO, |total, (_, volume)| total + *volume);
    let most = typed
        .read_if_said("pot-most", |text| Volume::parse_in(text, around.units))
        .unwrap_or(total);
    let batch = Batch { parts, reads };
    match case.shelf.correct(&batch, &case.target, most) {
        Ok(corrections) => Some((batch, corrections)),
        Err(why) => {
            typed.refuse("pot", why);
            None
        }
    }
}

fn corrections_card(case: &Case, batch: &Batch, corrections: &[Correction], units: UnitSystem) -> Markup {
    let goal = case.target.lab(Light::Day);
    html! {
        h3 { "The batch in the pot" }
        @for (place, correction) in corrections.iter().enumerate() {
            @if correction.additions.is_empty() {
                p.answer[place == 0] { (if place == 0 { "Leave it as it is" } else { "Or leave it as it is" }) }
            } @else {
                p.answer[place == 0] {
                    (if place == 0 { "Add " } else { "Or add " })
                    @for (n, (paint, volume)) in correction.additions.iter().enumerate() {
                        @if n > 0 { " and " }
                        (amount(*volume)) @if volume.ml() <= 5.0 { (format!(" ({:.0} drops)", volume.ml() / colour::mix::DROP.ml())) } " of " (case.paints.get(*paint).map(|paint| paint.name.as_str()).unwrap_or_default())
                    }
                }
                p { "It makes " (correction.makes.show(units)) ". Add half of it first, stir, and dry a swatch: what is in cannot be taken out." }
            }
            p { strong { (near_words(&correction.prospect, difference(correction.by_day, goal))) "." } " " (range_words(&correction.prospect)) }
            details {
                summary { "The figures" }
                dl.facts {
                    dt { "Difference" } dd { (format!("{:.1} likely; {:.1} to {:.1} in nine of ten (CIEDE2000)", correction.prospect.likely, correction.prospect.low, correction.prospect.high)) }
                }
            }
        }
        ul.patches {
            li { (swatch::named("In the pot now", batch.reads)) }
            @if let Some(best) = corrections.first() { li { (swatch::named("After the addition", best.by_day)) } }
            li { (swatch::named("Target", goal)) }
        }
    }
}

/// What was measured of each paint, and the form for more.
fn measured_swatches(around: &Around, measured: &Typed) -> Markup {
    let mut typed = measured.clone();
    if let Some(paint) = around.paints.first() {
        typed.unless_said("product", &paint.name);
    }
    let fields = Fields {
        form: "reading",
        typed: &typed,
    };
    let products: Vec<(String, String)> = around
        .paints
        .iter()
        .map(|paint| (paint.name.clone(), paint.name.clone()))
        .collect();
    html! {
        @if !products.is_empty() {
            section.card aria-labelledby="reading-title" {
                h2 #reading-title { "Measured swatches" }
                p { "A colour picked on a screen is rough. Two dry swatches of each paint make recipes far surer: the paint itself, and the paint half and half with your white, measured with a meter." }
                @if !around.readings.is_empty() {
                    ul.plain {
                        @for reading in &around.readings {
                            li { strong { (reading.product) } ": "
                                @if reading.is_white { "the white of the tints; " }
                                @if let Some(own) = reading.own { "itself " (super::hide::lab_words(own)) "; " }
                                @if let Some(tint) = reading.tint { "half with white " (super::hide::lab_words(tint)) } @else { "no tint yet" }
                            }
                        }
                    }
                }
                (summary(&typed))
                form method="post" action="/colour/match/reading" {
                    (fields.select("product", "Paint", "", &products))
                    div.three {
                        (fields.text("own", "Its dry swatch reads", "L a b, such as 61 -16.3 31.2"))
                        (fields.text("tint", "Half and half with white it reads", "L a b; empty: not made"))
                    }
                    (fields.tick("white", "This is the white that tints are made with"))
                    button.second { "Keep the reading" }
                }
            }
        }
    }
}

/// `POST /colour/match/reading`: what was measured of a paint.
pub(crate) async fn keep_reading(
    State(app): State<App>,
    asked: Asked,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let own = typed.read_if_said("own", read_lab);
    let tint = typed.read_if_said("tint", read_lab);
    let is_white = typed.is_ticked("white");
    if own.is_none() && tint.is_none() && !is_white {
        typed.refuse("own", "enter at least one reading, or tick that it is the white");
    }
    if is_white && own.is_some_and(|own| own.l < 80.0) {
        typed.refuse("own", "a white to tint with has a lightness of at least 80");
    }
    if typed.is_sound() {
        let reading = SwatchReading {
            product: typed.text("product").to_owned(),
            own,
            tint,
            is_white,
        };
        app.at_desk(move |desk, _| {
            let there = desk
                .shop
                .product(&reading.product)
                .ok_or(PageError::NotFound("product"))?
                .name
                .clone();
            Ok(desk.store.save_swatch(&SwatchReading {
                product: there,
                ..reading
            })?)
        })
        .await?;
        return Ok(Redirect::to("/colour/match#reading-title").into_response());
    }
    let page = whole(&app, &asked, Typed::default(), typed).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}
