//! `[[seller]]`: where the shop buys, at what prices.

use quantity::Money;

use super::node::Table;
use super::values::{self, Bare};
use super::words;
use crate::model::{CanPrice, Seller, Settings};

/// Reads one seller into the settings.
pub(crate) fn read(mut table: Table<'_>, bare: Bare, settings: &mut Settings) {
    let span = table.span.clone();
    let name = table
        .need("name", "a name such as \"paint counter\"")
        .and_then(|value| value.text(80, "a name such as \"paint counter\""));
    if let Some(name) = &name {
        table.field = format!("seller \"{name}\"");
    }
    let trip = table
        .get("trip")
        .map_or(Some(Money::ZERO), |value| values::money(&value, bare));
    let cans = read_cans(&table, bare);
    let reader = table.reader;
    let field = table.field.clone();
    table.close();
    let (Some(name), Some(trip)) = (name, trip) else {
        return;
    };
    if settings.sellers.iter().any(|other| other.name == name) {
        reader.refuse(
            span,
            &field,
            "",
            "two sellers have the same name",
            "another name for one of them",
        );
        return;
    }
    if settings.sellers.len() >= Seller::MOST {
        let limit = format!("at most {} sellers", Seller::MOST);
        reader.refuse(span, &field, "", &limit, "fewer sellers");
        return;
    }
    settings.sellers.push(Seller { name, trip, cans });
}

fn read_cans(table: &Table<'_>, bare: Bare) -> Vec<CanPrice> {
    let right = "a list such as [ { class = \"alkyd-enamel\", size = \"1 qt\", price = 24.00 } ]";
    let tables = table.tables("cans", right);
    if tables.len() > Seller::MOST_CANS {
        let limit = format!("a seller has at most {} prices", Seller::MOST_CANS);
        table
            .reader
            .refuse(table.span.clone(), &table.field_of("cans"), "", &limit, "fewer prices");
        return Vec::new();
    }
    tables.into_iter().filter_map(|can| read_can(can, bare)).collect()
}

fn read_can(table: Table<'_>, bare: Bare) -> Option<CanPrice> {
    let class = table
        .need("class", "a material class such as \"waterborne-flat-clear\"")
        .and_then(|value| words::material(&value));
    let size = table
        .need("size", "what one holds, such as \"1 qt\"")
        .and_then(|value| values::can(&value, bare));
    let price = table
        .need("price", "what one costs, such as 24.00")
        .and_then(|value| values::money(&value, bare));
    table.close();
    Some(CanPrice {
        class: class?,
        size: size?,
        price: price?,
    })
}
