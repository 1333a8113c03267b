//! How many coats hide what is there.
//!
//! Each coat is laid, band by band, over what the last one left, and the whole is compared with the paint's own colour.
//! The old colour is the one that is really there: a white over white needs one coat where the same white over mahogany
//! needs five. Two counts come out, because two decisions hang on it: the one to plan days with, and the one to price and
//! buy with.

use std::fmt;

use quantity::WetFilm;
use serde::{Deserialize, Serialize};

use crate::difference;
use crate::hiding::{FilmPaint, Hiding, check_film};
use crate::lab::Lab;
use crate::light::Light;
use crate::spectrum::{Spectrum, Unpaintable};

pub use crate::hiding::HidingError;

/// No more coats than this are reckoned: whoever needs them should change the ground instead.
pub const MOST_COATS: u8 = 8;

/// How close to the paint's own colour counts as hidden.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Scrutiny {
    /// Not seen even edge to edge: a difference of 1.
    #[default]
    SideBySide,
    /// Not seen at arm's length: a difference of 2.
    ArmsLength,
}

impl Scrutiny {
    /// The largest difference (CIEDE2000) that passes.
    ///
    /// # Source
    /// `common-practice`: about 1 is the least that an eye tells apart side by side.
    #[must_use]
    pub const fn passes(self) -> f64 {
        match self {
            Self::SideBySide => 1.0,
            Self::ArmsLength => 2.0,
        }
    }
}

/// The coats that hide a colour, and how far each leaves it from the paint's own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Coats {
    /// Coats to plan with; `None` where even [`MOST_COATS`] do not hide.
    pub likely: Option<u8>,
    /// Coats to price and buy for: the same, or more where the film or the figures may fall short.
    pub maybe: Option<u8>,
    /// Difference (CIEDE2000) from the paint's own colour after the first, second … coat.
    pub left_after: Vec<f64>,
    /// The same where the film or the figures fall short.
    pub left_after_at_worst: Vec<f64>,
    /// What one sees after the first, second … coat.
    pub seen_after: Vec<Lab>,
    /// The difference that counts as hidden.
    pub passes: f64,
}

impl Coats {
    /// The count to price with, where "more than eight" is as many as [`MOST_COATS`].
    #[must_use]
    pub fn priced(&self) -> u8 {
        self.maybe.unwrap_or(MOST_COATS)
    }

    /// The count to plan with, where "more than eight" is as many as [`MOST_COATS`].
    #[must_use]
    pub fn planned(&self) -> u8 {
        self.likely.unwrap_or(MOST_COATS)
    }

    /// Whether the paint hides at all within [`MOST_COATS`].
    #[must_use]
    pub const fn hides(&self) -> bool {
        self.likely.is_some()
    }
}

/// "3", "3, maybe 4", "8, maybe more", "more than 8".
impl fmt::Display for Coats {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.likely, self.maybe) {
            (Some(likely), Some(maybe)) if maybe > likely => write!(f, "{likely}, maybe {maybe}"),
            (Some(likely), Some(_)) => write!(f, "{likely}"),
            (Some(likely), None) => write!(f, "{likely}, maybe more"),
            (None, _) => write!(f, "more than {MOST_COATS}"),
        }
    }
}

/// Coats of a paint of colour `new` that hide `old` side by side, each put on `film` thick when wet.
///
/// `new` is the paint's colour where it hides fully. Colours that no paint has are taken as the nearest one that has a
/// spectrum.
///
/// # Errors
/// [`HidingError`]: a colour, a contrast ratio, a card or a film that cannot be.
///
/// # Source
/// `kubelka-1948` by band on the spectrum of `smoothest-tanh`; scattering equal in all bands.
pub fn coats_to_hide(old: Lab, new: Lab, hiding: &Hiding, film: WetFilm) -> Result<Coats, HidingError> {
    coats_over(&ground(old, "old")?, new, hiding, film, Scrutiny::SideBySide)
}

/// As [`coats_to_hide`], with a say in how closely it will be looked at.
///
/// # Errors
/// As [`coats_to_hide`].
pub fn coats_to_hide_at(
    old: Lab,
    new: Lab,
    hiding: &Hiding,
    film: WetFilm,
    scrutiny: Scrutiny,
) -> Result<Coats, HidingError> {
    coats_over(&ground(old, "old")?, new, hiding, film, scrutiny)
}

/// The spectrum of a reading.
pub(crate) fn ground(colour: Lab, which: &'static str) -> Result<Spectrum, HidingError> {
    if colour.is_plausible() {
        Ok(Spectrum::nearest(colour).0)
    } else {
        Err(HidingError::Colour {
            which,
            source: Unpaintable {
                l: colour.l,
                a: colour.a,
                b: colour.b,
            },
        })
    }
}

pub(crate) fn coats_over(
    ground_now: &Spectrum,
    new: Lab,
    hiding: &Hiding,
    film: WetFilm,
    scrutiny: Scrutiny,
) -> Result<Coats, HidingError> {
    check_film("a film", film.um(), "µm", 2000.0)?;
    let full = ground(new, "new")?;
    let paints = hiding.films(&full)?;
    let own = full.lab(Light::Day);
    let seen_after = build_up(&paints.typical, film.um(), ground_now);
    let seen_at_worst = build_up(&paints.low, film.um(), ground_now);
    let left = |seen: &[Lab]| seen.iter().map(|lab| difference(*lab, own)).collect::<Vec<_>>();
    let (left_after, left_after_at_worst) = (left(&seen_after), left(&seen_at_worst));
    let passes = scrutiny.passes();
    let count = |left: &[f64]| {
        (1..=MOST_COATS)
            .zip(left)
            .find(|(_, left)| **left <= passes)
            .map(|(n, _)| n)
    };
    let likely = count(&left_after);
    Ok(Coats {
        likely,
        maybe: count(&left_after_at_worst),
        left_after,
        left_after_at_worst,
        seen_after,
        passes,
    })
}

