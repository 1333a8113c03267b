//! A piece: its job card; for each zone the section through its coats, its schedule with reasons, the other ways; dates, price, cautions.

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::Date;
use maud::{Markup, PreEscaped, html};
use quantity::{Money, UnitSystem};
use shop::bench;
use shop::model::{
    Dimensions, ForWhom, FormKind, FormSaid, HowMeasured, Kind, LeadTest, Made, Means, Piece, PieceStage, Placement,
    Use, Zone,
};
use shop::plan::{Plan, PlannedPiece, PlannedZone, further_dimensions};
use store::Photograph;

use crate::app::{App, Bar, Desk, Standing};
use crate::draw::section;
use crate::error::PageError;
use crate::pages::measure;
use crate::pages::new_piece::{FORMS, read_kind};
use crate::typed::Typed;
use crate::view::drawing::Shown;
use crate::view::fields::{Choice, Fields, choices, summary};
use crate::view::jobcard::further_field;
use crate::view::shell::{self, Asked, Here};
use crate::view::{cautions, jobcard, risk, schedules, show, steps};

/// `GET /pieces/{id}?turn=…&eye=…&measures=…`.
pub(crate) async fn page(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Markup, PageError> {
    let shown = Shown::read(&Typed::from(entries));
    let (name, body) = app
        .at_desk(move |desk, now| {
            let standing = desk.standing(now);
            let piece = desk.piece(&id)?;
            let photographs = desk.store.photographs(&id)?;
            Ok((piece.name.clone(), body(desk, piece, &standing, shown, &photographs)))
        })
        .await?;
    Ok(shell::page(&asked, &name, Here::Pieces, &body))
}

fn body(desk: &Desk, piece: &Piece, standing: &Standing, shown: Shown, photographs: &[Photograph]) -> Markup {
    let units = desk.shop.settings.units;
    let plan = standing.plan.as_ref();
    let planned = plan.and_then(|plan| plan.pieces.iter().find(|planned| planned.id == piece.id));
    let bars: Vec<&Bar> = standing.bars_of(&piece.name).collect();
    html! {
        (jobcard::card(piece, planned, plan, units, shown))
        (took(desk, piece))
        div.row.actions {
            a.button.second href={ "/pieces/" (piece.id) "/edit" } { "Change measures and dates" }
            a.button.second href={ "/pieces/" (piece.id) "/measure" } { "Measure on a photograph" }
            a.button.second href={ "/pieces/" (piece.id) "/scan" } { "Measure by a scan" }
            (stage_form(piece))
        }
        @for bar in &bars { (bar_card(bar)) }
        @if !bars.is_empty() { (own_in_the_way(piece)) }
        @if let (Some(planned), Some(plan)) = (planned, plan) {
            (piece_cautions(piece, plan))
            @for zone in &planned.zones { (zone_section(piece, zone, plan)) }
            @if !planned.closing.is_empty() {
                section.zone aria-labelledby="closing" {
                    h2 #closing { "The piece as a whole" }
                    (steps::list(plan, &planned.closing))
                }
            }
            (money(planned))
        } @else if bars.is_empty() && piece.stage.wants_work() {
            p { "There is no plan for this piece yet: the calendar has no room for the steps. See the " a href="/week" { "week" } "." }
        } @else {
            (zones_without_plan(piece))
        }
        (add_zone(piece))
        (pictures(piece, photographs))
    }
}

/// The photographs of the piece, and what can be done with each.
fn pictures(piece: &Piece, photographs: &[Photograph]) -> Markup {
    html! {
        section.photographs.no-print aria-labelledby="photographs-title" {
            h2 #photographs-title { "Photographs" }
            @if photographs.is_empty() { p { "None yet. One that is sent to be measured, or to try a colour on, is kept here." } }
            ul.pictures {
                @for photograph in photographs {
                    @let measure = format!("/pieces/{}/measure/{}", piece.id, photograph.id);
                    @let name = measure::called(photograph);
                    li {
                        a href={ (measure) "/view" } { img src={ (measure) "/view?size=small" } alt=(name) width="240" loading="lazy"; }
                        p.small { (name) }
                        p.row.small {
                            a href=(measure) aria-label={ "Measure on " (name) } { "Measure on it" }
                            a href={ "/colour/photograph/" (photograph.id) } aria-label={ "Try colours on " (name) } { "Try colours on it" }
                        }
                    }
                }
            }
            p.row {
                a.button.second href={ "/pieces/" (piece.id) "/measure" } { "Add one to measure" }
                a.button.second href="/colour/photograph" { "Add one to try colours on" }
            }
        }
    }
}

/// What the bench log says that it took.
fn took(desk: &Desk, piece: &Piece) -> Markup {
    let Some(took) = shop::took::took(&desk.shop.log, &piece.id) else {
        return html! {};
    };
    let (first, last) = (desk.zoned(took.first), desk.zoned(took.last));
    html! {
        p.took {
            strong { @if piece.stage.wants_work() { "So far: " } @else { "What it took: " } }
            (show::minutes_of_work(took.hands_on_min)) " of hands on " (took.steps) @if took.steps == 1 { " step" } @else { " steps" }
            ", from " (show::moment(&first)) " to " (show::moment(&last)) "."
            @if took.untimed > 0 { " Of " (took.untimed) " nobody said when they began; their minutes are not in it." }
        }
    }
}

/// What keeps the piece out of the plan.
pub(crate) fn bar_card(bar: &Bar) -> Markup {
    html! {
        div.caution.stop {
            p { strong.sign { "Cannot be planned: " } (bar.what) "." }
            @if !bar.why.is_empty() { ul { @for why in &bar.why { li { (why) } } } }
            @if !bar.frees.is_empty() {
                p { strong { "Any one of these would free it:" } }
                ul { @for frees in &bar.frees { li { (frees) } } }
            }
        }
    }
}

/// Cautions of the piece that no step carries.
fn piece_cautions(piece: &Piece, plan: &Plan) -> Markup {
    let at_steps: Vec<&String> = plan
        .steps()
        .filter(|(planned, _, _)| planned.id == piece.id)
        .flat_map(|(_, _, step)| &step.cautions)
        .collect();
    let ids: Vec<String> = plan
        .cautions
        .iter()
        .filter(|caution| {
            caution
                .pieces
                .iter()
                .any(|name| *name == piece.name || *name == piece.id)
        })
        .map(|caution| caution.id.clone())
        .filter(|id| !at_steps.contains(&id))
        .collect();
    cautions::of_ids(plan, &ids)
}

fn zone_section(piece: &Piece, zone: &PlannedZone, plan: &Plan) -> Markup {
    let units = plan.shop.unit_system;
    let title = format!("zone-{}", shop::model::slug(&zone.name));
    html! {
        section.zone aria-labelledby=(title) {
            div.head {
                h2 id=(title) { (show::capital(&zone.name)) " " span.soft.figure { (show::area(zone.area_m2, units)) } }
                a.button.second href={ "/pieces/" (piece.id) "/zones/" (path_word(&zone.name)) } aria-label={ "Change the " (zone.name) } { "Change" }
            }
            div.zone-body {
                figure.section-figure {
                    (PreEscaped(section::svg(&zone.name, &zone.substrate, &zone.build_up)))
                    figcaption.small.soft { "Found below the pencil line, planned above it. Thin coats are drawn thicker than they are; the figures are the dry film." }
                }
                (schedules::table(piece, zone))
            }
            @if let Some(lead) = piece.zone(&zone.name).map(|zone| zone.lead).filter(|lead| lead.said != LeadTest::NotTested) {
                p { strong { "Lead test: " } (lead.words()) "." }
            }
            div.head {
                h3 { @if zone.own { "Your own steps of the " (zone.name) } @else { "Steps of the " (zone.name) } }
                a.button.second href={ "/pieces/" (piece.id) "/zones/" (path_word(&zone.name)) "/steps" } { "Change the steps" }
            }
            @if zone.own { (own_said(piece, zone)) }
            @for risk in &zone.risks {
                (risk::of_layer(risk, &format!("/pieces/{}/zones/{}/test?layer={}", piece.id, path_word(&zone.name), risk.layer)))
            }
            (risk::safe(piece, zone))
            (steps::list(plan, &zone.steps))
        }
    }
}

/// Says that the steps are the user's own, and the way back.
fn own_said(piece: &Piece, zone: &PlannedZone) -> Markup {
    html! {
        form.row method="post" action={ "/pieces/" (piece.id) "/zones/" (path_word(&zone.name)) "/steps" } {
            p {
                "These steps were written by hand and checked"
                @match zone.overruled.len() {
                    0 => ".",
                    1 => "; you chose to go on although one warning stands, told at its step.",
                    many => { "; you chose to go on although " (many) " warnings stand, told at their steps." }
                }
            }
            button.second name="act" value="derived" { "Back to the derived one" }
        }
    }
}

/// Where a schedule of one's own stands in the way of the plan: how to look at it, and the way back.
fn own_in_the_way(piece: &Piece) -> Markup {
    html! {
        @for zone in piece.zones.iter().filter(|zone| zone.own.is_some()) {
            @let address = format!("/pieces/{}/zones/{}/steps", piece.id, path_word(&zone.name));
            form.row method="post" action=(address) {
                a.button href=(address) { "Look at your own steps of the " (zone.name) }
                button.second name="act" value="derived" { "Back to the derived one" }
            }
        }
    }
}

fn money(planned: &PlannedPiece) -> Markup {
    let money = &planned.money;
    let lines = [
        ("Materials", money.materials),
        ("Labour", money.labour),
        ("Overhead", money.overhead),
        ("Paid for the piece", money.purchase),
        ("Cost in all", money.total),
    ];
    html! {
        section.card aria-labelledby="price" {
            h2 #price { "Price" }
            p.answer { (money.price.show()) }
            p {
                "Between " span.figure { (money.price_p10.show()) } " and " span.figure { (money.price_p90.show()) }
                " in eight cases of ten; at the price asked the chance of losing money is " span.figure { (show::percent(money.loss_chance)) } "."
            }
            @if let Some(most) = money.most_to_pay { p { "The most to pay for it: " span.figure { (most.show()) } "." } }
            table.lines {
                caption { "Where it comes from" }
                tbody { @for (name, sum) in lines { tr { th scope="row" { (name) } td.number { (sum.show()) } } } }
            }
        }
    }
}

fn zones_without_plan(piece: &Piece) -> Markup {
    html! {
        @for zone in &piece.zones {
            section.zone {
                div.head {
                    h2 { (show::capital(&zone.name)) }
                    a.button.second href={ "/pieces/" (piece.id) "/zones/" (path_word(&zone.name)) } aria-label={ "Change the " (zone.name) } { "Change" }
                }
                p { (zone.substrate.label()) }
            }
        }
    }
}

fn add_zone(piece: &Piece) -> Markup {
    html! {
        form.row.add method="post" action={ "/pieces/" (piece.id) "/zones" } {
            label for="add-zone" { "Another zone" }
            input type="text" id="add-zone" name="zone" autocomplete="off" required;
            button.second { "Add" }
        }
    }
}

fn stage_form(piece: &Piece) -> Markup {
    html! {
        form.row method="post" action={ "/pieces/" (piece.id) "/stage" } {
            label for="stage" { "It is" }
            select id="stage" name="stage" {
                @for (word, stage) in PieceStage::WORDS {
                    option value=(word) selected[stage == piece.stage] { (stage.words()) }
                }
            }
            button.second { "Set" }
        }
    }
}

/// A zone's name as one part of a path.
pub(crate) fn path_word(name: &str) -> String {
    let mut word = String::new();
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.') {
            word.push(char::from(byte));
        } else {
            word.push_str(&format!("%{byte:02X}"));
        }
    }
    word
}

