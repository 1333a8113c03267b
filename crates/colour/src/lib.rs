//! What a coat of colour does over another: difference, coats to hide, a match from the shelf, the piece in its new colour.
//!
//! A colour is a [`Lab`] (CIE 1976, daylight D65, 2° observer), read from a meter or made from a screen colour
//! ([`Srgb`]). How far two colours are apart is [`difference()`] (CIEDE2000): below 1 a trained eye needs them side by side,
//! 2 passes at arm's length, 5 is plainly another colour.
//!
//! Whoever needs coats calls [`coats_to_hide`] and nothing else:
//!
//! ```
//! use colour::{Hiding, Srgb, coats_to_hide};
//! use quantity::{Spread, WetFilm};
//!
//! let old_brown = Srgb::parse("#6b4a2f")?.to_lab();
//! let sage = Srgb::parse("#8a9a5b")?.to_lab();
//! let label = Hiding::ContrastRatio { ratio: 0.90, at: Spread::from_m2_per_litre(10.0) };
//! let coats = coats_to_hide(old_brown, sage, &label, WetFilm::from_um(100.0))?;
//! assert_eq!(coats.to_string(), "2");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! The crate knows nothing of steps, money or pieces; reads no file and no clock; and gives the same answer every time.

pub mod coats;
mod difference;
pub mod film;
pub mod harmony;
pub mod hiding;
pub mod lab;
pub mod light;
mod linear;
pub mod mix;
pub mod photo;
pub mod primer;
mod print_light;
pub mod spectrum;
pub mod srgb;
pub mod surface;
pub mod warning;

pub use coats::{Coats, HidingError, Scrutiny, coats_to_hide};
pub use difference::difference;
pub use harmony::{Harmony, partners, reflectance_contrast};
pub use hiding::{Hiding, HidingClass};
pub use lab::{Lab, Xyz};
pub use light::Light;
pub use primer::{PrimedCoats, Primer, PrimerColour, primed};
pub use spectrum::{NotASpectrum, Spectrum, Unpaintable};
pub use srgb::{NotAColour, Srgb};
pub use warning::{Warning, warnings};
