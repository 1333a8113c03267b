//! The forms of furniture: parameters with sensible defaults, so that three numbers are enough.
//!
//! Each form is a plain struct of [`Dimension`]s and choices, open to be refined field by field; each builds one geometric
//! model from which areas, drawing and mesh are read. Widths run to the right, depths to the back, heights up.

mod bed;
mod case;
mod case_front;
mod chair;
mod door;
mod frame;
mod members;
mod moulding;
mod panel;
mod scan;
mod table;
mod turned;

pub use bed::{Bed, BedEnd};
pub use case::{Base, Case, Grid, Pull};
pub use chair::{Chair, ChairBack, Seat};
pub use door::{Door, DoorStyle};
pub use frame::{Frame, Glazing};
pub use members::LegStyle;
pub use moulding::Moulding;
pub use panel::{Faces, Panel};
pub use scan::{Scan, ScanPart};
pub use table::{Bench, Outline, Table};
pub use turned::Turned;

use quantity::Length;
use serde::{Deserialize, Serialize};

use crate::Dimension;
use crate::solid::Model;

/// A piece of furniture as shape.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "form")]
#[non_exhaustive]
pub enum Form {
    /// Dresser, chest, cabinet, sideboard, bedside cabinet, bookcase, wardrobe, blanket box.
    Case(Case),
    /// Table, desk.
    Table(Table),
    /// Chair, armchair.
    Chair(Chair),
    /// Bench, stool.
    Bench(Bench),
    /// Bed.
    Bed(Bed),
    /// Picture frame, mirror.
    Frame(Frame),
    /// A door by itself.
    Door(Door),
    /// A board or panel by itself.
    Panel(Panel),
    /// Something turned on a lathe.
    Turned(Turned),
    /// A length of moulding.
    Moulding(Moulding),
    /// A scanned piece.
    Mesh(Scan),
}

/// Which form, before it has any size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum FormKind {
    /// See [`Form::Case`].
    Case,
    /// See [`Form::Table`].
    Table,
    /// See [`Form::Chair`].
    Chair,
    /// See [`Form::Bench`].
    Bench,
    /// See [`Form::Bed`].
    Bed,
    /// See [`Form::Frame`].
    Frame,
    /// See [`Form::Door`].
    Door,
    /// See [`Form::Panel`].
    Panel,
    /// See [`Form::Turned`].
    Turned,
    /// See [`Form::Moulding`].
    Moulding,
    /// See [`Form::Mesh`]; it comes from a file and not from three numbers.
    Mesh,
}

/// A form or a size that cannot be furniture.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FormRefusal {
    /// The word is no form.
    #[error("“{word}” is no form of furniture known here; take one of {}", FormKind::ids().join(", "))]
    UnknownForm {
        /// The word.
        word: String,
    },
    /// A mesh comes from a file.
    #[error("a mesh comes from a file of a scan; three numbers are enough for {}", FormKind::ALL.map(FormKind::id).join(", "))]
    NeedsFile,
    /// A measure is out of bounds or no number.
    #[error("the {dimension} of {} is outside what furniture has: between {} mm and {} m", shown_mm(*.length), LEAST.mm(), MOST.m())]
    Size {
        /// Which measure.
        dimension: &'static str,
        /// What was given.
        length: Length,
    },
}

/// The smallest width, depth or height that is taken.
const LEAST: Length = Length::from_mm(3.0);
/// The largest.
const MOST: Length = Length::from_m(10.0);

fn shown_mm(length: Length) -> String {
    let mm = length.mm();
    if mm.is_finite() {
        format!("{mm:.0} mm")
    } else {
        "no number".to_owned()
    }
}

impl FormKind {
    /// Those that three numbers are enough for: all but the mesh.
    pub const ALL: [Self; 10] = [
        Self::Case,
        Self::Table,
        Self::Chair,
        Self::Bench,
        Self::Bed,
        Self::Frame,
        Self::Door,
        Self::Panel,
        Self::Turned,
        Self::Moulding,
    ];

