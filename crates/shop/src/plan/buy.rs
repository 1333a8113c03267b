//! What to have and what to buy.

use std::collections::BTreeMap;

use trade::Material;

use super::output::ToHave;
use super::work::WorkPiece;
use crate::model::Shop;

/// What a millilitre of a material costs, minor units.
pub(crate) type PricePerMl = BTreeMap<Material, f64>;

/// The shopping list and what materials cost.
pub(crate) struct Bought {
    pub(crate) list: Vec<ToHave>,
    pub(crate) per_ml: PricePerMl,
    pub(crate) assumed: Vec<String>,
}

pub(crate) fn shopping(_shop: &Shop, _work: &[WorkPiece]) -> Bought {
    Bought {
        list: vec![],
        per_ml: PricePerMl::new(),
        assumed: vec![],
    }
}
