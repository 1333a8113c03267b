//! The command: configuration, logging, and the browser.
fn main() {}
