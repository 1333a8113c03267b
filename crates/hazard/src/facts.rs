//! The plain facts that cautions are told from.
//!
//! Whoever plans the work fills these in; nothing here knows how the steps were found.

use trade::methods::Method;
use trade::{FinishClass, Material, Operation, PrepClass, Substrate};

use crate::lead_test::{LeadAmount, TestKind};

/// When a piece was made, as far as anybody knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Made {
    /// Between two years, both included; one year twice where it is known.
    Between(i32, i32),
    /// Before a year.
    Before(i32),
    /// Nobody knows.
    Unknown,
}

impl Made {
    /// Whether the piece may be older than the ban on lead in paint (1978, United States).
    pub fn may_carry_lead(self) -> bool {
        match self {
            Made::Between(from, _) => from < 1978,
            Made::Before(_) | Made::Unknown => true,
        }
    }
}

trade::vocabulary! {
    /// Whether the piece can be carried out of the house.
    Placement is "placement of a piece" {
        Movable = "movable", "movable", ["free-standing", "freestanding", "furniture"];
        BuiltIn = "built-in", "built in: part of the house", ["builtin", "fitted", "fixed", "part-of-the-house"];
    }
}

trade::vocabulary! {
    /// What the piece is, as far as that changes who it may hurt.
    Kind is "kind of piece" {
        Ordinary = "ordinary", "ordinary furniture", ["furniture"];
        Crib = "crib", "a crib or cot", ["cot", "cradle"];
        Toy = "toy", "a toy", ["toys"];
        HighChair = "high-chair", "a high chair", ["highchair"];
    }
}

/// What the piece will be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[expect(missing_docs, reason = "the words of the plan file")]
pub enum Use {
    #[default]
    Display,
    Bedroom,
    Desk,
    Seat,
    Dining,
    Kitchen,
    Nursery,
    Outdoors,
}

/// A piece, as far as cautions go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceFacts {
    /// When it was made.
    pub made: Made,
    /// Whether it can be carried out.
    pub placement: Placement,
    /// What it is.
    pub kind: Kind,
    /// What it is for.
    pub used: Use,
    /// Whether it has artistic, cultural or historic value.
    pub historic: bool,
}

impl PieceFacts {
    /// An ordinary movable piece for display whose age nobody knows.
    pub fn unknown_age() -> Self {
        Self {
            made: Made::Unknown,
            placement: Placement::Movable,
            kind: Kind::Ordinary,
            used: Use::Display,
            historic: false,
        }
    }

    /// An ordinary movable piece for display, made in this year.
    pub fn made_in(year: i32) -> Self {
        Self {
            made: Made::Between(year, year),
            ..Self::unknown_age()
        }
    }
}

/// What is known of lead on a zone.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum LeadTest {
    /// Nobody has tested.
    #[default]
    NotTested,
    /// A test found none; by which kind, if that was noted.
    NoneFound(Option<TestKind>),
    /// A test found lead.
    Present {
        /// By which kind of test, if that was noted.
        by: Option<TestKind>,
        /// How much; `None` where the test gave no amount or nobody noted it.
        amount: Option<LeadAmount>,
    },
}

impl LeadTest {
    /// A test found lead; neither its kind nor the amount was noted.
    pub const LEAD_FOUND: LeadTest = LeadTest::Present { by: None, amount: None };
}

/// A found layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FoundLayer {
    /// Its class.
    pub class: FinishClass,
    /// Its coats.
    pub coats: u8,
}

/// A zone, as far as cautions go.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneFacts {
    /// Its name.
    pub name: String,
    /// What it is made of.
    pub substrate: Substrate,
    /// What is on it, from the substrate outwards.
    pub found: Vec<FoundLayer>,
    /// What is known of lead.
    pub lead: LeadTest,
    /// Whether food will lie on it.
    pub touches_food: bool,
    /// Its area, m².
    pub area_m2: f64,
}

impl ZoneFacts {
    /// A bare zone of one square metre, not tested.
    pub fn new(name: &str, substrate: Substrate) -> Self {
        Self {
            name: name.to_owned(),
            substrate,
            found: Vec::new(),
            lead: LeadTest::NotTested,
            touches_food: false,
            area_m2: 1.0,
        }
    }

    /// The same zone with a layer more on top.
    #[must_use]
    pub fn with_found(mut self, class: FinishClass, coats: u8) -> Self {
        self.found.push(FoundLayer { class, coats });
        self
    }

    /// The same zone with this result of a lead test.
    #[must_use]
    pub fn with_lead(mut self, lead: LeadTest) -> Self {
        self.lead = lead;
        self
    }

    /// The same zone with this area.
    #[must_use]
    pub fn with_area_m2(mut self, area_m2: f64) -> Self {
        self.area_m2 = area_m2;
        self
    }
}

