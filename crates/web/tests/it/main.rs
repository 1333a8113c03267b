//! The pages as a browser without scripts meets them, in process.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod app;
mod bench;
mod by_hand;
mod colour;
mod guard;
mod layers;
mod lead;
mod measure;
mod pairing;
mod pieces;
mod pin;
mod prices;
mod quick;
mod scan;
mod settings;
mod shopping;
mod spell;
mod spot_test;
mod turning;
mod undo;
