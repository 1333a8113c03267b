//! Behaviour of the command, run in process.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod architecture;
mod demo;
mod errors_page;
mod fuzz_lite;
mod keeping;
mod plan_command;
mod serve_command;
