//! Files and folders that come into being whole or not at all, and over nothing that is there unless that was asked for.

use std::path::{Path, PathBuf};

/// Whether what is there may be put aside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Existing {
    /// It stays, and the command is refused.
    Stays,
    /// A file is replaced; a folder is put aside under a new name, and nothing in it is lost.
    GivesWay,
}

impl Existing {
    /// By the switch of the command line.
    pub fn by(overwrite: bool) -> Self {
        if overwrite { Existing::GivesWay } else { Existing::Stays }
    }
}

/// A refusal as every command words it: where, what was found, the limit, and what would be right.
pub fn refusal(place: &Path, found: &str, limit: &str, right: &str) -> String {
    format!(
        "{}\n    found: {found}\n    limit: {limit}\n    right: {right}\n",
        place.display()
    )
}

/// Makes a folder by `build`, which is given another path to build it at; only once all of it is there it takes its place.
/// Returns where the folder that was there before has been put, if there was one.
///
/// # Errors
/// There is something already and it stays, or what `build` or the disk says; then everything is as it was.
pub fn make_folder(
    target: &Path,
    existing: Existing,
    build: impl FnOnce(&Path) -> Result<(), String>,
) -> Result<Option<PathBuf>, String> {
    let there = is_occupied(target);
    if there && existing == Existing::Stays {
        return Err(refusal(
            target,
            "there is something here already",
            "nothing is written over without being asked",
            "another folder, or --overwrite, which puts what is here aside",
        ));
    }
    let staged = beside(target, "part");
    let built = build(&staged).and_then(|()| {
        let aside = if there { Some(free_name(target)) } else { None };
        let cleared = match &aside {
            Some(aside) => std::fs::rename(target, aside),
            // An empty folder gives way without a trace; one that is not there at all is no fault.
            None => std::fs::remove_dir(target).or(Ok(())),
        };
        cleared
            .and_then(|()| std::fs::rename(&staged, target))
            .map_err(|error| unwritable(target, &error))?;
        Ok(aside)
    });
    if built.is_err() {
        // What is left half-made is of no use to anybody.
        let _ = std::fs::remove_dir_all(&staged);
    }
    built
}

/// Makes a file by `build` in the same way.
///
/// # Errors
/// As [`make_folder`].
pub fn make_file(
    target: &Path,
    existing: Existing,
    build: impl FnOnce(&Path) -> Result<(), String>,
) -> Result<(), String> {
    if target.is_dir() {
        return Err(refusal(
            target,
            "this is a folder",
            "a backup is one file",
            "the name of a new file, such as shop.backup",
        ));
    }
    if target.exists() && existing == Existing::Stays {
        return Err(refusal(
            target,
            "there is a file here already",
            "nothing is written over without being asked",
            "another name, or --overwrite",
        ));
    }
    if let Some(parent) = target.parent().filter(|parent| !parent.as_os_str().is_empty()) {
        std::fs::create_dir_all(parent).map_err(|error| unwritable(parent, &error))?;
    }
    let staged = beside(target, "part");
    let built =
        build(&staged).and_then(|()| std::fs::rename(&staged, target).map_err(|error| unwritable(target, &error)));
    if built.is_err() {
        let _ = std::fs::remove_file(&staged);
    }
    built
}

/// What the disk said, as a refusal.
pub fn unwritable(place: &Path, error: &std::io::Error) -> String {
    refusal(
        place,
        &error.to_string(),
        "it must be possible to write here; nothing was changed",
        "another place, or the right to write here",
    )
}

/// Whether anything is at the path but an empty folder.
fn is_occupied(path: &Path) -> bool {
    match std::fs::read_dir(path) {
        Ok(mut entries) => entries.next().is_some(),
        Err(_) => path.exists(),
    }
}

/// A name beside the path that only this program uses, and only for now.
fn beside(path: &Path, word: &str) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{}.{word}", std::process::id()));
    path.with_file_name(name)
}

/// `my-shop.before-1`, or the next number that is free.
fn free_name(path: &Path) -> PathBuf {
    let mut turn = 1_u32;
    loop {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(format!(".before-{turn}"));
        let free = path.with_file_name(name);
        if !free.exists() {
            return free;
        }
        turn = turn.saturating_add(1);
    }
}
