//! The shop's nouns: settings, hands and hours, rooms, shelf, pieces, zones, wishes, and the log.
//!
//! All of it is plain data that serialises; whatever is worked out from it lives in `plan`.

mod equipment;
mod form;
mod hours;
mod lead;
mod log;
mod measured;
mod own;
mod piece;
mod prices;
mod room;
mod shelf;
mod shop;
mod spell;
mod supply;
mod weighting;
mod wish;
mod zone;

pub use equipment::Equipment;
pub use form::{Details, FormKind, FormSaid, LegShape, Legs, MeshFile, TopShape};
pub(crate) use hours::clock;
pub use hours::{Hours, HoursRefusal, Period, parse_day, show_day};
pub use lead::{LeadField, LeadRefusal, LeadTested};
pub use log::{Mark, MarkKind, MarkedAmount, MarkedStep};
pub use measured::{
    Dimensions, HowMeasured, Means, NINETY, OutlineMeasured, SaidDimension, check_within, show_within, within_90,
};
pub use own::{LONGEST_REASON, LONGEST_WAIT_MIN, MOST_STEPS, Overruled, OwnStep};
pub use piece::{ForWhom, Made, Piece, PieceStage, slug};
pub use prices::{CanPrice, Seller};
pub use room::{Reading, Room};
pub use shelf::{Label, ShelfProduct};
pub use shop::{Block, BuyFor, Hand, Settings, Shop, Tools};
pub use spell::Spell;
pub use supply::ShelfSupply;
pub use weighting::Prefer;
pub use wish::Wish;
pub use zone::{Defect, FoundLayer, Guess, Zone};

// The words of the finish that the shop's nouns are made of, so that a form needs one crate.
pub use finish::{Condition, Contaminant, DefectKind, LeadTest, Look, Sheen, Soundness, Use, Without};
pub use hazard::{Kind, LeadAmount, Placement, TestKind, lead_tests};
