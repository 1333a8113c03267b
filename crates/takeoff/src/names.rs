//! Finding surfaces by the words people use.

use crate::{DefaultZone, Surface, TakeOff};

/// A word names no surface of this piece.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("this piece has no surface “{word}”; it has {}", .there_is.join(", "))]
pub struct UnknownSurface {
    /// What was asked for.
    pub word: String,
    /// The nearest name, where one is near enough to be meant.
    pub nearest: Option<String>,
    /// The names that would be taken: zones first, then single surfaces.
    pub there_is: Vec<String>,
}

/// Words of everyday speech beside the ids; the right-hand side is a zone's or a surface's id, or a group.
const ALIASES: &[(&str, &str)] = &[
    ("lid", "top"),
    ("tabletop", "top"),
    ("table-top", "top"),
    ("surface", "top"),
    ("leaf", "top"),
    ("carcass", "body"),
    ("carcase", "body"),
    ("case", "body"),
    ("frame-and-sides", "body"),
    ("apron", "aprons"),
    ("drawer", "drawer-fronts"),
    ("front-of-drawers", "drawer-fronts"),
    ("cabinet-doors", "doors"),
    ("door-fronts", "doors"),
    ("feet", "legs"),
    ("foot", "legs"),
    ("post", "legs"),
    ("posts", "legs"),
    ("base", "legs"),
    ("moulding", "mouldings"),
    ("molding", "mouldings"),
    ("moldings", "mouldings"),
    ("trim", "mouldings"),
    ("small-mouldings", "mouldings"),
    ("cornice", "mouldings"),
    ("knob", "hardware"),
    ("pull", "hardware"),
    ("handle", "hardware"),
    ("fitting", "hardware"),
    ("hinge", "hardware"),
    ("spindle", "slats"),
    ("rung", "slats"),
    ("ladder", "slats"),
    ("backrest", "slats"),
    ("back-rest", "slats"),
    ("stretcher", "rails"),
    ("rail", "rails"),
    ("apron-rails", "rails"),
    ("shelf", "shelves"),
    ("interior", "inside"),
    ("bottom", "underside"),
    ("mirror-frame", "frame"),
    ("field", "panel"),
    ("whole", "all"),
    ("everything", "all"),
];

/// See [`TakeOff::find`].
pub(crate) fn find<'a>(piece: &'a TakeOff, word: &str) -> Result<Vec<&'a Surface>, UnknownSurface> {
    let asked = normal(word);
    for candidate in forms_of(&asked) {
        let found = named(piece, &candidate);
        if !found.is_empty() {
            return Ok(found);
        }
        let aliases = ALIASES.iter().filter(|(from, _)| *from == candidate);
        for (_, to) in aliases {
            let found = named(piece, to);
            if !found.is_empty() {
                return Ok(found);
            }
        }
    }
    Err(refusal(piece, word, &asked))
}

/// The surfaces of exactly this name: one by id, a zone's, or a group's.
fn named<'a>(piece: &'a TakeOff, id: &str) -> Vec<&'a Surface> {
    let pick = |wanted: &dyn Fn(&Surface) -> bool| piece.surfaces.iter().filter(|s| wanted(s)).collect::<Vec<_>>();
    let by_id = pick(&|s| s.id == id);
    if !by_id.is_empty() {
        return by_id;
    }
    // A zone is what is usual of it; where nothing of it is usual (a back, an inside) asking for it is asking for all.
    let by_zone = pick(&|s| s.zone.id() == id && s.usual);
    if !by_zone.is_empty() {
        return by_zone;
    }
    let by_zone = pick(&|s| s.zone.id() == id);
    if !by_zone.is_empty() {
        return by_zone;
    }
    match id {
        "all" => pick(&|s| s.usual),
        "sides" => pick(&|s| s.id == "left-side" || s.id == "right-side"),
        "fronts" | "front" => {
            pick(&|s| matches!(s.zone, DefaultZone::DrawerFronts | DefaultZone::Doors) || s.id.starts_with("front-"))
        }
        "" => Vec::new(),
        // The first words of an id: “lid” of a scan's “lid-oak”, “back” of a chair's slats and rails.
        _ => pick(&|s| s.id.strip_prefix(id).is_some_and(|rest| rest.starts_with('-'))),
    }
}

/// A word as an id: lower case, one hyphen between words.
fn normal(word: &str) -> String {
    word.split(|c: char| !c.is_alphanumeric())
        .filter(|part| !part.is_empty())
        .map(str::to_lowercase)
        .collect::<Vec<_>>()
        .join("-")
}

/// The word itself, and its other number.
fn forms_of(word: &str) -> Vec<String> {
    let mut forms = vec![word.to_owned(), format!("{word}s")];
    if let Some(one) = word.strip_suffix('s') {
        forms.push(one.to_owned());
    }
    forms
}

/// The refusal that names what there is.
fn refusal(piece: &TakeOff, word: &str, asked: &str) -> UnknownSurface {
    let mut there_is: Vec<String> = Vec::new();
    for zone in DefaultZone::ALL {
        if piece.surfaces.iter().any(|s| s.zone == zone) {
            there_is.push(zone.id().to_owned());
        }
    }
    for surface in &piece.surfaces {
        if !there_is.contains(&surface.id) {
            there_is.push(surface.id.clone());
        }
    }
    let nearest = there_is
        .iter()
        .map(|name| (shared_pairs(asked, name), name))
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(a.1)))
        .filter(|(likeness, _)| *likeness > 0.4)
        .map(|(_, name)| name.clone());
    UnknownSurface {
        word: word.chars().take(40).collect(),
        nearest,
        there_is,
    }
}

/// Likeness of two words, 0 to 1: the share of letter pairs that they have in common (Dice's coefficient).
fn shared_pairs(a: &str, b: &str) -> f64 {
    let pairs = |word: &str| {
        let letters: Vec<char> = word.chars().collect();
        letters.windows(2).map(|w| (w[0], w[1])).collect::<Vec<_>>()
    };
    let (a, mut b) = (pairs(a), pairs(b));
    let total = a.len() + b.len();
    if total == 0 {
        return 0.0;
    }
    let mut common = 0_usize;
    for pair in a {
        if let Some(place) = b.iter().position(|other| *other == pair) {
            b.swap_remove(place);
            common += 1;
        }
    }
    2.0 * common as f64 / total as f64
}
