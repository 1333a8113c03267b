//! The commands, one a file.

pub mod furnish;
pub mod plan;
pub mod serve;
