//! What is handed on: the calendar file, the table, the documents.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

mod calendar_file;
mod papers;
mod planned;