    /// The id in files.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Case => "case",
            Self::Table => "table",
            Self::Chair => "chair",
            Self::Bench => "bench",
            Self::Bed => "bed",
            Self::Frame => "frame",
            Self::Door => "door",
            Self::Panel => "panel",
            Self::Turned => "turned",
            Self::Moulding => "moulding",
            Self::Mesh => "mesh",
        }
    }

    fn ids() -> Vec<&'static str> {
        Self::ALL.into_iter().chain([Self::Mesh]).map(Self::id).collect()
    }

    /// A form by its id or by an everyday word for such a piece.
    ///
    /// # Errors
    /// [`FormRefusal::UnknownForm`], naming the forms.
    ///
    /// ```
    /// use takeoff::FormKind;
    /// assert_eq!(FormKind::parse("Chest of drawers").expect("a case"), FormKind::Case);
    /// assert!(FormKind::parse("boat").unwrap_err().to_string().contains("table"));
    /// ```
    pub fn parse(word: &str) -> Result<Self, FormRefusal> {
        let asked = word.trim().to_lowercase().replace(['-', '_'], " ");
        let kind = match asked.as_str() {
            "case" | "dresser" | "chest" | "chest of drawers" | "cabinet" | "sideboard" | "nightstand"
            | "bedside cabinet" | "bedside table" | "bookcase" | "wardrobe" | "cupboard" | "blanket box" | "box"
            | "trunk" | "shelves" | "credenza" | "buffet" | "hutch" | "armoire" => Self::Case,
            "table" | "desk" | "coffee table" | "side table" | "dining table" | "console" => Self::Table,
            "chair" | "armchair" | "rocker" | "rocking chair" => Self::Chair,
            "bench" | "stool" | "settle" | "footstool" => Self::Bench,
            "bed" | "bedstead" | "cot" | "crib" => Self::Bed,
            "frame" | "mirror" | "picture frame" => Self::Frame,
            "door" => Self::Door,
            "panel" | "board" | "shelf" | "top" => Self::Panel,
            "turned" | "turning" | "spindle" | "leg" | "lamp base" | "turned profile" => Self::Turned,
            "moulding" | "molding" | "trim" => Self::Moulding,
            "mesh" | "scan" => Self::Mesh,
            _ => {
                return Err(FormRefusal::UnknownForm {
                    word: word.chars().take(40).collect(),
                });
            }
        };
        Ok(kind)
    }
}

/// One form's parameters and geometry.
pub(crate) trait Shape {
    /// Every dimension with the words in which the user is asked for it.
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)>;
    /// Puts the parts together.
    fn build(&self, model: &mut Model);
}

impl Form {
    /// A form from three numbers; everything else as such a piece usually has it.
    ///
    /// For a turning the larger of width and depth is its diameter; for a moulding the width is its length, the depth
    /// how far it stands out; a panel's, frame's and door's depth is its thickness.
    ///
    /// # Errors
    /// [`FormRefusal::Size`] for a measure that is no number, below 3 mm or above 10 m.
    pub fn from_outline(kind: FormKind, width: Length, depth: Length, height: Length) -> Result<Self, FormRefusal> {
        for (dimension, length) in [("width", width), ("depth", depth), ("height", height)] {
            if !length.is_finite() || length < LEAST || length > MOST {
                return Err(FormRefusal::Size { dimension, length });
            }
        }
        let [w, d, h] = [width, depth, height].map(Dimension::taped);
        Ok(match kind {
            FormKind::Case => Self::Case(Case::of(w, d, h)),
            FormKind::Table => Self::Table(Table::of(w, d, h)),
            FormKind::Chair => Self::Chair(Chair::of(w, d, h)),
            FormKind::Bench => Self::Bench(Bench::of(w, d, h)),
            FormKind::Bed => Self::Bed(Bed::of(w, d, h)),
            FormKind::Frame => Self::Frame(Frame::of(w, d, h)),
            FormKind::Door => Self::Door(Door::of(w, d, h)),
            FormKind::Panel => Self::Panel(Panel::of(w, d, h)),
            FormKind::Turned => Self::Turned(Turned::of(w, d, h)),
            FormKind::Moulding => Self::Moulding(Moulding::of(w, d, h)),
            FormKind::Mesh => return Err(FormRefusal::NeedsFile),
        })
    }

