//! A zone's build-up as a section through its coats, as under the microscope: wood below, what was found above it, a pencil line
//! for today's surface, what will be put on above that.
//!
//! Layers that stay, come off and go on are told apart by hatching and words; colours are the layers' own.

use std::fmt::Write;

use shop::plan::{BuildUp, Layer};
use trade::FinishClass;
use trade::finish_rows::Group;

use super::{escape, safe_colour};

/// Width of the whole picture.
const WHOLE: f64 = 440.0;
/// Width of the section itself; its names stand to the right.
const WIDTH: f64 = 160.0;
/// Where names begin.
const NAMES: f64 = WIDTH + 20.0;
/// Height of the wood.
const WOOD: f64 = 40.0;
/// A layer is never thinner on paper than its name is high.
const THINNEST: f64 = 40.0;
/// Picture height of a micrometre of dry film, where the layer is not thinner than its name.
const PX_EACH_UM: f64 = 0.42;
/// Letters of a name that fit on a line.
const LETTERS: usize = 36;

/// Which part of the build-up a layer belongs to.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    Stays,
    ComesOff,
    GoesOn,
}

/// The section as SVG, with every layer named beside it.
pub(crate) fn svg(zone: &str, substrate: &str, build_up: &BuildUp) -> String {
    let found = build_up.found.iter().enumerate().map(|(place, layer)| {
        let part = if place < build_up.kept {
            Part::Stays
        } else {
            Part::ComesOff
        };
        (layer, part)
    });
    let planned = build_up.planned.iter().map(|layer| (layer, Part::GoesOn));
    let layers: Vec<(&Layer, Part)> = found.chain(planned).collect();
    let height = 14.0 + WOOD + layers.iter().map(|(layer, _)| thickness(layer)).sum::<f64>() + 12.0;
    let mut out = String::new();
    let _ = write!(
        out,
        r#"<svg viewBox="-4 0 {WHOLE} {height:.0}" role="img" aria-label="{}" class="section">"#,
        escape(&described(zone, substrate, &layers))
    );
    let mut base = height - 6.0 - WOOD;
    wood(&mut out, base, substrate);
    let mut today = None;
    for (place, (layer, part)) in layers.iter().enumerate() {
        if *part == Part::GoesOn && today.is_none() {
            today = Some(base);
        }
        base -= thickness(layer);
        coat(&mut out, layer, *part, base, place);
    }
    pencil_line(&mut out, today.unwrap_or(base));
    out.push_str("</svg>");
    out
}

/// The section in words, from the substrate outwards.
fn described(zone: &str, substrate: &str, layers: &[(&Layer, Part)]) -> String {
    let mut words = format!("Section through the coats of the {zone}, from below: {substrate}");
    for (layer, part) in layers {
        let _ = write!(words, "; {}{}", part_words(*part), layer.words);
    }
    words
}

fn part_words(part: Part) -> &'static str {
    match part {
        Part::Stays => "stays: ",
        Part::ComesOff => "comes off: ",
        Part::GoesOn => "goes on: ",
    }
}

fn thickness(layer: &Layer) -> f64 {
    (layer.dry_film_um * PX_EACH_UM).clamp(THINNEST, 90.0)
}

/// Wood, metal, whatever it is: cut across, with its own marks.
fn wood(out: &mut String, top: f64, substrate: &str) {
    let right = WIDTH;
    let bottom = top + WOOD;
    let _ = write!(
        out,
        r##"<path d="M0 {top:.1}{edge}V{bottom:.1}H0z" fill="url(#hatch-wood)"/><path class="ink" d="M0 {top:.1}{edge}" stroke-width="1.6"/><path class="ink" d="M0 {top:.1}V{bottom:.1}M{right} {top:.1}V{bottom:.1}" stroke-width="1.2"/><text x="{NAMES}" y="{middle:.1}" font-size="14">{}</text>"##,
        escape(substrate),
        edge = wavering(0),
        middle = top + WOOD / 2.0 + 4.0,
    );
}

/// The upper edge of a layer from left to right: never quite straight, each in its own way.
fn wavering(place: usize) -> &'static str {
    match place % 4 {
        0 => "q20 -1.6 40 0t40 .4 40 -.8 40 .4",
        1 => "q24 1.5 46 .2t50 -.8 64 .6",
        2 => "q14 -1.2 34 .4t44 .6 38 -1 44 0",
        _ => "q32 1.4 60 -.4t52 .8 48 -.4",
    }
}

