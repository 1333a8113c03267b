//! Drawings of our own: the section through the coats of a zone, and the score of a week.
//!
//! They are SVG with attributes only (the content policy allows no inline style), drawn in the colour of the text around them, and
//! say in hatching and words whatever they say in colour.

pub(crate) mod scale;
pub(crate) mod score;
pub(crate) mod section;

/// The hatchings of the five waits, found layers and wood; referred to by `url(#…)`. Once a page.
pub(crate) const HATCHES: &str = r##"<svg width="0" height="0" aria-hidden="true" focusable="false"><defs>
<pattern id="hatch-dwell" width="6" height="6" patternUnits="userSpaceOnUse"><circle cx="3" cy="3" r="1.3" fill="currentColor"/></pattern>
<pattern id="hatch-set" width="5" height="5" patternUnits="userSpaceOnUse"><path d="M2.5 0V5" stroke="currentColor" stroke-width="1"/></pattern>
<pattern id="hatch-dry" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M-1 7L7 -1" stroke="currentColor" stroke-width="1"/></pattern>
<pattern id="hatch-recoat" width="7" height="7" patternUnits="userSpaceOnUse"><path d="M0 7L7 0M0 0L7 7" stroke="currentColor" stroke-width="0.8"/></pattern>
<pattern id="hatch-cure" width="8" height="5" patternUnits="userSpaceOnUse"><path d="M0 2.5H8" stroke="currentColor" stroke-width="0.9"/></pattern>
<pattern id="hatch-found" width="9" height="9" patternUnits="userSpaceOnUse"><path d="M-2 11L11 -2" stroke="currentColor" stroke-width="0.7"/></pattern>
<pattern id="hatch-off" width="8" height="8" patternUnits="userSpaceOnUse"><path d="M0 8L8 0M0 0L8 8" stroke="currentColor" stroke-width="1"/></pattern>
<pattern id="hatch-wood" width="34" height="12" patternUnits="userSpaceOnUse"><path d="M0 3Q9 0 17 3T34 3M0 9Q9 11 17 8T34 9" stroke="currentColor" stroke-width="0.7" fill="none"/></pattern>
</defs></svg>"##;

/// Text made safe inside SVG.
pub(crate) fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}

/// A colour that is a colour (`#rrggbb`), else paper.
pub(crate) fn safe_colour(colour: Option<&str>) -> &str {
    match colour {
        Some(text) if text.len() == 7 && text.starts_with('#') && text[1..].bytes().all(|b| b.is_ascii_hexdigit()) => {
            text
        }
        _ => "none",
    }
}
