//! Quantities: SI newtypes, what people type, and how the shop sees it.

pub mod measure;
pub mod money;

pub use measure::{Area, DryFilm, Humidity, Length, Mass, Minutes, Range, Spread, Temperature, Volume, WetFilm};
pub use money::Money;
