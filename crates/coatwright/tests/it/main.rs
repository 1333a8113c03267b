//! Behaviour of the command, run in process.

mod architecture;
// mod fuzz_lite;
// mod plan_command;
