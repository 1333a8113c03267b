//! The zones that a form proposes: which surfaces ordinarily get one finish together.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A zone by default. The user's own zones may cut across these; see [`crate::TakeOff::find`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DefaultZone {
    /// What is used and looked at most: a table's or case's top, a lid.
    Top,
    /// Sides, face frame, plinth, rails, aprons.
    Body,
    /// The fronts of drawers with their edges.
    DrawerFronts,
    /// Doors with their edges.
    Doors,
    /// Legs and feet.
    Legs,
    /// Applied mouldings.
    Mouldings,
    /// A seat.
    Seat,
    /// Slats, spindles and ladder rungs.
    Slats,
    /// Head- and footboard, or a back rest made as a board.
    Backrest,
    /// Rails and stretchers between legs or posts.
    Rails,
    /// The members of a frame.
    Frame,
    /// Panels within a frame, or a panel by itself.
    Panel,
    /// Shelves.
    Shelves,
    /// What is inside a case.
    Inside,
    /// The outside of a case's back.
    Back,
    /// What faces the floor.
    Underside,
    /// Knobs, pulls, hinges: ordinarily taken off and done by themselves.
    Hardware,
    /// A part of an imported mesh that has no better name.
    Part,
}

impl DefaultZone {
    /// All of them, in the order in which a job card lists them.
    pub const ALL: [Self; 18] = [
        Self::Top,
        Self::Body,
        Self::DrawerFronts,
        Self::Doors,
        Self::Legs,
        Self::Mouldings,
        Self::Seat,
        Self::Slats,
        Self::Backrest,
        Self::Rails,
        Self::Frame,
        Self::Panel,
        Self::Shelves,
        Self::Inside,
        Self::Back,
        Self::Underside,
        Self::Hardware,
        Self::Part,
    ];

    /// The id in files: kebab-case.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Body => "body",
            Self::DrawerFronts => "drawer-fronts",
            Self::Doors => "doors",
            Self::Legs => "legs",
            Self::Mouldings => "mouldings",
            Self::Seat => "seat",
            Self::Slats => "slats",
            Self::Backrest => "backrest",
            Self::Rails => "rails",
            Self::Frame => "frame",
            Self::Panel => "panel",
            Self::Shelves => "shelves",
            Self::Inside => "inside",
            Self::Back => "back",
            Self::Underside => "underside",
            Self::Hardware => "hardware",
            Self::Part => "part",
        }
    }

    /// The name as it is read: the id with spaces.
    #[must_use]
    pub fn name(self) -> String {
        self.id().replace('-', " ")
    }
}

impl fmt::Display for DefaultZone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}
