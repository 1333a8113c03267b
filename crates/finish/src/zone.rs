//! What is found: a zone with its substrate, its layers and everything that ails it.
//!
//! This is the input of the planner, as a person would state it. The planner turns it into a surface state of its own.

use serde::{Deserialize, Serialize};
use takeoff::quantities::Share;
use trade::methods::Detail;
use trade::{FinishClass, Substrate};

use trade::vocabulary;

vocabulary! {
    /// How well a found layer holds.
    Soundness is "soundness of a layer" {
        Sound = "sound", "sound", ["good", "intact"];
        Worn = "worn", "worn", ["thin", "scratched"];
        Flaking = "flaking", "flaking", ["peeling", "crazed", "cracked", "alligatored"];
    }
}

vocabulary! {
    /// What a glance and a touch tell of the whole zone.
    Condition is "condition of a surface" {
        Sound = "sound", "sound", ["good"];
        Worn = "worn", "worn";
        Flaking = "flaking", "flaking", ["peeling", "crazed", "cracked"];
        Greasy = "greasy", "greasy", ["grimy", "dirty"];
        Smoky = "smoky", "smoky", ["nicotine", "smoke-stained"];
        WaterMarked = "water-marked", "water-marked", ["water-stained", "ring-marked"];
    }
}

vocabulary! {
    /// Something on the surface that no coat sticks to, or that bleeds.
    Contaminant is "contaminant" {
        Wax = "wax", "wax or polish", ["polish"];
        Silicone = "silicone", "silicone";
        Grease = "grease", "grease";
        Nicotine = "nicotine", "nicotine or smoke", ["smoke"];
    }
}

vocabulary! {
    /// Damage to be made good before anything is put on.
    DefectKind is "kind of damage" {
        Gouge = "gouge", "gouge", ["scratch-deep"];
        Dent = "dent", "dent";
        Chip = "chip", "chip";
        Hole = "hole", "hole", ["holes", "screw-hole", "nail-hole"];
        Crack = "crack", "crack", ["split"];
        LooseVeneer = "loose-veneer", "loose veneer", ["lifted-veneer", "blister"];
        MissingVeneer = "missing-veneer", "missing veneer";
        LooseJoint = "loose-joint", "loose joint", ["wobble"];
        Burn = "burn", "burn", ["scorch"];
    }
}

impl DefectKind {
    /// Whether glue mends it, and not filler.
    #[must_use]
    pub const fn is_loose(self) -> bool {
        matches!(self, DefectKind::LooseVeneer | DefectKind::LooseJoint)
    }
}

vocabulary! {
    /// What the piece will have to stand.
    Use is "use of a piece" {
        Display = "display", "display";
        Bedroom = "bedroom", "bedroom";
        Desk = "desk", "desk";
        Seat = "seat", "seat";
        Dining = "dining", "dining";
        Kitchen = "kitchen", "kitchen";
        Nursery = "nursery", "nursery";
        Outdoors = "outdoors", "outdoors";
    }
}

vocabulary! {
    /// Whether the old paint was tested for lead, and what the test said.
    LeadTest is "result of a lead test" {
        NotTested = "not-tested", "not tested", ["unknown", "untested"];
        None = "none", "no lead found", ["negative", "no"];
        Present = "present", "lead found", ["positive", "yes"];
    }
}

/// One layer that is there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FoundLayer {
    /// What it is; [`FinishClass::Unknown`] where nobody knows.
    pub class: FinishClass,
    /// How many coats of it; the class's usual number where not known.
    pub coats: Option<u8>,
    /// How many days ago it was put on; old and fully cured where not known.
    pub age_d: Option<f64>,
    /// How well it holds.
    pub soundness: Soundness,
}

impl FoundLayer {
    /// A sound, long cured layer of the class's usual number of coats.
    #[must_use]
    pub const fn of(class: FinishClass) -> Self {
        Self {
            class,
            coats: None,
            age_d: None,
            soundness: Soundness::Sound,
        }
    }
}

/// Damage of one kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Defect {
    /// What it is.
    pub kind: DefectKind,
    /// How many; 1 or more.
    pub count: u32,
    /// How deep, mm; 1 mm is assumed where not known.
    pub depth_mm: Option<f64>,
}

