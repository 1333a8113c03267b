//! A zone: the part of a piece that gets one finish, with what is on it and what it should become.

use finish::identify::{Answer, Era, Identification, identify};
use finish::{Condition, Contaminant, DefectKind, Soundness};
use quantity::{Area, Length, Minutes};
use serde::{Deserialize, Serialize};
use trade::{FinishClass, Substrate};

use super::lead::LeadTested;
use super::own::{Overruled, OwnStep};
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
    /// How long ago it was put on, where that is lately enough to matter; `None` for long cured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age: Option<Minutes>,
    /// How well it holds; `None` as the zone as a whole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub soundness: Option<Soundness>,
    /// What it was taken for this class by, where that was a guess: the tests, from which its probabilities follow.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guess: Option<Guess>,
}

impl FoundLayer {
    /// So many coats of a class, long cured, of no colour that matters, and known for sure.
    pub fn of(class: FinishClass, coats: u8) -> Self {
        FoundLayer {
            class,
            coats,
            colour: None,
            age: None,
            soundness: None,
            guess: None,
        }
    }
}

/// What a layer was identified by: looking, touching and testing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Guess {
    /// When it was put on, as far as anybody knows.
    pub era: Era,
    /// What was seen and tried.
    pub answers: Vec<Answer>,
}

impl Guess {
    /// Every class with its probability.
    pub fn identification(&self) -> Identification {
        identify(self.era, &self.answers)
    }
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
    /// What a lead test said, which kind it was, and how much it found.
    #[serde(flatten)]
    pub lead: LeadTested,
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
    /// The user's own schedule, which is planned in place of any derived one; `None` for a derived one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub own: Option<Vec<OwnStep>>,
    /// A schedule being written by hand that is not planned yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub draft: Option<Vec<OwnStep>>,
    /// The warnings that the user goes on in spite of, each in its situation.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub overruled: Vec<Overruled>,
}

impl Zone {
    /// A bare zone, sound, with nothing said of it but its name and what it is made of.
    pub fn new(name: &str, substrate: Substrate) -> Self {
        Zone {
            name: name.to_owned(),
            of: Vec::new(),
            substrate,
            found: Vec::new(),
            state: Vec::new(),
            contaminants: Vec::new(),
            defects: Vec::new(),
            lead: LeadTested::default(),
            wish: Wish::default(),
            area: None,
            comes_off: None,
            chosen: None,
            own: None,
            draft: None,
            overruled: Vec::new(),
        }
    }
}
