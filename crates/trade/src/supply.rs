//! What a step uses up beside the material that it is named after: abrasives, rags, tape, what washes the brush.
//!
//! Discs, sheets and pads are told apart by their grit; each is counted in its own [`Unit`].

use std::fmt;

use crate::vocabulary;
use crate::{Grit, Material, UnknownWord};

vocabulary! {
    /// A kind of supply that is counted and not poured, or has no row among the preparation classes.
    SupplyKind is "kind of supply" {
        Disc = "disc", "abrasive disc", ["discs", "abrasive-disc", "sanding-disc"];
        Sheet = "sheet", "abrasive sheet", ["sheets", "abrasive-sheet", "sandpaper"];
        Pad = "pad", "abrasive pad", ["pads", "abrasive-pad"];
        Tape = "tape", "masking tape", ["masking-tape"];
        Rag = "rag", "rag", ["rags", "cloth", "cloths"];
        TackRag = "tack-rag", "tack rag", ["tack-rags"];
        LacquerThinner = "lacquer-thinner", "lacquer thinner";
        Water = "water", "water";
    }
}

/// What a supply is counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// Whole pieces.
    Piece,
    /// Metres.
    Metre,
    /// Millilitres.
    Millilitre,
}

impl SupplyKind {
    /// What it is counted in.
    pub const fn unit(self) -> Unit {
        match self {
            SupplyKind::Disc | SupplyKind::Sheet | SupplyKind::Pad | SupplyKind::Rag | SupplyKind::TackRag => {
                Unit::Piece
            }
            SupplyKind::Tape => Unit::Metre,
            SupplyKind::LacquerThinner | SupplyKind::Water => Unit::Millilitre,
        }
    }

    /// Whether one is told from another by its grit.
    pub const fn has_grit(self) -> bool {
        matches!(self, SupplyKind::Disc | SupplyKind::Sheet | SupplyKind::Pad)
    }
}

/// Something that a step uses up beside its own material.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Supply {
    /// A liquid of the tables: what thins, what washes the brush.
    Liquid(Material),
    /// A disc, sheet or pad of a grit; tape, rags and the rest without.
    Ware(SupplyKind, Option<Grit>),
}

impl Supply {
    /// What it is counted in.
    pub const fn unit(self) -> Unit {
        match self {
            Supply::Liquid(_) => Unit::Millilitre,
            Supply::Ware(kind, _) => kind.unit(),
        }
    }

    /// The id as it stands in JSON: a material's own, a kind's, or a kind's with its grit: `disc-p120`.
    pub fn id(self) -> String {
        match self {
            Supply::Liquid(material) => material.id().to_owned(),
            Supply::Ware(kind, None) => kind.id().to_owned(),
            Supply::Ware(kind, Some(grit)) => format!("{kind}-{}", grit.id().to_lowercase()),
        }
    }

    /// What a person calls it: "abrasive disc P120".
    pub fn label(self) -> String {
        match self {
            Supply::Liquid(material) => material.label().to_owned(),
            Supply::Ware(kind, None) => kind.label().to_owned(),
            Supply::Ware(kind, Some(grit)) => format!("{} {grit}", kind.label()),
        }
    }

    /// Reads what [`Supply::id`] writes.
    ///
    /// # Errors
    /// [`UnknownWord`] with the nearest kinds of supply.
    ///
    /// ```
    /// use trade::{Grit, Supply, SupplyKind};
    /// let disc = Supply::Ware(SupplyKind::Disc, Some(Grit::P120));
    /// assert_eq!(Supply::parse(&disc.id())?, disc);
    /// # Ok::<(), trade::UnknownWord>(())
    /// ```
    pub fn parse(typed: &str) -> Result<Self, UnknownWord> {
        let wanted = crate::word::normalise(typed);
        if let Some((kind, grit)) = wanted.rsplit_once('-')
            && let (Ok(kind), Ok(grit)) = (SupplyKind::parse(kind), Grit::parse(grit))
            && kind.has_grit()
        {
            return Ok(Supply::Ware(kind, Some(grit)));
        }
        match SupplyKind::parse(typed) {
            Ok(kind) => Ok(Supply::Ware(kind, None)),
            Err(unknown) => Material::parse(typed).map(Supply::Liquid).map_err(|_| unknown),
        }
    }
}

impl fmt::Display for Supply {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.id())
    }
}

impl serde::Serialize for Supply {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.id())
    }
}

impl<'de> serde::Deserialize<'de> for Supply {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let typed = <std::borrow::Cow<'de, str> as serde::Deserialize>::deserialize(deserializer)?;
        Self::parse(&typed).map_err(serde::de::Error::custom)
    }
}

/// What washes a class's tool, where it is more than water; read from the class's own words for its clean-up.
///
/// A class that names two things is washed in the first.
pub fn wash_of(clean_up: &str) -> Option<Supply> {
    let words = clean_up.trim();
    if words.is_empty() || words.starts_with("water") {
        None
    } else if words.starts_with("mineral spirits") {
        Some(Supply::Liquid(Material::Prep(crate::PrepClass::MineralSpirits)))
    } else if words.starts_with("alcohol") {
        Some(Supply::Liquid(Material::Prep(crate::PrepClass::Alcohol)))
    } else {
        Some(Supply::Ware(SupplyKind::LacquerThinner, None))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{FinishClass, PrepClass};

    #[test]
    fn every_supply_reads_back() {
        let mut all: Vec<Supply> = Material::every().map(Supply::Liquid).collect();
        for kind in SupplyKind::EVERY {
            if kind.has_grit() {
                all.extend(Grit::EVERY.iter().map(|grit| Supply::Ware(*kind, Some(*grit))));
            } else {
                all.push(Supply::Ware(*kind, None));
            }
        }
        for supply in all {
            assert_eq!(Supply::parse(&supply.id()), Ok(supply));
        }
    }

    #[test]
    fn what_washes_a_brush_is_what_its_row_says() {
        let wash = |class: FinishClass| wash_of(&class.row().clean_up);
        assert_eq!(wash(FinishClass::WaterborneAcrylicEnamel), None);
        assert_eq!(
            wash(FinishClass::OilPrimer),
            Some(Supply::Liquid(Material::Prep(PrepClass::MineralSpirits)))
        );
        assert_eq!(
            wash(FinishClass::DewaxedShellac),
            Some(Supply::Liquid(Material::Prep(PrepClass::Alcohol)))
        );
        assert_eq!(
            wash(FinishClass::NitrocelluloseLacquer),
            Some(Supply::Ware(SupplyKind::LacquerThinner, None))
        );
    }
}
