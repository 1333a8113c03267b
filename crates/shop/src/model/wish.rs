//! What a zone should become.

use serde::{Deserialize, Serialize};
use trade::FinishClass;

/// How the zone is to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Look {
    /// The wood to be seen, under a clear coat.
    Clear,
    /// The wood to be seen, in another tone, under a clear coat.
    Stain,
    /// Covered by a colour.
    Paint,
    /// Covered by a metallic colour.
    Metallic,
    /// The wood to be seen, under wax.
    Wax,
    /// What is there stays: cleaned, and no more.
    Keep,
}

impl Look {
    /// Each look with its word.
    pub const WORDS: [(&'static str, Look); 6] = [
        ("clear", Look::Clear),
        ("stain", Look::Stain),
        ("paint", Look::Paint),
        ("metallic", Look::Metallic),
        ("wax", Look::Wax),
        ("keep", Look::Keep),
    ];
}

/// How much the finished surface shines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sheen {
    /// No shine at all.
    Flat,
    /// A dull shine.
    Matte,
    /// Between matte and satin.
    Eggshell,
    /// A soft shine.
    Satin,
    /// A clear shine.
    SemiGloss,
    /// A full shine.
    Gloss,
}

impl Sheen {
    /// Each sheen with its word.
    pub const WORDS: [(&'static str, Sheen); 6] = [
        ("flat", Sheen::Flat),
        ("matte", Sheen::Matte),
        ("eggshell", Sheen::Eggshell),
        ("satin", Sheen::Satin),
        ("semi-gloss", Sheen::SemiGloss),
        ("gloss", Sheen::Gloss),
    ];
}

/// What is not to be done or used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Without {
    /// No solvents that need more than ordinary ventilation.
    StrongSolvents,
    /// No spraying, neither gun nor can.
    Spraying,
    /// No dry sanding.
    Sanding,
    /// No chemical stripping.
    ChemicalStripping,
    /// No heat gun.
    Heat,
}

impl Without {
    /// Each with its word.
    pub const WORDS: [(&'static str, Without); 5] = [
        ("strong-solvents", Without::StrongSolvents),
        ("spraying", Without::Spraying),
        ("sanding", Without::Sanding),
        ("chemical-stripping", Without::ChemicalStripping),
        ("heat", Without::Heat),
    ];
}

/// What a zone should become; the default keeps what is there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Wish {
    /// How it is to look.
    pub look: Look,
    /// How much it is to shine; `None` takes what the class gives.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheen: Option<Sheen>,
    /// Its colour, `#rrggbb`, for paint, metallic and stain.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
    /// `Some(true)`: to bare wood; `Some(false)`: nothing comes off; `None`: whichever serves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strip: Option<bool>,
    /// This class for the finishing coats, and no other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<FinishClass>,
    /// This product of the shelf for the finishing coats.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// This many finishing coats.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coats: Option<u8>,
    /// What is not to be done or used.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub without: Vec<Without>,
    /// Whether edges are to be worn through on purpose.
    #[serde(default)]
    pub distress: bool,
    /// Whether a glaze is to be wiped into the recesses.
    #[serde(default)]
    pub glaze: bool,
}

impl Wish {
    /// A wish for a look, all else left open.
    pub fn for_look(look: Look) -> Self {
        Wish {
            look,
            sheen: None,
            colour: None,
            strip: None,
            class: None,
            product: None,
            coats: None,
            without: Vec::new(),
            distress: false,
            glaze: false,
        }
    }
}

impl Default for Wish {
    fn default() -> Self {
        Wish::for_look(Look::Clear)
    }
}
