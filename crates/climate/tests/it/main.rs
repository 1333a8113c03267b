//! The climate crate against published tables and hand calculation.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod air;
mod drying;
mod room;
mod window;
mod wood;

/// Rows of a CSV of numbers in `tests/data`, without its heading.
fn numbers(text: &str) -> Vec<Vec<f64>> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader
        .records()
        .map(|row| row.unwrap().iter().map(|field| field.parse().unwrap()).collect())
        .collect()
}
