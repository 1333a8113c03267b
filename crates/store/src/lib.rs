//! One folder a shop: a SQLite database, the photographs, the snapshots.
//!
//! ```text
//! my-shop/
//!   shop.sqlite        settings, shelf, pieces, log (write-ahead log beside it while open)
//!   photographs/       files as they came, named by the database
//!   snapshots/         copies of the database, one a day at most, the last fourteen kept
//! ```
//!
//! - [`Store`] opens a folder, reads the whole [`Shop`](shop::model::Shop) and writes its parts.
//! - [`photograph`]: the pictures of a piece.
//! - [`backup`]: one file that holds the whole shop, and back.
//! - `change`: what was changed last with the way back, and where the steps of the last plan stood.
//!
//! It knows SQL and files, and nothing of HTML; it decides nothing about a piece. Every write is one transaction: it happens or it
//! does not.

pub mod backup;
mod change;
mod colour;
mod error;
mod migrations;
pub mod photograph;
mod rows;
mod snapshot;

pub use change::Told;
pub use error::StoreError;
pub use photograph::Photograph;
pub use rows::Tick;

use rusqlite::Connection;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// The name of the database in a shop's folder.
pub(crate) const DATABASE: &str = "shop.sqlite";
/// The folder of photographs in a shop's folder.
pub(crate) const PHOTOGRAPHS: &str = "photographs";

/// Whether a folder holds a shop.
#[must_use]
pub fn is_shop(folder: &Path) -> bool {
    folder.join(DATABASE).is_file()
}

/// An open shop folder. Calls from several threads take turns.
#[derive(Debug)]
pub struct Store {
    connection: Mutex<Connection>,
    folder: Option<PathBuf>,
}

impl Store {
    /// Opens a shop's folder, making it and its database where they are not there yet, and brings an older database up to date.
    ///
    /// # Errors
    /// The folder cannot be made or written, its database is damaged, or it was written by a newer version of the program.
    pub fn open(folder: &Path) -> Result<Self, StoreError> {
        std::fs::create_dir_all(folder.join(PHOTOGRAPHS)).map_err(|source| StoreError::folder(folder, source))?;
        let connection = Connection::open(folder.join(DATABASE))?;
        connection.pragma_update(None, "journal_mode", "WAL")?;
        connection.pragma_update(None, "synchronous", "NORMAL")?;
        Self::prepare(connection, Some(folder.to_owned()))
    }

    /// A shop that lives in memory only; it keeps no photographs.
    ///
    /// # Errors
    /// The database cannot be set up.
    pub fn in_memory() -> Result<Self, StoreError> {
        Self::prepare(Connection::open_in_memory()?, None)
    }

    fn prepare(mut connection: Connection, folder: Option<PathBuf>) -> Result<Self, StoreError> {
        connection.pragma_update(None, "foreign_keys", true)?;
        connection.busy_timeout(std::time::Duration::from_secs(5))?;
        migrations::run(&mut connection)?;
        Ok(Self {
            connection: Mutex::new(connection),
            folder,
        })
    }

    /// The shop's folder; `None` for one in memory.
    #[must_use]
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// The connection, once other threads are done with it. A thread that panicked left at most an open transaction, which SQLite rolled back.
    pub(crate) fn connection(&self) -> MutexGuard<'_, Connection> {
        self.connection.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
