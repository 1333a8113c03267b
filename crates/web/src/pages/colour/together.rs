//! Colours that go together, and whether a handle or an edge will be found on its ground.

use axum::extract::{Query, State};
use colour::Lab;
use colour::harmony::{EASILY_FOUND, Harmony, partners, reflectance_contrast};
use maud::{Markup, html};
use shop::swatch::{called, ideas};

use super::said::{self, Known, Said};
use super::{Question, dry_swatch_first, head, swatch};
use crate::app::App;
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::Fields;
use crate::view::shell::{self, Asked, Here};

/// How many ideas are shown.
const SHOWN: usize = 6;

/// `GET /colour/together?colour=…&part=…`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let known = app.at_desk(|desk, _| said::known(desk)).await?;
    let mut typed = Typed::from(entries);
    let is_asked = !typed.is_empty();
    typed.unless_said("colour-pick", "#4f6b52");
    typed.unless_said("part-pick", "#b08d57");
    let read = if is_asked {
        let colour = said::read(&mut typed, "colour", &known);
        let part = said::read(&mut typed, "part", &known);
        colour.zip(part)
    } else {
        None
    };
    let fields = Fields {
        form: "together",
        typed: &typed,
    };
    let body = html! {
        (head(Question::Together))
        section.card aria-labelledby="together-title" {
            h2 #together-title { "What goes with it, and will the handle be seen?" }
            form method="get" action="/colour/together" data-live {
                div.two-said {
                    (said::fields(&fields, "colour", "The colour of the piece", &known))
                    (said::fields(&fields, "part", "A handle, an edge or another part", &known))
                }
                button { "See them together" }
            }
            @if let Some((colour, part)) = &read { (reply(colour, part, &known)) }
        }
        (dry_swatch_first())
    };
    Ok(shell::page(&asked, "Colours that go together", Here::Colour, &body))
}

fn reply(colour: &Said, part: &Said, known: &[Known]) -> Markup {
    html! {
        div.reply role="status" tabindex="-1" {
            (contrast(colour, part))
            h3 { "The two side by side" }
            (pair(colour.colour, part.colour))
            p { (crate::view::show::capital(&called(colour.colour))) " with " (called(part.colour)) ": " strong { (pair_words(&colour::harmony::harmony(colour.colour, part.colour))) } "." }
            (from_the_shop(colour.colour, known))
            h3 { "Other colours to talk over" }
            ul.patches {
                @for idea in ideas(colour.colour, SHOWN) {
                    li { (pair(colour.colour, idea.colour.to_lab())) span.patch-words { strong { (pair_words(&idea.harmony)) } span.small.soft { (swatch::figures(idea.colour.to_lab())) } } }
                }
            }
            p.small.soft { "The order comes from a published score, made by people judging plain patches in pairs. It is a start for a talk with the client, no more." }
        }
    }
}

fn contrast(colour: &Said, part: &Said) -> Markup {
    let apart = reflectance_contrast(colour.colour, part.colour);
    let words = match apart {
        apart if apart >= EASILY_FOUND => "Easily found",
        apart if apart >= EASILY_FOUND / 2.0 => "Found by most, hard to find for poor eyes",
        _ => "Hard to find: by touch, or by its shine",
    };
    html! {
        p.answer { (words) }
        p {
            "The piece gives back " span.figure { (format!("{:.0} %", colour.colour.light_reflectance())) } " of the light, the part "
            span.figure { (format!("{:.0} %", part.colour.light_reflectance())) } ": " span.figure { (format!("{apart:.0}")) }
            " points apart. From " (format!("{EASILY_FOUND:.0}")) " on it is easily found by people who see poorly (common practice; where a code asks for a figure, that figure counts)."
        }
    }
}

/// Two colours as a piece shows them: the small one on the large one.
fn pair(ground: Lab, part: Lab) -> Markup {
    let fill = |lab| colour::Srgb::nearest(lab).to_string();
    html! {
        svg.pair viewBox="0 0 120 64" width="120" height="64" aria-hidden="true" focusable="false" {
            rect x="1" y="1" width="118" height="62" fill=(fill(ground)) stroke="currentColor" {}
            rect x="40" y="24" width="40" height="16" rx="3" fill=(fill(part)) {}
        }
    }
}

fn pair_words(harmony: &Harmony) -> &'static str {
    match harmony.score {
        score if score >= 0.6 => "goes together very well",
        score if score >= 0.2 => "goes together",
        score if score >= -0.2 => "neither goes nor jars",
        _ => "was judged to jar",
    }
}

fn from_the_shop(colour: Lab, known: &[Known]) -> Markup {
    let colours: Vec<Lab> = known.iter().map(|known| known.colour).collect();
    let found: Vec<(&Known, Harmony)> = partners(colour, &colours)
        .into_iter()
        .take(SHOWN)
        .filter_map(|(i, harmony)| Some((known.get(i)?, harmony)))
        .collect();
    html! {
        @if !found.is_empty() {
            h3 { "From the shop, best first" }
            ul.patches {
                @for (known, harmony) in found {
                    li { (pair(colour, known.colour)) span.patch-words { strong { (known.name) } span { (pair_words(&harmony)) } span.small.soft { (swatch::figures(known.colour)) } } }
                }
            }
        }
    }
}
