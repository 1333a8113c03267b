//! Behaviour of the command, run in process.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod architecture;
mod fuzz_lite;
mod plan_command;
