//! A match mixed from what stands on the shelf.
//!
//! Each paint is known by its colour and, where its user made one, by a swatch of it half and half with the shelf's white:
//! the colour alone does not say how strong a paint is in a mixture, and the tint does ([`pigment`]). A [`Shelf`] turns these
//! readings into what each paint swallows and throws back by band; a [`Recipe`] is the mixture of few paints that comes
//! nearest to a target. How near it will really come is told from how far several ways of reading the same swatches
//! disagree ([`Prospect`]), never from how small the solver made its own remainder.

pub mod batch;
mod metric;
pub mod pigment;
mod recipe;
mod search;
pub mod shelf;

pub use batch::{Batch, BatchError, Correction};
pub use recipe::{DROP, Measure, Prospect, Recipe, RecipeLine};
pub use shelf::{Shelf, ShelfError, ShelfPaint};

/// To be said wherever a recipe is shown.
pub const DRY_SWATCH_FIRST: &str = "Mix a spoonful, paint a swatch, let it dry and hold it against the target by day and by lamp before you mix the job.";
