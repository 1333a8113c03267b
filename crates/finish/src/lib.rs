//! Finishing schedules: derived, explained and checked.
