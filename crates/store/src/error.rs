//! What can go wrong with a folder or its database. These are faults: logged at the edge with their whole chain.

use std::path::{Path, PathBuf};

/// A fault of the store.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum StoreError {
    /// The database said no.
    #[error("the shop's database could not be read or written")]
    Database(#[from] rusqlite::Error),
    /// The database cannot be brought up to date.
    #[error("the shop's database could not be brought up to date; was it written by a newer version of the program?")]
    Migration(#[from] rusqlite_migration::Error),
    /// A stored body is not what this version understands.
    #[error("the stored {what} cannot be understood")]
    Body {
        /// Which table it stands in.
        what: &'static str,
        /// Why.
        source: serde_json::Error,
    },
    /// A file or folder cannot be read or written.
    #[error("{} cannot be read or written", path.display())]
    Folder {
        /// Which.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// A file that is to be restored is no backup of a shop.
    #[error("{} is not a backup of a shop: {why}", path.display())]
    NotABackup {
        /// Which.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// A restore would overwrite a shop.
    #[error("{} already holds a shop; restore into an empty folder", _0.display())]
    Occupied(PathBuf),
    /// A picture which is neither PNG, JPEG nor WebP.
    #[error("a photograph must be a PNG, JPEG or WebP file; this one is none of them")]
    NotAPicture,
    /// A picture too large to keep.
    #[error("a photograph may have at most {limit_mb} MB; this one has {is_mb} MB")]
    PictureTooLarge {
        /// Its size.
        is_mb: usize,
        /// The bound.
        limit_mb: usize,
    },
    /// A piece that is not there.
    #[error("there is no piece {0}")]
    NoPiece(String),
    /// A shop in memory has no folder for files.
    #[error("this shop lives in memory only and keeps no files")]
    NoFolder,
}

impl StoreError {
    pub(crate) fn folder(path: &Path, source: std::io::Error) -> Self {
        Self::Folder {
            path: path.to_owned(),
            source,
        }
    }
}
