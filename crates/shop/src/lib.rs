//! The shop as a whole: pieces, shelf, log, and the use cases over them.

pub mod bench;
pub mod by_hand;
pub mod change;
pub mod file;
pub mod model;
pub mod plan;
pub mod quick;
pub mod swatch;
pub mod text;
pub mod took;

pub use model::*;
