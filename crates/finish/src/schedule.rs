//! A finishing schedule with what it costs in each of the five measures, and the answer when there is none.

use serde::{Deserialize, Serialize};

use crate::finding::Finding;
use crate::step::Step;
use trade::vocabulary;

/// The five measures by which schedules are compared.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Measures {
    /// Materials and labour, minor units of the shop's currency.
    pub cost_minor: i64,
    /// Of that, materials.
    pub materials_minor: i64,
    /// Work by hand, minutes.
    pub hands_on_min: u32,
    /// From the first step until light use, minutes at the reference air, with hands always free.
    pub elapsed_min: u32,
    /// From the first step until fully cured, minutes.
    pub cured_min: u32,
    /// How hard it wears, 1 (delicate) to 5 (the hardest).
    pub wear: u8,
    /// What is breathed: grams of solvent, weighted up for the nastier, with dust; for ranking only.
    pub exposure: u32,
}

vocabulary! {
    /// What a schedule is best at among those found.
    BestAt is "measure to be best at" {
        Cheapest = "cheapest", "cheapest";
        LeastHandsOn = "least hands-on", "least hands-on", ["least-hands-on"];
        SoonestDone = "soonest done", "soonest done", ["soonest-done"];
        HardestWearing = "hardest wearing", "hardest wearing", ["hardest-wearing"];
        GentlestToBreathe = "gentlest to breathe", "gentlest to breathe", ["gentlest-to-breathe"];
        KeepsOldFinish = "keeps the old finish", "keeps the old finish", ["keeps-the-old-finish"];
        FromTheShelf = "from the shelf", "from the shelf", ["from-the-shelf"];
        AllRound = "good all round", "good all round", ["good-all-round"];
    }
}

/// One way to get from the zone as found to the zone as wished.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FinishingSchedule {
    /// What it is best at; never empty.
    pub best_at: Vec<BestAt>,
    /// Its measures.
    pub measures: Measures,
    /// Whether the old finish stays underneath.
    pub keeps_old_finish: bool,
    /// Its steps in order.
    pub steps: Vec<Step>,
    /// What the check says of it: notes only.
    pub notes: Vec<Finding>,
}

/// A change that would free a wish.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Release {
    /// The change, in words: "give up `without spraying`".
    pub change: String,
    /// The wish it touches: a key of the plan file such as `without`, `class`, `strip`, or the name of a setting.
    pub key: String,
}

/// No schedule meets the wish.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[error("no finishing schedule for {zone}: {wish} stands against {against}")]
pub struct NoSchedule {
    /// The zone.
    pub zone: String,
    /// The wish that cannot be met.
    pub wish: String,
    /// What it stands against.
    pub against: String,
    /// The findings that bar the way, worst first.
    pub findings: Vec<Finding>,
    /// The smallest changes that free it, each enough by itself; empty if none of those tried does.
    pub releases: Vec<Release>,
}
