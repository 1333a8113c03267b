//! `[[piece.zone]]`: what is there and what it should become.

use finish::identify::{Answer, Era, Observation, Outcome};
use trade::UnknownWord;

use super::node::{Table, Value};
use super::own_table;
use super::values::{self, Bare};
use super::words;
use super::words::ids_of;
use crate::model::{
    Condition, Contaminant, Defect, DefectKind, FoundLayer, Guess, LeadAmount, LeadField, LeadTest, LeadTested, Look,
    Sheen, ShelfProduct, Soundness, TestKind, Wish, Without, Zone,
};

/// Most layers, defects and so on of one zone: more is a mistake, and would only cost time.
const MOST_ITEMS: usize = 30;

/// Reads one zone; `None` if what has no default was refused.
pub(crate) fn read(mut table: Table<'_>, bare: Bare, piece_name: &str, shelf: &[ShelfProduct]) -> Option<Zone> {
    let name = table
        .need("name", "a name such as \"lid\"")
        .and_then(|value| value.text(60, "a name"));
    if let Some(name) = &name {
        table.field = format!("piece \"{piece_name}\", zone \"{name}\"");
    }
    let of = table
        .get("of")
        .map(|value| {
            let right = "surfaces of the form, such as [\"top\"]";
            short_list(&value, right)
                .iter()
                .filter_map(|item| item.text(60, right))
                .collect()
        })
        .unwrap_or_default();
    let substrate = table
        .need(
            "substrate",
            "a species or a material, such as \"oak\", \"veneer\", \"mdf\" or \"brass\"",
        )
        .and_then(|value| words::substrate(&value));
    let found = table
        .get("found")
        .map(|value| {
            let right =
                "layers from the substrate outwards, such as [ { class = \"oil-based-polyurethane\", coats = 2 } ]";
            short_list(&value, right)
                .iter()
                .filter_map(|item| read_layer(item, right))
                .collect()
        })
        .unwrap_or_default();
    let state = table
        .get("state")
        .map(|value| read_words(&value, Condition::parse, &ids_of!(Condition)))
        .unwrap_or_default();
    let contaminants = table
        .get("contaminants")
        .map(|value| read_words(&value, Contaminant::parse, &ids_of!(Contaminant)))
        .unwrap_or_default();
    let defects = table
        .get("defects")
        .map(|value| {
            let right = "damage such as [ { kind = \"gouge\", count = 2, depth = \"3 mm\" } ]";
            short_list(&value, right)
                .iter()
                .filter_map(|item| read_defect(item, bare, right))
                .collect()
        })
        .unwrap_or_default();
    let lead = table
        .get("tested")
        .and_then(|value| value.table("a table such as { lead = \"none\", by = \"lab-chip\" }"))
        .and_then(read_tested);
    let wish = match table.get("wish") {
        Some(value) => value
            .table("a table such as { look = \"clear\", sheen = \"flat\" }")
            .and_then(|wish| read_wish(wish, shelf)),
        None => Some(Wish::default()),
    };
    let area = table.get("area").and_then(|value| values::area(&value, bare));
    let comes_off = table.get("comes_off").and_then(|value| value.flag());
    let chosen = table
        .get("choose")
        .and_then(|value| value.text(120, "what the schedule is best at, or its key, as the plan names it"));
    let own = table.get("steps").map(|value| own_table::read_steps(&value));
    let draft = table.get("draft").and_then(|value| own_table::read_draft(&value));
    let overruled = table
        .get("overruled")
        .map(|value| own_table::read_consents(&value))
        .unwrap_or_default();
    table.close();
    Some(Zone {
        name: name?,
        of,
        substrate: substrate?,
        found,
        state,
        contaminants,
        defects,
        lead: lead.unwrap_or_default(),
        wish: wish?,
        area,
        comes_off,
        chosen,
        own: own.flatten(),
        draft,
        overruled,
    })
}

/// What a lead test said, by which kind of test, and how much it found; `None` if any of it was refused.
fn read_tested(table: Table<'_>) -> Option<LeadTested> {
    let said = table.get("lead");
    let amount = table.get("amount");
    let place = |field| match field {
        LeadField::Said => said.as_ref(),
        LeadField::Amount => amount.as_ref(),
    };
    let read_said = said.as_ref().map_or(Some(LeadTest::NotTested), |value| {
        value.kind(LeadTest::parse, &ids_of!(LeadTest))
    });
    let by = table
        .get("by")
        .map(|value| words::trade_word(&value, "a kind of lead test such as \"lab-chip\"", TestKind::parse));
    let read_amount = amount.as_ref().map(|value| {
        let read = value.as_text().map_or(Err(LeadAmount::LIMIT), LeadAmount::parse);
        read.map_err(|limit| value.refuse(limit, LeadAmount::RIGHT)).ok()
    });
    // What was refused by itself is not judged again beside the rest.
    let tested = match (read_said, by, read_amount) {
        (None, _, _) | (_, Some(None), _) | (_, _, Some(None)) => None,
        (Some(said), by, amount) => match LeadTested::of(said, by.flatten(), amount.flatten()) {
            Ok(tested) => Some(tested),
            Err(refusal) => {
                match place(refusal.field) {
                    Some(value) => value.refuse(refusal.limit, refusal.right),
                    None => table.refuse_absence("lead", refusal.limit, refusal.right),
                }
                None
            }
        },
    };
    table.close();
    tested
}

