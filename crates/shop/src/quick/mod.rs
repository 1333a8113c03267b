//! The three quick answers that need nothing set up: will it stick, when is it dry, how much do I need.

mod how_much;
mod stick;
mod when;

pub use how_much::{HowMuch, how_much};
pub use stick::{Stick, will_it_stick};
pub use when::{When, when};
