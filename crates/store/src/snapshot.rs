//! Copies of the database by the day, so that a slip of yesterday can be looked up today.

use crate::{Store, StoreError};
use jiff::civil::Date;

/// How many days are kept.
const KEPT: usize = 14;
const FOLDER: &str = "snapshots";

impl Store {
    /// Keeps a copy of the database for this day, unless there is one, and takes the oldest away beyond fourteen.
    /// A shop in memory keeps none.
    ///
    /// # Errors
    /// The copy cannot be written.
    pub fn snapshot(&self, day: Date) -> Result<(), StoreError> {
        let Some(folder) = self.folder().map(|folder| folder.join(FOLDER)) else {
            return Ok(());
        };
        std::fs::create_dir_all(&folder).map_err(|source| StoreError::folder(&folder, source))?;
        let path = folder.join(format!("{day}.sqlite"));
        if !path.exists() {
            self.connection().execute("VACUUM INTO ?1", [path.to_string_lossy()])?;
        }
        let entries = std::fs::read_dir(&folder).map_err(|source| StoreError::folder(&folder, source))?;
        let mut copies: Vec<_> = entries.filter_map(Result::ok).map(|entry| entry.path()).collect();
        copies.sort();
        for old in copies.iter().take(copies.len().saturating_sub(KEPT)) {
            std::fs::remove_file(old).map_err(|source| StoreError::folder(old, source))?;
        }
        Ok(())
    }
}
