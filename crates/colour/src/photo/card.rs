//! What colour the piece is now, so that its shading can be told from its paint.
//!
//! A reading is best. A grey card in the same light as the piece does roughly: it says how bright and how coloured the light
//! is, and the zone is measured against it.

use crate::lab::Lab;
use crate::photo::mask::count;
use crate::photo::{PhotoError, Picture};
use crate::srgb::{from_linear, linear_level, to_linear};

/// A round spot on a picture, in pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// From the left.
    pub x: usize,
    /// From the top.
    pub y: usize,
    /// Its radius.
    pub radius: usize,
}

/// The colour of the zone before it is painted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OldColour {
    /// Read with a meter or chosen by eye; the photograph's light counts as neutral.
    Reading(Lab),
    /// Taken from the photograph itself, against a grey card that lies in the same light.
    Card {
        /// A spot on the card.
        card: Spot,
        /// What the card gives back, 0 to 1; the usual one is [`GREY_CARD`].
        reflectance: f64,
        /// A spot on the zone, where it is evenly lit and does not gleam.
        zone: Spot,
    },
}

/// What the usual grey card gives back.
pub const GREY_CARD: f64 = 0.18;

/// Reflectance of the old colour and strength of the light, both in linear red, green, blue.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Start {
    pub(crate) old: [f64; 3],
    pub(crate) light: [f64; 3],
}

impl OldColour {
    pub(crate) fn start(self, picture: &Picture) -> Result<Start, PhotoError> {
        match self {
            Self::Reading(lab) => Ok(Start {
                old: to_linear(lab),
                light: [1.0; 3],
            }),
            Self::Card {
                card,
                reflectance,
                zone,
            } => {
                let light = light_of(picture, card, reflectance)?;
                let seen = picture.spot(zone)?.mean;
                Ok(Start {
                    old: std::array::from_fn(|c| seen[c] / light[c]),
                    light,
                })
            }
        }
    }
}

/// The colour of a spot, measured against a grey card in the same picture. Rough: good to some 5 of difference at best.
///
/// # Errors
/// [`PhotoError`]: a spot outside, a card that is over- or underexposed or not even.
pub fn colour_by_card(picture: &Picture, spot: Spot, card: Spot, reflectance: f64) -> Result<Lab, PhotoError> {
    let light = light_of(picture, card, reflectance)?;
    let seen = picture.spot(spot)?.mean;
    Ok(from_linear(std::array::from_fn(|c| seen[c] / light[c])))
}

fn light_of(picture: &Picture, card: Spot, reflectance: f64) -> Result<[f64; 3], PhotoError> {
    if !(0.02..=1.0).contains(&reflectance) {
        return Err(PhotoError::Card {
            what: "is said to give back a share that is not between 0.02 and 1",
        });
    }
    let seen = picture.spot(card)?;
    if seen.mean.iter().any(|v| *v > 0.95) {
        return Err(PhotoError::Card { what: "is overexposed" });
    }
    if seen.mean.iter().any(|v| *v < 0.004) {
        return Err(PhotoError::Card {
            what: "is too dark to measure",
        });
    }
    if seen.unevenness > 0.25 {
        return Err(PhotoError::Card {
            what: "is not even: something else lies within the spot",
        });
    }
    let (low, high) = seen
        .mean
        .iter()
        .fold((f64::MAX, 0.0_f64), |(low, high), v| (low.min(*v), high.max(*v)));
    if high / low > 4.0 {
        return Err(PhotoError::Card {
            what: "is not grey on the picture",
        });
    }
    Ok(seen.mean.map(|v| v / reflectance))
}

pub(crate) struct Seen {
    pub(crate) mean: [f64; 3],
    pub(crate) unevenness: f64,
}

impl Picture {
    pub(crate) fn spot(&self, spot: Spot) -> Result<Seen, PhotoError> {
        let Spot { x, y, radius } = spot;
        if x >= self.width() || y >= self.height() {
            return Err(PhotoError::Outside {
                x,
                y,
                width: self.width(),
                height: self.height(),
            });
        }
        let table = linear_table();
        let (mut sum, mut square, mut n) = ([0.0; 3], 0.0, 0);
        for row in y.saturating_sub(radius)..=(y.saturating_add(radius)).min(self.height() - 1) {
            for column in x.saturating_sub(radius)..=(x.saturating_add(radius)).min(self.width() - 1) {
                if row.abs_diff(y).pow(2) + column.abs_diff(x).pow(2) > radius.saturating_mul(radius) {
                    continue;
                }
                if let Some(pixel) = self.pixel(column, row) {
                    let value = [pixel.r, pixel.g, pixel.b].map(|v| f64::from(table[usize::from(v)]));
                    sum.iter_mut().zip(value).for_each(|(s, v)| *s += v);
                    square += value[1] * value[1];
                    n += 1;
                }
            }
        }
        let mean = sum.map(|s| s / count(n).max(1.0));
        let spread = (square / count(n).max(1.0) - mean[1] * mean[1]).max(0.0).sqrt();
        Ok(Seen {
            mean,
            unevenness: spread / mean[1].max(1e-6),
        })
    }
}

/// Linear light of each of the 256 levels.
pub(crate) fn linear_table() -> [f32; 256] {
    let mut table = [0.0; 256];
    for (level, out) in (0_u8..=255).zip(&mut table) {
        *out = crate::photo::plane::narrow(linear_level(level));
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Srgb, difference};

    /// Left half a grey card, right half a paint, both under a warm light.
    fn scene(card: [f64; 3], paint: Lab, light: [f64; 3]) -> Picture {
        let level = crate::srgb::nearest_level;
        let paint = to_linear(paint);
        let mut rgb = Vec::new();
        for i in 0..40 * 20 {
            for c in 0..3 {
                rgb.push(level(light[c] * if i % 40 < 20 { card[c] } else { paint[c] }));
            }
        }
        Picture::from_rgb(40, 20, rgb).unwrap()
    }

    const ON_CARD: Spot = Spot { x: 9, y: 10, radius: 6 };
    const ON_PAINT: Spot = Spot {
        x: 30,
        y: 10,
        radius: 6,
    };

    #[test]
    fn a_card_takes_the_light_out_of_the_colour() {
        let sage = Srgb::parse("#8a9a5b").unwrap().to_lab();
        let picture = scene([0.18; 3], sage, [1.1, 0.9, 0.6]);
        let read = colour_by_card(&picture, ON_PAINT, ON_CARD, GREY_CARD).unwrap();
        assert!(difference(read, sage) < 1.0, "{read:?}");
    }

    #[test]
    fn a_card_that_is_none_is_refused() {
        let sage = Srgb::parse("#8a9a5b").unwrap().to_lab();
        let said = |picture: &Picture, card| {
            colour_by_card(picture, ON_PAINT, card, GREY_CARD)
                .unwrap_err()
                .to_string()
        };
        assert!(said(&scene([0.18; 3], sage, [9.0; 3]), ON_CARD).contains("overexposed"));
        assert!(said(&scene([0.001; 3], sage, [1.0; 3]), ON_CARD).contains("too dark"));
        let half_off = Spot {
            x: 19,
            y: 10,
            radius: 8,
        };
        assert!(said(&scene([0.02; 3], sage, [1.0; 3]), half_off).contains("not even"));
        let outside = Spot {
            x: 40,
            y: 10,
            radius: 2,
        };
        assert!(said(&scene([0.18; 3], sage, [1.0; 3]), outside).contains("outside of the picture"));
    }
}
