//! A step of a finishing schedule: one operation by hand and the wait after it.

use quantity::Range;
use serde::{Deserialize, Serialize};
use trade::finish_rows::DryModel;
use trade::methods::Method;
use trade::{FinishClass, Grit, Material, Operation, PrepClass, Supply};

use trade::vocabulary;

vocabulary! {
    /// What a wait is for.
    WaitKind is "kind of wait" {
        Dwell = "dwell", "dwell";
        Set = "set", "set";
        Dry = "dry", "dry";
        Recoat = "recoat", "recoat";
        Cure = "cure", "cure";
    }
}

/// The wait after a step, at the reference air.
///
/// The next step of the zone starts at least `min_min` and, where `max_min` is given, at most `max_min` after the step's end;
/// where `or_after_min` is given too, it may instead start any time from then on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Wait {
    /// What it is for.
    pub kind: WaitKind,
    /// Shortest, minutes.
    pub min_min: u32,
    /// Longest, minutes.
    pub max_min: Option<u32>,
    /// The second window: from here on it is good again, minutes.
    pub or_after_min: Option<u32>,
    /// How room air stretches it; `None` for a wait that does not depend on the air.
    pub model: Option<DryModel>,
}

/// Why a step is there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reason {
    /// The rule that objects when the step is left out.
    pub rule: String,
    /// What goes wrong without it.
    pub text: String,
    /// Key of the source.
    pub source: String,
}

/// What a step does to the air, the room and the hands.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a flag of its own, and they occur in any combination"
)]
pub struct Hazards {
    /// Throws dust.
    pub dusty: bool,
    /// Leaves a wet coat that dust would spoil.
    pub wet: bool,
    /// Gives off organic solvent.
    pub solvent: bool,
    /// Burns when wet, or gives off vapour that does.
    pub flammable: bool,
    /// Leaves rags that can heat up by themselves.
    pub rags: bool,
    /// Is sprayed.
    pub sprayed: bool,
    /// Is strongly alkaline or acid.
    pub caustic: bool,
    /// Holds isocyanate.
    pub isocyanate: bool,
    /// Gives off formaldehyde.
    pub formaldehyde: bool,
    /// Makes heat or flame.
    pub hot: bool,
    /// Disturbs paint that may hold lead.
    pub lead: bool,
}

/// How much of the material a step takes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Quantity {
    /// Millilitres as it comes from the can: if all goes well, to reckon with, to have at hand.
    pub ml: Range<f64>,
    /// Millilitres of thinner in it, where the label asks for any.
    #[serde(default = "none")]
    pub thinner_ml: Range<f64>,
    /// What it was reckoned from: the spread or film, and the method.
    pub basis: String,
}

const fn none() -> Range<f64> {
    Range::exactly(0.0)
}

/// Something used up beside the step's own material.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Used {
    /// What.
    pub what: Supply,
    /// How much, in its own unit; shares of a disc or a pad count, so that zones can be added up.
    pub amount: Range<f64>,
}

/// One step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// What is done.
    pub operation: Operation,
    /// What with.
    pub material: Option<Material>,
    /// The shelf's product, where the shop holds one of the class.
    pub product: Option<String>,
    /// The grit of an abrasive step.
    pub grit: Option<Grit>,
    /// Which coat of its material this is, from 1.
    pub coat: Option<u8>,
    /// How the material is put on.
    pub method: Option<Method>,
    /// Whether an abrasive step is done wet, so that it throws no dust.
    pub wet: bool,
    /// Work by hand, whole minutes, with setting up and cleaning the tool.
    pub hands_on_min: u32,
    /// How much material.
    pub quantity: Option<Quantity>,
    /// What else it uses up.
    #[serde(default)]
    pub supplies: Vec<Used>,
    /// The wait after it.
    pub wait: Option<Wait>,
    /// How long the coat stays tacky, minutes at the reference air: keep dust away so long. `None` for what is not a coat.
    pub tack_free_min: Option<u32>,
    /// Why it is there.
    pub because: Vec<Reason>,
    /// What it does to air, room and hands.
    pub hazards: Hazards,
}

impl Step {
    /// A step with an operation and nothing else: the start of one written by hand.
    #[must_use]
    pub fn by_hand(operation: Operation) -> Self {
        Self {
            operation,
            material: None,
            product: None,
            grit: None,
            coat: None,
            method: None,
            wet: false,
            hands_on_min: 0,
            quantity: None,
            supplies: Vec::new(),
            wait: None,
            tack_free_min: None,
            because: Vec::new(),
            hazards: Hazards::default(),
        }
    }

    /// The finish class it puts on, if it does.
    #[must_use]
    pub fn finish(&self) -> Option<FinishClass> {
        self.material.and_then(Material::finish)
    }

    /// The step in a few plain words: "scuff, P220", "prime with shellac primer, coat 1".
    #[must_use]
    pub fn words(&self) -> String {
        if self.operation == Operation::Fill && self.material == Some(Material::Prep(PrepClass::Heat)) {
            return "raise dents with steam, a damp cloth and a hot iron".to_owned();
        }
        let mut words = self.operation.label().to_owned();
        if self.wet && self.grit.is_some() {
            words.push_str(" wet");
        }
        if let Some(material) = self.material {
            words.push_str(if self.operation.is_coating() { ": " } else { ", " });
            words.push_str(self.product.as_deref().unwrap_or_else(|| material.label()));
        }
        if let Some(grit) = self.grit {
            words.push_str(&format!(", {grit}"));
        }
        if let Some(coat) = self.coat {
            words.push_str(&format!(", coat {coat}"));
        }
        words
    }
}
