//! The drawing of a piece, each zone in its planned colour: the one seam to the take-off's pen.

use maud::{Markup, PreEscaped, html};
use quantity::UnitSystem;
use shop::model::{Look, Piece, Sheen, Wish};
use takeoff::drawing::{self, Rgb, View, ZoneLook};

/// How large a drawing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Size {
    /// In a list.
    Small,
    /// Leading a page, with its measures.
    Large,
}

/// The drawing of a piece.
pub(crate) fn of(piece: &Piece, units: UnitSystem, size: Size) -> Markup {
    let piece = shop::plan::with_zones(piece);
    let Ok(form) = shop::plan::form_of(&piece.form) else {
        return html! { div.drawing { p.soft { "No drawing: the measures do not fit together yet." } } };
    };
    let mut looks = ZoneLook::paper().titled(format!("Drawing of the {}", piece.name));
    let surfaces = shop::plan::surfaces_of(&piece).unwrap_or_default();
    for (zone, ids) in piece.zones.iter().zip(surfaces) {
        if let Some(look) = look_of(&zone.wish) {
            looks = ids.into_iter().fold(looks, |looks, id| looks.surface(id, look));
        }
    }
    let view = match size {
        Size::Small => View {
            width_px: 220,
            ..View::default()
        },
        Size::Large => View {
            width_px: 460,
            ..View::default().with_dimensions(units)
        },
    };
    html! { div.drawing { (PreEscaped(drawing::svg(&form, &looks, view))) } }
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
