//! Forward–backward improvement: push everything as late as the end allows, then as early as the beginning allows.
//!
//! After Tormos and Lova 2001 (double justification, Valls, Ballestín and Quintanilla 2005): never longer than before,
//! often shorter, for two passes.

use crate::passes::{NEVER, Passes, Timetable};

/// One round, late and then early; the result replaces the timetable (it is no longer than it was).
pub(crate) fn improve(passes: &mut Passes<'_>, table: &mut Timetable, spare: &mut Timetable) {
    let of = passes.of;
    let order = passes.by_end(&of.backward, table);
    passes.pass(&of.backward, &order, NEVER, None, spare);
    // In mirrored time the late schedule's activities, by their end, are in the order of their starts.
    let order = passes.by_end(&of.forward, spare);
    passes.pass(&of.forward, &order, NEVER, None, table);
}
