//! A colour in words, so that nothing is told by the colour alone.

use colour::Lab;

/// Below this chroma a colour is called grey, white or black.
const HARDLY_COLOURED: f64 = 6.0;
/// From here on it is called strong.
const STRONG: f64 = 55.0;
/// Below this a hue is called greyish.
const GREYISH: f64 = 18.0;

/// Names of hues by where they end, degrees.
const HUES: [(f64, &str); 11] = [
    (15.0, "pink-red"),
    (45.0, "red"),
    (68.0, "orange"),
    (100.0, "yellow"),
    (125.0, "yellow-green"),
    (165.0, "green"),
    (210.0, "blue-green"),
    (275.0, "blue"),
    (310.0, "violet"),
    (345.0, "purple"),
    (360.1, "pink-red"),
];

/// What a colour is called in plain words: "dark brown", "pale greyish green", "off-white".
///
/// The bounds are our own (`common-practice`): words for telling swatches apart, not a standard's names.
///
/// ```
/// use colour::Srgb;
/// assert_eq!(shop::swatch::called(Srgb::parse("#6b4a32")?.to_lab()), "dark brown");
/// # Ok::<(), colour::NotAColour>(())
/// ```
pub fn called(colour: Lab) -> String {
    let chroma = colour.chroma();
    if chroma < HARDLY_COLOURED {
        return neutral(colour.l).to_owned();
    }
    let hue = colour.hue_deg();
    if colour.l > 90.0 && chroma < 14.0 {
        return if (40.0..120.0).contains(&hue) {
            "warm off-white"
        } else {
            "cool off-white"
        }
        .to_owned();
    }
    let is_brown = (35.0..85.0).contains(&hue) && colour.l < 55.0;
    let name = match HUES.iter().find(|(end, _)| hue < *end) {
        _ if is_brown => "brown",
        Some((_, name)) => name,
        None => "red",
    };
    let light = match colour.l {
        l if l < 22.0 => "very dark ",
        l if l < 40.0 => "dark ",
        l if l < 68.0 => "",
        l if l < 84.0 => "light ",
        _ => "pale ",
    };
    let strength = match chroma {
        c if c < GREYISH && !is_brown => "greyish ",
        c if c >= STRONG => "strong ",
        _ => "",
    };
    format!("{light}{strength}{name}")
}

fn neutral(l: f64) -> &'static str {
    match l {
        l if l < 18.0 => "black",
        l if l < 40.0 => "dark grey",
        l if l < 65.0 => "grey",
        l if l < 85.0 => "light grey",
        l if l < 93.0 => "off-white",
        _ => "white",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use colour::Srgb;

    #[test]
    fn colours_are_called_as_one_would_say_them() {
        let of = |hex: &str| called(Srgb::parse(hex).unwrap().to_lab());
        assert_eq!(of("#ffffff"), "white");
        assert_eq!(of("#000000"), "black");
        assert_eq!(of("#35506b"), "dark blue");
        assert_eq!(of("#9c3a30"), "dark red");
        assert_eq!(of("#efe6d0"), "warm off-white");
        assert!(of("#4f6b52").contains("green"));
    }
}
