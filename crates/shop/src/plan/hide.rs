//! How many coats of paint hide the old colour of a zone: asked of the crate `colour`, handed to the search of `finish`.
//!
//! Where the shop has not said what colour is there, nothing is reckoned and the class's usual coats are planned. A can of the
//! shelf whose label says how it hides, how far it goes or what solids it has is taken at its word; any other paint is guessed
//! by its colour and goes on as thick as its class usually does.

use colour::coats::coats_to_hide_at;
use colour::{Hiding, HidingClass, Lab, Primer, Scrutiny, Srgb, primed};
use finish::{CoatsToHide, Look};
use quantity::{DryFilm, WetFilm};
use trade::FinishClass;
use trade::finish_rows::Group;

use crate::model::{Label, ShelfProduct, Zone};

/// A coat of brushed enamel when the class states no wet film (common practice).
const USUAL_WET_FILM_UM: f64 = 80.0;
/// One brushed coat of primer (typical of the primers' rows).
const PRIMER_WET_FILM_UM: f64 = 100.0;

/// The coats that hide an old colour.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Hides {
    /// With a paint of which nothing but its colour is known; `None` where a colour is not known.
    pub(crate) usual: Option<CoatsToHide>,
    /// With the shelf's cans that say more, by class.
    pub(crate) with: Vec<(FinishClass, CoatsToHide)>,
}

/// Coats over the surface as found and over the primer that saves most, with what of `shelf` may be used on the zone.
pub(crate) fn coats<'s>(zone: &Zone, shelf: impl Iterator<Item = &'s ShelfProduct>) -> Hides {
    let Some((old, new)) = colours(zone) else {
        return Hides::default();
    };
    let class = zone.wish.class.unwrap_or(FinishClass::WaterborneAcrylicEnamel);
    let guessed = Hiding::Class(HidingClass::guess(new));
    let mut cans: Vec<(FinishClass, &ShelfProduct)> = Vec::new();
    for product in shelf {
        let Some(class) = product.class.finish().filter(|class| class.row().group == Group::Paint) else {
            continue;
        };
        let is_named = zone.wish.product.as_deref() == Some(product.name.as_str());
        match cans.iter_mut().find(|(of, _)| *of == class) {
            Some(can) if is_named => can.1 = product,
            Some(_) => {}
            None => cans.push((class, product)),
        }
    }
    let with = cans.into_iter().filter_map(|(class, product)| {
        let label = &product.label;
        let says_nothing = label.hiding.is_none() && label.spread.is_none() && label.solids.is_none();
        if says_nothing {
            return None;
        }
        let hiding = hiding_of(label).unwrap_or(guessed);
        Some((class, to_hide(old, new, &hiding, film(class, label))?))
    });
    Hides {
        with: with.collect(),
        usual: to_hide(old, new, &guessed, film(class, &Label::default())),
    }
}

/// The old colour and the new one, where both are known and the zone is to be painted.
fn colours(zone: &Zone) -> Option<(Lab, Lab)> {
    if zone.wish.look != Look::Paint {
        return None;
    }
    let lab = |colour: &str| Srgb::parse(colour).ok().map(Srgb::to_lab);
    let new = lab(zone.wish.colour.as_deref()?)?;
    let old = lab(zone.found.iter().rev().find_map(|layer| layer.colour.as_deref())?)?;
    Some((old, new))
}

/// What the label says of hiding, at the spread it says it for.
fn hiding_of(label: &Label) -> Option<Hiding> {
    Some(Hiding::ContrastRatio {
        // A sheet's "100 %" is the end of its scale: no paint hides without any rest.
        ratio: label.hiding?.min(0.999),
        at: label.hiding_at.or(label.spread).unwrap_or(HidingClass::RATE),
    })
}

/// The wet film of one brushed coat: from the label's spread, else from its solids at the class's dry film, else the class's own.
fn film(class: FinishClass, label: &Label) -> WetFilm {
    let row = class.row();
    let by_solids = || {
        let dry = DryFilm::from_um(row.dry_film_um?.typical);
        Some(dry.wetted(label.solids?))
    };
    label
        .spread
        .map(quantity::Spread::wet_film)
        .or_else(by_solids)
        .unwrap_or_else(|| WetFilm::from_um(row.wet_film_um.unwrap_or(USUAL_WET_FILM_UM)))
}

fn to_hide(old: Lab, new: Lab, hiding: &Hiding, film: WetFilm) -> Option<CoatsToHide> {
    // Furniture is looked at from arm's length, not edge to edge with a swatch.
    let scrutiny = Scrutiny::ArmsLength;
    let over_found = coats_to_hide_at(old, new, hiding, film, scrutiny).ok()?.planned();
    let primer = Primer {
        hiding: Hiding::Class(HidingClass::Good),
        film: WetFilm::from_um(PRIMER_WET_FILM_UM),
        most_coats: 1,
    };
    let ways = primed(old, new, hiding, film, &primer, scrutiny).ok()?;
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

    fn usual(zone: &Zone) -> Option<CoatsToHide> {
        coats(zone, std::iter::empty()).usual
    }

    fn enamel(label: Label) -> ShelfProduct {
        ShelfProduct {
            name: "off-white".to_owned(),
            class: trade::Material::Finish(FinishClass::WaterborneAcrylicEnamel),
            size: quantity::Volume::from_us_quarts(1.0),
            left: 1.0,
            price: quantity::Money::from_minor(2700),
            label,
            opened: None,
            goes_off: None,
            colour: Some("#f4f1e8".to_owned()),
        }
    }

    #[test]
    fn a_dark_old_colour_wants_more_coats_of_white_than_a_light_one() {
        let over = |old| usual(&zone(Some(old), "#f4f1e8")).unwrap().over_found;
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
            let hide = usual(&zone(Some("#5a3320"), new)).unwrap();
            assert!(hide.over_primer <= hide.over_found, "{new}: {hide:?}");
        }
    }

    #[test]
    fn without_an_old_colour_nothing_is_claimed() {
        let can = enamel(Label {
            hiding: Some(0.98),
            ..Label::default()
        });
        assert_eq!(coats(&zone(None, "#f4f1e8"), [&can].into_iter()), Hides::default());
    }

    #[test]
    fn a_can_that_says_how_it_hides_is_taken_at_its_word() {
        let over_found = |label| {
            let can = enamel(label);
            let hides = coats(&zone(Some("#1e2a3a"), "#f4f1e8"), [&can].into_iter());
            hides.with.first().map(|(class, hide)| {
                assert_eq!(*class, FinishClass::WaterborneAcrylicEnamel);
                hide.over_found
            })
        };
        // Navy under off-white. A guess by colour stands where the label is silent.
        assert_eq!(over_found(Label::default()), None);
        let says = |ratio: f64| Label {
            hiding: Some(ratio),
            hiding_at: Some(quantity::Spread::from_m2_per_litre(8.0)),
            ..Label::default()
        };
        let (strong, weak) = (over_found(says(0.995)).unwrap(), over_found(says(0.80)).unwrap());
        assert!(strong < weak && strong <= 3 && weak >= 4, "{strong} and {weak}");
        // The same paint drawn out twice as far goes on half as thick.
        let thin = Label {
            spread: Some(quantity::Spread::from_m2_per_litre(24.0)),
            ..says(0.98)
        };
        let thick = Label {
            spread: Some(quantity::Spread::from_m2_per_litre(12.0)),
            ..says(0.98)
        };
        assert!(over_found(thin) > over_found(thick));
    }
}
