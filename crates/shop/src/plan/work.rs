//! The work of a plan before it has dates: every piece with its zones' steps, in order, and what each step waits for.

use climate::DryModel;
use trade::{FinishClass, Grit, Material, Operation};

use super::output::{Because, BuildUp, GuessRisk, Mixes, Pace, SafeSchedule, ScheduleChoice};

/// What a wait after a step is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WaitKind {
    /// Something works on the surface and must be taken off again.
    Dwell,
    /// Glue or filler sets.
    Set,
    /// It dries until the next thing may be done to it.
    Dry,
    /// The next coat of the same kind.
    Recoat,
    /// It hardens.
    Cure,
}

impl WaitKind {
    /// Its word in the contract.
    pub(crate) fn word(self) -> &'static str {
        match self {
            WaitKind::Dwell => "dwell",
            WaitKind::Set => "set",
            WaitKind::Dry => "dry",
            WaitKind::Recoat => "recoat",
            WaitKind::Cure => "cure",
        }
    }
}

/// A wait after a step, in the reference air.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct WorkWait {
    /// What it is for.
    pub(crate) kind: WaitKind,
    /// At least this long, minutes.
    pub(crate) min_min: u32,
    /// At most this long, minutes.
    pub(crate) max_min: Option<u32>,
    /// From here on it is good again, minutes; only where there is a longest wait.
    pub(crate) or_after_min: Option<u32>,
    /// What drives it; `None` for a wait by the wall clock.
    pub(crate) model: Option<DryModel>,
}

/// One step before it has a date.
#[derive(Debug, Clone)]
pub(crate) struct WorkStep {
    pub(crate) id: String,
    pub(crate) operation: Operation,
    pub(crate) material: Option<Material>,
    pub(crate) product: Option<String>,
    pub(crate) colour: Option<String>,
    pub(crate) grit: Option<Grit>,
    pub(crate) coat: Option<u8>,
    pub(crate) hands_on_min: u32,
    /// Where these minutes come from when the log has taught them; `None` for the table's.
    pub(crate) pace: Option<Pace>,
    /// How much of its material, as it comes from the can.
    pub(crate) quantity: Option<finish::Quantity>,
    /// How it is mixed, where it is.
    pub(crate) mixes: Option<Mixes>,
    /// What else it uses up.
    pub(crate) supplies: Vec<finish::Used>,
    pub(crate) wait: Option<WorkWait>,
    /// Minutes in the reference air until dust no longer sticks to what it put on; 0 for nothing wet.
    pub(crate) wet_min: u32,
    pub(crate) because: Vec<Because>,
    pub(crate) cautions: Vec<String>,
    pub(crate) words: String,
}

impl WorkStep {
    /// The likely amount of its material, mL.
    pub(crate) fn likely_ml(&self) -> Option<f64> {
        self.quantity.as_ref().map(|quantity| quantity.ml.typical)
    }

    /// The finish class that it puts on, if it is a coat.
    pub(crate) fn coats_with(&self) -> Option<FinishClass> {
        if self.operation.is_coating() {
            self.material.and_then(Material::finish)
        } else {
            None
        }
    }
}

/// One zone with the schedule that was chosen for it.
#[derive(Debug, Clone)]
pub(crate) struct WorkZone {
    pub(crate) name: String,
    pub(crate) area_m2: f64,
    pub(crate) substrate: String,
    /// Whether it is taken off the piece first and put back last.
    pub(crate) comes_off: bool,
    /// Whether its steps are the user's own.
    pub(crate) own: bool,
    /// What a wrong guess at the found finish would do.
    pub(crate) risks: Vec<GuessRisk>,
    /// The schedule that holds whatever the guessed layers are, where there is one.
    pub(crate) safe: Option<SafeSchedule>,
    pub(crate) schedules: Vec<ScheduleChoice>,
    pub(crate) build_up: BuildUp,
    pub(crate) steps: Vec<WorkStep>,
    /// What its materials cost, by what is used of them.
    pub(crate) materials: quantity::Money,
    /// Minutes in the reference air after the last step until the zone may be handled.
    pub(crate) handle_min: u32,
    /// Minutes in the reference air after the last coat until it is fully hard, and what drives that.
    pub(crate) cure_min: u32,
    pub(crate) cure_model: DryModel,
}

/// One piece before it has dates.
#[derive(Debug, Clone)]
pub(crate) struct WorkPiece {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) count: u32,
    pub(crate) room_idx: usize,
    pub(crate) area_m2: f64,
    pub(crate) area_se_m2: f64,
    pub(crate) due: Option<jiff::civil::Date>,
    pub(crate) due_weight: u32,
    /// Taking off what comes off, before anything else; `None` when nothing does.
    pub(crate) opening: Option<WorkStep>,
    pub(crate) zones: Vec<WorkZone>,
    /// Putting together and looking over, after everything else.
    pub(crate) closing: WorkStep,
}

impl WorkPiece {
    /// Every step of the piece in the order of the plan: opening, zones, closing.
    pub(crate) fn steps(&self) -> impl Iterator<Item = &WorkStep> {
        self.opening
            .iter()
            .chain(self.zones.iter().flat_map(|zone| &zone.steps))
            .chain(std::iter::once(&self.closing))
    }
}