/// The years between which the piece was made. An end nobody knows is `None`.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Made {
    /// Not before this year.
    pub from: Option<i32>,
    /// Not after this year.
    pub to: Option<i32>,
}

impl Made {
    /// The piece was made in or after `year`.
    #[must_use]
    pub const fn since(year: i32) -> Self {
        Self {
            from: Some(year),
            to: None,
        }
    }

    /// Whether it may be older than the ban of 1978, which is so unless it is known to be younger.
    #[must_use]
    pub fn may_be_before_1978(self) -> bool {
        self.from.is_none_or(|year| year < 1978)
    }
}

/// A zone as found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Zone {
    /// Its name, for messages.
    pub name: String,
    /// What it is made of.
    pub substrate: Substrate,
    /// The layers on it, from the substrate outwards. Empty for bare.
    pub found: Vec<FoundLayer>,
    /// Its general state.
    pub conditions: Vec<Condition>,
    /// What else is on it.
    pub contaminants: Vec<Contaminant>,
    /// Damage.
    pub defects: Vec<Defect>,
    /// Developed area, m²; above 0.
    pub area_m2: f64,
    /// Standard error of that area, m²; 0 or more.
    #[serde(default)]
    pub area_se_m2: f64,
    /// The area by kind of detail, for what spraying and sanding waste on each; empty takes all of it as `detail` says. Only the
    /// proportions count: together they make up `area_m2`.
    #[serde(default)]
    pub shares: Vec<Share>,
    /// Length of its edges, m; 0 or more.
    pub edge_m: f64,
    /// How detailed its surface is.
    pub detail: Detail,
    /// When the piece was made.
    pub made: Made,
    /// What a lead test said.
    pub lead: LeadTest,
    /// What it will have to stand.
    pub use_: Use,
    /// Whether the zone is hardware that comes off for finishing and is refitted.
    pub removable: bool,
}

impl Zone {
    /// A bare flat zone of 1 m² for a bedroom, made lately, with nothing wrong: the start for tests and quick answers.
    #[must_use]
    pub fn bare(name: &str, substrate: Substrate) -> Self {
        Self {
            name: name.to_owned(),
            substrate,
            found: Vec::new(),
            conditions: Vec::new(),
            contaminants: Vec::new(),
            defects: Vec::new(),
            area_m2: 1.0,
            area_se_m2: 0.0,
            shares: Vec::new(),
            edge_m: 4.0,
            detail: Detail::Flat,
            made: Made::since(2000),
            lead: LeadTest::NotTested,
            use_: Use::Bedroom,
            removable: false,
        }
    }

    /// Whether the old coats must be treated as holding lead: paint of before 1978 or of unknown age that no test has cleared.
    ///
    /// Clear finishes are not counted here; see [`Zone::is_film_suspect`].
    #[must_use]
    pub fn is_lead_suspect(&self) -> bool {
        let painted = self.found.iter().any(|layer| may_hold_lead(layer.class));
        match self.lead {
            LeadTest::None => false,
            LeadTest::Present => true,
            LeadTest::NotTested => painted && self.made.may_be_before_1978(),
        }
    }
}

impl Zone {
    /// Whether an old film of any kind, clear ones among them, must be treated as holding lead: driers and pigments in varnish and
    /// shellac held it too. Not dry-abraded before a test either; once it is off, the wood counts as clean.
    #[must_use]
    pub fn is_film_suspect(&self) -> bool {
        let has_film = self
            .found
            .iter()
            .any(|layer| layer.class.row().forms_film || layer.class == FinishClass::Unknown);
        match self.lead {
            LeadTest::None => false,
            LeadTest::Present => has_film,
            LeadTest::NotTested => has_film && self.made.may_be_before_1978(),
        }
    }
}

/// Whether an old coat of the class is paint, and so may hold lead pigment.
#[must_use]
pub fn may_hold_lead(class: FinishClass) -> bool {
    use trade::finish_rows::Group;
    class == FinishClass::Unknown || matches!(class.row().group, Group::Paint | Group::Primer)
}
