//! What a zone should become.

use finish::{Look, Sheen, Without};
use serde::{Deserialize, Serialize};
use trade::FinishClass;

/// What a zone should become; the default is a clear coat of whatever class serves best.
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
