//! The files that a command reads and writes, so that a test can hand it some that are on no disk.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

/// The largest file that is read, bytes: a mesh of a scan is the largest there is.
const LARGEST: u64 = 200_000_000;

/// Reading and writing whole files.
pub trait Files {
    /// The bytes of a file.
    ///
    /// # Errors
    /// Whatever the disk says, or that the file is too large.
    fn read(&self, path: &Path) -> io::Result<Vec<u8>>;

    /// Writes all of these files, or none of them.
    ///
    /// # Errors
    /// Whatever the disk says, with the path it says it of; no file was changed then.
    fn write_all(&self, files: &[(PathBuf, Vec<u8>)]) -> Result<(), (PathBuf, io::Error)>;
}

/// The files of this machine.
#[derive(Debug, Clone, Copy, Default)]
pub struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        let meta = std::fs::metadata(path)?;
        if meta.is_dir() {
            return Err(io::Error::new(io::ErrorKind::IsADirectory, "this is a folder"));
        }
        if meta.len() > LARGEST {
            return Err(io::Error::new(
                io::ErrorKind::FileTooLarge,
                "this file is larger than 200 MB",
            ));
        }
        std::fs::read(path)
    }

    /// Everything is written under temporary names beside its place first, and moved only once all of it is there.
    fn write_all(&self, files: &[(PathBuf, Vec<u8>)]) -> Result<(), (PathBuf, io::Error)> {
        let mut staged: Vec<(PathBuf, PathBuf)> = Vec::new();
        let written = files.iter().try_for_each(|(path, bytes)| {
            let mut name = path.file_name().unwrap_or_default().to_owned();
            name.push(format!(".{}.part", std::process::id()));
            let part = path.with_file_name(name);
            if path.is_dir() {
                return Err((
                    path.clone(),
                    io::Error::new(io::ErrorKind::IsADirectory, "this is a folder"),
                ));
            }
            if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
                std::fs::create_dir_all(folder).map_err(|error| (folder.to_owned(), error))?;
            }
            staged.push((part.clone(), path.clone()));
            std::fs::write(&part, bytes).map_err(|error| (path.clone(), error))
        });
        let moved = written.and_then(|()| {
            staged
                .iter()
                .try_for_each(|(part, path)| std::fs::rename(part, path).map_err(|error| (path.clone(), error)))
        });
        if moved.is_err() {
            for (part, _) in &staged {
                // Whatever is left under a temporary name is of no use to anybody.
                let _ = std::fs::remove_file(part);
            }
        }
        moved
    }
}

/// Files held in memory.
#[derive(Debug, Default)]
pub struct InMemory {
    files: Mutex<BTreeMap<PathBuf, Vec<u8>>>,
}

impl InMemory {
    /// Holds these files.
    pub fn holding<'f>(files: impl IntoIterator<Item = (&'f str, &'f [u8])>) -> Self {
        let files = files
            .into_iter()
            .map(|(path, bytes)| (PathBuf::from(path), bytes.to_vec()))
            .collect();
        InMemory {
            files: Mutex::new(files),
        }
    }

    /// Every path that is held, in order.
    pub fn paths(&self) -> Vec<PathBuf> {
        self.lock().keys().cloned().collect()
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, BTreeMap<PathBuf, Vec<u8>>> {
        self.files.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }
}

impl Files for InMemory {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        self.lock()
            .get(path)
            .cloned()
            .ok_or_else(|| io::Error::new(io::ErrorKind::NotFound, "there is no such file"))
    }

    fn write_all(&self, files: &[(PathBuf, Vec<u8>)]) -> Result<(), (PathBuf, io::Error)> {
        self.lock().extend(files.iter().cloned());
        Ok(())
    }
}
