//! The commands, one a file.

pub mod plan;
