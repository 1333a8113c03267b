//! Quantities: newtypes over SI, what people type, and how the shop sees it.
//!
//! A number with a unit is never a bare `f64` above this crate. Each quantity is one `Copy` newtype with constructors
//! and readers of the same unit names, and only those products exist that mean something in a workshop: a wet film and a
//! dry film are both thicknesses, and yet they do not add.
//!
//! ```
//! use quantity::{Area, Length, Spread, Volume, WetFilm};
//!
//! let top: Area = Length::from_inches(42.0) * Length::from_inches(16.5);
//! let by_label: Volume = top / Spread::from_ft2_per_gallon(300.0);
//! let by_film: Volume = top * WetFilm::from_um(135.8);
//! assert!((by_label.ml() - by_film.ml()).abs() < 0.1);
//! ```
//!
//! It knows nothing of furniture, coats or dates. Constructors take what they are given; the guarded door for what a
//! person typed is `parse`, which refuses the negative, the endless and the absurd with a worded [`Refusal`].

mod air;
mod amount;
mod currency;
mod film;
mod kinds;
mod minutes;
mod money;
mod newtype;
mod parse;
mod product;
mod range;
mod ratio;
mod refusal;
mod show;
mod size;
mod typed;
mod units;

pub use air::{AirChanges, Flow, Humidity, Temperature, TemperatureDifference};
pub use currency::Currency;
pub use film::{DryFilm, Spread, WetFilm};
pub use minutes::Minutes;
pub use money::{Money, MoneyOverflow};
pub use range::{Range, RangeOutOfOrder};
pub use ratio::BasisPoints;
pub use refusal::Refusal;
pub use size::{Area, Length, Mass, Volume};
pub use units::UnitSystem;
