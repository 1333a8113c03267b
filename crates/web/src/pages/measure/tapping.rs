//! The page of taps: which sheet it is, then one point after another, each on three views.

use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use quantity::UnitSystem;
use shop::model::Piece;
use takeoff::photograph::{Picture, Tap};

use super::state::{Near, Next, SHEETS, Shown, Taps};
use super::{lengths, own_files, picture};
use crate::app::App;
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Fields, choices, summary};
use crate::view::shell::{self, Asked, Here};

/// What the pages of one measurement have in common.
pub(super) struct Measuring {
    pub(super) piece: Piece,
    pub(super) photograph: i64,
    pub(super) units: UnitSystem,
    pub(super) size: Picture,
}

impl Measuring {
    /// The address of the measurement, without what was tapped.
    pub(super) fn address(&self) -> String {
        format!("/pieces/{}/measure/{}", self.piece.id, self.photograph)
    }
}

/// `GET /pieces/{id}/measure/{photograph}?…`: a tap in the address is taken, and answered with the address of what then is.
pub(super) async fn page(
    State(app): State<App>,
    asked: Asked,
    Path((id, photograph)): Path<(String, i64)>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let mut typed = Typed::from(entries);
    let size = picture::size_of(&*picture::pixels(&app, &id, photograph).await?);
    let (piece, units) = app
        .at_desk(move |desk, _| Ok((desk.piece(&id)?.clone(), desk.shop.settings.units)))
        .await?;
    let of = Measuring {
        piece,
        photograph,
        units,
        size,
    };
    let Some(mut taps) = Taps::read(&mut typed, units) else {
        return Ok(sheet_page(&asked, &of, typed).into_response());
    };
    if take(&mut taps, &typed, size) {
        return Ok(Redirect::to(&format!("{}?{}", of.address(), taps.query())).into_response());
    }
    let title = format!("Measure the {}", of.piece.name);
    let body = html! {
        (own_files())
        h1 { (title) }
        (lengths::section(&of, &taps, typed.text("said")))
        (tapping(&of, &taps))
    };
    Ok(shell::page(&asked, &title, Here::Pieces, &body).into_response())
}

/// Takes a tap, a move of the view or “here” out of the address; `false` if there is none.
fn take(taps: &mut Taps, typed: &Typed, size: Picture) -> bool {
    let number = |field: &str| {
        typed
            .text(field)
            .parse::<f64>()
            .ok()
            .filter(|number| number.is_finite())
    };
    if let (Some(x), Some(y)) = (number("tap.x"), number("tap.y")) {
        // A picture that is pressed by key says 0, 0: the middle is meant.
        let is_key = x == 0.0 && y == 0.0;
        let half = f64::from(taps.shown.width_px()) / 2.0;
        let place = match (is_key, taps.at) {
            (false, _) => taps.place(x, y, size),
            (true, Some(at)) => at,
            (true, None) => taps.place(half, half * size.height_px / size.width_px, size),
        };
        taps.find(place);
    } else if let (true, Some(at)) = (typed.is_ticked("here"), taps.at) {
        taps.find(super::state::inside(at, size));
    } else if typed.is_ticked("look") {
        taps.look(typed.text("look"), size);
    } else {
        return false;
    }
    true
}

fn sheet_page(asked: &Asked, of: &Measuring, mut typed: Typed) -> Markup {
    if typed.is_empty() {
        typed.set("front", "yes");
    }
    typed.unless_said(
        "sheet",
        if of.units == UnitSystem::Imperial {
            "letter"
        } else {
            "a4"
        },
    );
    let fields = Fields {
        form: "sheet",
        typed: &typed,
    };
    let title = format!("Measure the {}", of.piece.name);
    let (width, height) = shown_size(of.size, Near::Whole, Shown::Small);
    let body = html! {
        (own_files())
        h1 { (title) }
        (summary(&typed))
        div.measuring {
            img.plain-picture src={ (of.address()) "/view" } width=(width) height=(height) alt={ "The photograph of the " (of.piece.name) };
            form.card method="get" action=(of.address()) {
                h2 { "What lies on the front?" }
                (fields.select("sheet", "The sheet", "", &choices(SHEETS)))
                div.three {
                    (fields.text("long", "Its long side", "only for another rectangle"))
                    (fields.text("short", "Its short side", "20 mm (3/4 in) or more"))
                }
                (fields.tick("front", "The front is a true rectangle: I tap its four corners too"))
                p.small.soft { "The front's own corners cut the error to about a third, and give its width and height at once." }
                button { "On to the corners" }
            }
        }
        p { a.button.second href={ "/pieces/" (of.piece.id) "/measure" } { "Another photograph" } }
    };
    shell::page(asked, &title, Here::Pieces, &body)
}

/// The size at which a view is shown.
fn shown_size(size: Picture, near: Near, shown: Shown) -> (u32, u32) {
    let width = shown.width_px();
    if near != Near::Whole {
        return (width, width);
    }
    let height = (f64::from(width) * size.height_px / size.width_px).clamp(1.0, 8000.0);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and 8000"
    )]
    let height = height.round() as u32;
    (width, height)
}

