//! What the scheduling engine promises, seen from outside.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod any_problem;
mod exhaustive;
mod impossible;
mod made;
mod replan;