fn short_list<'a>(value: &Value<'a>, right: &str) -> Vec<Value<'a>> {
    let items = value.list(right);
    if items.len() > MOST_ITEMS {
        value.refuse(&format!("at most {MOST_ITEMS} of them"), right);
        return Vec::new();
    }
    items
}

fn read_words<T>(value: &Value<'_>, parse: fn(&str) -> Result<T, UnknownWord>, ids: &[&str]) -> Vec<T> {
    // One word alone is as good as a list of one.
    if value.is_text() {
        return value.kind(parse, ids).into_iter().collect();
    }
    let right = format!("a list of {}", ids.join(", "));
    short_list(value, &right)
        .iter()
        .filter_map(|item| item.kind(parse, ids))
        .collect()
}

fn read_layer(value: &Value<'_>, right: &str) -> Option<FoundLayer> {
    let table = value.table(right)?;
    let class = table
        .need("class", "a finish class, or \"unknown\"")
        .and_then(|value| words::finish_class(&value));
    let coats = table
        .get("coats")
        .map_or(Some(1), |value| value.whole(1..=30, "a number of coats such as 2"));
    let colour = table.get("colour").and_then(|value| values::colour(&value));
    let age = table.get("age").and_then(|value| values::minutes(&value));
    let soundness = table
        .get("soundness")
        .and_then(|value| value.kind(Soundness::parse, &ids_of!(Soundness)));
    let guess = table
        .get("guess")
        .and_then(|value| value.table("a table such as { era = \"1900-1929\", alcohol = \"dissolves\" }"))
        .map(read_guess);
    table.close();
    Some(FoundLayer {
        class: class?,
        coats: u8::try_from(coats?).ok()?,
        colour,
        age,
        soundness,
        guess,
    })
}

/// What a layer was identified by: an era, and an answer to each test that was made.
fn read_guess(table: Table<'_>) -> Guess {
    let era = table
        .get("era")
        .and_then(|value| value.kind(Era::parse, &ids_of!(Era)))
        .unwrap_or(Era::Unknown);
    let mut answers = Vec::new();
    for observation in Observation::EVERY {
        let Some(value) = table.get(observation.id()) else {
            continue;
        };
        let outcomes = observation.outcomes();
        let ids: Vec<&str> = outcomes.iter().map(|outcome| outcome.id()).collect();
        if let Some(outcome) = value.kind(Outcome::parse, &ids) {
            match Answer::new(*observation, outcome) {
                Some(answer) => answers.push(answer),
                None => value.refuse("this test cannot turn out so", &super::nearest::one_of("", &ids)),
            }
        }
    }
    table.close();
    Guess { era, answers }
}

fn read_defect(value: &Value<'_>, bare: Bare, right: &str) -> Option<Defect> {
    let table = value.table(right)?;
    let kind = table
        .need("kind", "the kind of damage, such as \"gouge\"")
        .and_then(|value| value.kind(DefectKind::parse, &ids_of!(DefectKind)));
    let count = table
        .get("count")
        .map_or(Some(1), |value| value.whole(1..=200, "a number such as 2"));
    let depth = table.get("depth").and_then(|value| values::length(&value, bare));
    table.close();
    Some(Defect {
        kind: kind?,
        count: count?,
        depth,
    })
}

fn read_wish(table: Table<'_>, shelf: &[ShelfProduct]) -> Option<Wish> {
    let look = table
        .need("look", "one of clear, stain, paint, metallic, wax")
        .and_then(|value| value.kind(Look::parse, &ids_of!(Look)));
    let mut wish = Wish::for_look(look.unwrap_or(Look::Clear));
    wish.sheen = table
        .get("sheen")
        .and_then(|value| value.kind(Sheen::parse, &ids_of!(Sheen)));
    wish.colour = table.get("colour").and_then(|value| values::colour(&value));
    wish.strip = table.get("strip").and_then(|value| value.flag());
    wish.class = table.get("class").and_then(|value| words::finish_class(&value));
    wish.product = table.get("product").and_then(|value| {
        let name = value.text(80, "the name of a product on the shelf")?;
        if shelf.iter().any(|product| product.name == name) {
            return Some(name);
        }
        let names: Vec<&str> = shelf.iter().map(|product| product.name.as_str()).collect();
        let right = if names.is_empty() {
            "a [[shelf]] with this name".to_owned()
        } else {
            super::nearest::one_of(&name, &names)
        };
        value.refuse("no product of this name stands on the shelf", &right);
        None
    });
    wish.coats = table
        .get("coats")
        .and_then(|value| value.whole(1..=12, "a number of coats such as 2"))
        .and_then(|coats| u8::try_from(coats).ok());
    wish.without = table
        .get("without")
        .map(|value| read_words(&value, Without::parse, &ids_of!(Without)))
        .unwrap_or_default();
    wish.distress = table.get("distress").and_then(|value| value.flag()).unwrap_or(false);
    wish.glaze = table.get("glaze").and_then(|value| value.flag()).unwrap_or(false);
    table.close();
    look.map(|_| wish)
}
