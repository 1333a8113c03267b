//! Finishing schedules: derived, explained and checked.
//!
//! A [`Zone`] as found and a [`Wish`] go in; the nondominated [`FinishingSchedule`]s come out, each step with its reasons.
//!
//! How it hangs together, in the order of the modules: `surface` is the state of a zone between two steps; `effect` says what
//! each operation does to it; `object` holds the rules, which look at a state and a step and object or not; `wants` names the coats
//! that lead to the look, `remedy` the step that puts right what a rule objects to; `search` walks from want to remedy and keeps
//! what nothing beats; `because` leaves each step out and hears which rule objects; `plan` puts it together. Nothing is a recipe,
//! and a schedule written by hand meets the same rules in [`check`].
//!
//! Times are those at the reference air; each wait names the drying model by which the room's air stretches it.
//!
//! ```
//! use finish::{FoundLayer, Limits, Look, Wish, Zone, check, plan};
//! use trade::{FinishClass, Operation, Species, Substrate};
//!
//! let mut zone = Zone::bare("lid", Substrate::Solid(Species::RedOak));
//! zone.found = vec![FoundLayer::of(FinishClass::OilBasedPolyurethane), FoundLayer::of(FinishClass::PasteWax)];
//! let (wish, limits) = (Wish::of(Look::Paint), Limits::default());
//! let schedules = plan(&zone, &wish, &limits)?;
//! let steps = &schedules[0].steps;
//! assert_eq!(steps[0].operation, Operation::Dewax);
//! assert_eq!(steps[0].because[0].rule, "wax-under-coat");
//!
//! // Leave the dewaxing out, and the check says what goes wrong.
//! let found = check(&zone, &wish, &limits, &steps[1..]);
//! assert!(found.iter().any(|finding| finding.rule == "wax-under-coat" && finding.step.is_some()));
//! # Ok::<(), Box<finish::NoSchedule>>(())
//! ```

pub mod identify;

// The tests over random zones name the crate as its users do.
#[cfg(test)]
extern crate self as finish;

mod act;
mod amount;
mod because;
mod bench;
mod by_hand;
mod choose;
mod effect;
mod effort;
#[cfg(test)]
mod enumerate;
mod express;
mod finding;
mod limits;
mod object;
mod plan;
mod remedy;
mod rule;
mod schedule;
mod search;
mod situation;
mod step;
mod supplies;
mod surface;
mod unsolvable;
mod wants;
mod wish;
mod zone;

pub use bench::typical_price_minor_per_l;
pub use by_hand::{GRITS, as_written, by_hand, needs_material, suits, takes_grit};
pub use finding::{Finding, Severity};
pub use limits::{CoatsToHide, Limits, Product, RoomAir};
pub use plan::{check, is_sound, plan};
pub use rule::{Rule, RuleId, rules};
pub use schedule::{BestAt, FinishingSchedule, Measures, NoSchedule, Release};
pub use situation::changed;
pub use step::{Hazards, Quantity, Reason, Step, Used, Wait, WaitKind};
pub use supplies::typical_supply_price_minor;
pub use trade::methods::{Detail, Method};
pub use wish::{Look, Sheen, Wish, Without, luminance};
pub use zone::{
    Condition, Contaminant, Defect, DefectKind, FoundLayer, LeadTest, Made, Soundness, Use, Zone, may_hold_lead,
};
