//! What a count of coats does not say by itself.

use crate::coats::{Coats, MOST_COATS};
use crate::lab::Lab;

/// Something to know before painting.
#[derive(Debug, Clone, PartialEq)]
pub struct Warning {
    /// Stable name of the rule.
    pub id: &'static str,
    /// What is the matter, in words for the user.
    pub message: String,
    /// Why.
    pub why: &'static str,
    /// What to do.
    pub remedy: &'static str,
    /// Key in `docs/SOURCES.toml`.
    pub source: &'static str,
}

/// From this many coats on it is cheaper to change the ground than to go on.
const MANY_COATS: u8 = 4;
/// A difference of colour that the eye calls a cast.
const CAST: f64 = 1.0;

/// What to say beside [`Coats`] of a paint `new` over `old`; `bleeds` where the ground gives off tannin, resin, dye, smoke or
/// stain.
#[must_use]
pub fn warnings(old: Lab, new: Lab, coats: &Coats, bleeds: bool) -> Vec<Warning> {
    let mut all = Vec::new();
    all.extend(bleeds.then(bleed));
    all.extend(show_through(coats));
    all.extend(thin_places(coats));
    all.extend(undertone(old, new, coats));
    all
}

/// `bleed-is-not-hidden`.
fn bleed() -> Warning {
    Warning {
        id: "bleed-is-not-hidden",
        message: "What bleeds comes through however many coats are counted here.".to_owned(),
        why: "Tannin, resin, dye and smoke dissolve into each wet coat and rise with it; that is chemistry, not hiding.",
        remedy: "Seal it with a primer made to block stains, let it dry, and try a patch overnight.",
        source: "common-practice",
    }
}

/// `old-colour-shows-through`.
fn show_through(coats: &Coats) -> Option<Warning> {
    let message = match coats.likely {
        None => format!("Even {MOST_COATS} coats leave the old colour to be seen."),
        Some(n) if n >= MANY_COATS => format!("It takes {n} coats until the old colour is gone."),
        Some(_) => return None,
    };
    Some(Warning {
        id: "old-colour-shows-through",
        message,
        why: "The paint throws back too little light of its own to cover a ground so unlike it.",
        remedy: "Put a primer nearer to the paint under it, or choose a paint that hides better.",
        source: "kubelka-1948",
    })
}

/// `thin-places-show`.
fn thin_places(coats: &Coats) -> Option<Warning> {
    let planned = coats.likely?;
    let at_worst = *coats.left_after_at_worst.get(usize::from(planned) - 1)?;
    (at_worst > coats.passes).then(|| Warning {
        id: "thin-places-show",
        message: format!(
            "After {planned} coats thin places will still show: a difference of {at_worst:.1}, where {:.0} passes.",
            coats.passes
        ),
        why: "Edges, mouldings and the crests of grain keep less paint than the flat.",
        remedy: "Give edges and mouldings a touch more, or plan the further coat.",
        source: "common-practice",
    })
}

/// `old-colour-casts`: after all but the last coat what is left is a cast of hue rather than of light.
fn undertone(old: Lab, new: Lab, coats: &Coats) -> Option<Warning> {
    let planned = usize::from(coats.likely?);
    let seen = coats.seen_after.get(planned.checked_sub(2)?)?;
    let cast = (seen.a - new.a).hypot(seen.b - new.b);
    (cast > CAST && cast > 1.5 * (seen.l - new.l).abs()).then(|| Warning {
        id: "old-colour-casts",
        message: format!(
            "Until the last of {planned} coats the paint looks {} than it is.",
            direction(old, new)
        ),
        why: "What shows through is the old hue, not darkness: the eye takes it for another shade of the paint.",
        remedy: "Judge the colour, and match other parts to it, only after the last coat.",
        source: "kubelka-1948",
    })
}

/// The way in which the old colour pulls the new one.
fn direction(old: Lab, new: Lab) -> &'static str {
    let (da, db) = (old.a - new.a, old.b - new.b);
    match (da.abs() > db.abs(), da > 0.0, db > 0.0) {
        (true, true, _) => "redder",
        (true, false, _) => "greener",
        (false, _, true) => "yellower",
        (false, _, false) => "bluer",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Hiding, HidingClass, coats_to_hide};
    use quantity::WetFilm;

    fn ids(old: Lab, new: Lab, class: HidingClass, bleeds: bool) -> Vec<&'static str> {
        let coats = coats_to_hide(old, new, &Hiding::Class(class), WetFilm::from_um(100.0)).unwrap();
        warnings(old, new, &coats, bleeds).into_iter().map(|w| w.id).collect()
    }

    const RED: Lab = Lab::new(49.0, 45.0, 37.0);
    const IVORY: Lab = Lab::new(90.0, 0.0, 12.0);

    #[test]
    fn bleed_is_named_only_where_the_ground_bleeds() {
        assert!(ids(IVORY, IVORY, HidingClass::Best, true).contains(&"bleed-is-not-hidden"));
        assert!(ids(IVORY, IVORY, HidingClass::Best, false).is_empty());
    }

    #[test]
    fn a_sheer_paint_over_red_shows_it_and_takes_its_cast() {
        let said = ids(RED, IVORY, HidingClass::Sheer, false);
        assert!(said.contains(&"old-colour-shows-through"), "{said:?}");
        let said = ids(Lab::new(88.0, 30.0, 12.0), IVORY, HidingClass::Weak, false);
        assert!(said.contains(&"old-colour-casts"), "{said:?}");
        assert!(!ids(RED, IVORY, HidingClass::Best, false).contains(&"old-colour-casts"));
    }

    #[test]
    fn a_count_that_just_passes_warns_of_thin_places() {
        let film = WetFilm::from_um(100.0);
        let near = |um: f64| {
            let coats = coats_to_hide(RED, IVORY, &Hiding::Class(HidingClass::Fair), WetFilm::from_um(um)).unwrap();
            warnings(RED, IVORY, &coats, false)
                .iter()
                .any(|w| w.id == "thin-places-show")
        };
        // Some film passes only just, some film with room to spare.
        let told: Vec<bool> = (1..=20).map(|k| near(film.um() * f64::from(k) / 10.0)).collect();
        assert!(told.contains(&true) && told.contains(&false), "{told:?}");
    }
}
