//! What a zone is made of, under everything that was ever put on it.

use std::fmt;

use crate::species_rows::Pores;
use crate::word::{self, UnknownWord, normalise};
use crate::{FoundSurface, Species};

/// A veneered face: its species where known, and how much of it there is to lose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Veneer {
    /// Species of the face, if known.
    pub species: Option<Species>,
    /// Thickness in micrometres; 100 to 6000 µm.
    pub thickness_um: u32,
}

impl Veneer {
    /// Thickness assumed where nobody measured it: 0.6 mm, the usual modern sliced veneer (common practice).
    pub const USUAL_UM: u32 = 600;
}

/// The material of a zone.
///
/// In files a species stands by its own id (`red-oak`, alias `oak`); a veneer as `walnut veneer`, `walnut veneer 0.9 mm`
/// or just `veneer`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Substrate {
    /// Solid wood of a known species.
    Solid(Species),
    /// Wood, of which no more is known.
    Wood,
    /// A veneered face.
    Veneer(Veneer),
    /// Plywood.
    Plywood,
    /// Medium-density fibreboard.
    Mdf,
    /// Particle board (chipboard).
    ParticleBoard,
    /// Plastic laminate or melamine.
    Laminate,
    /// Brass or another copper alloy.
    Brass,
    /// Steel.
    Steel,
    /// Cast or wrought iron.
    Iron,
    /// Aluminium.
    Aluminium,
    /// Chromium- or nickel-plated metal.
    PlatedMetal,
    /// Glass or mirror.
    Glass,
    /// Wicker, rattan, cane or rush.
    Wicker,
}

/// The plain substrates: id, label, aliases.
const PLAIN: &[(Substrate, &str, &str, &[&str])] = &[
    (
        Substrate::Wood,
        "wood",
        "wood of unknown species",
        &["unknown-wood", "solid-wood", "hardwood", "softwood"],
    ),
    (Substrate::Plywood, "plywood", "plywood", &["ply"]),
    (
        Substrate::Mdf,
        "mdf",
        "MDF",
        &["fibreboard", "fiberboard", "medium-density-fibreboard"],
    ),
    (
        Substrate::ParticleBoard,
        "particle-board",
        "particle board",
        &["particleboard", "chipboard"],
    ),
    (
        Substrate::Laminate,
        "laminate",
        "laminate or melamine",
        &["melamine", "plastic-laminate"],
    ),
    (Substrate::Brass, "brass", "brass", &["copper", "bronze"]),
    (Substrate::Steel, "steel", "steel", &["metal"]),
    (Substrate::Iron, "iron", "iron", &["cast-iron", "wrought-iron"]),
    (Substrate::Aluminium, "aluminium", "aluminium", &["aluminum"]),
    (
        Substrate::PlatedMetal,
        "plated-metal",
        "plated metal",
        &["chrome", "nickel", "plated"],
    ),
    (Substrate::Glass, "glass", "glass", &["mirror"]),
    (
        Substrate::Wicker,
        "wicker",
        "wicker or cane",
        &["rattan", "cane", "rush"],
    ),
];

impl Substrate {
    /// Every plain substrate and every solid species, and a veneer of unknown species at the usual thickness.
    pub fn every() -> impl Iterator<Item = Substrate> {
        PLAIN
            .iter()
            .map(|entry| entry.0)
            .chain([Substrate::Veneer(Veneer {
                species: None,
                thickness_um: Veneer::USUAL_UM,
            })])
            .chain(Species::EVERY.iter().map(|species| Substrate::Solid(*species)))
    }

    /// The id without the thickness of a veneer: `red-oak`, `veneer`, `black-walnut-veneer`, `mdf`.
    pub fn id(self) -> String {
        match self {
            Substrate::Solid(species) => species.id().to_owned(),
            Substrate::Veneer(Veneer { species: None, .. }) => "veneer".to_owned(),
            Substrate::Veneer(Veneer {
                species: Some(species), ..
            }) => format!("{}-veneer", species.id()),
            plain => PLAIN
                .iter()
                .find(|entry| entry.0 == plain)
                .map_or("wood", |entry| entry.1)
                .to_owned(),
        }
    }

    /// What a person calls it.
    pub fn label(self) -> String {
        match self {
            Substrate::Solid(species) => species.label().to_owned(),
            Substrate::Veneer(Veneer { species: None, .. }) => "veneer".to_owned(),
            Substrate::Veneer(Veneer {
                species: Some(species), ..
            }) => format!("{} veneer", species.label()),
            plain => PLAIN
                .iter()
                .find(|entry| entry.0 == plain)
                .map_or("wood", |entry| entry.2)
                .to_owned(),
        }
    }