/// `POST /pieces/{id}/choose`: plans a zone with another of its good schedules.
pub(crate) async fn choose(
    State(app): State<App>,
    Path(id): Path<String>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    let to = format!("/pieces/{id}#zone-{}", shop::model::slug(typed.text("zone")));
    app.at_desk(move |desk, _| {
        own_zones(desk, &id)?;
        bench::choose(&mut desk.shop, &id, typed.text("zone"), Some(typed.text("key")))?;
        desk.keep_piece(&id)
    })
    .await?;
    Ok(Redirect::to(&to))
}

/// Gives a piece whose zones are still the form's own the zones that were planned, so that one of them can be changed.
pub(crate) fn own_zones(desk: &mut Desk, id: &str) -> Result<(), PageError> {
    if !desk.piece(id)?.zones.is_empty() {
        return Ok(());
    }
    let zones: Vec<Zone> = shop::plan::with_zones(desk.piece(id)?).zones;
    if let Some(piece) = desk.shop.piece_mut(id) {
        piece.zones = zones;
    }
    Ok(())
}

/// `POST /pieces/{id}/stage`.
pub(crate) async fn stage(
    State(app): State<App>,
    Path(id): Path<String>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let typed = Typed::from(entries);
    let to = format!("/pieces/{id}");
    app.at_desk(move |desk, _| {
        let stage = PieceStage::WORDS.iter().find(|(word, _)| *word == typed.text("stage"));
        let piece = desk.shop.piece_mut(&id).ok_or(PageError::NotFound("piece"))?;
        if let Some((_, stage)) = stage {
            piece.stage = *stage;
        }
        desk.keep_piece(&id)
    })
    .await?;
    Ok(Redirect::to(&to))
}