/// What one sees after each coat.
fn build_up(paint: &FilmPaint, film_um: f64, ground: &Spectrum) -> Vec<Lab> {
    (1..=MOST_COATS)
        .map(|n| paint.over(film_um * f64::from(n), ground).lab(Light::Day))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::HidingClass;
    use quantity::Spread;

    const WHITE: Lab = Lab::new(94.0, -0.5, 2.0);
    const MAHOGANY: Lab = Lab::new(28.0, 14.0, 12.0);

    fn film() -> WetFilm {
        WetFilm::from_um(100.0)
    }

    #[test]
    fn the_old_colour_decides() {
        let hiding = Hiding::ContrastRatio {
            ratio: 0.85,
            at: Spread::from_m2_per_litre(10.0),
        };
        let over_white = coats_to_hide(Lab::new(93.0, -0.5, 2.0), WHITE, &hiding, film()).unwrap();
        let over_brown = coats_to_hide(MAHOGANY, WHITE, &hiding, film()).unwrap();
        assert_eq!(over_white.likely, Some(1));
        assert!(over_brown.planned() >= 3, "{over_brown}");
    }

    #[test]
    fn a_thinner_film_needs_no_fewer_coats() {
        let hiding = Hiding::Class(HidingClass::Fair);
        let mut last = 0;
        for um in [160.0, 120.0, 80.0, 40.0] {
            let coats = coats_to_hide(MAHOGANY, WHITE, &hiding, WetFilm::from_um(um)).unwrap();
            assert!(coats.planned() >= last && coats.priced() >= coats.planned());
            last = coats.planned();
        }
        assert!(last > 2);
    }

    #[test]
    fn a_better_class_needs_no_more_coats() {
        let counts: Vec<u8> = HidingClass::ALL
            .iter()
            .map(|class| {
                coats_to_hide(MAHOGANY, WHITE, &Hiding::Class(*class), film())
                    .unwrap()
                    .priced()
            })
            .collect();
        assert!(counts.is_sorted(), "{counts:?}");
        assert!(counts[0] < counts[4]);
    }

    #[test]
    fn looking_less_closely_needs_no_more_coats() {
        let hiding = Hiding::Class(HidingClass::Weak);
        let near = coats_to_hide(MAHOGANY, WHITE, &hiding, film()).unwrap();
        let far = coats_to_hide_at(MAHOGANY, WHITE, &hiding, film(), Scrutiny::ArmsLength).unwrap();
        assert!(far.planned() < near.planned(), "{far} {near}");
    }

    #[test]
    fn a_strip_says_the_same_as_the_ratio_it_was_made_with() {
        let ratio = Hiding::ContrastRatio {
            ratio: 0.9,
            at: Spread::from_m2_per_litre(10.0),
        };
        let full = Spectrum::smoothest(WHITE).unwrap();
        let film_paint = ratio.films(&full).unwrap().typical;
        let (black, white) = (Lab::new(8.0, 0.0, 0.0), Lab::new(92.0, 0.0, 1.0));
        let strip = |card: Lab| {
            film_paint
                .over(100.0, &Spectrum::smoothest(card).unwrap())
                .lab(Light::Day)
        };
        let drawn = Hiding::Drawdown {
            over_black: strip(black),
            over_white: strip(white),
            black,
            white,
            film: film(),
        };
        let one = coats_to_hide(MAHOGANY, WHITE, &ratio, film()).unwrap();
        let other = coats_to_hide(MAHOGANY, WHITE, &drawn, film()).unwrap();
        for (a, b) in one.left_after.iter().zip(&other.left_after) {
            assert!((a - b).abs() < 0.02 * a.max(0.1), "{a} {b}");
        }
    }

    #[test]
    fn refuses_what_cannot_be_and_says_why() {
        let said = |old, hiding: Hiding, um: f64| {
            coats_to_hide(old, WHITE, &hiding, WetFilm::from_um(um))
                .unwrap_err()
                .to_string()
        };
        let at = Spread::from_m2_per_litre(10.0);
        assert!(said(MAHOGANY, Hiding::ContrastRatio { ratio: 98.0, at }, 100.0).contains("“98 %” is 0.98"));
        assert!(said(MAHOGANY, Hiding::Class(HidingClass::Good), 0.0).contains("a film of 0 µm"));
        assert!(said(Lab::new(f64::NAN, 0.0, 0.0), Hiding::Class(HidingClass::Good), 100.0).contains("the old colour"));
        let black = Lab::new(8.0, 0.0, 0.0);
        let white = Lab::new(92.0, 0.0, 0.0);
        let swapped = Hiding::Drawdown {
            over_black: white,
            over_white: black,
            black,
            white,
            film: film(),
        };
        assert!(said(MAHOGANY, swapped, 100.0).contains("swapped"));
        let no_card = Hiding::Drawdown {
            over_black: black,
            over_white: white,
            black: white,
            white,
            film: film(),
        };
        assert!(said(MAHOGANY, no_card, 100.0).contains("at least 30 apart"));
    }

    #[test]
    fn a_count_reads_as_it_is_spoken() {
        let of = |likely, maybe| Coats {
            likely,
            maybe,
            left_after: vec![],
            left_after_at_worst: vec![],
            seen_after: vec![],
            passes: 1.0,
        };
        assert_eq!(of(Some(3), Some(4)).to_string(), "3, maybe 4");
        assert_eq!(of(Some(2), Some(2)).to_string(), "2");
        assert_eq!(of(Some(7), None).to_string(), "7, maybe more");
        assert_eq!(of(None, None).to_string(), "more than 8");
    }
}
