//! Quantities: SI newtypes, what people type, and how the shop sees it.
