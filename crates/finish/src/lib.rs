//! Finishing schedules: derived, explained and checked.

pub mod identify;