/// `POST /pieces/{id}/take-out`: takes a piece out of the shop for good.
pub(crate) async fn take_out(State(app): State<App>, Path(id): Path<String>) -> Result<Redirect, PageError> {
    app.at_desk(move |desk, _| {
        desk.piece(&id)?;
        desk.store.remove_piece(&id)?;
        desk.shop.pieces.retain(|piece| piece.id != id);
        desk.plan_again();
        Ok(())
    })
    .await?;
    Ok(Redirect::to("/pieces"))
}

/// `GET /pieces/{id}/edit`.
pub(crate) async fn edit_page(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
) -> Result<Markup, PageError> {
    let (piece, settings) = app
        .at_desk(move |desk, _| Ok((desk.piece(&id)?.clone(), desk.shop.settings.clone())))
        .await?;
    let typed = typed_of(&piece, settings.units, settings.currency);
    Ok(edit_form(&asked, &piece, &typed, settings.units))
}

fn typed_of(piece: &Piece, units: UnitSystem, currency: quantity::Currency) -> Typed {
    let mut typed = Typed::default();
    let form = &piece.form;
    typed.set("name", piece.name.clone());
    typed.set("form", form.kind.word());
    for (name, length, how) in form.outline() {
        typed.set(name, how.show(length, units));
    }
    for (name, said) in &form.dimensions {
        typed.set(&further_field(name), said.measured.show(said.length, units));
    }
    typed.set("count", piece.count.to_string());
    typed.set("made", piece.made.show());
    typed.set("due", piece.due.map(|due| due.to_string()).unwrap_or_default());
    let whom = if piece.for_whom == ForWhom::Client {
        "client"
    } else {
        "sale"
    };
    typed.set("for", whom);
    typed.set("paid", piece.paid.map(|paid| paid.show(currency)).unwrap_or_default());
    typed.set("use", piece.used_for.id());
    typed.set("placement", piece.placement.map_or("", Placement::id));
    typed.set("kind", piece.kind.map_or("", Kind::id));
    let details = &form.details;
    let (rows, columns) = details.drawers.unwrap_or((0, 0));
    typed.set("drawer-rows", rows.to_string());
    typed.set("drawer-columns", columns.to_string());
    typed.set("doors", details.doors.unwrap_or(0).to_string());
    typed.set("notes", piece.notes.clone());
    typed
}