    /// Reads a substrate: a species, a plain material, or a veneer with species and thickness where given.
    ///
    /// # Errors
    /// [`UnknownWord`] with the nearest substrates; for a veneer of unreadable thickness, with how to write one.
    ///
    /// # Examples
    /// ```
    /// use trade::{Species, Substrate};
    /// assert_eq!(Substrate::parse("oak")?, Substrate::Solid(Species::RedOak));
    /// let Substrate::Veneer(veneer) = Substrate::parse("walnut veneer 0.9 mm")? else { unreachable!() };
    /// assert_eq!((veneer.species, veneer.thickness_um), (Some(Species::BlackWalnut), 900));
    /// # Ok::<(), trade::UnknownWord>(())
    /// ```
    pub fn parse(typed: &str) -> Result<Self, UnknownWord> {
        let word = normalise(typed);
        if let Some(at) = find_word(&word, "veneer").or_else(|| find_word(&word, "veneered")) {
            return parse_veneer(typed, &word, at);
        }
        if let Some(entry) = PLAIN
            .iter()
            .find(|entry| entry.1 == word || entry.3.contains(&word.as_str()))
        {
            return Ok(entry.0);
        }
        let solid = word.strip_prefix("solid-").unwrap_or(&word);
        Species::parse(solid).map(Substrate::Solid).map_err(|_| {
            let plain = PLAIN.iter().flat_map(|entry| {
                std::iter::once(entry.1)
                    .chain(entry.3.iter().copied())
                    .map(move |spelling| (spelling, entry.1))
            });
            word::refuse(
                "substrate",
                typed,
                plain.chain([("veneer", "veneer")]).chain(Species::spellings()),
            )
        })
    }

    /// The species where there is one and it is known.
    pub const fn species(self) -> Option<Species> {
        match self {
            Substrate::Solid(species) => Some(species),
            Substrate::Veneer(veneer) => veneer.species,
            _ => None,
        }
    }

    /// Whether the surface is wood: solid, veneer, plywood.
    pub const fn is_wood(self) -> bool {
        matches!(
            self,
            Substrate::Solid(_) | Substrate::Wood | Substrate::Veneer(_) | Substrate::Plywood
        )
    }

    /// Whether the surface is made of wood fibre in any form, and so drinks and swells: wood, boards, wicker.
    pub const fn is_fibrous(self) -> bool {
        self.is_wood() || matches!(self, Substrate::Mdf | Substrate::ParticleBoard | Substrate::Wicker)
    }

    /// Whether the surface is metal.
    pub const fn is_metal(self) -> bool {
        matches!(
            self,
            Substrate::Brass | Substrate::Steel | Substrate::Iron | Substrate::Aluminium | Substrate::PlatedMetal
        )
    }

    /// Whether water rusts it.
    pub const fn rusts(self) -> bool {
        matches!(self, Substrate::Steel | Substrate::Iron)
    }

    /// How much wood there is to lose before the face is spoiled, in micrometres; `None` where it does not matter.
    pub const fn face_um(self) -> Option<u32> {
        match self {
            Substrate::Veneer(veneer) => Some(veneer.thickness_um),
            Substrate::Plywood => Some(Veneer::USUAL_UM),
            Substrate::PlatedMetal => Some(10),
            _ => None,
        }
    }

    /// Tannin and other water-soluble colour, 0 (none) to 3; for wood of unknown species the careful 2.
    pub fn tannin(self) -> u8 {
        match self.species() {
            Some(species) => species.row().tannin,
            None if matches!(self, Substrate::Wood | Substrate::Veneer(_)) => 2,
            None => 0,
        }
    }

    /// Resin and knots, 0 (none) to 3; for wood of unknown species the careful 1.
    pub fn resin(self) -> u8 {
        match self.species() {
            Some(species) => species.row().resin,
            None if matches!(self, Substrate::Wood) => 1,
            None => 0,
        }
    }

    /// How unevenly it takes pigment stain, 0 (even) to 3; for wood of unknown species 1.
    pub fn blotch(self) -> u8 {
        match self.species() {
            Some(species) => species.row().blotch,
            None if self.is_wood() => 1,
            None => 0,
        }
    }

    /// The pores, for wood; diffuse fine ones where the species is unknown, none for what is not wood.
    pub fn pores(self) -> Pores {
        match self.species() {
            Some(species) => species.row().pores,
            None if self.is_wood() => Pores::DiffuseFine,
            None => Pores::None,
        }
    }

