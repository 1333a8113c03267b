//! One file that holds the whole shop: the database with the photographs inside it; and a folder made from such a file again.

use crate::{DATABASE, PHOTOGRAPHS, Store, StoreError};
use rusqlite::{Connection, OpenFlags, params};
use std::path::Path;

/// The table that holds the photographs in a backup, and marks the file as one.
const TABLE: &str = "CREATE TABLE backup_photograph (file TEXT PRIMARY KEY, bytes BLOB NOT NULL) STRICT";

impl Store {
    /// Writes the whole shop into one new file.
    ///
    /// # Errors
    /// The file is there already, or something cannot be read or written; then no file is left behind.
    pub fn backup(&self, to: &Path) -> Result<(), StoreError> {
        if to.exists() {
            return Err(StoreError::Occupied(to.to_owned()));
        }
        let written = self.write_backup(to);
        if written.is_err() {
            // Nothing half-written stays; that it cannot be taken away adds nothing to what went wrong before.
            let _ = std::fs::remove_file(to);
        }
        written
    }

    fn write_backup(&self, to: &Path) -> Result<(), StoreError> {
        let files: Vec<String> = {
            let connection = self.connection();
            connection.execute("VACUUM INTO ?1", [to.to_string_lossy()])?;
            let mut statement = connection.prepare("SELECT file FROM photograph ORDER BY file")?;
            let files = statement.query_map([], |row| row.get(0))?;
            files.collect::<Result<_, _>>()?
        };
        let mut copy = Connection::open(to)?;
        let transaction = copy.transaction()?;
        transaction.execute_batch(TABLE)?;
        for file in files {
            let path = self.photograph_folder()?.join(&file);
            let bytes = std::fs::read(&path).map_err(|source| StoreError::folder(&path, source))?;
            transaction.execute("INSERT INTO backup_photograph VALUES (?1, ?2)", params![file, bytes])?;
        }
        Ok(transaction.commit()?)
    }
}

/// Makes a shop's folder from a backup. The folder must not hold a shop yet.
///
/// # Errors
/// The file is no backup, the folder holds a shop, or something cannot be read or written.
pub fn restore(from: &Path, folder: &Path) -> Result<Store, StoreError> {
    if folder.join(DATABASE).exists() {
        return Err(StoreError::Occupied(folder.to_owned()));
    }
    let no_backup = |why: String| StoreError::NotABackup {
        path: from.to_owned(),
        why,
    };
    let backup = Connection::open_with_flags(from, OpenFlags::SQLITE_OPEN_READ_ONLY)
        .map_err(|source| no_backup(source.to_string()))?;
    let photographs = read_photographs(&backup).map_err(|source| no_backup(source.to_string()))?;
    let pictures = folder.join(PHOTOGRAPHS);
    std::fs::create_dir_all(&pictures).map_err(|source| StoreError::folder(&pictures, source))?;
    for (file, bytes) in photographs {
        if file.contains(['/', '\\']) || file.starts_with('.') {
            return Err(no_backup(format!("it holds a photograph named {file}")));
        }
        let path = pictures.join(file);
        std::fs::write(&path, bytes).map_err(|source| StoreError::folder(&path, source))?;
    }
    let database = folder.join(DATABASE);
    backup.execute("VACUUM INTO ?1", [database.to_string_lossy()])?;
    Connection::open(&database)?.execute_batch("DROP TABLE backup_photograph")?;
    Store::open(folder)
}

fn read_photographs(backup: &Connection) -> rusqlite::Result<Vec<(String, Vec<u8>)>> {
    let mut statement = backup.prepare("SELECT file, bytes FROM backup_photograph")?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    rows.collect()
}
