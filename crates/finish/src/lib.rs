//! Finishing schedules: derived, explained and checked.
//!
//! A [`Zone`] as found and a [`Wish`] go in; the nondominated [`FinishingSchedule`]s come out, each step with its
//! reasons. Nothing is a recipe: the planner searches over surface states and operations, and the same rules that
//! forbid a wrong step in the search check a schedule written by hand.

pub mod identify;

mod act;
mod because;
mod bench;
mod choose;
mod effect;
mod effort;
#[cfg(test)]
mod enumerate;
mod express;
mod finding;
mod kinds;
mod limits;
mod object;
mod plan;
mod remedy;
mod rule;
mod schedule;
mod search;
mod step;
mod surface;
mod unsolvable;
mod wants;
mod wish;
mod zone;

pub use bench::typical_price_minor_per_l;
pub use finding::{Finding, Severity};
pub use limits::{CoatsToHide, Limits, Product, RoomAir};
pub use plan::{check, is_sound, plan};
pub use rule::{Rule, RuleId, rules};
pub use schedule::{BestAt, FinishingSchedule, Measures, NoSchedule, Release};
pub use step::{Hazards, Quantity, Reason, Step, Wait, WaitKind};
pub use trade::methods::{Detail, Method};
pub use wish::{Look, Sheen, Wish, Without, luminance};
pub use zone::{
    Condition, Contaminant, Defect, DefectKind, FoundLayer, LeadTest, Made, Soundness, Use, Zone, may_hold_lead,
};
