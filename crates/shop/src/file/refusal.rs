//! A refusal: one thing in a plan file that cannot be used, said so that the reader can mend it.
//!
//! The one idea: a refusal always carries the place (file and line), what was found there, the limit that it breaks and
//! what would be right. All refusals of all files are collected and shown at once.

use std::fmt;

/// One thing in a file that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct FileRefusal {
    /// Name of the file as the user gave it.
    pub file: String,
    /// Line in the file, from 1; 0 when the file as a whole is meant.
    pub line: usize,
    /// Where in the file's own terms, such as `piece "hall bench", width`; empty for the file as a whole.
    pub field: String,
    /// What stands there, as it was written.
    pub found: String,
    /// The limit that it breaks.
    pub limit: String,
    /// What would be right.
    pub right: String,
}

impl fmt::Display for FileRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file)?;
        if self.line > 0 {
            write!(f, ", line {}", self.line)?;
        }
        if !self.field.is_empty() {
            write!(f, ": {}", self.field)?;
        }
        if !self.found.is_empty() {
            write!(f, "\n    found: {}", self.found)?;
        }
        write!(f, "\n    limit: {}", self.limit)?;
        if !self.right.is_empty() {
            write!(f, "\n    right: {}", self.right)?;
        }
        Ok(())
    }
}

/// Everything that was refused in a set of files; never empty when it is returned as an error.
#[derive(Debug, Clone, PartialEq, Eq, Default, serde::Serialize)]
pub struct FileRefusals(pub Vec<FileRefusal>);

impl FileRefusals {
    /// Puts them in reading order: by file, then by line.
    pub(crate) fn sorted(mut self) -> Self {
        self.0
            .sort_by(|a, b| (&a.file, a.line, &a.field).cmp(&(&b.file, b.line, &b.field)));
        self
    }
}

impl fmt::Display for FileRefusals {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (refusal_idx, refusal) in self.0.iter().enumerate() {
            if refusal_idx > 0 {
                writeln!(f)?;
            }
            write!(f, "{refusal}")?;
        }
        Ok(())
    }
}

impl std::error::Error for FileRefusals {}
