//! Colour: how many coats hide the old one, and which colour of primer needs the fewest in all.

use axum::extract::{Query, State};
use colour::{Coats, Hiding, HidingClass, Srgb, coats_to_hide};
use maud::{Markup, html};
use quantity::WetFilm;
use trade::FinishClass;
use trade::finish_rows::Group;

use crate::app::App;
use crate::draw::safe_colour;
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields, choices};
use crate::view::shell::{self, Asked, Here};

/// `GET /colour?old=…&new=…`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let shelf = app
        .at_desk(|desk, _| {
            let coloured = desk.shop.shelf.iter().filter(|product| product.colour.is_some());
            Ok(coloured
                .map(|product| (product.name.clone(), product.colour.clone()))
                .collect::<Vec<_>>())
        })
        .await?;
    let mut typed = Typed::from(entries);
    let is_asked = !typed.is_empty();
    typed.unless_said("old", "#6b4a32");
    typed.unless_said("new", "#f4f3ee");
    typed.unless_said("class", FinishClass::WaterborneAcrylicEnamel.id());
    let reply = if is_asked { reply(&mut typed) } else { None };
    let fields = Fields {
        form: "colour",
        typed: &typed,
    };
    let body = html! {
        h1 { "Colour" }
        section.card aria-labelledby="hide-title" {
            h2 #hide-title { "How many coats hide it?" }
            form method="get" action="/colour" data-live {
                div.three {
                    (fields.swatch("old", "The old colour"))
                    (fields.swatch("new", "The new colour"))
                }
                (fields.select_of("class", "Paint", "", &paints()))
                (fields.select("hiding", "How it hides", "the label's contrast ratio would say; this is the usual", &hidings()))
                button { "How many coats?" }
            }
            @if let Some(reply) = reply { (reply) }
        }
        @if !shelf.is_empty() {
            section aria-labelledby="shelf-title" {
                h2 #shelf-title { "Colours on the shelf" }
                ul.swatches {
                    @for (name, colour) in &shelf {
                        li {
                            svg viewBox="0 0 60 40" width="60" height="40" aria-hidden="true" { rect x="1" y="1" width="58" height="38" fill=(safe_colour(colour.as_deref())) stroke="currentColor" {} }
                            (name)
                        }
                    }
                }
            }
        }
        p.small.soft { "Screens and photographs lie about colour. A dry swatch on the piece, seen by daylight and by lamp, comes before any can is bought." }
    };
    Ok(shell::page(&asked, "Colour", Here::Colour, &body))
}

fn paints() -> Vec<(String, Vec<Choice>)> {
    let paints = FinishClass::CHOOSABLE
        .iter()
        .filter(|class| class.row().group == Group::Paint);
    vec![(String::new(), choices(paints.map(|class| (class.id(), class.label()))))]
}

const HIDING: [(HidingClass, &str, &str); 5] = [
    (HidingClass::Best, "best", "hides best: black, deep red oxide"),
    (HidingClass::Good, "good", "hides well: white and most mid tones"),
    (HidingClass::Fair, "fair", "hides fairly"),
    (HidingClass::Weak, "weak", "hides weakly: bright red, yellow"),
    (HidingClass::Sheer, "sheer", "hides hardly: clear bases"),
];

fn hidings() -> Vec<Choice> {
    let mut hidings = vec![(String::new(), "as such a colour usually does".to_owned())];
    hidings.extend(choices(HIDING.iter().map(|(_, id, words)| (*id, *words))));
    hidings
}

fn reply(typed: &mut Typed) -> Option<Markup> {
    let old = typed.read("old", Srgb::parse)?.to_lab();
    let new = typed.read("new", Srgb::parse)?.to_lab();
    let class = typed.read("class", FinishClass::parse)?;
    let hiding = HIDING
        .iter()
        .find(|(_, id, _)| *id == typed.text("hiding"))
        .map_or_else(|| HidingClass::guess(new), |(class, _, _)| *class);
    let film = WetFilm::from_um(class.row().wet_film_um.unwrap_or(100.0));
    match coats_to_hide(old, new, &Hiding::Class(hiding), film) {
        Ok(coats) => Some(answer(&coats)),
        Err(why) => {
            typed.refuse("new", why);
            None
        }
    }
}

fn answer(coats: &Coats) -> Markup {
    let shown = usize::from(coats.priced()).min(coats.seen_after.len());
    html! {
        div.reply role="status" tabindex="-1" {
            p.answer { (coats.to_string()) " coats" }
            p { "Plan with the first figure, price with the larger one." }
            ol.swatches {
                @for (coat, seen) in coats.seen_after.iter().take(shown).enumerate() {
                    @let colour = Srgb::nearest(*seen).to_string();
                    li {
                        svg viewBox="0 0 60 40" width="60" height="40" aria-hidden="true" { rect x="1" y="1" width="58" height="38" fill=(safe_colour(Some(&colour))) stroke="currentColor" {} }
                        "after coat " (coat + 1)
                    }
                }
            }
            p.small.soft { "Tannin, knots, smoke and dyes that bleed are chemistry: no number of coats hides them, only a barrier does." }
        }
    }
}