    /// The surface it shows to the first coat when bare.
    ///
    /// Glass answers as laminate does (smooth, sealed, no bite); wicker and boards as wood.
    pub fn bare_surface(self) -> FoundSurface {
        if self.is_metal() {
            return FoundSurface::BareMetal;
        }
        match self {
            Substrate::Laminate | Substrate::Glass => FoundSurface::LaminateMelamine,
            _ if self.tannin() >= 2 || self.resin() >= 2 => FoundSurface::BareWoodTanninKnot,
            _ => FoundSurface::BareWood,
        }
    }
}

/// Where `part` stands among the hyphenated parts of `word`, in bytes.
fn find_word(word: &str, part: &str) -> Option<usize> {
    let mut at = 0;
    for piece in word.split('-') {
        if piece == part {
            return Some(at);
        }
        at += piece.len() + 1;
    }
    None
}

/// Reads the species before and the thickness after the word "veneer" at byte `at`.
fn parse_veneer(typed: &str, word: &str, at: usize) -> Result<Substrate, UnknownWord> {
    let before = word[..at].trim_matches('-');
    let after = word[at..].split_once('-').map_or("", |(_, rest)| rest);
    let species = match before {
        "" | "wood" | "unknown" => None,
        named => Some(Species::parse(named)?),
    };
    let refused = || UnknownWord {
        expected: "thickness of veneer (0.1 mm to 6 mm)",
        given: typed.trim().to_owned(),
        nearest: vec!["veneer", "walnut veneer 0.6 mm"],
    };
    let thickness_um = match after {
        "" => Veneer::USUAL_UM,
        figure => {
            let number = figure.trim_end_matches("mm").trim_end_matches('-');
            let mm: f64 = number.parse().map_err(|_| refused())?;
            if !(0.1..=6.0).contains(&mm) {
                return Err(refused());
            }
            whole_um(mm)
        }
    };
    Ok(Substrate::Veneer(Veneer { species, thickness_um }))
}

/// Millimetres to whole micrometres, for the range [`parse_veneer`] has checked.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "0.1 to 6 mm was checked by the caller"
)]
fn whole_um(mm: f64) -> u32 {
    (mm * 1000.0).round() as u32
}

impl fmt::Display for Substrate {
    /// The form that [`Substrate::parse`] reads back, with the thickness of a veneer where it is not the usual one.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.id())?;
        match self {
            Substrate::Veneer(veneer) if veneer.thickness_um != Veneer::USUAL_UM => {
                write!(f, " {} mm", f64::from(veneer.thickness_um) / 1000.0)
            }
            _ => Ok(()),
        }
    }
}

impl serde::Serialize for Substrate {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Substrate {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let typed = <std::borrow::Cow<'de, str> as serde::Deserialize<'de>>::deserialize(deserializer)?;
        Self::parse(&typed).map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_substrate_is_read_back_from_its_own_words() {
        for substrate in Substrate::every() {
            assert_eq!(Substrate::parse(&substrate.to_string()), Ok(substrate));
        }
        let thick = Substrate::Veneer(Veneer {
            species: Some(Species::RedOak),
            thickness_um: 1_250,
        });
        assert_eq!(thick.to_string(), "red-oak-veneer 1.25 mm");
        assert_eq!(Substrate::parse("red-oak-veneer 1.25 mm"), Ok(thick));
    }

    #[test]
    fn veneer_thicker_than_a_board_is_refused_with_the_right_form() {
        let refused = Substrate::parse("oak veneer 40 mm").unwrap_err();
        assert!(refused.to_string().contains("0.1 mm to 6 mm"), "{refused}");
    }

    #[test]
    fn slip_of_the_finger_names_the_species_meant() {
        assert_eq!(Substrate::parse("walnutt").unwrap_err().nearest[0], "black-walnut");
    }

    #[test]
    fn oak_asks_for_stain_block_and_beech_does_not() {
        assert_eq!(
            Substrate::Solid(Species::RedOak).bare_surface(),
            FoundSurface::BareWoodTanninKnot
        );
        assert_eq!(Substrate::Solid(Species::Beech).bare_surface(), FoundSurface::BareWood);
        assert_eq!(
            Substrate::Solid(Species::PonderosaPine).bare_surface(),
            FoundSurface::BareWoodTanninKnot
        );
        assert_eq!(Substrate::Steel.bare_surface(), FoundSurface::BareMetal);
    }
}