fn tapping(of: &Measuring, taps: &Taps) -> Markup {
    let (width, height) = shown_size(of.size, taps.near, taps.shown);
    let what = what(taps.next());
    let at = taps
        .at
        .map(|at| format!("&at={:.1},{:.1}", at.x_px, at.y_px))
        .unwrap_or_default();
    let view = format!(
        "{}/view?shown={}&near={}{at}",
        of.address(),
        taps.shown.word(),
        taps.near.word()
    );
    html! {
        section.tapping aria-labelledby="tap-title" {
            form.measuring method="get" action=(of.address()) data-live {
                @for (name, value) in taps.entries() { input type="hidden" name=(name) value=(value); }
                div.tapped-picture data-side=[taps.near.side_px(of.size)] {
                    input type="image" name="tap" src=(view) width=(width) height=(height)
                        alt={ "The photograph. Tap " (what) "; by key the middle is taken." };
                    (marks(of, taps, (width, height)))
                }
                div.guide {
                    h2 #tap-title { (crate::view::show::capital(&what)) }
                    (how(taps))
                    @if taps.near != Near::Whole { (moves()) }
                }
            }
            div.row.no-print {
                @if let Some(before) = taps.back() {
                    a.button.second href={ (of.address()) "?" (before.query()) } {
                        @if taps.near == Near::Whole { "Take the last point back" } @else { "Back to the whole picture" }
                    }
                }
                @let other = Taps { shown: taps.shown.other(), ..taps.clone() };
                a.button.second href={ (of.address()) "?" (other.query()) } {
                    @if taps.shown == Shown::Small { "Larger picture" } @else { "Smaller picture" }
                }
                a.button.second href=(of.address()) { "Begin again" }
                a.button.second href={ "/pieces/" (of.piece.id) } { "Back to the piece" }
            }
        }
    }
}

fn what(next: Next) -> String {
    match next {
        Next::Sheet(corner) => format!("corner {corner} of 4 of the sheet"),
        Next::Front(corner) => format!("corner {corner} of 4 of the front"),
        Next::Length(length, 1) => format!("one end of length {length}"),
        Next::Length(length, _) => format!("the other end of length {length}"),
    }
}

fn how(taps: &Taps) -> Markup {
    let is_card = taps.sheet == takeoff::photograph::Sheet::Card;
    html! {
        p.lead {
            strong { "Tap " (match taps.near { Near::Whole => "1", Near::Nearer => "2", Near::Exact => "3" }) " of 3: " }
            @match taps.near {
                Near::Whole => "tap it roughly; a larger view follows.",
                Near::Nearer => "tap it again on this larger view.",
                Near::Exact => "tap it exactly. Only this tap counts.",
            }
        }
        @match taps.next() {
            Next::Sheet(_) => {
                p { "The order of the corners does not matter; the ones you have are ringed." }
                @if is_card { p { "The card's corners are round: tap where its straight edges would meet." } }
            }
            Next::Front(_) => { p { "The corners of the face on which the sheet lies, in any order: of its flat front, not of a top or a foot that stands out." } }
            Next::Length(_, 1) => { p { "Any two points in the plane of the sheet: a drawer's edges, a knob from a knob." } }
            Next::Length(..) => {}
        }
        @if taps.near != Near::Whole { p.soft.drag hidden { "You can also drag the view until the place is under the cross, and press Here." } }
    }
}

fn moves() -> Markup {
    html! {
        div.row {
            button name="here" value="yes" { "Here, under the cross" }
        }
        div.row role="group" aria-label="Move the view" {
            @for (way, arrow) in [("left", "←"), ("up", "↑"), ("down", "↓"), ("right", "→")] {
                button.second.move name="look" value=(way) aria-label={ "Move the view " (way) } { (arrow) }
            }
        }
    }
}

/// Rings round the points that are set, lines along the lengths, and a cross in the middle of a larger view.
fn marks(of: &Measuring, taps: &Taps, (width, height): (u32, u32)) -> Markup {
    let place = |point: &Tap| taps.on_page(*point, of.size);
    let (middle, gap, arm) = (f64::from(width) / 2.0, 5.0, 26.0);
    let cross = [(-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0)];
    html! {
        svg.marks viewBox={ "0 0 " (width) " " (height) } width=(width) height=(height) aria-hidden="true" {
            @for (under, thick) in [("halo-line", "5"), ("mark-line", "2")] {
                g class=(under) fill="none" stroke-width=(thick) {
                    @for [from, to] in &taps.pairs() {
                        @let ((x1, y1), (x2, y2)) = (place(from), place(to));
                        line x1=(tenth(x1)) y1=(tenth(y1)) x2=(tenth(x2)) y2=(tenth(y2)) {}
                    }
                    @for point in &taps.points {
                        @let (x, y) = place(point);
                        circle cx=(tenth(x)) cy=(tenth(y)) r="9" {}
                    }
                    @if taps.near != Near::Whole {
                        @for (right, down) in cross {
                            line x1=(tenth(middle + right * gap)) y1=(tenth(middle + down * gap)) x2=(tenth(middle + right * arm)) y2=(tenth(middle + down * arm)) {}
                        }
                    }
                }
            }
        }
    }
}

fn tenth(px: f64) -> String {
    format!("{:.1}", px.clamp(-1e5, 1e5))
}
