//! What is printed or handed on: calendar files, tables, documents.
//!
//! Everything here is pure: a plan goes in, a text comes out; whoever calls it writes the file. The documents are HTML
//! that prints well on Letter and A4; a PDF back end is not built yet.

pub mod calendar;
pub mod document;
pub mod table;