fn coat(out: &mut String, layer: &Layer, part: Part, top: f64, place: usize) {
    let high = thickness(layer);
    let bottom = top + high;
    let colour = layer
        .colour
        .as_deref()
        .map_or_else(|| tone(layer), |colour| safe_colour(Some(colour)));
    let outline = format!("M0 {top:.1}{}V{bottom:.1}H0z", wavering(place));
    let _ = write!(out, r#"<path d="{outline}" fill="{colour}"/>"#);
    if let Some(hatch) = match part {
        Part::Stays => Some("hatch-found"),
        Part::ComesOff => Some("hatch-off"),
        Part::GoesOn => None,
    } {
        let _ = write!(out, r##"<path class="over" d="{outline}" fill="url(#{hatch})"/>"##);
    }
    let dashes = if part == Part::ComesOff {
        r#" stroke-dasharray="6 4""#
    } else {
        ""
    };
    let _ = write!(out, r#"<path class="ink" d="{outline}" stroke-width="1.3"{dashes}/>"#);
    for coat in 1..layer.coats {
        let y = top + high * f64::from(coat) / f64::from(layer.coats);
        let _ = write!(
            out,
            r#"<path class="ink" d="M0 {y:.1}H{WIDTH}" stroke-width="0.7" stroke-dasharray="2 3"/>"#
        );
    }
    label(out, layer, part, top + high / 2.0);
}

/// Name above, coats and film below.
fn label(out: &mut String, layer: &Layer, part: Part, middle: f64) {
    let coats = match layer.coats {
        0 | 1 => "1 coat".to_owned(),
        many => format!("{many} coats"),
    };
    let film = if layer.dry_film_um >= 0.5 {
        format!(", {:.0} µm dry", layer.dry_film_um)
    } else {
        String::new()
    };
    let name: String = layer.words.chars().take(LETTERS).collect();
    let cut = if layer.words.chars().count() > LETTERS {
        "…"
    } else {
        ""
    };
    let _ = write!(
        out,
        r#"<path class="ink" d="M{WIDTH} {middle:.1}h14" stroke-width="0.8"/><text x="{NAMES}" y="{above:.1}" font-size="14" font-weight="600">{}{cut}</text><text class="faint" x="{NAMES}" y="{below:.1}" font-size="12.5">{}{coats}{film}</text>"#,
        escape(&name),
        part_words(part),
        above = middle - 3.0,
        below = middle + 12.0,
    );
}

/// A found layer by itself, as wide as what it stands in: its colour or tone, its wavering edge, a line between coats.
pub(crate) fn band(class: FinishClass, coats: u8, colour: Option<&str>, place: usize) -> String {
    let fill = colour.map_or_else(|| tone_of(class), |colour| safe_colour(Some(colour)));
    let outline = format!("M0 3{}V56H0z", wavering(place));
    let mut out = format!(
        r##"<svg viewBox="0 0 160 56" preserveAspectRatio="none" aria-hidden="true" focusable="false"><path d="{outline}" fill="{fill}"/><path class="over" d="{outline}" fill="url(#hatch-found)"/><path class="ink" d="{outline}" stroke-width="1.4" vector-effect="non-scaling-stroke"/>"##
    );
    for coat in 1..coats {
        let y = 3.0 + 53.0 * f64::from(coat) / f64::from(coats);
        let _ = write!(
            out,
            r#"<path class="ink" d="M0 {y:.1}H160" stroke-width="0.8" stroke-dasharray="2 3" vector-effect="non-scaling-stroke"/>"#
        );
    }
    out.push_str("</svg>");
    out
}

/// What the layers lie on, as wide as what it stands in.
pub(crate) fn wood_band() -> String {
    let edge = wavering(0);
    format!(
        r##"<svg viewBox="0 0 160 56" preserveAspectRatio="none" aria-hidden="true" focusable="false"><path d="M0 3{edge}V56H0z" fill="url(#hatch-wood)"/><path class="ink" d="M0 3{edge}" stroke-width="1.6" vector-effect="non-scaling-stroke"/></svg>"##
    )
}

/// The tone of a layer that has no colour of its own: what such a film looks like.
fn tone(layer: &Layer) -> &'static str {
    let class = layer.class.as_deref().and_then(|class| FinishClass::parse(class).ok());
    tone_of(class.unwrap_or(FinishClass::Unknown))
}

fn tone_of(class: FinishClass) -> &'static str {
    if class == FinishClass::Unknown {
        return "#b7ab98";
    }
    match class.row().group {
        Group::Primer => "#e9e4d8",
        Group::Paint => "#d8d2c4",
        Group::Clear if class.row().is_waterborne() => "#f3ead2",
        Group::Clear => "#e0b878",
        Group::Sealer => "#ecd6a4",
        Group::Oil => "#d9ad6c",
        Group::Wax => "#f0e2b6",
        Group::Stain => "#8c5f38",
    }
}

/// Today's surface: a pencil line, a little past both edges, with its word above the end.
fn pencil_line(out: &mut String, y: f64) {
    let _ = write!(
        out,
        r#"<path class="ink" d="M-4 {y:.1}q24 -2 48 .4t50 -.6 70 .3" stroke-width="3" stroke-linecap="round"/><text class="halo" x="{to}" y="{line:.1}" font-size="12.5" text-anchor="end" font-style="italic">today's surface</text>"#,
        to = WHOLE - 10.0,
        line = y + 4.0,
    );
}
