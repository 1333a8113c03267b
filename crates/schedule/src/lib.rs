//! Activities with hands, lags, windows and calendars to start times and a bound.
//!
//! Give [`solve`] a [`Problem`] and an [`Effort`]; it answers with a [`Plan`], how good it is and how good any could
//! be, or with the smallest set of demands that cannot all hold. [`checker`] tells independently whether a plan keeps
//! every rule. The crate knows nothing of what is being scheduled, reads no clock and is deterministic for a seed and
//! a number of schedules.

mod board;
mod bounds;
mod bred;
mod calendar;
mod chance;
pub mod checker;
mod clock;
mod compiled;
mod descents;
mod draft;
mod earliest;
mod exchange;
mod generation;
mod genetic;
mod groups;
mod improve;
mod infeasible;
mod learn;
mod lists;
mod local;
mod lookup;
mod maker;
mod mend;
mod model;
mod neighbourhood;
mod number;
mod outcome;
mod passes;
mod pieces;
mod profile;
mod project;
mod proof;
mod refusal;
mod score;
mod search;
mod seasons;
mod solve;
mod stated;
mod strands;
mod weave;

pub use clock::Clock;
pub use infeasible::{Conflict, Demand};
pub use model::{
    Activity, ActivityId, Block, Breaks, ClockId, Due, Effect, Hand, HandId, Hold, Lag, Minute, Pin, Placement, Plan,
    Point, Previous, Problem, ProductId, Resource, ResourceId, RoomId, Score, Span, Use, Wait,
};
pub use outcome::{Effort, Outcome, Solution};
pub use refusal::{Refusal, refusals};
pub use solve::solve;
