//! `coatwright export` and `coatwright import`: the shop as a folder of open formats, and a shop from such a folder or from plan files.
//!
//! ```text
//! my-export/
//!   shop.toml          settings, shelf and pieces: a plan file, which `plan` reads too
//!   *.csv              readings of a room's air, as `shop.toml` names them
//!   log.csv            the bench log
//!   paints.json        what was measured of the shelf's paints
//!   photographs.csv    which picture shows which piece
//!   photographs/       the pictures
//! ```
//!
//! What was ticked off the shopping list, trials on photographs and the way back from changes are in a backup, and not here.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use clap::Args;
use shop::Shop;
use shop::swatch::SwatchReading;
use store::Store;

use super::backup::{faulty, held, opened, outcome, placed};
use super::plan::{BesideFiles, read_sources, refused_in_words};
use crate::files::Files;
use crate::folder::{Existing, make_folder, refusal, unwritable};
use crate::outcome::Outcome;

const SHOP: &str = "shop.toml";
const LOG: &str = "log.csv";
const PAINTS: &str = "paints.json";
const PHOTOGRAPHS: &str = "photographs";
const PHOTOGRAPH_LIST: &str = "photographs.csv";
const PHOTOGRAPH_COLUMNS: &str = "piece,file,taken,note";

/// What `export` is given.
#[derive(Debug, Args)]
pub struct ExportArguments {
    /// The new folder that is to hold the shop's files
    #[arg(value_name = "FOLDER")]
    pub folder: PathBuf,
    /// The shop's folder
    #[arg(long, value_name = "DIR", default_value = "my-shop")]
    pub shop: PathBuf,
    /// Put what is in the folder aside, under a new name beside it
    #[arg(long)]
    pub overwrite: bool,
}

/// What `import` is given.
#[derive(Debug, Args)]
pub struct ImportArguments {
    /// A folder that `export` wrote, or one or more plan files
    #[arg(required = true, value_name = "FOLDER or FILE.toml")]
    pub from: Vec<PathBuf>,
    /// The folder that the new shop is to be in
    #[arg(long, value_name = "DIR", default_value = "my-shop")]
    pub shop: PathBuf,
    /// Put a shop that is in the folder aside, under a new name beside it
    #[arg(long)]
    pub overwrite: bool,
}

/// Writes the shop as files.
pub fn export(arguments: &ExportArguments) -> Outcome {
    let done = opened(&arguments.shop).and_then(|store| {
        let fault = |error: store::StoreError| faulty(&arguments.shop, &error);
        let held = held(&store).map_err(fault)?;
        let files = exported(&store).map_err(fault)?;
        let aside = make_folder(&arguments.folder, Existing::by(arguments.overwrite), |staged| {
            for (name, bytes) in &files {
                let path = staged.join(name);
                let parent = path.parent().unwrap_or(staged);
                std::fs::create_dir_all(parent)
                    .and_then(|()| std::fs::write(&path, bytes))
                    .map_err(|error| unwritable(&arguments.folder, &error))?;
            }
            Ok(())
        })?;
        Ok(placed(&arguments.folder, &held, aside.as_deref()))
    });
    outcome(done)
}

/// Every file of an export by its name.
fn exported(store: &Store) -> Result<BTreeMap<String, Vec<u8>>, store::StoreError> {
    let mut shop = store.load()?;
    let mut files = BTreeMap::new();
    for room in shop.settings.rooms.iter_mut().filter(|room| !room.readings.is_empty()) {
        let named = room.readings_file.as_deref().map(Path::new).and_then(Path::file_name);
        let mut name = match named.and_then(|name| name.to_str()) {
            Some(name) if name != LOG && name != PHOTOGRAPH_LIST => name.to_owned(),
            _ => format!("{}.csv", shop::model::slug(&room.name)),
        };
        while files.contains_key(&name) {
            name.insert(0, '2');
        }
        files.insert(name.clone(), shop::file::write_readings(&room.readings).into_bytes());
        room.readings_file = Some(name);
    }
    files.insert(SHOP.to_owned(), shop::file::write_shop(&shop).into_bytes());
    files.insert(LOG.to_owned(), shop::file::write_log(&shop.log).into_bytes());
    let swatches = store.swatches()?;
    if !swatches.is_empty() {
        let json = serde_json::to_string_pretty(&swatches).unwrap_or_default();
        files.insert(PAINTS.to_owned(), (json + "\n").into_bytes());
    }
    photographs(store, &shop, &mut files)?;
    Ok(files)
}

/// The pictures in the order in which they came, numbered from 1.
fn photographs(store: &Store, shop: &Shop, files: &mut BTreeMap<String, Vec<u8>>) -> Result<(), store::StoreError> {
    let mut every = Vec::new();
    for piece in &shop.pieces {
        every.extend(store.photographs(&piece.id)?);
    }
    every.sort_by_key(|photograph| photograph.id);
    let mut list = PHOTOGRAPH_COLUMNS.to_owned() + "\n";
    for (number, photograph) in (1..).zip(&every) {
        let ending = Path::new(&photograph.file)
            .extension()
            .unwrap_or_default()
            .to_string_lossy();
        let name = format!("{number}.{ending}");
        let note = photograph.note.replace('"', "\"\"");
        list.push_str(&format!(
            "{},{name},{},\"{note}\"\n",
            photograph.piece, photograph.taken
        ));
        files.insert(format!("{PHOTOGRAPHS}/{name}"), store.photograph_bytes(photograph)?);
    }
    if !every.is_empty() {
        files.insert(PHOTOGRAPH_LIST.to_owned(), list.into_bytes());
    }
    Ok(())
}

