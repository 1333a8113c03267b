//! How well a paint hides, read from the one number that its user can find or make.
//!
//! Colour alone does not say it. What does is one of three things: a contrast ratio with the spreading rate that belongs
//! to it, from a data sheet; a drawdown over a black and white card, made at home and read with a meter or against a
//! fan of greys; or, failing both, a class. From it follows the film's scattering, taken as equal in all bands; what the
//! film swallows in each band follows from its colour.

use quantity::{Spread, WetFilm};
use serde::{Deserialize, Serialize};

use crate::film;
use crate::lab::Lab;
use crate::light::{BANDS, Bands, Light};
use crate::spectrum::{Spectrum, Unpaintable};
use crate::surface::{self, INSIDE};

/// What is known of a paint's hiding.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hiding {
    /// From a data sheet: luminance over black divided by luminance over white (0.80), 0 to 1, at a spreading rate.
    ContrastRatio {
        /// Above 0, below 1: a sheet's "98 %" is 0.98.
        ratio: f64,
        /// The rate at which it was measured.
        at: Spread,
    },
    /// A strip drawn at home over a black and white card.
    Drawdown {
        /// The dry paint where it lies over the black.
        over_black: Lab,
        /// The dry paint where it lies over the white.
        over_white: Lab,
        /// The bare black of the card.
        black: Lab,
        /// The bare white of the card.
        white: Lab,
        /// The wet film that was drawn.
        film: WetFilm,
    },
    /// Neither is known.
    Class(HidingClass),
}

/// Hiding in a word, at [`HidingClass::RATE`].
///
/// The first four are the bounds of EN 13300's opacity classes; the last two are common practice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HidingClass {
    /// Contrast ratio 0.995 and more.
    Best,
    /// 0.98 to 0.995.
    Good,
    /// 0.95 to 0.98.
    Fair,
    /// Below 0.95, as most strong clean colours are.
    Weak,
    /// A colour that is mostly see-through: bright yellows, oranges and reds.
    Sheer,
}

impl HidingClass {
    /// All classes, best first.
    pub const ALL: [Self; 5] = [Self::Best, Self::Good, Self::Fair, Self::Weak, Self::Sheer];

    /// The spreading rate the classes hold at.
    pub const RATE: Spread = Spread::from_m2_per_litre(8.0);

    /// Low, typical and high contrast ratio of the class.
    ///
    /// # Source
    /// `en-13300` for the bounds between the classes (status MEM); the typical value and the two lowest: `common-practice`.
    #[must_use]
    pub const fn contrast_ratio(self) -> (f64, f64, f64) {
        match self {
            Self::Best => (0.995, 0.997, 0.999),
            Self::Good => (0.98, 0.988, 0.995),
            Self::Fair => (0.95, 0.965, 0.98),
            Self::Weak => (0.85, 0.91, 0.95),
            Self::Sheer => (0.55, 0.70, 0.85),
        }
    }

    /// A first guess for a colour of which nothing else is known: whites and earthy or dark colours hide well; clean
    /// yellows, oranges and reds do not.
    ///
    /// # Source
    /// `common-practice`.
    #[must_use]
    pub fn guess(colour: Lab) -> Self {
        let warm = (10.0..110.0).contains(&colour.hue_deg());
        match colour.chroma() {
            c if c > 60.0 && warm => Self::Sheer,
            c if c > 40.0 => Self::Weak,
            _ if colour.l < 45.0 => Self::Good,
            _ => Self::Fair,
        }
    }
}

/// Why no hiding could be read from what was given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum HidingError {
    /// A colour that is none.
    #[error("the {which} colour: {source}")]
    Colour {
        /// Which of the colours.
        which: &'static str,
        /// What is wrong with it.
        source: Unpaintable,
    },
    /// A contrast ratio that is no share.
    #[error("a contrast ratio of {ratio} cannot be: it lies above 0 and below 1. A sheet's “98 %” is 0.98.")]
    Ratio {
        /// What was given.
        ratio: f64,
    },
    /// A film or rate that is none.
    #[error("{what} of {value} {unit} cannot be planned with: it must be above 0 and at most {most} {unit}.")]
    Film {
        /// Film or spreading rate.
        what: &'static str,
        /// The number given.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// The largest that is accepted.
        most: f64,
    },
    /// A drawdown whose card is no card.
    #[error(
        "the card's white gives back {white:.0} % of the light and its black {black:.0} %: they must be at least 30 apart to read hiding from."
    )]
    Card {
        /// Light reflectance of the white part.
        white: f64,
        /// Light reflectance of the black part.
        black: f64,
    },
    /// A drawdown darker over white than over black.
    #[error(
        "the strip gives back {over_black:.1} % over black and {over_white:.1} % over white: over white it must be the lighter. Are the two swapped?"
    )]
    Swapped {
        /// Light reflectance over black.
        over_black: f64,
        /// Light reflectance over white.
        over_white: f64,
    },
}

/// A paint as a film: by band what it swallows for what it throws back, and how much it throws back a micrometre of wet
/// film.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FilmPaint {
    k_over_s: Bands,
    scattering_per_um: f64,
}

/// Low, typical and high guess of the same paint.
#[derive(Debug, Clone)]
pub(crate) struct FilmPaints {
    pub(crate) low: FilmPaint,
    pub(crate) typical: FilmPaint,
}

