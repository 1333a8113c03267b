//! `coatwright backup` and `coatwright restore`: the whole shop as one file, and a shop's folder from such a file.

use std::error::Error;
use std::path::{Path, PathBuf};

use clap::Args;
use store::{Store, StoreError};

use crate::folder::{Existing, make_file, make_folder, refusal};
use crate::outcome::Outcome;

/// What `backup` is given.
#[derive(Debug, Args)]
pub struct BackupArguments {
    /// The new file that is to hold the shop
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// The shop's folder
    #[arg(long, value_name = "DIR", default_value = "my-shop")]
    pub shop: PathBuf,
    /// Replace the file if there is one
    #[arg(long)]
    pub overwrite: bool,
}

/// What `restore` is given.
#[derive(Debug, Args)]
pub struct RestoreArguments {
    /// A file that `backup` wrote
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// The folder that the shop is to be in
    #[arg(long, value_name = "DIR", default_value = "my-shop")]
    pub shop: PathBuf,
    /// Put a shop that is in the folder aside, under a new name beside it
    #[arg(long)]
    pub overwrite: bool,
}

/// Writes the whole shop into one file; the program may be serving it meanwhile.
pub fn backup(arguments: &BackupArguments) -> Outcome {
    let done = opened(&arguments.shop).and_then(|store| {
        let held = held(&store).map_err(|error| faulty(&arguments.shop, &error))?;
        make_file(&arguments.file, Existing::by(arguments.overwrite), |staged| {
            store.backup(staged).map_err(|error| faulty(&arguments.file, &error))
        })?;
        Ok(format!("{}: holds {held}.\n", arguments.file.display()))
    });
    outcome(done)
}

/// Makes a shop's folder from such a file.
pub fn restore(arguments: &RestoreArguments) -> Outcome {
    if !arguments.file.is_file() {
        return Outcome::refused(refusal(
            &arguments.file,
            "there is no such file",
            "a shop is restored from a file that backup wrote",
            "the path of such a file",
        ));
    }
    let mut held_there = String::new();
    let aside = make_folder(&arguments.shop, Existing::by(arguments.overwrite), |staged| {
        let said = |error: &StoreError| match error {
            StoreError::NotABackup { why, .. } => refusal(
                &arguments.file,
                why,
                "a shop is restored from a file that backup wrote",
                "the path of such a file",
            ),
            other => faulty(&arguments.file, other),
        };
        let store = store::backup::restore(&arguments.file, staged).map_err(|error| said(&error))?;
        held_there = held(&store).map_err(|error| said(&error))?;
        Ok(())
    });
    outcome(aside.map(|aside| placed(&arguments.shop, &held_there, aside.as_deref())))
}

/// Opens the shop of a folder that holds one; none is made.
pub(super) fn opened(folder: &Path) -> Result<Store, String> {
    if !store::is_shop(folder) {
        return Err(refusal(
            folder,
            "there is no shop in this folder",
            "the folder of a shop, as serve makes it",
            "--shop with the shop's own folder",
        ));
    }
    Store::open(folder).map_err(|error| faulty(folder, &error))
}

/// `5 pieces, 12 lines of the bench log and 3 photographs`.
pub(super) fn held(store: &Store) -> Result<String, StoreError> {
    let shop = store.load()?;
    let mut photographs = 0;
    for piece in &shop.pieces {
        photographs += store.photographs(&piece.id)?.len();
    }
    let count = |number: usize, one: &str, many: &str| format!("{number} {}", if number == 1 { one } else { many });
    Ok(format!(
        "{}, {} and {}",
        count(shop.pieces.len(), "piece", "pieces"),
        count(shop.log.len(), "line of the bench log", "lines of the bench log"),
        count(photographs, "photograph", "photographs")
    ))
}

/// Where the shop is now, what it holds, and where what was there before has been put.
pub(super) fn placed(folder: &Path, held: &str, aside: Option<&Path>) -> String {
    let before = aside.map_or_else(String::new, |aside| {
        format!("What was there before is in {}.\n", aside.display())
    });
    format!("{}: holds {held}.\n{before}", folder.display())
}

/// A fault with its chain of reasons, worded as a refusal.
pub(super) fn faulty(place: &Path, error: &StoreError) -> String {
    let mut chain = error.to_string();
    let mut next = error.source();
    while let Some(reason) = next {
        chain.push_str(": ");
        chain.push_str(&reason.to_string());
        next = reason.source();
    }
    refusal(
        place,
        &chain,
        "the shop must be readable and the place writable; nothing was changed",
        "a shop of this version of the program, and a place with room",
    )
}

pub(super) fn outcome(done: Result<String, String>) -> Outcome {
    match done {
        Ok(said) => Outcome::answered(said),
        Err(why) => Outcome::refused(why),
    }
}
