//! What can hurt somebody, and who to ask.
