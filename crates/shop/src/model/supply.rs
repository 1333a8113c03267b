//! What this shop holds beside its cans: a box of discs, a roll of tape, a bag of rags.

use quantity::Money;
use serde::{Deserialize, Serialize};
use trade::Supply;

/// A supply that the shop holds or knows the price of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ShelfSupply {
    /// What the shop calls it; unique among its supplies.
    pub name: String,
    /// What it is.
    pub what: Supply,
    /// What a full pack holds, in the supply's own unit: pieces, metres or millilitres.
    pub pack: f64,
    /// What is left in all packs together, in the same unit; 0 keeps it known as one to buy.
    pub left: f64,
    /// What a full pack costs.
    pub price: Money,
}

impl ShelfSupply {
    /// What one of its unit costs, minor units.
    #[expect(clippy::cast_precision_loss, reason = "a price is far below 2^53 minor units")]
    pub fn price_minor_each(&self) -> f64 {
        if self.pack > 0.0 {
            self.price.minor() as f64 / self.pack
        } else {
            0.0
        }
    }
}
