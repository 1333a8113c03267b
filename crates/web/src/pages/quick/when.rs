//! *When?* A class in an air: touch, next coat, cure, the margin above the dew point.

use maud::{Markup, html};
use quantity::{Humidity, Temperature, UnitSystem};
use shop::quick::{self, When};
use trade::FinishClass;

use super::{becomes_piece, class_choices};
use crate::typed::Typed;
use crate::view::fields::Fields;
use crate::view::show;

/// The question, and its answer if it was asked.
pub(super) fn question(typed: &mut Typed, is_asked: bool, units: UnitSystem) -> Markup {
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
            @if let Some(when) = &answer { (reply(when, typed, units)) }
        }
    }
}

fn reply(when: &When, typed: &Typed, units: UnitSystem) -> Markup {
    html! {
        div.reply role="status" tabindex="-1" {
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
