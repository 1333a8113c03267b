//! A zone's build-up as a section through its coats, as under the microscope: wood below, what was found above it, a pencil line
//! for today's surface, what will be put on above that.

use super::{escape, safe_colour};
use shop::plan::{BuildUp, Layer};
use std::fmt::Write;

const WIDTH: f64 = 150.0;
const WOOD: f64 = 34.0;
/// A layer is never thinner on paper than its label is high.
const THINNEST: f64 = 20.0;
/// Picture height of a micrometre of dry film, where the layer is not thinner than its label.
const PX_EACH_UM: f64 = 0.45;

/// Which part of the build-up a layer belongs to.
#[derive(Clone, Copy, PartialEq)]
enum Part {
    Stays,
    ComesOff,
    GoesOn,
}

/// The section as SVG, with every layer named beside it.
pub(crate) fn svg(zone: &str, substrate: &str, build_up: &BuildUp) -> String {
    let found = build_up.found.iter().enumerate().map(|(place, layer)| {
        (layer, if place < build_up.kept { Part::Stays } else { Part::ComesOff })
    });
    let planned = build_up.planned.iter().map(|layer| (layer, Part::GoesOn));
    let layers: Vec<(&Layer, Part)> = found.chain(planned).collect();
    let height = 12.0 + WOOD + layers.iter().map(|(layer, _)| thickness(layer)).sum::<f64>() + 18.0;
    let mut out = String::new();
    let title = format!("Section through the coats of the {zone}");
    let _ = write!(
        out,
        r#"<svg viewBox="0 0 420 {height:.0}" role="img" aria-label="{}" class="section">"#,
        escape(&title)
    );
    let mut base = height - 12.0 - WOOD;
    wood(&mut out, base, substrate);
    let mut line_drawn = false;
    for (layer, part) in layers {
        if part == Part::GoesOn && !line_drawn {
            pencil_line(&mut out, base);
            line_drawn = true;
        }
        base -= thickness(layer);
        coat(&mut out, layer, part, base);
    }
    if !line_drawn {
        pencil_line(&mut out, base);
    }
    out.push_str("</svg>");
    out
}

fn thickness(layer: &Layer) -> f64 {
    (layer.dry_film_um * PX_EACH_UM).max(THINNEST)
}

fn wood(out: &mut String, top: f64, substrate: &str) {
    let _ = write!(
        out,
        r##"<rect x="1" y="{top:.1}" width="{WIDTH}" height="{WOOD}" fill="url(#hatch-wood)"/><path class="ink" d="M1 {top:.1}H{right}" stroke-width="1.6"/><text x="{text}" y="{middle:.1}" font-size="13">{}</text>"##,
        escape(substrate),
        right = WIDTH + 1.0,
        text = WIDTH + 22.0,
        middle = top + WOOD / 2.0 + 4.0,
    );
}

fn coat(out: &mut String, layer: &Layer, part: Part, top: f64) {
    let high = thickness(layer);
    let colour = safe_colour(layer.colour.as_deref());
    let _ = write!(out, r#"<rect x="1" y="{top:.1}" width="{WIDTH}" height="{high:.1}" fill="{colour}"/>"#);
    let hatch = match part {
        Part::Stays => Some("hatch-found"),
        Part::ComesOff => Some("hatch-off"),
        Part::GoesOn => None,
    };
    if let Some(hatch) = hatch {
        let _ = write!(out, r#"<rect x="1" y="{top:.1}" width="{WIDTH}" height="{high:.1}" fill="url(#{hatch})" opacity="0.75"/>"#);
    }
    let dashes = if part == Part::ComesOff { r#" stroke-dasharray="5 4""# } else { "" };
    let _ = write!(out, r#"<rect class="ink" x="1" y="{top:.1}" width="{WIDTH}" height="{high:.1}" stroke-width="1.2"{dashes}/>"#);
    for coat in 1..layer.coats {
        let y = top + high * f64::from(coat) / f64::from(layer.coats);
        let _ = write!(out, r#"<path class="ink" d="M1 {y:.1}H{}" stroke-width="0.6" stroke-dasharray="2 3"/>"#, WIDTH + 1.0);
    }
    let before = match part {
        Part::Stays => "stays: ",
        Part::ComesOff => "comes off: ",
        Part::GoesOn => "",
    };
    let coats = match layer.coats {
        0 | 1 => String::new(),
        many => format!(", {many} coats"),
    };
    let film = if layer.dry_film_um > 0.0 { format!(" · {:.0} µm", layer.dry_film_um) } else { String::new() };
    let middle = top + high / 2.0;
    let _ = write!(
        out,
        r#"<path class="ink" d="M{from} {middle:.1}h14" stroke-width="0.8"/><text x="{text}" y="{line:.1}" font-size="13">{before}{}{coats}<tspan font-size="11">{film}</tspan></text>"#,
        escape(&layer.words),
        from = WIDTH + 4.0,
        text = WIDTH + 22.0,
        line = middle + 4.5,
    );
}

/// Today's surface: a hand-drawn line, a little past both edges.
fn pencil_line(out: &mut String, y: f64) {
    let _ = write!(
        out,
        r#"<path class="ink" d="M-4 {a:.1}q25 -2.4 50 0t50 .6 60 -.8" stroke-width="2.2" stroke-linecap="round"/><text x="{text}" y="{line:.1}" font-size="11" font-style="italic">today</text>"#,
        a = y,
        text = WIDTH + 236.0,
        line = y + 4.0,
    );
}
