//! The paints at hand, read.

use serde::{Deserialize, Serialize};

use crate::lab::Lab;
use crate::light::Light;
use crate::mix::pigment::{Gentleness, Pigment, mixed};
use crate::spectrum::Spectrum;

/// A paint on the shelf as its user knows it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ShelfPaint {
    /// What its user calls it.
    pub name: String,
    /// The colour of its dry swatch where it hides fully.
    pub colour: Lab,
    /// The colour of a dry swatch of it, half and half by volume with the shelf's white.
    pub tint_with_white: Option<Lab>,
}

/// Paints that can be mixed with each other: of one kind, one binder.
#[derive(Debug, Clone)]
pub struct Shelf {
    paints: Vec<ShelfPaint>,
    white: Option<usize>,
    /// The paints by band, read in three ways; the first is the one that recipes are made with.
    pub(crate) readings: [Vec<Pigment>; WAYS],
}

/// What two sorts of paint add to the doubt about a mixture.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Disagreement {
    pub(crate) with_tint: f64,
    pub(crate) without: f64,
}

/// Ways of reading the same swatches.
pub(crate) const WAYS: usize = 3;

/// Why these paints make no shelf.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ShelfError {
    /// Fewer than two or too many.
    #[error("{count} paints are on the shelf: to mix takes at least 2, and at most {most} are searched.")]
    Count {
        /// How many were given.
        count: usize,
        /// How many there may be.
        most: usize,
    },
    /// A reading that no paint can have.
    #[error(
        "“{paint}”: its {which} reads L {l:.1}, a {a:.1}, b {b:.1}, which no paint has. L lies between 0 and 100, a and b within ±128."
    )]
    Reading {
        /// Name of the paint.
        paint: String,
        /// Swatch or tint.
        which: &'static str,
        /// The reading's lightness.
        l: f64,
        /// The reading's a.
        a: f64,
        /// The reading's b.
        b: f64,
    },
    /// A tint without the white it was made with.
    #[error(
        "“{paint}” has a tint with white, but no paint of the shelf is named as that white. Name the white, or leave the tint out."
    )]
    NoWhite {
        /// Name of the paint.
        paint: String,
    },
    /// A white that is none.
    #[error("“{paint}” is named as the white but has lightness {l:.0}: a white to tint with has at least 80.")]
    NotWhite {
        /// Name of the paint.
        paint: String,
        /// Its lightness.
        l: f64,
    },
}

impl Shelf {
    /// No more paints than this are searched at once.
    pub const MOST: usize = 60;

    /// Reads the paints; `white` is the index of the one that the tints were made with.
    ///
    /// # Errors
    /// [`ShelfError`]: too few or too many paints, a reading that cannot be, a tint without a white.
    pub fn try_new(paints: Vec<ShelfPaint>, white: Option<usize>) -> Result<Self, ShelfError> {
        check(&paints, white)?;
        let base = white
            .and_then(|i| paints.get(i))
            .map(|paint| Pigment::white(paint.colour));
        let mut readings: [Vec<Pigment>; WAYS] = Default::default();
        for (i, paint) in paints.iter().enumerate() {
            let ways = match (&base, paint.tint_with_white) {
                (Some(white_paint), _) if white == Some(i) => {
                    [white_paint.clone(), white_paint.clone(), white_paint.clone()]
                }
                (Some(white_paint), Some(tint)) => [
                    Pigment::from_tint(paint.colour, tint, white_paint, Gentleness::USUAL),
                    Pigment::flat_from_tint(paint.colour, tint, white_paint),
                    Pigment::from_tint(paint.colour, tint, white_paint, Gentleness::LOOSE),
                ],
                _ => {
                    let guess = guessed_scattering(paint.colour);
                    [1.0, 0.5, 2.0].map(|factor| Pigment::flat(paint.colour, guess * factor))
                }
            };
            for (way, pigment) in readings.iter_mut().zip(ways) {
                way.push(pigment);
            }
        }
        Ok(Self {
            paints,
            white,
            readings,
        })
    }

    /// The paints, in the order given.
    #[must_use]
    pub fn paints(&self) -> &[ShelfPaint] {
        &self.paints
    }

    /// Index of the white that tints are made with.
    #[must_use]
    pub const fn white(&self) -> Option<usize> {
        self.white
    }

    /// What a mixture would look like: its reflectance as a meter would read it dry.
    ///
    /// Each part is a paint's index and its amount by volume, in any unit.
    #[must_use]
    pub fn mixture(&self, parts: &[(usize, f64)]) -> Spectrum {
        let known: Vec<(&Pigment, f64)> = parts
            .iter()
            .filter_map(|(i, amount)| Some((self.readings[0].get(*i)?, *amount)))
            .collect();
        mixed(&known)
    }

    /// How far off the first way of reading may be for a mixture, from paints with a tint and from those without: each
    /// paint in turn is read in the other ways while the rest stay; the root of the sum over paints of the mean square of
    /// the differences.
    pub(crate) fn disagreement(&self, parts: &[(usize, f64)]) -> Disagreement {
        let first = self.mixture(parts).lab(Light::Day);
        let square = |paint: usize, way: &[Pigment]| {
            let read = |i: usize| {
                if i == paint {
                    way.get(i)
                } else {
                    self.readings[0].get(i)
                }
            };
            let known: Vec<_> = parts
                .iter()
                .filter_map(|(i, amount)| Some((read(*i)?, *amount)))
                .collect();
            crate::difference(first, mixed(&known).lab(Light::Day)).powi(2)
        };
        let [_, other, third] = &self.readings;
        let mut sums = Disagreement::default();
        for (i, _) in parts {
            let known_by_tint = self.paints.get(*i).is_some_and(|paint| paint.tint_with_white.is_some());
            let sum = if known_by_tint {
                &mut sums.with_tint
            } else {
                &mut sums.without
            };
            *sum += f64::midpoint(square(*i, other), square(*i, third));
        }
        Disagreement {
            with_tint: sums.with_tint.sqrt(),
            without: sums.without.sqrt(),
        }
    }
}

/// How much a paint throws back beside the white, where no tint says it: pale paints hold much white pigment, deep ones
/// little. A guess, `common-practice`; a tint is worth more.
fn guessed_scattering(colour: Lab) -> f64 {
    0.25 + 0.75 * (colour.l / 100.0).powi(2)
}

fn check(paints: &[ShelfPaint], white: Option<usize>) -> Result<(), ShelfError> {
    if !(2..=Shelf::MOST).contains(&paints.len()) {
        return Err(ShelfError::Count {
            count: paints.len(),
            most: Shelf::MOST,
        });
    }
    for paint in paints {
        for (which, reading) in [
            ("swatch", Some(paint.colour)),
            ("tint with white", paint.tint_with_white),
        ] {
            if let Some(Lab { l, a, b }) = reading.filter(|lab| !lab.is_plausible()) {
                return Err(ShelfError::Reading {
                    paint: paint.name.clone(),
                    which,
                    l,
                    a,
                    b,
                });
            }
        }
        if white.is_none_or(|i| i >= paints.len()) && paint.tint_with_white.is_some() {
            return Err(ShelfError::NoWhite {
                paint: paint.name.clone(),
            });
        }
    }
    match white.and_then(|i| paints.get(i)) {
        Some(paint) if paint.colour.l < 80.0 => Err(ShelfError::NotWhite {
            paint: paint.name.clone(),
            l: paint.colour.l,
        }),
        _ => Ok(()),
    }
}
