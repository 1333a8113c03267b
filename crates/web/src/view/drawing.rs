//! The drawing of a piece, each zone in its planned colour: the one seam to the take-off's pen.

use maud::{Markup, PreEscaped, html};
use quantity::UnitSystem;
use shop::model::{FormKind, Look, Piece, Sheen, Wish};
use takeoff::drawing::{self, Rgb, View, ZoneLook};

use crate::typed::Typed;

/// From where a piece is drawn, and what is written on; all of it stands in the address.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Shown {
    turn: i32,
    from_above: bool,
    measures: bool,
}

impl Shown {
    /// As an address says it; what it does not say is as usual.
    pub(crate) fn read(typed: &Typed) -> Self {
        let turn = typed.text("turn").parse::<i32>().unwrap_or(0);
        Shown {
            turn: turn.rem_euclid(View::TURNS),
            from_above: typed.text("eye") == "high",
            measures: typed.text("measures") == "on",
        }
    }

    /// For an address.
    fn query(self) -> String {
        let eye = if self.from_above { "high" } else { "low" };
        let measures = if self.measures { "on" } else { "off" };
        format!("turn={}&eye={eye}&measures={measures}", self.turn)
    }

    fn turned(self, by: i32) -> Self {
        Shown {
            turn: (self.turn + by).rem_euclid(View::TURNS),
            ..self
        }
    }

    fn view(self, units: UnitSystem) -> View {
        View {
            turn: self.turn,
            from_above: self.from_above,
            dimensions: self.measures,
            units,
            width_px: 460,
        }
    }
}

/// The drawing of a piece as it stands in a list.
pub(crate) fn small(piece: &Piece) -> Markup {
    let view = View {
        width_px: 220,
        ..View::default()
    };
    match svg(piece, view) {
        Some(svg) => html! { div.drawing { (PreEscaped(svg)) } },
        None => html! { div.drawing { p.soft { "No drawing: the measures do not fit together yet." } } },
    }
}

/// The drawing that leads a page, with what turns it.
pub(crate) fn turning(piece: &Piece, units: UnitSystem, shown: Shown) -> Markup {
    let view = shown.view(units);
    let Some(svg) = svg(piece, view) else {
        return small(piece);
    };
    let high = if view.from_above { ", from high up" } else { "" };
    html! {
        figure.drawing.turning {
            (PreEscaped(svg))
            figcaption.small.soft { span role="status" { "Seen from " (view.seen_from()) (high) "." } }
            div.row.no-print role="group" aria-label="Turn the drawing" {
                (step(piece, shown.turned(1), "turn-left", "↺", "Turn left"))
                (step(piece, shown.turned(-1), "turn-right", "↻", "Turn right"))
                @let eye = Shown { from_above: !shown.from_above, ..shown };
                (step(piece, eye, "turn-eye", if shown.from_above { "↓" } else { "↑" }, if shown.from_above { "From lower" } else { "From above" }))
                @let measures = Shown { measures: !shown.measures, ..shown };
                (step(piece, measures, "turn-measures", "↔", if shown.measures { "Without measures" } else { "With measures" }))
            }
            p.small.no-print {
                a href={ "/pieces/" (piece.id) "/drawing.svg?" (shown.query()) } download { "Drawing as SVG" }
                @if piece.form.kind != FormKind::Mesh {
                    " · " a href={ "/pieces/" (piece.id) "/form.stl" } download { "Form as STL, in millimetres" }
                }
            }
        }
    }
}

/// One way to look at it otherwise.
fn step(piece: &Piece, to: Shown, id: &str, sign: &str, words: &str) -> Markup {
    html! {
        a.button.second id=(id) href={ "/pieces/" (piece.id) "?" (to.query()) } data-live {
            span aria-hidden="true" { (sign) " " } (words)
        }
    }
}

/// The drawing by itself, for a file; `None` where the measures do not fit together.
pub(crate) fn file(piece: &Piece, units: UnitSystem, shown: Shown) -> Option<String> {
    svg(piece, shown.view(units))
}

fn svg(piece: &Piece, view: View) -> Option<String> {
    let piece = shop::plan::with_zones(piece);
    let form = shop::plan::form_of(&piece.form).ok()?;
    let mut looks = ZoneLook::paper().titled(format!("Drawing of the {}, seen from {}", piece.name, view.seen_from()));
    let surfaces = shop::plan::surfaces_of(&piece).unwrap_or_default();
    for (zone, ids) in piece.zones.iter().zip(surfaces) {
        if let Some(look) = look_of(&zone.wish) {
            looks = ids.into_iter().fold(looks, |looks, id| looks.surface(id, look));
        }
    }
    Some(drawing::svg(&form, &looks, view))
}

/// How a zone is to look; a clear coat leaves the wood as it is, which the drawing leaves as paper.
fn look_of(wish: &Wish) -> Option<drawing::Look> {
    let colour = Rgb::parse(wish.colour.as_deref()?)?;
    let gloss: f64 = match wish.sheen {
        Some(Sheen::Flat) => 0.0,
        Some(Sheen::Eggshell) => 0.2,
        Some(Sheen::Satin) | None => 0.4,
        Some(Sheen::SemiGloss) => 0.65,
        Some(Sheen::Gloss) => 0.9,
    };
    let gloss = if wish.look == Look::Metallic {
        gloss.max(0.7)
    } else {
        gloss
    };
    Some(drawing::Look { colour, gloss })
}
