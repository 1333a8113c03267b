//! A schedule written by hand: what was said of each step, and what the tables add to it.
//!
//! A person says the operation, the material, the grit and, where they know better, the wait. Minutes, quantities, windows, hazards
//! and reasons come from the same tables as those of a derived schedule, over the same surface states. [`as_written`] is the way
//! back: it takes from any schedule what the tables would say anyway, so that a derived one can be gone on with by hand.

use trade::finish_rows::Group;
use trade::{FinishClass, Grit, Material, Operation, PrepClass};

use crate::act::Act;
use crate::bench::Bench;
use crate::effect::apply;
use crate::express::steps;
use crate::limits::Limits;
use crate::plan::{measures, run};
use crate::schedule::FinishingSchedule;
use crate::search::{Path, perform};
use crate::step::{Step, Wait, WaitKind};
use crate::surface::Surface;
use crate::wish::Wish;
use crate::zone::Zone;

/// The schedule of these steps, with minutes, quantities, waits, hazards and reasons from the tables.
///
/// Of each step only operation, material, grit, method, `wet` and the least wait are read; a wait that is not given is the table's.
/// The schedule is best at nothing (`best_at` is empty), and its `notes` are everything the check finds, stops and warnings too.
#[must_use]
pub fn by_hand(zone: &Zone, wish: &Wish, limits: &Limits, said: &[Step]) -> FinishingSchedule {
    let bench = Bench::new(zone, wish, limits);
    let path = Path::of(acts(said, &bench), &bench);
    let steps = steps(&path.acts, &bench);
    FinishingSchedule {
        best_at: Vec::new(),
        measures: measures(&path),
        keeps_old_finish: path.keeps_old_finish,
        notes: run(&steps, &bench),
        steps,
    }
}

/// The same steps as a person would write them: nothing but what the tables would not say by themselves.
#[must_use]
pub fn as_written(zone: &Zone, wish: &Wish, limits: &Limits, steps: &[Step]) -> Vec<Step> {
    let bench = Bench::new(zone, wish, limits);
    let mut surface = Surface::found(&bench);
    let mut written = Vec::with_capacity(steps.len());
    for (idx, step) in steps.iter().enumerate() {
        let act = said(step);
        let (after, usual, _) = perform(&surface, act, &bench);
        // The wait after the last coat is for use, not for a further step: the tables give it to whatever step is the last.
        let is_for_use = idx + 1 == steps.len() && act.is_full_coat();
        let own_wait = step
            .wait
            .filter(|wait| !is_for_use && (wait.min_min, wait.kind) != (usual.wait_min, usual.wait_kind));
        surface = match own_wait {
            Some(wait) => {
                let mut longer = usual;
                longer.wait_min = wait.min_min;
                apply(&surface, &longer, longer.hands_on_min, &bench)
            }
            None => after,
        };
        written.push(Step {
            material: step.material,
            grit: step.grit,
            method: step.method.filter(|_| act.method != Act::from(&plain(step)).method),
            wet: step.wet,
            wait: own_wait.map(bare_wait),
            ..Step::by_hand(step.operation)
        });
    }
    written
}

/// Whether a material may be written beside an operation: what is brushed on is no stripper, and a stripper is no paint.
#[must_use]
pub fn suits(operation: Operation, material: Option<Material>) -> bool {
    let Some(material) = material else {
        return !needs_material(operation);
    };
    match material {
        Material::Finish(class) => finish_suits(operation, class),
        Material::Prep(class) => prep_suits(operation, class),
    }
}

/// Whether an operation says nothing without its material.
#[must_use]
pub fn needs_material(operation: Operation) -> bool {
    operation.is_coating() || matches!(operation, Operation::StripChemical | Operation::Fill)
}

/// Whether an operation is done with a grit.
#[must_use]
pub fn takes_grit(operation: Operation) -> bool {
    operation.is_dusty()
}

