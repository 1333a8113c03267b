//! What is printed or handed on: calendar files, tables, documents.
