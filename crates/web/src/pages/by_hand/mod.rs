//! A schedule written by hand: steps added, changed, moved and removed in plain forms, the check beside them, warnings overruled with a
//! reason, and the whole planned in place of the derived one.
//!
//! Every change is kept as a draft of the zone at once, so that wet hands lose nothing; planning it is a tap of its own.

mod page;
mod step_form;

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::Markup;
use shop::bench::BenchRefusal;
use shop::by_hand::{self, Consent};
use shop::model::{OwnStep, Piece};
use shop::plan::{OwnSchedule, PlanFailure, ScheduleChoice, judge};

use crate::app::{App, Desk};
use crate::error::PageError;
use crate::pages::piece::{own_zones, path_word};
use crate::typed::Typed;
use crate::view::shell::Asked;

/// All that the page shows.
struct Seen {
    piece: Piece,
    zone: String,
    steps: Vec<OwnStep>,
    own: OwnSchedule,
    /// Whether steps of the user's own are planned now.
    is_own_planned: bool,
    /// Whether the steps shown are not the ones that are planned.
    is_draft: bool,
    /// The schedule that is planned now, to compare with.
    planned: Option<ScheduleChoice>,
    currency: quantity::Currency,
    units: quantity::UnitSystem,
    /// Who works here first, to be named in a consent.
    by: String,
}

/// `GET /pieces/{id}/zones/{zone}/steps?add=3`: `add` opens the form for a new step at that place.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let seen = app.at_desk(move |desk, now| see(desk, &id, &name, now)).await?;
    Ok(page::page(&asked, &seen, &Typed::from(entries), None))
}

fn see(desk: &mut Desk, id: &str, name: &str, now: jiff::Timestamp) -> Result<Seen, PageError> {
    own_zones(desk, id)?;
    let standing = desk.standing(now);
    let piece = desk.piece(id)?.clone();
    let zone = piece.zone(name).ok_or(PageError::NotFound("zone"))?;
    let steps = by_hand::draft_of(&desk.shop, id, name).map_err(no_plan)?;
    let own = judge(&desk.shop, &piece, name, &steps).map_err(no_plan)?;
    let planned = standing
        .plan
        .iter()
        .flat_map(|plan| &plan.pieces)
        .find(|planned| planned.id == piece.id)
        .and_then(|planned| planned.zones.iter().find(|planned| planned.name == name))
        .and_then(|planned| planned.schedules.iter().find(|choice| choice.chosen))
        .cloned();
    let settings = &desk.shop.settings;
    Ok(Seen {
        is_own_planned: zone.own.is_some(),
        is_draft: zone.draft.is_some(),
        zone: zone.name.clone(),
        steps,
        own,
        planned,
        currency: settings.currency,
        units: settings.units,
        by: settings.hands.first().map(|hand| hand.name.clone()).unwrap_or_default(),
        piece,
    })
}

fn no_plan(failure: PlanFailure) -> PageError {
    match failure {
        PlanFailure::Refused(refusals) => match refusals.into_iter().next() {
            Some(first) => PageError::Refused(format!("{}; {}; {}", first.found, first.limit, first.right)),
            None => PageError::NotFound("zone"),
        },
        PlanFailure::NoSchedule(_) => PageError::Refused(
            "no schedule meets the wish of this zone, so there is none to go on from; change the wish first".to_owned(),
        ),
    }
}

/// What was wrong with what was sent, and where it is told.
struct Wrong {
    /// The entry that it is told at, such as `add` or `change-3`; empty for the page as a whole.
    at: String,
    refusal: BenchRefusal,
}

