//! The lengths that the taps give, with how sure they are, and a length made a measure of the piece.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::Redirect;
use maud::{Markup, html};
use quantity::{Length, UnitSystem};
use shop::model::{HowMeasured, Means, Piece, show_within};
use takeoff::photograph::{Measured, PhotographRefusal, Picture, Plane};

use super::picture;
use super::state::Taps;
use super::tapping::Measuring;
use crate::app::App;
use crate::error::PageError;
use crate::typed::Typed;

/// One length of the list.
struct Line {
    /// Its word in a form: `across`, `down`, or the number of a pair.
    which: String,
    name: String,
    read: Result<Measured, PhotographRefusal>,
}

/// The three measures of a piece that a length can become.
const MEASURES: [(&str, &str); 3] = [
    ("width", "Use as width"),
    ("depth", "Use as depth"),
    ("height", "Use as height"),
];

fn measure_of(piece: &Piece, word: &str) -> Option<(Length, HowMeasured)> {
    let outline = piece.form.outline();
    let hit = outline.into_iter().find(|(name, _, _)| *name == word);
    hit.map(|(_, length, how)| (length, how))
}

fn lines(plane: &Plane, taps: &Taps) -> Vec<Line> {
    let mut lines = Vec::new();
    match plane.rectangle() {
        Ok(Some((across, down))) => {
            for (which, name, measured) in [
                ("across", "The front, across", across),
                ("down", "The front, up and down", down),
            ] {
                lines.push(Line {
                    which: which.to_owned(),
                    name: name.to_owned(),
                    read: Ok(measured),
                });
            }
        }
        Ok(None) => {}
        Err(refusal) => lines.push(Line {
            which: String::new(),
            name: "The front".to_owned(),
            read: Err(refusal),
        }),
    }
    for (place, [from, to]) in taps.pairs().into_iter().enumerate() {
        let number = (place + 1).to_string();
        lines.push(Line {
            name: format!("Length {number}"),
            which: number,
            read: plane.distance(from, to),
        });
    }
    lines
}

/// What is known so far; nothing before the sheet's four corners are tapped.
pub(super) fn section(of: &Measuring, taps: &Taps, said: &str) -> Markup {
    html! {
        @match taps.plane(of.size) {
            None => {}
            Some(Err(refusal)) => {
                div.caution.stop role="alert" {
                    p { strong.sign { "Cannot be measured: " } (refusal) "." }
                    p { "Take points back and tap them again, or take another photograph." }
                }
            }
            Some(Ok(plane)) => (found(of, taps, &plane, said)),
        }
    }
}

fn found(of: &Measuring, taps: &Taps, plane: &Plane, said: &str) -> Markup {
    let seen = plane.obliqueness();
    let lines = lines(plane, taps);
    html! {
        section.card aria-labelledby="lengths-title" {
            h2 #lengths-title { "Lengths" }
            (now_is(of, said))
            @if lines.is_empty() {
                p { "The sheet is found. " @if taps.front { "Now the corners of the front." } @else { "Now two points for each length." } }
            } @else {
                ul.plain.lengths { @for line in &lines { (row(of, taps, line)) } }
            }
            p.small.soft {
                "Seen " span.figure { (format!("{:.0}°", seen.angle_degrees)) } " off square, give or take "
                span.figure { (format!("{:.0}°", seen.standard_error_degrees.min(90.0).ceil())) } "; 50° is the limit, and squarely is surest."
            }
        }
    }
}

/// The answer after a length was used.
fn now_is(of: &Measuring, said: &str) -> Markup {
    html! {
        @if let Some((length, how)) = measure_of(&of.piece, said) {
            p.reply role="status" tabindex="-1" { "✓ The " (said) " of the " (of.piece.name) " is now " span.figure { (how.show(length, of.units)) } "." }
        }
    }
}

fn row(of: &Measuring, taps: &Taps, line: &Line) -> Markup {
    html! {
        li {
            h3 { (line.name) }
            @match &line.read {
                Err(refusal) => { p.refusal { (refusal) "." } }
                Ok(measured) => {
                    p.answer { (measured.length.show(of.units)) span.give-or-take { " give or take " (give_or_take(measured, of.units)) } }
                    p.small.soft {
                        "In nine cases of ten between " span.figure { (measured.interval_90.0.show(of.units)) }
                        " and " span.figure { (measured.interval_90.1.show(of.units)) } "."
                    }
                    form.row method="post" action={ (of.address()) "/use" } data-live {
                        @for (name, value) in taps.entries() { input type="hidden" name=(name) value=(value); }
                        input type="hidden" name="which" value=(line.which);
                        @for (word, words) in MEASURES {
                            button.second name="as" value=(word) aria-label={ (words) ": " (line.name) } { (words) }
                        }
                    }
                }
            }
        }
    }
}

/// Half of the interval that holds nine cases of ten.
fn give_or_take(measured: &Measured, units: UnitSystem) -> String {
    let (low, high) = measured.interval_90;
    show_within(Length::from_m((high.m() - low.m()) / 2.0), units)
}

/// `POST /pieces/{id}/measure/{photograph}/use`: a length becomes the piece's width, depth or height, as it is shown.
pub(super) async fn keep(
    State(app): State<App>,
    Path((id, photograph)): Path<(String, i64)>,
    Form(entries): Form<Vec<(String, String)>>,
) -> Result<Redirect, PageError> {
    let mut typed = Typed::from(entries);
    let size = picture::size_of(&*picture::pixels(&app, &id, photograph).await?);
    let to = app
        .at_desk(move |desk, _| {
            let units = desk.shop.settings.units;
            let taps = Taps::read(&mut typed, units)
                .ok_or_else(|| PageError::Refused("the sheet is not said; begin the measurement again".to_owned()))?;
            let (length, standard_error) = measured(&taps, size, typed.text("which"), units)?;
            let piece = desk.shop.piece_mut(&id).ok_or(PageError::NotFound("piece"))?;
            let word = typed.text("as").to_owned();
            measure_of(piece, &word).ok_or(PageError::NotFound("measure"))?;
            let how = HowMeasured::with_error(Means::Photograph, standard_error);
            piece.form.set(&word, length, how);
            desk.keep_piece(&id)?;
            Ok(format!(
                "/pieces/{id}/measure/{photograph}?{}&said={word}",
                taps.query()
            ))
        })
        .await?;
    Ok(Redirect::to(&to))
}

/// The length of this word, rounded as it was shown, and its standard error.
fn measured(taps: &Taps, size: Picture, which: &str, units: UnitSystem) -> Result<(Length, Length), PageError> {
    let refused = |words: &dyn std::fmt::Display| PageError::Refused(words.to_string());
    let plane = taps
        .plane(size)
        .ok_or_else(|| refused(&"the sheet's four corners are not tapped yet"))?
        .map_err(|refusal| refused(&refusal))?;
    let line = lines(&plane, taps)
        .into_iter()
        .find(|line| line.which == which)
        .ok_or(PageError::NotFound("length"))?;
    let read = line.read.map_err(|refusal| refused(&refusal))?.dimension();
    let length = read.length;
    if length.mm() < 3.0 || length.m() > 10.0 {
        let limits = format!(
            "{} is outside what furniture has: {} to {}; tap the two ends again",
            length.show(units),
            Length::from_mm(3.0).show(units),
            Length::from_m(10.0).show(units)
        );
        return Err(refused(&limits));
    }
    let rounded = Length::parse_in(&length.show(units), units).unwrap_or(length);
    Ok((rounded, read.standard_error))
}
