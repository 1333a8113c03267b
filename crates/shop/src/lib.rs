//! The shop as a whole: pieces, shelf, log, and the use cases over them.