/// The grits that a step by hand is offered: those of the abrasive table that furniture is sanded with.
pub const GRITS: [Grit; 10] = [
    Grit::P60,
    Grit::P80,
    Grit::P100,
    Grit::P120,
    Grit::P150,
    Grit::P180,
    Grit::P220,
    Grit::P240,
    Grit::P320,
    Grit::P400,
];

fn finish_suits(operation: Operation, class: FinishClass) -> bool {
    if class == FinishClass::Unknown {
        return false;
    }
    let group = class.row().group;
    match operation {
        Operation::SpotPrime => matches!(group, Group::Primer | Group::Sealer),
        Operation::Prime => group == Group::Primer,
        Operation::Seal => matches!(group, Group::Sealer | Group::Clear | Group::Primer),
        Operation::Stain => group == Group::Stain,
        Operation::Paint => group == Group::Paint || class == FinishClass::TwoPartWaterbornePolyurethane,
        Operation::Spray => !matches!(group, Group::Wax | Group::Oil),
        Operation::ClearCoat => matches!(group, Group::Clear | Group::Sealer),
        Operation::Oil => matches!(group, Group::Oil),
        Operation::Wax => matches!(group, Group::Wax),
        Operation::Glaze => matches!(group, Group::Stain | Group::Paint),
        _ => false,
    }
}

fn prep_suits(operation: Operation, class: PrepClass) -> bool {
    use PrepClass as P;
    match operation {
        Operation::Clean => matches!(
            class,
            P::AlkalineCleaner | P::NeutralCleaner | P::Alcohol | P::MineralSpirits | P::Naphtha
        ),
        Operation::Rinse => matches!(class, P::Alcohol | P::MineralSpirits | P::Naphtha),
        Operation::Dewax => matches!(class, P::Alcohol | P::MineralSpirits | P::Naphtha),
        Operation::StripChemical => matches!(
            class,
            P::GelStripper | P::BenzylAlcoholStripper | P::CausticStripper | P::MethyleneChlorideStripper
        ),
        Operation::StripHeat => class == P::Heat,
        Operation::Bleach => class == P::OxalicBleach,
        // With heat: dents raised by steam.
        Operation::Fill => class.is_filler() || matches!(class, P::OilGrainFiller | P::WaterborneGrainFiller | P::Heat),
        Operation::Seal | Operation::Stain => class == P::WoodConditioner,
        Operation::DustOff => class == P::TackCloth,
        _ => false,
    }
}

/// The acts of steps written by hand, each with its minutes and its wait.
fn acts(said_steps: &[Step], bench: &Bench<'_>) -> Vec<Act> {
    let mut surface = Surface::found(bench);
    let mut acts = Vec::with_capacity(said_steps.len());
    for step in said_steps {
        let (after, mut done, _) = perform(&surface, said(step), bench);
        surface = match step.wait {
            Some(wait) => {
                done.wait_min = wait.min_min;
                // What a wait is for follows from the step, unless the coat below is left to cure.
                if wait.kind == WaitKind::Cure {
                    done.wait_kind = wait.kind;
                }
                apply(&surface, &done, done.hands_on_min, bench)
            }
            None => after,
        };
        acts.push(done);
    }
    acts
}

/// The step as an act without minutes and without a wait: what was said of it.
fn said(step: &Step) -> Act {
    let mut act = Act::from(step);
    act.hands_on_min = 0;
    act.wait_kind = WaitKind::Dry;
    act.wait_min = 0;
    act.wait_max = None;
    act.wait_or_after = None;
    act
}

/// The step without its method.
fn plain(step: &Step) -> Step {
    Step {
        method: None,
        ..step.clone()
    }
}

fn bare_wait(wait: Wait) -> Wait {
    Wait {
        max_min: None,
        or_after_min: None,
        model: None,
        ..wait
    }
}

impl Wait {
    /// A wait of so many minutes that was written by hand; [`by_hand`] says what it is for.
    #[must_use]
    pub const fn of_min(min_min: u32) -> Self {
        Self {
            kind: WaitKind::Dry,
            min_min,
            max_min: None,
            or_after_min: None,
            model: None,
        }
    }
}