/// The forms a piece can be given; a scanned one can stay a scan.
fn forms_of(piece: &Piece) -> Vec<Choice> {
    let mut forms = choices(FORMS);
    match piece.form.kind {
        FormKind::Mesh => forms.insert(0, ("mesh".to_owned(), "Scan".to_owned())),
        FormKind::Moulding => forms.insert(0, ("moulding".to_owned(), "Moulding".to_owned())),
        _ => {}
    }
    forms
}

/// From where a measure is known, where it is not the tape.
fn how_known(how: HowMeasured) -> String {
    match how.means {
        Means::Tape | Means::Eye => String::new(),
        other => format!(", {}", other.words()),
    }
}

/// The further dimensions of the form; one left empty is as such a piece usually has it.
fn further(piece: &Piece, fields: Fields<'_>, units: UnitSystem) -> Markup {
    let dimensions = shop::plan::further_of(piece);
    html! {
        @if !dimensions.is_empty() {
            fieldset {
                legend { "Further measures" }
                p.hint { "Each is reckoned as such a piece usually has it, until you measure it." }
                div.three {
                    @for dimension in &dimensions {
                        @let length = dimension.length.show(units);
                        @let hint = if dimension.is_said { "empty: the usual".to_owned() } else { format!("usually {length}") };
                        (fields.text(&further_field(dimension.name), &show::capital(dimension.name), &hint))
                    }
                }
            }
        }
    }
}

