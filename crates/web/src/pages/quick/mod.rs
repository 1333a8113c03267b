//! Quick answers: *Will it stick? How much? When?*, with nothing set up, each a tap away from becoming a piece.

mod much;
mod stick;
mod when;

use axum::extract::{Query, State};
use maud::{Markup, html};
use shop::model::FormKind;
use trade::FinishClass;
use trade::finish_rows::Group;

use crate::app::App;
use crate::typed::Typed;
use crate::view::fields::{Choice, choices};
use crate::view::shell::{self, Asked, Here};
use crate::view::show;

/// `GET /`: the three questions, and the answer to the one that was asked.
pub(crate) async fn page(State(app): State<App>, asked: Asked, Query(entries): Query<Vec<(String, String)>>) -> Markup {
    let settings = app.settings();
    let (units, currency) = (settings.units, settings.currency);
    let room = settings.rooms.into_iter().next().unwrap_or_default();
    let asked_for = Typed::from(entries);
    let question = asked_for.text("ask").to_owned();
    let of = |name: &str| {
        if question == name {
            asked_for.clone()
        } else {
            Typed::default()
        }
    };
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
            (stick::question(&mut stick, question == "stick"))
            (much::question(&mut much, question == "much", units, currency))
            (when::question(&mut when, question == "when", units))
        }
    };
    shell::page(&asked, "Quick answers", Here::Quick, &body)
}

/// Every finish class that can be chosen, by what it is for.
pub(crate) fn class_choices() -> Vec<(String, Vec<Choice>)> {
    Group::EVERY
        .iter()
        .map(|group| {
            let classes = FinishClass::CHOOSABLE
                .iter()
                .filter(|class| class.row().group == *group);
            (
                show::capital(group.label()),
                choices(classes.map(|class| (class.id(), class.label()))),
            )
        })
        .filter(|(_, classes)| !classes.is_empty())
        .collect()
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