/// A planned step, as far as cautions go.
#[derive(Debug, Clone, PartialEq)]
pub struct StepFacts {
    /// Position of its zone in the job's list.
    pub zone: usize,
    /// What is done.
    pub operation: Operation,
    /// With what material.
    pub material: Option<Material>,
    /// How it is put on.
    pub method: Method,
    /// Area worked, m².
    pub area_m2: f64,
    /// Material used, litres; 0 where none or unknown.
    pub quantity_l: f64,
    /// When it starts, minutes from any origin common to the job; none while it has no date.
    pub at_min: Option<f64>,
    /// Whether the work is kept wet (wet sanding, misting).
    pub wet: bool,
}

impl StepFacts {
    /// A step on a zone, by brush, dry, without material, one square metre, without a date.
    pub fn new(zone: usize, operation: Operation) -> Self {
        Self {
            zone,
            operation,
            material: None,
            method: if operation == Operation::Spray {
                Method::Hvlp
            } else {
                Method::Brush
            },
            area_m2: 1.0,
            quantity_l: 0.0,
            at_min: None,
            wet: false,
        }
    }

    /// The same step with this material.
    #[must_use]
    pub fn with_material(mut self, material: impl Into<Material>) -> Self {
        self.material = Some(material.into());
        self
    }

    /// The same step with so much material, litres.
    #[must_use]
    pub fn with_quantity_l(mut self, quantity_l: f64) -> Self {
        self.quantity_l = quantity_l;
        self
    }

    /// The same step by this method.
    #[must_use]
    pub fn with_method(mut self, method: Method) -> Self {
        self.method = method;
        self
    }

    /// The same step over this area.
    #[must_use]
    pub fn with_area_m2(mut self, area_m2: f64) -> Self {
        self.area_m2 = area_m2;
        self
    }

    /// The same step at this time.
    #[must_use]
    pub fn at_min(mut self, at_min: f64) -> Self {
        self.at_min = Some(at_min);
        self
    }

    /// The finish class, if the material is one.
    pub fn finish(&self) -> Option<FinishClass> {
        self.material.and_then(Material::finish)
    }

    /// The preparation class, if the material is one.
    pub fn prep(&self) -> Option<PrepClass> {
        self.material.and_then(Material::prep)
    }

    /// Whether material is thrown into the air as mist.
    pub fn is_sprayed(&self) -> bool {
        self.operation == Operation::Spray || (self.operation.is_coating() && self.method.is_spraying())
    }
}

/// Ventilation from a moment on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ventilation {
    /// Minutes from the job's origin.
    pub from_min: f64,
    /// Air changes an hour of fresh air.
    pub air_changes_per_h: f64,
}

/// The room the work is done in.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomFacts {
    /// Its volume, m³; above 0.
    pub volume_m3: f64,
    /// Its floor, m².
    pub floor_m2: f64,
    /// Its ventilation over time, in order; the first entry also holds before its time.
    pub ventilation: Vec<Ventilation>,
    /// How badly fresh air mixes with the room's: 1 is perfect, 10 poor. The fresh air counts divided by this.
    pub mixing: f64,
}

impl RoomFacts {
    /// A mixing factor for a room nobody has looked at: the careful end of "fair".
    pub const CAREFUL_MIXING: f64 = 5.0;

    /// A room with steady ventilation and the careful mixing factor; the floor is reckoned at a height of 2.5 m.
    pub fn steady(volume_m3: f64, air_changes_per_h: f64) -> Self {
        Self {
            volume_m3,
            floor_m2: volume_m3 / 2.5,
            ventilation: vec![Ventilation {
                from_min: 0.0,
                air_changes_per_h,
            }],
            mixing: Self::CAREFUL_MIXING,
        }
    }

    /// A garage for one car with its door shut: 60 m³, one air change an hour.
    pub fn small_garage() -> Self {
        Self::steady(60.0, 1.0)
    }

    /// Air changes an hour at a moment.
    pub fn air_changes_at(&self, at_min: f64) -> f64 {
        air_changes_at(&self.ventilation, at_min)
    }
}

/// Air changes an hour at a moment, by entries in order of time; the first also holds before its time.
pub(crate) fn air_changes_at(ventilation: &[Ventilation], at_min: f64) -> f64 {
    ventilation
        .iter()
        .rev()
        .find(|entry| entry.from_min <= at_min)
        .or(ventilation.first())
        .map_or(0.0, |entry| entry.air_changes_per_h)
}

/// A job: the piece, its zones, the steps in their order, the room.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// The piece.
    pub piece: PieceFacts,
    /// Its zones.
    pub zones: Vec<ZoneFacts>,
    /// The steps, in order within each zone.
    pub steps: Vec<StepFacts>,
    /// The room.
    pub room: RoomFacts,
}

impl Job {
    /// The steps that `wanted` picks, by position.
    pub(crate) fn steps_where(&self, wanted: impl Fn(&StepFacts) -> bool) -> Vec<usize> {
        self.steps
            .iter()
            .enumerate()
            .filter(|(_, step)| wanted(step))
            .map(|(idx, _)| idx)
            .collect()
    }
}
