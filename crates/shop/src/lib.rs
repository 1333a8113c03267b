//! The shop as a whole: pieces, shelf, log, and the use cases over them.

pub mod file;
pub mod model;

pub use model::*;
