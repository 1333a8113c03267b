//! What a piece costs and what to ask for it.

use quantity::Money;

use super::buy::PricePerMl;
use super::output::{PieceMoney, Sum};
use super::whole::PieceFacts;
use super::work::WorkPiece;
use crate::model::Shop;

pub(crate) fn of(shop: &Shop, _piece: &WorkPiece, _facts: &PieceFacts, _per_ml: &PricePerMl) -> PieceMoney {
    let z = Sum::new(Money::ZERO, shop.settings.currency);
    PieceMoney {
        currency: shop.settings.currency.code().to_owned(),
        materials: z,
        labour: z,
        overhead: z,
        purchase: z,
        total: z,
        price: z,
        price_p10: z,
        price_p90: z,
        loss_chance: 0.0,
        most_to_pay: None,
    }
}

pub(crate) fn assumed(_shop: &Shop) -> Vec<String> {
    vec![]
}
