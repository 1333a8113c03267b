//! A screen colour: what a hex code or a photograph's pixel says.
//!
//! Eight bits a channel (source `iec-61966-2-1`). A screen cannot show every paint: [`Srgb::nearest`] clips what lies outside.

use std::fmt;

use palette::encoding::{FromLinear, IntoLinear, Srgb as Curve};
use serde::{Deserialize, Serialize};

use crate::lab::{Lab, Xyz};

/// Linear red, green, blue to X, Y, Z, as the standard prints it (`iec-61966-2-1`).
const TO_XYZ: [[f64; 3]; 3] = [
    [0.4124, 0.3576, 0.1805],
    [0.2126, 0.7152, 0.0722],
    [0.0193, 0.1192, 0.9505],
];
/// What the standard's four digits add up to for white; taken as the white, so that greys are neutral.
const WHITE: Xyz = Xyz {
    x: 0.9505,
    y: 1.0,
    z: 1.089,
};

/// Red, green, blue, 0 to 255 each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Srgb {
    /// Red.
    pub r: u8,
    /// Green.
    pub g: u8,
    /// Blue.
    pub b: u8,
}

/// Why a text is not a screen colour.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "“{text}” is not a colour: {why}. Write six digits 0–9, a–f after a #, such as #8a9a5b, or three, such as #8a5."
)]
pub struct NotAColour {
    /// What was typed.
    pub text: String,
    /// What is wrong with it.
    pub why: String,
}

impl Srgb {
    /// A colour from its channels.
    #[must_use]
    pub const fn new(r: u8, g: u8, b: u8) -> Self {
        Self { r, g, b }
    }

    /// Reads `#8a9a5b`, `8a9a5b`, `#8a5`; capitals and blanks around it do not matter.
    ///
    /// # Errors
    /// [`NotAColour`] names the wrong character or the wrong length.
    pub fn parse(text: &str) -> Result<Self, NotAColour> {
        let refuse = |why: String| NotAColour {
            text: text.chars().take(40).collect(),
            why,
        };
        let digits = text.trim();
        let digits = digits.strip_prefix('#').unwrap_or(digits);
        if let Some(wrong) = digits.chars().find(|c| !c.is_ascii_hexdigit()) {
            return Err(refuse(format!("“{wrong}” is no hex digit")));
        }
        let values: Vec<u8> = digits
            .chars()
            .filter_map(|c| c.to_digit(16))
            .filter_map(|d| u8::try_from(d).ok())
            .collect();
        match values.as_slice() {
            &[r, g, b] => Ok(Self::new(r * 17, g * 17, b * 17)),
            &[r1, r2, g1, g2, b1, b2] => Ok(Self::new(r1 * 16 + r2, g1 * 16 + g2, b1 * 16 + b2)),
            [] => Err(refuse("it is empty".to_owned())),
            other => Err(refuse(format!("it has {} digits", other.len()))),
        }
    }

    /// The colour as a meter would read it off the screen, under daylight.
    #[must_use]
    pub fn to_lab(self) -> Lab {
        from_linear([self.r, self.g, self.b].map(linear_level))
    }

    /// The nearest colour a screen has, each channel clipped on its own.
    #[must_use]
    pub fn nearest(lab: Lab) -> Self {
        let [r, g, b] = to_linear(lab).map(nearest_level);
        Self::new(r, g, b)
    }
}

/// Linear light of a level.
pub(crate) fn linear_level(level: u8) -> f64 {
    Curve::into_linear(level)
}

/// The level nearest to a linear light, clipped to what there is.
pub(crate) fn nearest_level(light: f64) -> u8 {
    Curve::from_linear(light)
}

/// The colour of linear red, green and blue light.
pub(crate) fn from_linear(rgb: [f64; 3]) -> Lab {
    let [x, y, z] = TO_XYZ.map(|row| row.iter().zip(rgb).map(|(m, v)| m * v).sum());
    Xyz { x, y, z }.to_lab(WHITE)
}

/// Linear red, green and blue light of a colour; one that no screen shows has some below 0 or above 1.
pub(crate) fn to_linear(lab: Lab) -> [f64; 3] {
    let Xyz { x, y, z } = lab.to_xyz(WHITE);
    // Cramer's rule on the matrix above.
    let [[a, b, c], [d, e, f], [g, h, i]] = TO_XYZ;
    let determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
    [
        (x * (e * i - f * h) - b * (y * i - f * z) + c * (y * h - e * z)) / determinant,
        (a * (y * i - f * z) - x * (d * i - f * g) + c * (d * z - y * g)) / determinant,
        (a * (e * z - y * h) - b * (d * z - y * g) + x * (d * h - e * g)) / determinant,
    ]
}

impl fmt::Display for Srgb {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.r, self.g, self.b)
    }
}

impl std::str::FromStr for Srgb {
    type Err = NotAColour;

    fn from_str(text: &str) -> Result<Self, NotAColour> {
        Self::parse(text)
    }
}

impl TryFrom<String> for Srgb {
    type Error = NotAColour;

    fn try_from(text: String) -> Result<Self, NotAColour> {
        Self::parse(&text)
    }
}

impl From<Srgb> for String {
    fn from(colour: Srgb) -> Self {
        colour.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_the_usual_ways_of_writing() {
        let sage = Srgb::new(0x8a, 0x9a, 0x5b);
        for text in ["#8a9a5b", "8A9A5B", "  #8A9a5b "] {
            assert_eq!(Srgb::parse(text), Ok(sage), "{text}");
        }
        assert_eq!(Srgb::parse("#8a5"), Ok(Srgb::new(0x88, 0xaa, 0x55)));
        assert_eq!(sage.to_string(), "#8a9a5b");
    }

    #[test]
    fn says_what_is_wrong() {
        let said = |text: &str| Srgb::parse(text).unwrap_err().to_string();
        assert!(said("#8a9a5").contains("it has 5 digits"), "{}", said("#8a9a5"));
        assert!(said("sage").contains("“s” is no hex digit"));
        assert!(said(" # ").contains("it is empty"));
        assert!(said("#８a9a5b").contains("is no hex digit"));
        assert!(said(&"f".repeat(5000)).len() < 300);
    }

    #[test]
    fn every_channel_value_comes_back() {
        for v in 0..=255 {
            let colour = Srgb::new(v, 255 - v, v / 2);
            assert_eq!(Srgb::nearest(colour.to_lab()), colour);
        }
    }
}