    /// Which form it is.
    #[must_use]
    pub const fn kind(&self) -> FormKind {
        match self {
            Self::Case(_) => FormKind::Case,
            Self::Table(_) => FormKind::Table,
            Self::Chair(_) => FormKind::Chair,
            Self::Bench(_) => FormKind::Bench,
            Self::Bed(_) => FormKind::Bed,
            Self::Frame(_) => FormKind::Frame,
            Self::Door(_) => FormKind::Door,
            Self::Panel(_) => FormKind::Panel,
            Self::Turned(_) => FormKind::Turned,
            Self::Moulding(_) => FormKind::Moulding,
            Self::Mesh(_) => FormKind::Mesh,
        }
    }

    /// Every dimension of the form with the words in which the user is asked for it.
    #[must_use]
    pub fn dimensions(&self) -> Vec<(&'static str, Dimension)> {
        let mut copy = self.clone();
        copy.shape_mut()
            .dimensions()
            .into_iter()
            .map(|(name, dimension)| (name, *dimension))
            .collect()
    }

    /// Sets the dimension of this name; `false` when the form has none of it.
    pub fn set_dimension(&mut self, name: &str, dimension: Dimension) -> bool {
        self.shape_mut()
            .dimensions()
            .into_iter()
            .find(|(known, _)| *known == name)
            .map(|(_, place)| *place = dimension)
            .is_some()
    }

    pub(crate) fn with_dimension_moved(&self, place: usize, by_m: f64) -> Self {
        let mut copy = self.clone();
        if let Some((_, dimension)) = copy.shape_mut().dimensions().into_iter().nth(place) {
            *dimension = dimension.moved(by_m);
        }
        copy
    }

    pub(crate) fn model(&self) -> Model {
        let mut model = Model::default();
        self.shape().build(&mut model);
        model
    }

    fn shape(&self) -> &dyn Shape {
        match self {
            Self::Case(shape) => shape,
            Self::Table(shape) => shape,
            Self::Chair(shape) => shape,
            Self::Bench(shape) => shape,
            Self::Bed(shape) => shape,
            Self::Frame(shape) => shape,
            Self::Door(shape) => shape,
            Self::Panel(shape) => shape,
            Self::Turned(shape) => shape,
            Self::Moulding(shape) => shape,
            Self::Mesh(shape) => shape,
        }
    }

    fn shape_mut(&mut self) -> &mut dyn Shape {
        match self {
            Self::Case(shape) => shape,
            Self::Table(shape) => shape,
            Self::Chair(shape) => shape,
            Self::Bench(shape) => shape,
            Self::Bed(shape) => shape,
            Self::Frame(shape) => shape,
            Self::Door(shape) => shape,
            Self::Panel(shape) => shape,
            Self::Turned(shape) => shape,
            Self::Moulding(shape) => shape,
            Self::Mesh(shape) => shape,
        }
    }
}

impl Form {
    /// Width, depth and height over all, in metres.
    pub(crate) fn outline_m(&self) -> [f64; 3] {
        let [w, d, h] = match self {
            Self::Case(s) => [s.width, s.depth, s.height],
            Self::Table(s) => [s.width, s.depth, s.height],
            Self::Chair(s) => [s.width, s.depth, s.height],
            Self::Bench(s) => [s.width, s.depth, s.height],
            Self::Bed(s) => [s.width, s.length, s.height],
            Self::Frame(s) => [s.width, s.thickness, s.height],
            Self::Door(s) => [s.width, s.thickness, s.height],
            Self::Panel(s) => [s.width, s.thickness, s.height],
            Self::Turned(s) => [s.diameter, s.diameter, s.height],
            Self::Moulding(s) => [s.length, s.projection, s.face_height],
            Self::Mesh(scan) => return scan.outline(),
        };
        [w.m(), d.m(), h.m()]
    }

    /// Whether it stands on the floor by itself.
    pub(crate) const fn stands(&self) -> bool {
        matches!(
            self,
            Self::Case(_)
                | Self::Table(_)
                | Self::Chair(_)
                | Self::Bench(_)
                | Self::Bed(_)
                | Self::Turned(_)
                | Self::Mesh(_)
        )
    }
}
