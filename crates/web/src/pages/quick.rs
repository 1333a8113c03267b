//! Quick answers: *Will it stick? How much? When?*, with nothing set up, each a step from becoming a piece.

use axum::extract::{Query, State};
use maud::{Markup, html};
use quantity::{Humidity, Temperature, UnitSystem};
use shop::model::FormKind;
use shop::quick::{self, Stick, When};
use trade::finish_rows::Group;
use trade::{FinishClass, FoundSurface};

use crate::app::App;
use crate::error::PageError;
use crate::pages::new_piece::{FORMS, read_form};
use crate::typed::Typed;
use crate::view::cautions::source_line;
use crate::view::fields::{Choice, Fields, choices};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// `GET /`: the three questions, and the answer to the one that was asked.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let (units, room) = app
        .at_desk(|desk, _| {
            let settings = &desk.shop.settings;
            Ok((settings.units, settings.rooms.first().cloned().unwrap_or_default()))
        })
        .await?;
    let asked_for = Typed::from(entries);
    let question = asked_for.text("ask").to_owned();
    let of = |name: &str| if question == name { asked_for.clone() } else { Typed::default() };
    let mut stick = of("stick");
    let mut much = of("much");
    let mut when = of("when");
    stick.unless_said("found", FinishClass::OilBasedPolyurethane.id());
    stick.unless_said("new", FinishClass::WaterborneAcrylicEnamel.id());
    much.unless_said("form", FormKind::Case.word());
    much.unless_said("class", FinishClass::WaterborneAcrylicEnamel.id());
    when.unless_said("class", FinishClass::WaterborneAcrylicEnamel.id());
    if question != "when" {
        when.unless_said("temperature", &room.temperature.show(units));
        when.unless_said("humidity", &show::percent(room.humidity.fraction()));
    }
    let body = html! {
        h1 { "Quick answers" }
        p.lead { "Nothing to set up. Ask one question; what you asked can become a piece with one tap." }
        div.questions {
            (stick_question(&mut stick, question == "stick"))
            (much_question(&mut much, question == "much", units))
            (when_question(&mut when, question == "when", units))
        }
    };
    Ok(shell::page(&asked, "Quick answers", Here::Quick, &body))
}

/// Bare surfaces and those with something else on them, which no finish class names.
const BARE: [FoundSurface; 5] = [
    FoundSurface::BareWood,
    FoundSurface::BareWoodTanninKnot,
    FoundSurface::BareMetal,
    FoundSurface::LaminateMelamine,
    FoundSurface::SiliconeContaminated,
];

/// What may be found: bare surfaces, then every old finish.
fn found_choices() -> Vec<(String, Vec<Choice>)> {
    let bare = choices(BARE.iter().map(|surface| (surface.id(), surface.label())));
    let mut groups = vec![("Bare, or with something on it".to_owned(), bare)];
    groups.extend(class_choices());
    groups.push((
        "Nobody knows".to_owned(),
        choices([(FinishClass::Unknown.id(), FinishClass::Unknown.label())]),
    ));
    groups
}

/// Every finish class that can be chosen, by what it is for.
pub(crate) fn class_choices() -> Vec<(String, Vec<Choice>)> {
    Group::EVERY
        .iter()
        .map(|group| {
            let classes = FinishClass::CHOOSABLE.iter().filter(|class| class.row().group == *group);
            (show::capital(group.label()), choices(classes.map(|class| (class.id(), class.label()))))
        })
        .filter(|(_, classes)| !classes.is_empty())
        .collect()
}

/// The surface that a choice of [`found_choices`] means: an old finish counts as cured.
fn read_found(word: &str) -> Result<FoundSurface, String> {
    if let Some(surface) = BARE.iter().find(|surface| surface.id() == word) {
        return Ok(*surface);
    }
    FinishClass::parse(word)
        .map(FinishClass::surface_when_cured)
        .or_else(|_| FoundSurface::parse(word))
        .map_err(|unknown| unknown.to_string())
}

fn stick_question(typed: &mut Typed, is_asked: bool) -> Markup {
    let found = typed.read("found", read_found);
    let new = typed.read("new", FinishClass::parse);
    let answer = match (is_asked, found, new) {
        (true, Some(found), Some(new)) => Some(quick::will_it_stick(found, new)),
        _ => None,
    };
    let fields = Fields { form: "stick", typed };
    html! {
        section.card.question aria-labelledby="stick-title" {
            h2 #stick-title { "Will it stick?" }
            form method="get" action="/" data-live {
                input type="hidden" name="ask" value="stick";
                (fields.select_of("found", "What is there", "", &found_choices()))
                (fields.select_of("new", "What goes on", "", &class_choices()))
                button { "Will it stick?" }
            }
            @if let Some(answer) = &answer { (stick_answer(answer, typed)) }
        }
    }
}

