//! A scan of a piece: a mesh file in, divided into parts, and made the piece's form.
//!
//! - `upload`: the file with its unit, read within bounds, or the words why not.
//! - `parts`: what was found in it, the areas of its parts, and which zone each belongs to.
//!
//! The mesh read last is held in memory while it is divided; what the piece keeps of it are the parts' areas and a likeness
//! to draw. One scan is read at a time, so that large ones do not fill the memory together.

mod parts;
mod upload;

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use axum::extract::DefaultBodyLimit;
use axum::routing::get;
use axum::{Extension, Router};
use takeoff::mesh::{Mesh, MeshUnit};

use crate::app::App;

/// The largest file that is read, megabytes: a scan of a million and a half triangles has some 75.
const LARGEST_MB: usize = 80;
/// The same with the form around it, bytes.
const LARGEST_UPLOAD: usize = LARGEST_MB * 1_000_000 + 100_000;

/// The addresses of scans.
pub(super) fn routes() -> Router<App> {
    Router::new()
        .route("/pieces/{id}/scan", get(upload::page).post(upload::send))
        .layer(DefaultBodyLimit::max(LARGEST_UPLOAD))
        .route("/pieces/{id}/scan/parts", get(parts::page).post(parts::keep))
        .layer(Extension(Held::default()))
}

/// A mesh that was read and is being divided.
#[derive(Clone)]
struct Scanned {
    piece: String,
    file: String,
    unit: MeshUnit,
    is_y_up: bool,
    mesh: Arc<Mesh>,
}

/// The mesh read last, and whether another is being read.
#[derive(Clone, Default)]
struct Held {
    last: Arc<Mutex<Option<Scanned>>>,
    is_reading: Arc<AtomicBool>,
}

/// The turn at reading; it ends when this is dropped.
struct Turn(Arc<AtomicBool>);

impl Drop for Turn {
    fn drop(&mut self) {
        self.0.store(false, Ordering::Release);
    }
}

impl Held {
    /// The turn to read a scan; `None` while another is read.
    fn turn(&self) -> Option<Turn> {
        self.is_reading
            .compare_exchange(false, true, Ordering::Acquire, Ordering::Relaxed)
            .ok()
            .map(|_| Turn(Arc::clone(&self.is_reading)))
    }

    fn put(&self, scanned: Option<Scanned>) {
        *self.last.lock().unwrap_or_else(PoisonError::into_inner) = scanned;
    }

    /// The mesh of this piece, if it is the one that is held.
    fn of(&self, piece: &str) -> Option<Scanned> {
        let last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        last.clone().filter(|scanned| scanned.piece == piece)
    }
}
