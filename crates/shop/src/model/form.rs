//! What the user says of a piece's form: a kind, three numbers, and whatever else matters.
//!
//! The take-off has its own, stricter form; the one place where this becomes that is `plan::measure`.

use std::collections::BTreeMap;

use quantity::Length;
use serde::{Deserialize, Serialize};

use super::measured::{Dimensions, HowMeasured, OutlineMeasured, SaidDimension};

/// The kinds of form that a piece may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FormKind {
    /// A box: chest, sideboard, cabinet, blanket box.
    Case,
    /// A top on legs.
    Table,
    /// A seat with a back.
    Chair,
    /// A seat without a back, or a long one.
    Bench,
    /// Head, foot and rails.
    Bed,
    /// A frame around something: mirror, picture.
    Frame,
    /// A door.
    Door,
    /// A flat board.
    Panel,
    /// A turned profile.
    Turned,
    /// A length of moulding.
    Moulding,
    /// A measured mesh from a file.
    Mesh,
}

impl FormKind {
    /// Each kind with its word.
    pub const WORDS: [(&'static str, FormKind); 11] = [
        ("case", FormKind::Case),
        ("table", FormKind::Table),
        ("chair", FormKind::Chair),
        ("bench", FormKind::Bench),
        ("bed", FormKind::Bed),
        ("frame", FormKind::Frame),
        ("door", FormKind::Door),
        ("panel", FormKind::Panel),
        ("turned", FormKind::Turned),
        ("moulding", FormKind::Moulding),
        ("mesh", FormKind::Mesh),
    ];

    /// A kind by its word, or by an everyday word for such a piece.
    pub fn parse(text: &str) -> Option<FormKind> {
        let asked = text.trim().to_lowercase();
        let by_word = |word: &str| {
            Self::WORDS
                .iter()
                .find(|(known, _)| *known == word)
                .map(|(_, kind)| *kind)
        };
        by_word(&asked).or_else(|| {
            takeoff::FormKind::parse(&asked)
                .ok()
                .and_then(|kind| by_word(kind.id()))
        })
    }

    /// Its word.
    pub fn word(self) -> &'static str {
        Self::WORDS
            .iter()
            .find(|(_, kind)| *kind == self)
            .map_or("case", |(word, _)| word)
    }
}

/// How a leg is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LegShape {
    /// Square all the way.
    Square,
    /// Square, thinner towards the floor.
    Tapered,
    /// Turned on a lathe.
    Turned,
    /// A thin round rod, as steel legs are.
    Rod,
}

impl LegShape {
    /// Each shape with its word.
    pub const WORDS: [(&'static str, LegShape); 3] = [
        ("square", LegShape::Square),
        ("tapered", LegShape::Tapered),
        ("turned", LegShape::Turned),
    ];
}

/// The outline of a top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TopShape {
    /// Four corners.
    Rectangle,
    /// A circle of the width.
    Round,
    /// An ellipse of width and depth.
    Oval,
}

impl TopShape {
    /// Each shape with its word.
    pub const WORDS: [(&'static str, TopShape); 3] = [
        ("rectangle", TopShape::Rectangle),
        ("round", TopShape::Round),
        ("oval", TopShape::Oval),
    ];
}

/// Legs, as far as they were told.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Legs {
    /// How they are made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shape: Option<LegShape>,
    /// How long.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Length>,
    /// How thick at the top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Option<Length>,
    /// How many.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
}

/// A mesh file and the unit it was made in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MeshFile {
    /// Name beside the plan file, or within the shop's folder.
    pub file: String,
    /// Metres in one of its units.
    pub unit_m: f64,
    /// Whether the file's y axis points up, and not its z axis.
    #[serde(default)]
    pub y_up: bool,
    /// What was read of it: its parts' areas and a likeness to draw; the file itself is not needed again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scan: Option<Box<takeoff::Scan>>,
}

/// All that may be said of a form beyond its three numbers; every entry is optional.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Details {
    /// Rows and columns of drawers.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drawers: Option<(u32, u32)>,
    /// Doors.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub doors: Option<u32>,
    /// Open shelves.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shelves: Option<u32>,
    /// Whether the top lifts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lid: Option<bool>,
    /// How far the top stands over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overhang: Option<Length>,
    /// Height of a plinth.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plinth: Option<Length>,
    /// Whether the back is finished too.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back: Option<bool>,
    /// Whether the inside is finished too.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inside: Option<bool>,
    /// Knobs and pulls.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pulls: Option<u32>,
    /// Girth of applied mouldings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub moulding: Option<Length>,
    /// Outline of the top.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shape: Option<TopShape>,
    /// Height of an apron under the top.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub apron: Option<Length>,
    /// Loose leaves of a table.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaves: Option<u32>,
    /// Legs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub legs: Option<Legs>,
    /// Height of a seat.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seat: Option<Length>,
    /// Slats in a back or a bed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slats: Option<u32>,
    /// Turned spindles in a back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spindles: Option<u32>,
    /// Stretchers between legs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stretchers: Option<u32>,
    /// Whether it has arms.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arms: Option<bool>,
    /// Thickness of boards.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickness: Option<Length>,
    /// Width of a frame's member or a door's stile.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub member: Option<Length>,
    /// Height above the foot and radius, from the foot up.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub profile: Vec<(Length, Length)>,
    /// A mesh.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mesh: Option<MeshFile>,
}

/// What the user says of a piece's form.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FormSaid {
    /// Its kind.
    pub kind: FormKind,
    /// Left to right.
    pub width: Length,
    /// Front to back.
    pub depth: Length,
    /// Floor to top.
    pub height: Length,
    /// How these three were measured.
    #[serde(default, skip_serializing_if = "OutlineMeasured::is_plain")]
    pub measured: OutlineMeasured,
    /// Further dimensions of the form, each by the take-off's name of it; they beat whatever the details say.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub dimensions: Dimensions,
    /// Whatever else was said.
    #[serde(default)]
    pub details: Details,
}

impl FormSaid {
    /// A form of three numbers from the tape.
    pub fn of(kind: FormKind, [width, depth, height]: [Length; 3]) -> Self {
        FormSaid {
            kind,
            width,
            depth,
            height,
            measured: OutlineMeasured::default(),
            dimensions: Dimensions::new(),
            details: Details::default(),
        }
    }

    /// The three numbers with the words for them and how each was measured.
    pub fn outline(&self) -> [(&'static str, Length, HowMeasured); 3] {
        [
            ("width", self.width, self.measured.width),
            ("depth", self.depth, self.measured.depth),
            ("height", self.height, self.measured.height),
        ]
    }

    /// Sets one of the three numbers, or a further dimension of this name.
    pub fn set(&mut self, name: &str, length: Length, measured: HowMeasured) {
        let (slot, how) = match name {
            "width" => (&mut self.width, &mut self.measured.width),
            "depth" => (&mut self.depth, &mut self.measured.depth),
            "height" => (&mut self.height, &mut self.measured.height),
            _ => {
                self.dimensions
                    .insert(name.to_owned(), SaidDimension { length, measured });
                return;
            }
        };
        (*slot, *how) = (length, measured);
    }
}