fn stick_answer(answer: &Stick, typed: &Typed) -> Markup {
    let sign = if answer.is_possible { "✓ " } else { "✕ " };
    html! {
        div.reply role="status" {
            p.answer { span aria-hidden="true" { (sign) } (show::capital(&answer.words)) }
            @if !answer.preparation.is_empty() { p { strong { "First: " } (answer.preparation) } }
            @if let Some((coarse, fine)) = &answer.scuff {
                p { strong { "Scuff with: " } (coarse) @if coarse != fine { " to " (fine) } }
            }
            p { strong { "Why: " } (answer.why) }
            p.source { (source_line(&answer.source)) @if let Some(rule) = &answer.rule { " · rule " (rule) } }
            (becomes_piece(&[("found", typed.text("found")), ("class", typed.text("new"))]))
        }
    }
}

fn much_question(typed: &mut Typed, is_asked: bool, units: UnitSystem) -> Markup {
    let reply = if is_asked { much_reply(typed, units) } else { None };
    let fields = Fields { form: "much", typed };
    html! {
        section.card.question aria-labelledby="much-title" {
            h2 #much-title { "How much?" }
            form method="get" action="/" data-live {
                input type="hidden" name="ask" value="much";
                (fields.select("form", "What is it", "", &choices(FORMS)))
                div.three {
                    (fields.text("width", "Width", "such as 42 in or 107 cm"))
                    (fields.text("depth", "Depth", ""))
                    (fields.text("height", "Height", ""))
                }
                (fields.select_of("class", "What goes on", "", &class_choices()))
                (fields.text("coats", "Coats", "empty: as many as such a finish takes"))
                button { "How much?" }
            }
            @if let Some(reply) = reply { (reply) }
        }
    }
}

fn much_reply(typed: &mut Typed, units: UnitSystem) -> Option<Markup> {
    let form = read_form(typed, units);
    let class = typed.read("class", FinishClass::parse);
    let coats = typed.count("coats", 1, 12);
    if !typed.is_sound() {
        return None;
    }
    let _ = (form?, class?, coats);
    None
}

fn when_question(typed: &mut Typed, is_asked: bool, units: UnitSystem) -> Markup {
    let class = typed.read("class", FinishClass::parse);
    let mut answer = None;
    if is_asked {
        let temperature = typed.read("temperature", |text| Temperature::parse_in(text, units));
        let humidity = typed.read("humidity", Humidity::parse);
        if let (Some(class), Some(temperature), Some(humidity)) = (class, temperature, humidity) {
            match quick::when(class, temperature, humidity) {
                Ok(when) => answer = Some(when),
                Err(why) => typed.refuse("temperature", why),
            }
        }
    }
    let fields = Fields { form: "when", typed };
    html! {
        section.card.question aria-labelledby="when-title" {
            h2 #when-title { "When?" }
            form method="get" action="/" data-live {
                input type="hidden" name="ask" value="when";
                (fields.select_of("class", "What dries", "", &class_choices()))
                div.three {
                    (fields.text("temperature", "Temperature", "such as 58 °F or 14 °C"))
                    (fields.text("humidity", "Humidity", "such as 65 %"))
                }
                button { "When?" }
            }
            @if let Some(when) = &answer { (when_answer(when, typed, units)) }
        }
    }
}

fn when_answer(when: &When, typed: &Typed, units: UnitSystem) -> Markup {
    html! {
        div.reply role="status" {
            p.answer { "Next coat after " (show::minutes(when.recoat_min)) }
            @for reason in &when.unfit {
                p.caution.warn { strong.sign { "Not in this air: " } (reason) }
            }
            dl.facts {
                dt { "Dry to touch" } dd { (show::minutes(when.touch_min)) }
                dt { "Next coat" }
                dd {
                    "from " (show::minutes(when.recoat_min))
                    @if let Some(latest) = when.recoat_max_min { " until " (show::minutes(latest)) ", then scuff first" }
                }
                dt { "Fully cured" } dd { (format!("{:.0}", when.cure_d)) " days" }
                dt { "Drying takes" } dd { (format!("{:.1}", when.slowdown)) " times as long as at 25 °C and 50 %" }
                dt { "Above the dew point" } dd { (show::margin(when.dew_point_margin_k, units)) span.soft { " (at least " (show::margin(3.0, units)) " is wanted)" } }
            }
            p.source { "Typical figures of the class; the label of your can wins." }
            (becomes_piece(&[("class", typed.text("class"))]))
        }
    }
}

/// The button which makes a piece of what was asked.
pub(crate) fn becomes_piece(entries: &[(&str, &str)]) -> Markup {
    html! {
        form method="post" action="/pieces" {
            input type="hidden" name="from" value="answer";
            @for (name, value) in entries { input type="hidden" name=(name) value=(value); }
            button.second { "Make it a piece" }
        }
    }
}
