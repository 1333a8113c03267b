//! *How much?* A form, three numbers, a class and coats: quantity and cans.

use maud::{Markup, html};
use quantity::{Currency, UnitSystem};
use shop::quick::{self, HowMuch};
use trade::FinishClass;

use super::{becomes_piece, class_choices};
use crate::pages::new_piece::{FORMS, read_form};
use crate::typed::Typed;
use crate::view::fields::{Fields, choices};
use crate::view::show;

/// The question, and its answer if it was asked.
pub(super) fn question(typed: &mut Typed, is_asked: bool, units: UnitSystem, currency: Currency) -> Markup {
    let answer = if is_asked { answer(typed, units, currency) } else { None };
    let fields = Fields { form: "much", typed };
    html! {
        section.card.question aria-labelledby="much-title" {
            h2 #much-title { "How much?" }
            form method="get" action="/" data-live {
                input type="hidden" name="ask" value="much";
                (fields.select("form", "What is it", "", &choices(FORMS)))
                div.measures {
                    (fields.text("width", "Width", ""))
                    (fields.text("depth", "Depth", ""))
                    (fields.text("height", "Height", ""))
                }
                p.hint { "Such as 42 in, 3'6\" or 107 cm." }
                (fields.select_of("class", "What goes on", "", &class_choices()))
                (fields.text("coats", "Coats", "empty: as many as such a finish takes"))
                button { "How much?" }
            }
            @if let Some(answer) = &answer { (reply(answer, typed, units)) }
        }
    }
}

fn answer(typed: &mut Typed, units: UnitSystem, currency: Currency) -> Option<HowMuch> {
    let form = read_form(typed, units);
    let class = typed.read("class", FinishClass::parse);
    let coats = typed.count("coats", 1, 12).and_then(|coats| u8::try_from(coats).ok());
    let (form, class) = (form?, class?);
    let coats = coats.unwrap_or(class.row().coats);
    match quick::how_much(&form, class, coats, units, currency) {
        Ok(answer) if typed.is_sound() => Some(answer),
        Ok(_) => None,
        Err(refused) => {
            typed.refuse(
                "width",
                format!("{}: {}; {}", refused.found, refused.limit, refused.right),
            );
            None
        }
    }
}

fn reply(answer: &HowMuch, typed: &Typed, units: UnitSystem) -> Markup {
    html! {
        div.reply role="status" tabindex="-1" {
            p.answer { "About " (show::volume(answer.need_ml, units)) }
            dl.facts {
                dt { "Between" } dd { (show::volume(answer.low_ml, units)) " and " (show::volume(answer.high_ml, units)) }
                dt { "Surface" } dd { (show::area(answer.area_m2, units)) span.soft { " ± " (show::area(answer.area_within_m2(), units)) } }
                dt { "Coats" } dd { (answer.coats) }
                dt { "To buy" }
                dd {
                    @for (place, can) in answer.buy.iter().enumerate() {
                        @if place > 0 { ", " }
                        (can.count) " × " (show::volume(can.size_ml, units))
                    }
                }
                dt { "Costs about" } dd { (answer.cost.show()) }
            }
            p.source { "Outside surfaces, brushed, at the class's usual spread; your can's label wins." }
            (becomes_piece(&[
                ("form", typed.text("form")), ("width", typed.text("width")), ("depth", typed.text("depth")),
                ("height", typed.text("height")), ("class", typed.text("class")),
            ]))
        }
    }
}
