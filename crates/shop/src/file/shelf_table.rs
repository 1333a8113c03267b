//! `[[shelf]]`: the products that the shop holds.

use super::node::{Table, Value};
use super::values::{self, Bare};
use super::words;
use crate::model::{Label, ShelfProduct};

/// Reads one product; `None` if what has no default was refused.
pub(crate) fn read(table: Table<'_>, bare: Bare) -> Option<ShelfProduct> {
    let name = table
        .need("name", "a name such as \"our flat clear\"")
        .and_then(|value| value.text(80, "a name"));
    let class = table
        .need("class", "a material class such as \"waterborne-flat-clear\"")
        .and_then(|value| words::material(&value));
    let size = table
        .need("size", "what the full container holds, such as \"1 qt\"")
        .and_then(|value| values::can(&value, bare));
    let left = table.get("left").map_or(Some(1.0), |value| values::share(&value));
    let price = table
        .need("price", "what a full container costs, such as 24.00")
        .and_then(|value| values::money(&value, bare));
    let label = table
        .get("label")
        .and_then(|value| value.table("a table such as { recoat_min = \"2 h\" }"))
        .map(|label| read_label(label, bare));
    let opened = table.get("opened").and_then(|value| values::date(&value));
    let goes_off = table.get("goes_off").and_then(|value| values::date(&value));
    let colour = table.get("colour").and_then(|value| values::colour(&value));
    table.close();
    Some(ShelfProduct {
        name: name?,
        class: class?,
        size: size?,
        left: left?,
        price: price?,
        label: label.unwrap_or_default(),
        opened,
        goes_off,
        colour,
    })
}

fn read_label(table: Table<'_>, bare: Bare) -> Label {
    let minutes = |key: &'static str| table.get(key).and_then(|value| values::minutes(&value));
    let label = Label {
        recoat_min: minutes("recoat_min"),
        recoat_max: minutes("recoat_max"),
        dry: minutes("dry"),
        cure: minutes("cure"),
        spread: table.get("spread").and_then(|value| values::spread(&value, bare)),
        solids: table.get("solids").and_then(|value| share_above_nothing(&value)),
        hiding: table.get("hiding").and_then(|value| share_above_nothing(&value)),
        hiding_at: table.get("hiding_at").and_then(|value| values::spread(&value, bare)),
        thinner: table.get("thinner").and_then(|value| values::share(&value)),
        mix: table.get("mix").and_then(|value| mix(&value)),
        pot_life: minutes("pot_life"),
        coats: table
            .get("coats")
            .and_then(|value| value.whole(1..=20, "a number of coats such as 2"))
            .and_then(|coats| u8::try_from(coats).ok()),
    };
    if let (Some(min), Some(max)) = (label.recoat_min, label.recoat_max)
        && min > max
    {
        table.reader.refuse(
            table.span.clone(),
            &table.field,
            "recoat_min above recoat_max",
            "the earliest next coat comes before the latest",
            "the two the other way round",
        );
    }
    table.close();
    label
}

/// A share of more than nothing: a product without solids, or one that hides nothing, is a slip of the pen.
fn share_above_nothing(value: &Value<'_>) -> Option<f64> {
    let share = values::share(value)?;
    if share > 0.0 {
        Some(share)
    } else {
        value.refuse("a share above 0 and at most 1", "a number such as 0.4, or \"40 %\"");
        None
    }
}

/// Parts of base and hardener: "4:1".
fn mix(value: &Value<'_>) -> Option<(f64, f64)> {
    let read = value.as_text().and_then(read_mix);
    if read.is_none() {
        value.refuse("parts of base and hardener by volume", "two numbers such as \"4:1\"");
    }
    read
}

/// Reads parts of base and hardener by volume, "4:1" or "10 : 1"; `None` for anything else.
pub fn read_mix(typed: &str) -> Option<(f64, f64)> {
    let (base, hardener) = typed.split_once(':')?;
    let part = |text: &str| {
        text.trim()
            .parse::<f64>()
            .ok()
            .filter(|part| *part > 0.0 && *part <= 1000.0)
    };
    Some((part(base)?, part(hardener)?))
}
