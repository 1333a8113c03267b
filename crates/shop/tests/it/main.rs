//! Behaviour of the shop: plan files, plans, and the use cases over them.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod changes;
mod examples;
mod invariants;
mod lead_tested;
mod learning;
mod measured;
mod own_schedule;
mod plan_files;
mod quantities;
mod replanning;
mod trade_facts;
mod wrong_guess;
