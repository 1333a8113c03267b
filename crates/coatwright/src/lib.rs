//! The command's parts, as a library so that tests run them in process.
//!
//! Invariant: nothing here exits; a command takes its arguments, the files and the moment, and returns an
//! [`outcome::Outcome`]. Only the two commands that serve pages read the clock and say something while they run.

pub mod commands;
pub mod files;
pub mod folder;
pub mod outcome;

use std::ffi::OsString;

use clap::{Parser, Subcommand};
use jiff::Timestamp;
use shop::plan::Effort;

use self::files::Files;
use self::outcome::Outcome;

/// A planner and bench companion for people who refinish furniture for a living.
#[derive(Debug, Parser)]
#[command(name = "coatwright", version, about, propagate_version = true)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Plan the pieces of one or more files: schedules, quantities, days, price and cautions
    Plan(commands::plan::PlanArguments),
    /// Open a furnished example shop in the browser, in a folder that is thrown away
    Demo(commands::serve::DemoArguments),
    /// Open a shop in the browser
    Serve(commands::serve::ServeArguments),
    /// Write the whole shop into one file
    Backup(commands::backup::BackupArguments),
    /// Make a shop's folder from a file that backup wrote
    Restore(commands::backup::RestoreArguments),
    /// Write the shop as a folder of open formats: TOML, CSV, JSON and the photographs
    Export(commands::exchange::ExportArguments),
    /// Make a shop from such a folder, or from plan files
    Import(commands::exchange::ImportArguments),
}

/// Runs the command that `args` (the program's name first) ask for, searching for a schedule with this much effort.
pub fn run(args: impl IntoIterator<Item = OsString>, files: &dyn Files, now: Timestamp, effort: Effort) -> Outcome {
    match Arguments::try_parse_from(args) {
        Ok(arguments) => match arguments.command {
            Command::Plan(arguments) => commands::plan::run(&arguments, files, now, effort),
            Command::Demo(arguments) => commands::serve::demo(&arguments, &mut std::io::stdout(), effort),
            Command::Serve(arguments) => commands::serve::serve(&arguments, &mut std::io::stdout(), effort),
            Command::Backup(arguments) => commands::backup::backup(&arguments),
            Command::Restore(arguments) => commands::backup::restore(&arguments),
            Command::Export(arguments) => commands::exchange::export(&arguments),
            Command::Import(arguments) => commands::exchange::import(&arguments, files),
        },
        Err(error) => {
            let text = error.render().to_string();
            // Help and version are answers; everything else is a wrong command line.
            if error.use_stderr() {
                Outcome::refused(text)
            } else {
                Outcome::answered(text)
            }
        }
    }
}
