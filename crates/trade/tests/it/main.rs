//! Behaviour of the tables: complete, ordered, sourced.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod abrasives;
mod compat;
mod facts;
mod films;
mod law;
mod sources;
mod tables;
mod words;
