//! x
mod air;
mod calendar;
pub(crate) mod drying;
mod output;

pub use output::*;
