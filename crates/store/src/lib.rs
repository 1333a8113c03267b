//! One folder a shop: database, photographs, snapshots.
