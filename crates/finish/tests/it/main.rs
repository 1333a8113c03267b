//! What the planner does, seen from outside.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod by_hand;
mod every_step_has_its_reason;
mod findings_page;
mod four_zones;
mod no_schedule;
mod published_guides;
mod random_zones;
mod rules_fire;
mod shelf;
mod trade_facts;
mod whole_trade;
