//! From where a piece is seen.

use quantity::UnitSystem;

use crate::solid::{Point, at};

/// Where the eye stands, and what is drawn besides the piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// Turns of an eighth round the piece from its front right; any number is taken.
    pub turn: i32,
    /// Whether the eye is high above the piece rather than a little.
    pub from_above: bool,
    /// Whether width, depth and height are written on.
    pub dimensions: bool,
    /// In which units.
    pub units: UnitSystem,
    /// How wide the drawing will be shown, in CSS pixels: line weights are chosen for it.
    pub width_px: u16,
}

impl Default for View {
    fn default() -> Self {
        Self {
            turn: 0,
            from_above: false,
            dimensions: false,
            units: UnitSystem::Imperial,
            width_px: 420,
        }
    }
}

impl View {
    /// How many turns there are.
    pub const TURNS: i32 = 8;

    /// The same view, an eighth further round.
    #[must_use]
    pub const fn turned(self) -> Self {
        Self {
            turn: (self.turn + 1).rem_euclid(Self::TURNS),
            ..self
        }
    }

    /// The same view with dimension lines.
    #[must_use]
    pub const fn with_dimensions(self, units: UnitSystem) -> Self {
        Self {
            dimensions: true,
            units,
            ..self
        }
    }

    /// From where it is, in words: “the front right”.
    #[must_use]
    pub const fn seen_from(self) -> &'static str {
        match self.turn.rem_euclid(Self::TURNS) {
            0 => "the front right",
            1 => "the right",
            2 => "the back right",
            3 => "the back",
            4 => "the back left",
            5 => "the left",
            6 => "the front left",
            _ => "the front",
        }
    }

    pub(super) fn eye(self) -> Eye {
        let azimuth = (28.0 + 45.0 * f64::from(self.turn.rem_euclid(Self::TURNS))).to_radians();
        let elevation = if self.from_above { 42.0_f64 } else { 21.0 }.to_radians();
        let ((sa, ca), (se, ce)) = (azimuth.sin_cos(), elevation.sin_cos());
        Eye {
            toward: at(sa * ce, -ca * ce, se),
            right: at(ca, sa, 0.0),
            up: at(-sa * se, ca * se, ce),
        }
    }
}

/// The three directions of a parallel projection: towards the eye, right on the sheet, up on the sheet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Eye {
    pub(super) toward: Point,
    pub(super) right: Point,
    pub(super) up: Point,
}

/// Places on the sheet are in metres, y up.
pub(super) use crate::solid::convex::Spot;

impl Eye {
    pub(super) const fn sees(&self, p: Point) -> Spot {
        (p.dot(self.right), p.dot(self.up))
    }

    /// How lit a face with this outward direction is, 0 to 1: the light comes from the upper left, before the piece.
    pub(super) fn light(&self, normal: Point) -> f64 {
        let light = self.right * -0.50 + self.up * 0.72 + self.toward * 0.48;
        (normal.dot(light) / (normal.size() * light.size()).max(1e-12)).clamp(0.0, 1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_say_which_sides_face_the_eye() {
        for turn in -8..16 {
            let view = View {
                turn,
                ..View::default()
            };
            let (eye, words) = (view.eye(), view.seen_from());
            // A side that is named is among those seen; what is seen most is named.
            for (word, seen) in [
                ("front", -eye.toward.y),
                ("back", eye.toward.y),
                ("right", eye.toward.x),
                ("left", -eye.toward.x),
            ] {
                assert!(!words.contains(word) || seen > 0.0, "{turn} {words}");
                assert!(words.contains(word) || seen < 0.7, "{turn} {words} {word}");
            }
        }
    }
}