/// `POST /pieces/{id}/zones/{zone}/steps`: one change of the schedule that is being written.
pub(crate) async fn change(
    State(app): State<App>,
    asked: Asked,
    Path((id, name)): Path<(String, String)>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let typed = Typed::from(entries);
    let address = format!("/pieces/{id}/zones/{}/steps", path_word(&name));
    let to_piece = format!("/pieces/{id}#zone-{}", shop::model::slug(&name));
    let act = typed.text("act").to_owned();
    let (typed, outcome, seen) = app
        .at_desk(move |desk, now| {
            own_zones(desk, &id)?;
            let outcome = take(desk, &id, &name, &typed, now);
            if outcome.is_ok() {
                desk.keep_piece(&id)?;
                return Ok((typed, outcome, None));
            }
            let seen = see(desk, &id, &name, now)?;
            Ok((typed, outcome, Some(seen)))
        })
        .await?;
    match (outcome, seen) {
        (Err(wrong), Some(seen)) => {
            let page = page::page(&asked, &seen, &typed, Some(&wrong));
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
        (Ok(_), _) if act == "plan" || act == "derived" => Ok(Redirect::to(&to_piece).into_response()),
        (Ok(place), _) => Ok(Redirect::to(&format!("{address}#{place}")).into_response()),
        (Err(wrong), None) => Err(wrong.refusal.into()),
    }
}

/// Makes one change; answers with the place of the page to look at next.
fn take(desk: &mut Desk, id: &str, name: &str, typed: &Typed, now: jiff::Timestamp) -> Result<String, Wrong> {
    let whole = |refusal: BenchRefusal| Wrong {
        at: String::new(),
        refusal,
    };
    let shop = &mut desk.shop;
    match typed.text("act") {
        "plan" => by_hand::plan_own(shop, id, name).map_err(whole)?,
        "derived" => by_hand::derived_again(shop, id, name).map_err(whole)?,
        "forget" => by_hand::forget_draft(shop, id, name).map_err(whole)?,
        "take-back" => {
            by_hand::take_back(shop, id, name, typed.text("rule"), typed.text("situation")).map_err(whole)?;
        }
        "overrule" => {
            let zone = jiff::tz::TimeZone::get(&shop.settings.zone_id).unwrap_or(jiff::tz::TimeZone::UTC);
            let consent = Consent {
                rule: typed.text("rule"),
                situation: typed.text("situation"),
                reason: typed.text("reason"),
                by: typed.text("by"),
                on: now.to_zoned_datetime(zone).date(),
            };
            by_hand::overrule(shop, id, name, consent).map_err(|refusal| Wrong {
                at: format!("overrule-{}", typed.text("finding")),
                refusal,
            })?;
        }
        _ => return edit(desk, id, name, typed),
    }
    Ok("findings".to_owned())
}

/// A change of the steps themselves.
fn edit(desk: &mut Desk, id: &str, name: &str, typed: &Typed) -> Result<String, Wrong> {
    let nowhere = |_: PlanFailure| Wrong {
        at: String::new(),
        refusal: stale(),
    };
    let mut steps = by_hand::draft_of(&desk.shop, id, name).map_err(nowhere)?;
    let place: usize = typed.text("at").parse().unwrap_or(usize::MAX);
    let act = typed.text("act");
    let has_form = matches!(act, "add" | "change");
    let wrong = |refusal: BenchRefusal| Wrong {
        at: if has_form {
            format!("{act}-{}", typed.text("at"))
        } else {
            String::new()
        },
        refusal,
    };
    // What was tapped is meant for the step as it was shown.
    let is_shown = steps
        .get(place)
        .is_some_and(|step| step.operation.id() == typed.text("was"));
    let shown_at = match act {
        "add" => {
            let place = place.min(steps.len());
            let step = step_form::read_new(&desk.shop, &steps, typed).map_err(wrong)?;
            steps.insert(place, step);
            place
        }
        "change" if is_shown => {
            steps[place] = step_form::read(steps[place].operation, typed).map_err(wrong)?;
            place
        }
        "remove" if is_shown => {
            steps.remove(place);
            place.saturating_sub(1)
        }
        "up" if is_shown && place > 0 => {
            steps.swap(place, place - 1);
            place - 1
        }
        "down" if is_shown && place + 1 < steps.len() => {
            steps.swap(place, place + 1);
            place + 1
        }
        _ => return Err(wrong(stale())),
    };
    by_hand::keep_draft(&mut desk.shop, id, name, steps).map_err(wrong)?;
    Ok(format!("step-{}", shown_at + 1))
}

fn stale() -> BenchRefusal {
    BenchRefusal {
        field: "steps".to_owned(),
        found: "a step that is not there as it was shown".to_owned(),
        limit: "the schedule was changed elsewhere meanwhile".to_owned(),
        right: "look at it as it is now, and tap again".to_owned(),
    }
}

/// `POST /pieces/{id}/zones/{zone}/steps/without`: goes on by hand from the schedule without some of its steps.
pub(crate) async fn without(
    State(app): State<App>,
    Path((id, name)): Path<(String, String)>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    let to = format!("/pieces/{id}/zones/{}/steps", path_word(&name));
    app.at_desk(move |desk, _| {
        own_zones(desk, &id)?;
        let piece = desk.piece(&id)?.clone();
        let mut derived = piece.clone();
        if let Some(zone) = derived.zone_mut(&name) {
            zone.own = None;
        }
        let whole = shop::plan::written(&desk.shop, &derived, &name).map_err(no_plan)?;
        let kept = whole.into_iter().enumerate();
        let kept = kept.filter(|(place, _)| !typed.is_ticked(&format!("without-{place}")));
        let steps = kept.map(|(_, step)| step).collect();
        by_hand::keep_draft(&mut desk.shop, &id, &name, steps)?;
        desk.keep_piece(&id)
    })
    .await?;
    Ok(Redirect::to(&to))
}
