//! The pictures of a piece: files in the shop's folder, rows in its database.

use crate::{PHOTOGRAPHS, Store, StoreError};
use jiff::Timestamp;
use rusqlite::{OptionalExtension, Row, params};
use std::path::PathBuf;

/// The largest picture kept, megabytes.
const LIMIT_MB: usize = 40;

/// A picture of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photograph {
    /// Its number.
    pub id: i64,
    /// The piece it shows.
    pub piece: String,
    /// Its file in the folder of photographs.
    pub file: String,
    /// `image/png`, `image/jpeg` or `image/webp`.
    pub kind: String,
    /// When it was added.
    pub taken: String,
    /// What it shows.
    pub note: String,
}

impl Store {
    /// The pictures of a piece, oldest first.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn photographs(&self, piece: &str) -> Result<Vec<Photograph>, StoreError> {
        let connection = self.connection();
        let mut statement = connection
            .prepare("SELECT id, piece, file, kind, taken, note FROM photograph WHERE piece = ?1 ORDER BY id")?;
        let rows = statement.query_map([piece], of_row)?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// One picture by its number.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn photograph(&self, id: i64) -> Result<Option<Photograph>, StoreError> {
        let sql = "SELECT id, piece, file, kind, taken, note FROM photograph WHERE id = ?1";
        Ok(self.connection().query_row(sql, [id], of_row).optional()?)
    }

    /// Keeps a picture of a piece as it came; its kind is read from its first bytes, whatever it is called. Gives its number.
    ///
    /// # Errors
    /// It is no PNG, JPEG or WebP, is larger than 40 MB, there is no such piece, or it cannot be written.
    pub fn add_photograph(&self, piece: &str, bytes: &[u8], at: Timestamp, note: &str) -> Result<i64, StoreError> {
        let (kind, ending) = kind_of(bytes).ok_or(StoreError::NotAPicture)?;
        let is_mb = bytes.len() / 1_000_000;
        if is_mb > LIMIT_MB {
            return Err(StoreError::PictureTooLarge {
                is_mb,
                limit_mb: LIMIT_MB,
            });
        }
        let folder = self.photograph_folder()?;
        let mut connection = self.connection();
        let transaction = connection.transaction()?;
        let there: bool =
            transaction.query_row("SELECT EXISTS (SELECT 1 FROM piece WHERE id = ?1)", [piece], |row| {
                row.get(0)
            })?;
        if !there {
            return Err(StoreError::NoPiece(piece.to_owned()));
        }
        let next: i64 = transaction.query_row(
            "SELECT coalesce(max(seq), 0) + 1 FROM sqlite_sequence WHERE name = 'photograph'",
            [],
            |row| row.get(0),
        )?;
        let file = format!("{next}.{ending}");
        transaction.execute(
            "INSERT INTO photograph (piece, file, kind, taken, note) VALUES (?1, ?2, ?3, ?4, ?5)",
            params![piece, file, kind, at.to_string(), note],
        )?;
        let id = transaction.last_insert_rowid();
        let path = folder.join(&file);
        std::fs::write(&path, bytes).map_err(|source| StoreError::folder(&path, source))?;
        transaction.commit()?;
        Ok(id)
    }

    /// The bytes of a picture.
    ///
    /// # Errors
    /// Its file cannot be read.
    pub fn photograph_bytes(&self, photograph: &Photograph) -> Result<Vec<u8>, StoreError> {
        let path = self.photograph_folder()?.join(&photograph.file);
        std::fs::read(&path).map_err(|source| StoreError::folder(&path, source))
    }

    pub(crate) fn photograph_folder(&self) -> Result<PathBuf, StoreError> {
        Ok(self.folder().ok_or(StoreError::NoFolder)?.join(PHOTOGRAPHS))
    }

    /// Takes files away whose rows are gone; one that is gone already does not matter.
    pub(crate) fn remove_files(&self, files: &[String]) -> Result<(), StoreError> {
        for file in files {
            let path = self.photograph_folder()?.join(file);
            match std::fs::remove_file(&path) {
                Err(source) if source.kind() != std::io::ErrorKind::NotFound => {
                    return Err(StoreError::folder(&path, source));
                }
                _ => {}
            }
        }
        Ok(())
    }
}

fn of_row(row: &Row<'_>) -> rusqlite::Result<Photograph> {
    Ok(Photograph {
        id: row.get(0)?,
        piece: row.get(1)?,
        file: row.get(2)?,
        kind: row.get(3)?,
        taken: row.get(4)?,
        note: row.get(5)?,
    })
}

/// Media type and file ending, by the first bytes that each format prescribes.
fn kind_of(bytes: &[u8]) -> Option<(&'static str, &'static str)> {
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        Some(("image/png", "png"))
    } else if bytes.starts_with(b"\xff\xd8\xff") {
        Some(("image/jpeg", "jpg"))
    } else if bytes.len() > 12 && bytes.starts_with(b"RIFF") && &bytes[8..12] == b"WEBP" {
        Some(("image/webp", "webp"))
    } else {
        None
    }
}
