//! What can hurt somebody, and who to ask.
//!
//! From facts about a piece, its zones, the planned steps and the room, [`assess`] tells the cautions: each with an id
//! that stays, a [`Level`], a text and a source. The one idea: a figure is shown only where it was read in its source;
//! where it was recalled, the caution names the rule and sends the reader to it. Nothing here certifies that something
//! is safe: every caution ends at the label, the safety data sheet, a test, or somebody licensed.
//!
//! It knows no calendar and no recipe: steps come as plain facts ([`StepFacts`]), whoever planned them.
//!
//! ```
//! use hazard::{Job, Level, PieceFacts, RoomFacts, StepFacts, ZoneFacts};
//! use hazard::Operation;
//! use trade::{FinishClass, Species, Substrate};
//!
//! let zone = ZoneFacts::new("body", Substrate::Solid(Species::YellowPoplar)).with_found(FinishClass::AlkydEnamel, 2);
//! let step = StepFacts::new(0, Operation::StripSand).with_area_m2(2.0);
//! let job = Job { piece: PieceFacts::unknown_age(), zones: vec![zone], steps: vec![step], room: RoomFacts::small_garage() };
//! let told = hazard::assess(&job);
//! let lead = told.iter().find(|told| told.caution.id == "lead-untested").expect("old paint of unknown age");
//! assert_eq!(lead.caution.level, Level::Stop);
//! assert_eq!(lead.steps, [0]);
//! ```

mod caution;
mod dust;
mod emissions;
mod facts;
mod fire;
pub mod lead;
mod lead_test;
mod people;
pub mod room;
mod strippers;
pub mod vapour;
pub mod ventilation;
mod wear;

pub use caution::{Caution, EVERY, Level, Told};
pub use facts::{
    FoundLayer, Job, Kind, LeadTest, Made, PieceFacts, Placement, RoomFacts, StepFacts, Use, Ventilation, ZoneFacts,
};
pub use lead_test::{LeadAmount, TestKind, TestRow, tests as lead_tests};
pub use trade::Operation;

/// All cautions for a job, the gravest first, then by id; each with the steps it belongs to (none: the whole piece).
pub fn assess(job: &Job) -> Vec<Told> {
    let mut all = Vec::new();
    lead::tell(job, &mut all);
    people::tell(job, &mut all);
    strippers::tell(job, &mut all);
    vapour::tell(job, &mut all);
    fire::tell(job, &mut all);
    dust::tell(job, &mut all);
    emissions::tell(job, &mut all);
    wear::tell(job, &mut all);
    caution::gather(all)
}
