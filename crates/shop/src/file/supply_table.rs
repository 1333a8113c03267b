//! `[[supply]]`: discs, tape, rags and the rest that is used up beside the cans.

use quantity::Length;
use trade::{Supply, Unit};

use super::node::{Table, Value};
use super::values::{self, Bare};
use crate::model::ShelfSupply;

/// Most pieces of a pack.
const MOST_PIECES: u32 = 100_000;

/// Reads one supply; `None` if what has no default was refused.
pub(crate) fn read(table: Table<'_>, bare: Bare) -> Option<ShelfSupply> {
    let name = table
        .need("name", "a name such as \"discs P120\"")
        .and_then(|value| value.text(80, "a name"));
    let what = table
        .need("what", "a supply such as \"disc-p120\", \"tape\" or \"rag\"")
        .and_then(|value| supply(&value));
    let unit = what.map_or(Unit::Piece, Supply::unit);
    let pack = table
        .need("pack", "what a full pack holds, such as 50, \"50 m\" or \"1 qt\"")
        .and_then(|value| amount(&value, unit, bare));
    let left = match table.get("left") {
        Some(value) if value.as_number() == Some(0.0) => Some(0.0),
        Some(value) => amount(&value, unit, bare),
        None => pack,
    };
    let price = table
        .need("price", "what a full pack costs, such as 18.00")
        .and_then(|value| values::money(&value, bare));
    table.close();
    Some(ShelfSupply {
        name: name?,
        what: what?,
        pack: pack?,
        left: left?,
        price: price?,
    })
}

fn supply(value: &Value<'_>) -> Option<Supply> {
    let right = "\"disc-p120\", \"sheet-p220\", \"pad-p320\", \"tape\", \"rag\", \"tack-rag\" or \"lacquer-thinner\"";
    match value.as_text().map(Supply::parse) {
        Some(Ok(Supply::Ware(kind, grit))) if kind.has_grit() == grit.is_some() => Some(Supply::Ware(kind, grit)),
        Some(Ok(Supply::Ware(..))) => {
            value.refuse("an abrasive is told by its grit", right);
            None
        }
        Some(Ok(Supply::Liquid(_))) => {
            value.refuse(
                "what is poured stands on the shelf as a product",
                "[[shelf]] with this class",
            );
            None
        }
        Some(Err(unknown)) => {
            value.refuse(&unknown.to_string(), right);
            None
        }
        None => {
            value.refuse("a supply is a word", right);
            None
        }
    }
}

fn amount(value: &Value<'_>, unit: Unit, bare: Bare) -> Option<f64> {
    match unit {
        Unit::Piece => value
            .whole(1..=MOST_PIECES, "a number of pieces such as 50")
            .map(f64::from),
        Unit::Metre => roll(value),
        Unit::Millilitre => values::can(value, bare).map(|volume| volume.ml()),
    }
}

/// A length of tape, from 10 cm to 10 km, m; a roll is longer than any piece of furniture.
fn roll(value: &Value<'_>) -> Option<f64> {
    let read = value.as_text().and_then(|typed| Length::parse(typed).ok());
    let length = read.map(Length::m).filter(|metres| (0.1..=10_000.0).contains(metres));
    if length.is_none() {
        value.refuse(
            "a length of tape from 10 cm to 10 km",
            "a number with its unit, such as \"50 m\" or \"60 yd\"",
        );
    }
    length
}