fn edit_form(asked: &Asked, piece: &Piece, typed: &Typed, units: UnitSystem) -> Markup {
    let fields = Fields { form: "edit", typed };
    let body = html! {
        h1 { "Change the " (piece.name) }
        (summary(typed))
        form.card method="post" action={ "/pieces/" (piece.id) "/edit" } {
            (fields.text("name", "Name", ""))
            (fields.select("form", "Form", "", &forms_of(piece)))
            div.three {
                (fields.text("width", "Width", &format!("left to right{}", how_known(piece.form.measured.width))))
                (fields.text("depth", "Depth", &format!("front to back{}", how_known(piece.form.measured.depth))))
                (fields.text("height", "Height", &format!("floor to top{}", how_known(piece.form.measured.height))))
            }
            p.hint { "From the tape: 31 1/2. If you know how far off it may be: 31 1/2 ± 1/8. By eye: about 31." }
            (further(piece, fields, units))
            div.three {
                (fields.text("drawer-rows", "Drawers high", "0 for none"))
                (fields.text("drawer-columns", "Drawers wide", "0 for none"))
                (fields.text("doors", "Doors", "0 for none"))
            }
            div.three {
                (fields.text("count", "How many alike", ""))
                (fields.text("made", "Made", "1954, 1950s, before 1978 or unknown"))
                (fields.day("due", "Wanted by", "empty: no day"))
            }
            div.three {
                (fields.select("for", "For", "", &choices([("client", "a client"), ("sale", "sale")])))
                (fields.text("paid", "Paid for it", "empty: nothing"))
                (fields.select("use", "Used for", "", &choices(Use::EVERY.iter().map(|each| (each.id(), each.label())))))
            }
            (kind(fields, piece))
            (placement(fields, piece))
            (fields.text("notes", "Notes", ""))
            div.row {
                button { "Save" }
                a.button.second href={ "/pieces/" (piece.id) } { "Leave it" }
            }
        }
        form method="post" action={ "/pieces/" (piece.id) "/take-out" } {
            details {
                summary { "Take it out of the shop" }
                p { "The piece goes, and its photographs go with it for good. Without them it can be had back by “Undo” on the week’s page." }
                button.second { "Take out for good" }
            }
        }
    };
    shell::page(asked, &piece.name, Here::Pieces, &body)
}

/// Whether it is made for a small child; where nobody said, its name may.
fn kind(fields: Fields<'_>, piece: &Piece) -> Markup {
    let unsaid = Piece {
        kind: None,
        ..piece.clone()
    };
    let mut kinds = vec![(String::new(), format!("not said: taken as {}", unsaid.kind().label()))];
    kinds.extend(choices(Kind::EVERY.iter().map(|each| (each.id(), each.label()))));
    fields.select(
        "kind",
        "Made for a small child",
        "what children chew and lie in falls under rules of its own",
        &kinds,
    )
}