/// Makes a shop of such a folder, or of plan files.
pub fn import(arguments: &ImportArguments, files: &dyn Files) -> Outcome {
    let read = match arguments.from.as_slice() {
        [folder] if folder.is_dir() => Imported::of_folder(folder, files),
        paths => Imported::of_plan_files(paths, files),
    };
    let imported = match read {
        Ok(imported) => imported,
        Err(why) => return Outcome::refused(why),
    };
    let mut held_there = String::new();
    let aside = make_folder(&arguments.shop, Existing::by(arguments.overwrite), |staged| {
        let fault = |error: store::StoreError| faulty(&arguments.shop, &error);
        let store = Store::open(staged).map_err(fault)?;
        imported.put_into(&store).map_err(fault)?;
        held_there = held(&store).map_err(fault)?;
        Ok(())
    });
    let assumed: String = imported
        .assumed
        .iter()
        .map(|assumed| format!("Taken for granted: {assumed}.\n"))
        .collect();
    outcome(aside.map(|aside| placed(&arguments.shop, &held_there, aside.as_deref()) + &assumed))
}

/// A picture that is to be kept.
struct Picture {
    piece: String,
    taken: jiff::Timestamp,
    note: String,
    bytes: Vec<u8>,
}

/// All that was read, before anything is written.
struct Imported {
    shop: Shop,
    assumed: Vec<String>,
    paints: Vec<SwatchReading>,
    pictures: Vec<Picture>,
}

impl Imported {
    fn of_plan_files(paths: &[PathBuf], files: &dyn Files) -> Result<Self, String> {
        let sources = read_sources(paths, files).map_err(|refusals| refused_in_words(&refusals))?;
        let read =
            shop::file::read(&sources, &BesideFiles { files }).map_err(|refusals| refused_in_words(&refusals))?;
        Ok(Imported {
            shop: read.shop,
            assumed: read.assumed,
            paints: Vec::new(),
            pictures: Vec::new(),
        })
    }

    fn of_folder(folder: &Path, files: &dyn Files) -> Result<Self, String> {
        let mut imported = Self::of_plan_files(&[folder.join(SHOP)], files)?;
        let optional = |name: &str| {
            let path = folder.join(name);
            match files.read(&path) {
                Ok(bytes) => Ok(Some((path, bytes))),
                Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
                Err(error) => Err(unreadable(&path, &error.to_string())),
            }
        };
        if let Some((path, bytes)) = optional(LOG)? {
            imported.shop.log = shop::file::read_log(&path.display().to_string(), &bytes)
                .map_err(|refusals| refused_in_words(&refusals))?;
        }
        if let Some((path, bytes)) = optional(PAINTS)? {
            imported.paints = serde_json::from_slice(&bytes).map_err(|error| unreadable(&path, &error.to_string()))?;
        }
        if let Some((path, bytes)) = optional(PHOTOGRAPH_LIST)? {
            imported.pictures = pictures(folder, &path, &bytes, &imported.shop, files)?;
        }
        Ok(imported)
    }

    fn put_into(&self, store: &Store) -> Result<(), store::StoreError> {
        store.save(&self.shop)?;
        for paint in &self.paints {
            store.save_swatch(paint)?;
        }
        for picture in &self.pictures {
            store.add_photograph(&picture.piece, &picture.bytes, picture.taken, &picture.note)?;
        }
        Ok(())
    }
}

fn unreadable(path: &Path, found: &str) -> String {
    refusal(
        path,
        found,
        "a file as export writes it",
        "the file as it was exported, or none",
    )
}

fn pictures(folder: &Path, list: &Path, bytes: &[u8], shop: &Shop, files: &dyn Files) -> Result<Vec<Picture>, String> {
    let mut reader = csv::Reader::from_reader(bytes);
    let mut pictures = Vec::new();
    for (row_idx, record) in reader.records().enumerate() {
        let line = row_idx + 2;
        let wrong = |found: &str, limit: &str, right: &str| {
            refusal(
                &PathBuf::from(format!("{}, line {line}", list.display())),
                found,
                limit,
                right,
            )
        };
        let record = record.map_err(|error| wrong(&error.to_string(), "a row of CSV", PHOTOGRAPH_COLUMNS))?;
        let cell = |column: usize| record.get(column).unwrap_or("");
        if shop.piece(cell(0)).is_none() {
            return Err(wrong(
                cell(0),
                "a picture shows a piece of shop.toml",
                "the id of such a piece",
            ));
        }
        let name = cell(1);
        if name.is_empty() || name.contains(['/', '\\']) || name.starts_with('.') {
            return Err(wrong(
                name,
                "a picture lies in the folder photographs",
                "a plain file name such as 1.jpg",
            ));
        }
        let path = folder.join(PHOTOGRAPHS).join(name);
        pictures.push(Picture {
            piece: cell(0).to_owned(),
            taken: cell(2)
                .parse()
                .map_err(|_| wrong(cell(2), "a moment with its offset", "2027-03-08T15:00:00Z"))?,
            note: cell(3).to_owned(),
            bytes: files
                .read(&path)
                .map_err(|error| unreadable(&path, &error.to_string()))?,
        });
    }
    Ok(pictures)
}
