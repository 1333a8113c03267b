//! Where the shop buys: each seller with the way there and the can sizes and prices that it has.

use quantity::{Money, Volume};
use serde::{Deserialize, Serialize};
use trade::Material;

/// Somebody who sells cans.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Seller {
    /// What the shop calls them; unique.
    pub name: String,
    /// What buying there costs once, whatever is bought: the drive, the delivery.
    #[serde(default)]
    pub trip: Money,
    /// What they sell.
    #[serde(default)]
    pub cans: Vec<CanPrice>,
}

/// One size of a material at a seller's.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CanPrice {
    /// The material, in whatever colour.
    pub class: Material,
    /// What one holds.
    pub size: Volume,
    /// What one costs.
    pub price: Money,
}

impl Seller {
    /// Most sellers of a shop: the buying compares every set of those that cost a trip.
    pub const MOST: usize = 10;
    /// Most prices of one seller.
    pub const MOST_CANS: usize = 200;

    /// Puts a size on the list, in place of the price that it had.
    pub fn put(&mut self, can: CanPrice) {
        let same = |other: &&mut CanPrice| other.class == can.class && (other.size.ml() - can.size.ml()).abs() < 0.05;
        match self.cans.iter_mut().find(same) {
            Some(there) => *there = can,
            None => self.cans.push(can),
        }
    }
}