/// Whether it is movable; where nobody said, its name may.
fn placement(fields: Fields<'_>, piece: &Piece) -> Markup {
    let unsaid = Piece {
        placement: None,
        ..piece.clone()
    };
    let mut places = vec![(
        String::new(),
        format!("not said: taken as {}", unsaid.placement().label()),
    )];
    places.extend(choices(Placement::EVERY.iter().map(|each| (each.id(), each.label()))));
    fields.select(
        "placement",
        "Movable or built in",
        "work on old paint of what is part of the house is for certified firms",
        &places,
    )
}

/// `POST /pieces/{id}/edit`.
pub(crate) async fn edit(
    State(app): State<App>,
    asked: Asked,
    Path(id): Path<String>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let to = format!("/pieces/{id}");
    let (typed, piece, units) = app
        .at_desk(move |desk, _| {
            let mut piece = desk.piece(&id)?.clone();
            let settings = &desk.shop.settings;
            let units = settings.units;
            change(&mut piece, &mut typed, units, settings.currency);
            if typed.is_sound() {
                if let Some(place) = desk.shop.piece_mut(&id) {
                    *place = piece.clone();
                }
                desk.keep_piece(&id)?;
            }
            Ok((typed, piece, units))
        })
        .await?;
    if typed.is_sound() {
        Ok(Redirect::to(&to).into_response())
    } else {
        let page = edit_form(&asked, &piece, &typed, units);
        Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
    }
}

/// The form as typed: what was not touched stays as it was measured.
fn changed_form(kept: &FormSaid, typed: &mut Typed, units: UnitSystem) -> Option<FormSaid> {
    let kind = typed.read("form", read_kind)?;
    let mut form = FormSaid {
        kind,
        dimensions: Dimensions::new(),
        ..kept.clone()
    };
    for (name, length, how) in kept.outline() {
        if let Some((length, how)) = typed.measure(name, units, Some((length, how))) {
            form.set(name, length, how);
        }
    }
    // A piece that becomes another form takes along what the two have in common.
    for name in further_dimensions(kind) {
        let field = further_field(name);
        let said = kept.dimensions.get(name).map(|said| (said.length, said.measured));
        if typed.text(&field).is_empty() {
            continue;
        }
        if let Some((length, how)) = typed.measure(&field, units, said) {
            form.set(name, length, how);
        }
    }
    Some(form)
}

fn change(piece: &mut Piece, typed: &mut Typed, units: UnitSystem, currency: quantity::Currency) {
    let name = typed.text("name").to_owned();
    if name.is_empty() || name.chars().count() > 80 {
        typed.refuse("name", "a piece needs a name of 1 to 80 characters");
    }
    let form = changed_form(&piece.form, typed, units);
    let count = typed.count("count", 1, 50);
    let made = typed.read_if_said("made", Made::parse);
    let due = typed.read_if_said("due", |text| {
        text.parse::<Date>().map_err(|_| "a day such as 2027-03-20".to_owned())
    });
    let paid = typed.read_if_said("paid", |text| Money::parse(text, currency));
    let used_for = typed.read("use", Use::parse);
    let placement = typed.read_if_said("placement", Placement::parse);
    let kind = typed.read_if_said("kind", Kind::parse);
    let rows = typed.count("drawer-rows", 0, 12).unwrap_or(0);
    let columns = typed.count("drawer-columns", 0, 12).unwrap_or(0);
    let doors = typed.count("doors", 0, 8).unwrap_or(0);
    let (Some(mut form), true) = (form, typed.is_sound()) else {
        return;
    };
    form.details.drawers = (rows > 0).then_some((rows, columns.max(1)));
    form.details.doors = (doors > 0).then_some(doors);
    piece.form = form;
    piece.name = name;
    piece.count = count.unwrap_or(1);
    piece.made = made.unwrap_or_default();
    piece.due = due;
    piece.paid = paid;
    piece.used_for = used_for.unwrap_or(piece.used_for);
    piece.placement = placement;
    piece.kind = kind;
    piece.for_whom = if typed.text("for") == "sale" {
        ForWhom::Sale
    } else {
        ForWhom::Client
    };
    piece.notes = typed.text("notes").chars().take(2000).collect();
}
