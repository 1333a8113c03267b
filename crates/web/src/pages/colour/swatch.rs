//! A colour shown: the patch itself, and beside it in words what it is, so that nothing rests on seeing the colour.

use colour::{Lab, Srgb};
use maud::{Markup, html};
use shop::swatch::called;

/// A patch of a colour; the words beside it say what it is.
pub(super) fn patch(colour: Lab) -> Markup {
    let fill = Srgb::nearest(colour).to_string();
    html! {
        svg.patch viewBox="0 0 60 40" width="60" height="40" aria-hidden="true" focusable="false" {
            rect x="1" y="1" width="58" height="38" fill=(fill) stroke="currentColor" {}
        }
    }
}

/// A patch with its name, what it is called, its figures on a screen and its light reflectance value.
pub(super) fn named(name: &str, colour: Lab) -> Markup {
    html! {
        (patch(colour))
        span.patch-words {
            strong { (name) }
            span.small.soft { (figures(colour)) }
        }
    }
}

/// "dark blue, #35506b, gives back 8 % of the light".
pub(super) fn figures(colour: Lab) -> String {
    format!(
        "{}, {}, gives back {:.0} % of the light",
        called(colour),
        Srgb::nearest(colour),
        colour.light_reflectance().clamp(0.0, 100.0)
    )
}
