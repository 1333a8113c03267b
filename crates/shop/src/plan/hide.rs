//! How many coats of paint hide the old colour of a zone: asked of the crate `colour`, handed to the search of `finish`.
//!
//! Where the shop has not said what colour is there, nothing is reckoned and the class's usual coats are planned.

use colour::coats::coats_to_hide_at;
use colour::{Hiding, HidingClass, Primer, Scrutiny, Srgb, primed};
use finish::{CoatsToHide, Look};
use quantity::WetFilm;
use trade::FinishClass;

use crate::model::Zone;

/// A coat of brushed enamel when the class states no wet film (common practice).
const USUAL_WET_FILM_UM: f64 = 80.0;
/// One brushed coat of primer (typical of the primers' rows).
const PRIMER_WET_FILM_UM: f64 = 100.0;

/// Coats over the surface as found and over the primer that saves most; `None` where a colour is not known.
pub(crate) fn coats(zone: &Zone) -> Option<CoatsToHide> {
    if zone.wish.look != Look::Paint {
        return None;
    }
    let new = Srgb::parse(zone.wish.colour.as_deref()?).ok()?.to_lab();
    let old = Srgb::parse(zone.found.iter().rev().find_map(|layer| layer.colour.as_deref())?)
        .ok()?
        .to_lab();
    let class = zone.wish.class.unwrap_or(FinishClass::WaterborneAcrylicEnamel);
    let film = WetFilm::from_um(class.row().wet_film_um.unwrap_or(USUAL_WET_FILM_UM));
    let hiding = Hiding::Class(HidingClass::guess(new));
    // Furniture is looked at from arm's length, not edge to edge with a swatch.
    let scrutiny = Scrutiny::ArmsLength;
    let over_found = coats_to_hide_at(old, new, &hiding, film, scrutiny).ok()?.planned();
    let primer = Primer {
        hiding: Hiding::Class(HidingClass::Good),
        film: WetFilm::from_um(PRIMER_WET_FILM_UM),
        most_coats: 1,
    };
    let ways = primed(old, new, &hiding, film, &primer, scrutiny).ok()?;
    let over_primer = ways
        .iter()
        .filter(|way| way.primer_coats > 0)
        .map(|way| way.paint.planned())
        .min()?;
    Some(CoatsToHide {
        over_found,
        over_primer: over_primer.min(over_found),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::FoundLayer;

    fn zone(old: Option<&str>, new: &str) -> Zone {
        Zone {
            found: vec![FoundLayer {
                colour: old.map(str::to_owned),
                ..FoundLayer::of(FinishClass::AlkydEnamel, 2)
            }],
            wish: crate::model::Wish {
                look: Look::Paint,
                colour: Some(new.to_owned()),
                ..crate::model::Wish::default()
            },
            ..Zone::new("body", trade::Substrate::parse("oak").unwrap())
        }
    }

    #[test]
    fn a_dark_old_colour_wants_more_coats_of_white_than_a_light_one() {
        let over = |old| coats(&zone(Some(old), "#f4f1e8")).unwrap().over_found;
        assert!(
            over("#1e2a3a") > over("#e9e4d6"),
            "{} and {}",
            over("#1e2a3a"),
            over("#e9e4d6")
        );
        assert!(over("#e9e4d6") <= 2);
    }

    #[test]
    fn a_primer_never_costs_coats_of_the_paint() {
        for new in ["#f4f1e8", "#35506b", "#f2c230", "#222222"] {
            let hide = coats(&zone(Some("#5a3320"), new)).unwrap();
            assert!(hide.over_primer <= hide.over_found, "{new}: {hide:?}");
        }
    }

    #[test]
    fn without_an_old_colour_nothing_is_claimed() {
        assert_eq!(coats(&zone(None, "#f4f1e8")), None);
    }
}