/// The white of the standard's example, 0.80, and its black.
const WHITE: f64 = 0.80;
/// What a home strip or a sheet may overstate: the film at the bench is thinner in places than the one that was measured.
/// A guess, `common-practice`; checked in tests to cover the errors of the spectrum's reconstruction.
const DOUBT: f64 = 0.80;

impl FilmPaint {
    /// A layer of `film` on top of `backing` (both as a meter sees them).
    pub(crate) fn over(&self, film_um: f64, backing: &Spectrum) -> Spectrum {
        Spectrum(std::array::from_fn(|i| {
            let ground = surface::internal(backing.0[i], 0.0, INSIDE);
            surface::measured(self.inside(i, film_um, ground), 0.0, INSIDE)
        }))
    }

    fn inside(&self, band: usize, film_um: f64, ground: f64) -> f64 {
        film::over(
            self.k_over_s[band] * self.scattering_per_um,
            self.scattering_per_um,
            film_um,
            ground,
        )
    }

    /// The paint of this full-hiding colour whose luminances over the two backings stand in `ratio` at `film_um`.
    fn fitted(full: &Spectrum, ratio: f64, film_um: f64, black: &Spectrum, white: &Spectrum) -> Self {
        let mut paint = Self {
            k_over_s: internal_k_over_s(full),
            scattering_per_um: 0.0,
        };
        // The ratio grows with scattering from that of the bare card to 1: halve the interval on a log scale.
        let (mut low, mut high) = (1e-6_f64, 1e4_f64);
        while high / low > 1.0 + 1e-10 {
            let middle = (low * high).sqrt();
            paint.scattering_per_um = middle / film_um;
            let y = |card: &Spectrum| paint.over(film_um, card).xyz(Light::Day).y;
            if y(black) < ratio * y(white) {
                low = middle
            } else {
                high = middle
            }
        }
        paint
    }

    fn doubted(&self, factor: f64) -> Self {
        Self {
            k_over_s: self.k_over_s,
            scattering_per_um: self.scattering_per_um * factor,
        }
    }
}

/// K/S inside the film of the opaque colour.
pub(crate) fn internal_k_over_s(full: &Spectrum) -> Bands {
    let mut bands = [0.0; BANDS];
    for (value, r) in bands.iter_mut().zip(&full.0) {
        *value = film::k_over_s(surface::internal(*r, 0.0, INSIDE));
    }
    bands
}

impl Hiding {
    /// The film of a paint of this full-hiding colour.
    pub(crate) fn films(&self, full: &Spectrum) -> Result<FilmPaints, HidingError> {
        let (card_black, card_white) = (Spectrum::flat(0.0), Spectrum::flat(WHITE));
        match *self {
            Self::ContrastRatio { ratio, at } => {
                check_ratio(ratio)?;
                let rate = at.m2_per_litre();
                check_film("a spreading rate", rate, "m²/L", 100.0)?;
                let typical = FilmPaint::fitted(full, ratio.min(0.9995), at.wet_film().um(), &card_black, &card_white);
                Ok(FilmPaints {
                    low: typical.doubted(DOUBT),
                    typical,
                })
            }
            Self::Drawdown {
                over_black,
                over_white,
                black,
                white,
                film,
            } => {
                check_film("a drawn film", film.um(), "µm", 2000.0)?;
                let typical = drawn(full, (over_black, black), (over_white, white), film.um())?;
                Ok(FilmPaints {
                    low: typical.doubted(DOUBT),
                    typical,
                })
            }
            Self::Class(class) => {
                let (low, typical, _) = class.contrast_ratio();
                let film_um = HidingClass::RATE.wet_film().um();
                let fit = |ratio| FilmPaint::fitted(full, ratio, film_um, &card_black, &card_white);
                Ok(FilmPaints {
                    low: fit(low),
                    typical: fit(typical),
                })
            }
        }
    }
}

/// Fits a strip over a real card.
fn drawn(full: &Spectrum, dark: (Lab, Lab), light: (Lab, Lab), film_um: f64) -> Result<FilmPaint, HidingError> {
    let reflectance = |lab: Lab| lab.light_reflectance();
    let (black, white) = (reflectance(dark.1), reflectance(light.1));
    let apart = white - black;
    if !apart.is_finite() || apart < 30.0 {
        return Err(HidingError::Card { white, black });
    }
    let (over_black, over_white) = (reflectance(dark.0), reflectance(light.0));
    // Half a unit of the reading is noise.
    let gap = over_white - over_black;
    if !gap.is_finite() || gap < -0.5 {
        return Err(HidingError::Swapped { over_black, over_white });
    }
    let ratio = (over_black / over_white).min(0.9995);
    check_ratio(ratio)?;
    let (black, white) = (Spectrum::nearest(dark.1).0, Spectrum::nearest(light.1).0);
    Ok(FilmPaint::fitted(full, ratio, film_um, &black, &white))
}

fn check_ratio(ratio: f64) -> Result<(), HidingError> {
    if ratio > 0.0 && ratio < 1.0 {
        Ok(())
    } else {
        Err(HidingError::Ratio { ratio })
    }
}

pub(crate) fn check_film(what: &'static str, value: f64, unit: &'static str, most: f64) -> Result<(), HidingError> {
    if value > 0.0 && value <= most {
        Ok(())
    } else {
        Err(HidingError::Film {
            what,
            value,
            unit,
            most,
        })
    }
}
