//! The colour crate against published tables and computed figures. Each file in `tests/data` names its source in its last
//! column or in `tests/data/README.md`.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod coats;
mod films;
mod harmony;
mod hostile;
mod mixtures;
mod photographs;
mod properties;
mod spaces;

use std::collections::BTreeMap;

/// One row of a table, by column name.
type Row = BTreeMap<String, String>;

/// The rows of a CSV with a heading.
fn rows(text: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.deserialize().map(|row| row.unwrap()).collect()
}

/// A number of a row.
fn number(row: &Row, column: &str) -> f64 {
    row[column]
        .parse()
        .unwrap_or_else(|_| panic!("{column} = {}", row[column]))
}

/// Three numbers of a row as a colour.
fn lab(row: &Row, columns: [&str; 3]) -> colour::Lab {
    let [l, a, b] = columns.map(|column| number(row, column));
    colour::Lab::new(l, a, b)
}
