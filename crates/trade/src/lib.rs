//! The tables of the trade: material classes, substrates, compatibility, abrasives, limits.
