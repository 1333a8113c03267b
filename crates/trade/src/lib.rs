//! The tables of the trade: material classes, substrates, compatibility, abrasives, limits.
//!
//! Everything a bench hand would look up stands here once: what classes of material there are and what a can of each
//! does, what may go over what, which grit follows which, what an exposure limit is. Each row names its source (a key
//! of `docs/SOURCES.toml`) and its [`Status`]: read in the source, recalled from it, common practice, or computed.
//!
//! The crate deliberately does not know what a piece of furniture is, and decides nothing: it answers look-ups.
//!
//! ```
//! use trade::{FinishClass, FoundSurface, Verdict, compat};
//!
//! let new = FinishClass::parse("poly")?;
//! assert_eq!(new.id(), "oil-based-polyurethane");
//! let answer = compat::verdict(FoundSurface::PasteWaxFilm, new);
//! assert_eq!(answer.verdict, Verdict::RemoveContaminantFirst);
//! # Ok::<(), trade::UnknownWord>(())
//! ```

pub mod abrasives;
pub mod compat;
pub mod finish_rows;
pub mod law;
pub mod methods;
pub mod prep_rows;
pub mod solvents;
pub mod sources;
pub mod species_rows;
pub mod wood_rules;
pub mod word;

mod finish_class;
mod found_surface;
mod grit;
mod material;
mod operation;
mod prep_class;
mod species;
mod substrate;
mod supply;
mod table;
mod verdict;

pub use finish_class::FinishClass;
pub use finish_rows::FinishRow;
pub use found_surface::FoundSurface;
pub use grit::Grit;
pub use material::Material;
pub use operation::Operation;
pub use prep_class::PrepClass;
pub use prep_rows::PrepRow;
pub use sources::Status;
pub use species::Species;
pub use species_rows::SpeciesRow;
pub use substrate::{Substrate, Veneer};
pub use supply::{Supply, SupplyKind, Unit, wash_of};
pub use verdict::Verdict;
pub use word::UnknownWord;
