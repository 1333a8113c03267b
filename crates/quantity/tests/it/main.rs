//! How quantities read what people type and show it again.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod money;
mod nonsense;
mod products;
mod round_trip;
mod typed;
