//! What the scheduling engine promises, seen from outside.

mod any_problem;
mod made;
