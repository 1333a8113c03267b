//! A zone: the part of a piece that gets one finish, with what is on it and what it should become.

use quantity::{Area, Length};
use serde::{Deserialize, Serialize};
use trade::{FinishClass, Substrate};

use super::wish::Wish;

/// One layer of the found build-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FoundLayer {
    /// Its class; `None` when nobody knows.
    pub class: Option<FinishClass>,
    /// How many coats of it (1–30).
    pub coats: u8,
    /// Its colour, `#rrggbb`, if it has one that matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
}

/// How the found surface is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Condition {
    /// Holds everywhere.
    Sound,
    /// Thin or gone in places.
    Worn,
    /// Comes away.
    Flaking,
    /// Grease or hand oils on it.
    Greasy,
    /// Nicotine or soot on it.
    Smoky,
    /// Rings or stains of water.
    WaterMarked,
    /// Silicone polish on it, or suspected.
    Polished,
    /// Rust on steel or tarnish on brass.
    Rusty,
}

impl Condition {
    /// Each condition with its word.
    pub const WORDS: [(&'static str, Condition); 8] = [
        ("sound", Condition::Sound),
        ("worn", Condition::Worn),
        ("flaking", Condition::Flaking),
        ("greasy", Condition::Greasy),
        ("smoky", Condition::Smoky),
        ("water-marked", Condition::WaterMarked),
        ("polished", Condition::Polished),
        ("rusty", Condition::Rusty),
    ];
}

/// A kind of damage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DefectKind {
    /// A line in the surface.
    Scratch,
    /// A hollow without lost wood.
    Dent,
    /// Lost wood.
    Gouge,
    /// A split along the grain.
    Crack,
    /// Lifted or lost veneer.
    LooseVeneer,
    /// A loose joint.
    LooseJoint,
    /// A screw or nail hole.
    Hole,
    /// A burnt spot.
    Burn,
    /// A dark stain in the wood.
    Stain,
}

impl DefectKind {
    /// Each kind with its word.
    pub const WORDS: [(&'static str, DefectKind); 9] = [
        ("scratch", DefectKind::Scratch),
        ("dent", DefectKind::Dent),
        ("gouge", DefectKind::Gouge),
        ("crack", DefectKind::Crack),
        ("loose-veneer", DefectKind::LooseVeneer),
        ("loose-joint", DefectKind::LooseJoint),
        ("hole", DefectKind::Hole),
        ("burn", DefectKind::Burn),
        ("stain", DefectKind::Stain),
    ];
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

/// What a lead test said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeadTest {
    /// None was found.
    None,
    /// Lead is there.
    Present,
}

impl LeadTest {
    /// Each result with its word.
    pub const WORDS: [(&'static str, LeadTest); 2] = [("none", LeadTest::None), ("present", LeadTest::Present)];
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
    /// Damage to make good.
    #[serde(default)]
    pub defects: Vec<Defect>,
    /// The lead test; `None` when none was made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lead: Option<LeadTest>,
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
