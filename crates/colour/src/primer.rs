//! Which colour of primer saves coats.
//!
//! A primer is put on for what it does to the wood; since it is there, its colour may as well help. White helps pale paints,
//! grey helps strong ones that hide poorly but dark, a primer tinted towards the paint helps nearly always. Each is reckoned
//! through: old colour, primer over it, paint over that.

use quantity::WetFilm;
use serde::{Deserialize, Serialize};

use crate::coats::{Coats, HidingError, Scrutiny, coats_over, ground};
use crate::hiding::Hiding;
use crate::lab::Lab;

/// What colour the primer has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PrimerColour {
    /// No primer.
    None,
    /// As it comes.
    White,
    /// Tinted grey.
    Grey,
    /// Tinted towards the paint.
    NearTarget,
}

impl PrimerColour {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::None, Self::White, Self::Grey, Self::NearTarget];

    /// What it looks like where it covers, for a paint of this colour.
    ///
    /// # Source
    /// `common-practice`: white gives back 85 % of the light, grey 35 %; a white base takes about half of a colour's strength.
    #[must_use]
    pub fn seen(self, paint: Lab) -> Option<Lab> {
        match self {
            Self::None => None,
            Self::White => Some(Lab::new(93.9, 0.0, 0.0)),
            Self::Grey => Some(Lab::new(65.7, 0.0, 0.0)),
            Self::NearTarget => Some(Lab::new(paint.l.max(35.0), 0.5 * paint.a, 0.5 * paint.b)),
        }
    }
}

/// A primer as a coat.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Primer {
    /// How well it hides.
    pub hiding: Hiding,
    /// How thick it is put on, wet.
    pub film: WetFilm,
    /// How many coats of it may be put on.
    pub most_coats: u8,
}

/// Coats of primer and paint with one colour of primer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PrimedCoats {
    /// The primer's colour.
    pub primer: PrimerColour,
    /// Coats of primer; 0 without one.
    pub primer_coats: u8,
    /// Coats of paint over it.
    pub paint: Coats,
}

impl PrimedCoats {
    /// All coats to plan with.
    #[must_use]
    pub fn planned(&self) -> u8 {
        self.primer_coats + self.paint.planned()
    }

    /// All coats to price with.
    #[must_use]
    pub fn priced(&self) -> u8 {
        self.primer_coats + self.paint.priced()
    }
}

/// Each colour of primer with the number of coats that makes the fewest in all, best first; "no primer" is among them.
///
/// Equal counts are ordered by what they leave to be seen, then by fewer coats of primer.
///
/// # Errors
/// [`HidingError`]: a colour, a film or a hiding that cannot be.
pub fn primed(
    old: Lab,
    paint: Lab,
    hiding: &Hiding,
    film: WetFilm,
    primer: &Primer,
    scrutiny: Scrutiny,
) -> Result<Vec<PrimedCoats>, HidingError> {
    let found = ground(old, "old")?;
    let mut all = Vec::new();
    for colour in PrimerColour::ALL {
        let Some(seen) = colour.seen(paint) else {
            let paint = coats_over(&found, paint, hiding, film, scrutiny)?;
            all.push(PrimedCoats {
                primer: colour,
                primer_coats: 0,
                paint,
            });
            continue;
        };
        let own = ground(seen, "primer's")?;
        let layer = primer.hiding.films(&own)?.typical;
        crate::hiding::check_film("a primer's film", primer.film.um(), "µm", 2000.0)?;
        let mut best: Option<PrimedCoats> = None;
        for coats in 1..=primer.most_coats.max(1) {
            let primed = layer.over(primer.film.um() * f64::from(coats), &found);
            let paint = coats_over(&primed, paint, hiding, film, scrutiny)?;
            let one = PrimedCoats {
                primer: colour,
                primer_coats: coats,
                paint,
            };
            if best.as_ref().is_none_or(|best| rank(&one) < rank(best)) {
                best = Some(one);
            }
        }
        all.extend(best);
    }
    all.sort_by(|a, b| rank(a).cmp(&rank(b)).then(left(a).total_cmp(&left(b))));
    Ok(all)
}

/// Paint that never hides comes last, then fewer coats, then fewer at worst, then less primer.
fn rank(one: &PrimedCoats) -> (bool, u8, u8, u8) {
    (!one.paint.hides(), one.planned(), one.priced(), one.primer_coats)
}

/// What is left to be seen after the planned coats.
fn left(one: &PrimedCoats) -> f64 {
    one.paint
        .left_after
        .get(usize::from(one.paint.planned()) - 1)
        .copied()
        .unwrap_or(f64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::HidingClass;

    fn primer() -> Primer {
        Primer {
            hiding: Hiding::Class(HidingClass::Good),
            film: WetFilm::from_um(100.0),
            most_coats: 2,
        }
    }

    fn best(old: Lab, paint: Lab, class: HidingClass) -> Vec<PrimedCoats> {
        primed(
            old,
            paint,
            &Hiding::Class(class),
            WetFilm::from_um(100.0),
            &primer(),
            Scrutiny::SideBySide,
        )
        .unwrap()
    }

    const BLACK: Lab = Lab::new(12.0, 0.0, 0.0);

    #[test]
    fn a_sheer_yellow_over_black_wants_a_primer() {
        let plans = best(BLACK, Lab::new(82.0, 5.0, 80.0), HidingClass::Sheer);
        assert_ne!(plans[0].primer, PrimerColour::None);
        let bare = plans.iter().find(|p| p.primer == PrimerColour::None).unwrap();
        assert!(
            plans[0].planned() < bare.planned(),
            "{} {}",
            plans[0].planned(),
            bare.planned()
        );
    }

    #[test]
    fn a_dark_blue_that_hides_poorly_is_not_put_over_white() {
        let plans = best(BLACK, Lab::new(25.0, 5.0, -30.0), HidingClass::Weak);
        assert_ne!(plans[0].primer, PrimerColour::White);
        let of = |colour| plans.iter().find(|p| p.primer == colour).unwrap().planned();
        assert!(of(PrimerColour::NearTarget) <= of(PrimerColour::White));
    }

    #[test]
    fn paint_that_hides_at_once_needs_no_primer() {
        let plans = best(Lab::new(70.0, 0.0, 0.0), Lab::new(40.0, 0.0, 0.0), HidingClass::Best);
        assert_eq!((plans[0].primer, plans[0].planned()), (PrimerColour::None, 1));
        assert_eq!(plans.len(), 4);
    }
}
