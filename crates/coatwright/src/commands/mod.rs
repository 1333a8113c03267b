//! The commands, one a file.

pub mod backup;
pub mod exchange;
pub mod furnish;
pub mod plan;
pub mod serve;
