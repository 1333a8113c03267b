//! Take-off: furniture forms to surfaces, areas, quantities and the line drawing.
//!
//! A [`Form`] is a piece of furniture as shape: three numbers are enough, every further one can be refined. [`take_off`]
//! reads its named surfaces with areas and how sure they are; [`drawing::svg`] draws it.
//!
//! ```
//! use quantity::Length;
//! use takeoff::{Form, FormKind, drawing, take_off};
//!
//! let dresser = Form::from_outline(
//!     FormKind::Case,
//!     Length::from_inches(60.0),
//!     Length::from_inches(19.0),
//!     Length::from_inches(35.0),
//! )?;
//! let piece = take_off(&dresser);
//! assert!((piece.area().m2() - 2.9).abs() < 0.4);
//! let svg = drawing::svg(&dresser, &drawing::ZoneLook::paper(), drawing::View::default());
//! assert!(svg.starts_with("<svg"));
//! # Ok::<(), takeoff::FormRefusal>(())
//! ```
//!
//! It knows nothing of money, and of paint only how an area turns into a volume.

mod detail;
mod dimension;
pub mod drawing;
mod form;
pub mod mesh;
mod names;
pub mod photograph;
pub mod quantities;
mod solid;
mod surface;
mod zone;

pub use detail::{Detail, Developed};
pub use dimension::{Dimension, HowKnown};
pub use form::{
    Base, Bed, BedEnd, Bench, Case, Chair, ChairBack, Door, DoorStyle, Faces, Form, FormKind, FormRefusal, Frame,
    Glazing, Grid, LegStyle, Moulding, Outline, Panel, Pull, Scan, ScanPart, Seat, Table, Turned,
};
pub use names::UnknownSurface;
pub use surface::{NextMeasurement, Orientation, Surface, TakeOff, ZoneTotal, take_off};
pub use zone::DefaultZone;
