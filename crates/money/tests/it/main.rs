//! What money answers, against hand calculation, brute force and simulation.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "small numbers drawn for the tests"
)]

mod business;
mod cans;
mod draws;
mod purchase;
mod quote;
mod rates;

use quantity::Money;

/// An amount of dollars as it stands on paper.
fn usd(typed: &str) -> Money {
    Money::parse(typed, quantity::Currency::USD).unwrap()
}
