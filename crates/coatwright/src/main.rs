//! The command: configuration, logging, and the browser.

use std::io::Write as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    let effort = shop::plan::Effort::default();
    tracing_subscriber::fmt()
        .with_writer(std::io::stderr)
        .without_time()
        .with_target(false)
        .init();
    let outcome = coatwright::run(
        std::env::args_os(),
        &coatwright::files::Disk,
        jiff::Timestamp::now(),
        effort,
    );
    // A reader that went away (`| head`) is no fault of ours: there is nobody left to tell.
    let _ = std::io::stdout().write_all(outcome.out.as_bytes());
    let _ = std::io::stderr().write_all(outcome.err.as_bytes());
    ExitCode::from(outcome.status)
}
