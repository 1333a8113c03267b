//! A zone: the part of a piece that gets one finish, with what is on it and what it should become.

use finish::{Condition, Contaminant, DefectKind, LeadTest};
use quantity::{Area, Length};
use serde::{Deserialize, Serialize};
use trade::{FinishClass, Substrate};

use super::wish::Wish;

/// One layer of the found build-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FoundLayer {
    /// Its class; [`FinishClass::Unknown`] when nobody knows.
    pub class: FinishClass,
    /// How many coats of it (1–30).
    pub coats: u8,
    /// Its colour, `#rrggbb`, if it has one that matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
}

/// Damage of one kind on a zone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Defect {
    /// What it is.
    pub kind: DefectKind,
    /// How many of it (1–200).
    pub count: u32,
    /// How deep, if that was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth: Option<Length>,
}

/// A part of a piece that gets one finish.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Zone {
    /// What it is called; unique within the piece.
    pub name: String,
    /// The surfaces of the form that belong to it; empty takes those which the form gives to a zone of this name.
    #[serde(default)]
    pub of: Vec<String>,
    /// What it is made of.
    pub substrate: Substrate,
    /// The layers on it, from the substrate outwards.
    #[serde(default)]
    pub found: Vec<FoundLayer>,
    /// How the surface is; empty counts as sound.
    #[serde(default)]
    pub state: Vec<Condition>,
    /// What else is on it: wax, silicone, grease, nicotine.
    #[serde(default)]
    pub contaminants: Vec<Contaminant>,
    /// Damage to make good.
    #[serde(default)]
    pub defects: Vec<Defect>,
    /// What a lead test said.
    #[serde(default = "not_tested")]
    pub lead: LeadTest,
    /// What it should become.
    #[serde(default)]
    pub wish: Wish,
    /// Its area where it was measured; over the form's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<Area>,
    /// Whether it comes off the piece to be worked on (pulls, hinges, locks); `None` decides by substrate and name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub comes_off: Option<bool>,
    /// The finishing schedule that the user chose, by its key; `None` takes the best by the shop's weighting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chosen: Option<String>,
}

fn not_tested() -> LeadTest {
    LeadTest::NotTested
}
