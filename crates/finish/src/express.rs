//! From the small form of a path to the steps that are shown: materials, quantities, waits with their windows, hazards, reasons.

use trade::{FinishClass, Material, Operation, PrepClass};

use crate::act::Act;
use crate::amount::{amount, basis};
use crate::because::reasons;
use crate::bench::Bench;
use crate::effect::apply;
use crate::object::stick_window;
use crate::step::{Hazards, Quantity, Step, Used, Wait, WaitKind};
use crate::supplies::each_supply;
use crate::surface::Surface;

/// The steps of a path.
pub(crate) fn steps(acts: &[Act], bench: &Bench<'_>) -> Vec<Step> {
    let reasons = reasons(acts, bench);
    let mut surface = Surface::found(bench);
    let mut steps = Vec::with_capacity(acts.len());
    for (idx, (act, because)) in acts.iter().zip(reasons).enumerate() {
        let after = apply(&surface, act, act.hands_on_min, bench);
        let mut step = bare_step(act, &surface, &after, bench);
        step.because = because;
        step.wait = wait(acts, idx, bench);
        steps.push(step);
        surface = after;
    }
    steps
}

fn bare_step(act: &Act, before: &Surface, after: &Surface, bench: &Bench<'_>) -> Step {
    let amount = amount(act, before, bench);
    let product_ml = amount.product_ml;
    let mut supplies = Vec::new();
    each_supply(act, &amount, before, bench, |what, amount| {
        supplies.push(Used { what, amount })
    });
    let coat = match act.finish() {
        Some(_) if act.op == Operation::SpotPrime => Some(after.knot_coats.max(1)),
        Some(class) => Some(after.coats_of(class)),
        None => None,
    };
    Step {
        operation: act.op,
        material: act.material,
        product: act
            .material
            .and_then(|material| bench.product(material))
            .map(|product| product.name.clone()),
        grit: act.grit,
        coat,
        method: act.method,
        wet: act.wet,
        hands_on_min: act.hands_on_min,
        quantity: (product_ml.typical > 0.0).then(|| Quantity {
            ml: product_ml,
            thinner_ml: amount.thinner_ml,
            basis: basis(act, before, bench),
        }),
        supplies,
        wait: None,
        tack_free_min: act
            .finish()
            .filter(|_| act.op.is_coating())
            .map(|class| bench.figures(class).touch_min),
        because: Vec::new(),
        hazards: hazards(act, before, bench),
    }
}

/// Whether the act at `idx` is the last coat.
fn is_last_coat(acts: &[Act], idx: usize) -> bool {
    acts[idx].is_full_coat() && acts[idx + 1..].iter().all(|later| !later.is_full_coat())
}

fn wait(acts: &[Act], idx: usize, bench: &Bench<'_>) -> Option<Wait> {
    let act = &acts[idx];
    let figures = act.finish().map(|class| bench.figures(class));
    let model = figures.map(|figures| figures.model).or_else(|| water_or_spirit(act));
    let wait = |kind, min_min, max_min, or_after_min| {
        Some(Wait {
            kind,
            min_min,
            max_min,
            or_after_min,
            model,
        })
    };
    if let (true, Some(figures)) = (is_last_coat(acts, idx) && idx + 1 == acts.len(), figures) {
        return wait(WaitKind::Cure, figures.cure_min, None, None);
    }
    if let (true, Some(class)) = (act.is_full_coat(), act.finish()) {
        let (max_min, or_after_min) = match acts.get(idx + 1) {
            Some(next) if next.is_full_coat() => stick_window(class, next, bench),
            _ => (None, None),
        };
        let light_min = bench.figures(class).light_min;
        let kind = if act.wait_min >= light_min {
            WaitKind::Cure
        } else {
            WaitKind::Recoat
        };
        return wait(
            kind,
            act.wait_min,
            max_min.filter(|most| *most >= act.wait_min),
            or_after_min,
        );
    }
    if act.wait_min == 0 {
        return None;
    }
    let longest = match (act.wait_kind, act.prep_class()) {
        (WaitKind::Dwell, Some(class)) => class
            .row()
            .dwell_min
            .map(|dwell| crate::effort::whole_minutes(dwell.high)),
        _ => None,
    };
    wait(act.wait_kind, act.wait_min, longest, None)
}

/// How room air stretches a wait that belongs to no finish class.
fn water_or_spirit(act: &Act) -> Option<trade::finish_rows::DryModel> {
    use trade::finish_rows::DryModel;
    match act.wait_kind {
        WaitKind::Dwell => None,
        WaitKind::Set => match act.prep_class() {
            Some(PrepClass::PolyesterFiller | PrepClass::EpoxyFiller) => Some(DryModel::Reactive),
            Some(PrepClass::OilGrainFiller) => Some(DryModel::Oxidative),
            _ => Some(DryModel::Waterborne),
        },
        _ => match act.prep_class() {
            Some(PrepClass::MineralSpirits | PrepClass::Naphtha | PrepClass::Alcohol) => Some(DryModel::Solvent),
            _ => Some(DryModel::Waterborne),
        },
    }
}

fn hazards(act: &Act, before: &Surface, bench: &Bench<'_>) -> Hazards {
    let mut hazards = Hazards {
        dusty: act.op.is_dusty() && !act.wet,
        wet: act.op.is_coating(),
        sprayed: act.is_sprayed(),
        hot: matches!(act.prep_class(), Some(PrepClass::Heat | PrepClass::BurnInStick))
            || act.op == Operation::StripHeat,
        lead: bench.lead_is_disturbed(before) && (act.op.is_dusty() || act.op.is_stripping()),
        ..Hazards::default()
    };
    match act.material {
        Some(Material::Finish(class)) => of_finish(class, bench, &mut hazards),
        Some(Material::Prep(class)) => of_prep(class, &mut hazards),
        None => {}
    }
    hazards
}

fn of_finish(class: FinishClass, bench: &Bench<'_>, hazards: &mut Hazards) {
    /// A waterborne coat gives off some solvent; above this it counts as one that does, g/mL. A judgement.
    const NOTABLE_VOC_G_PER_ML: f64 = 0.25;
    let figures = bench.figures(class);
    hazards.solvent = !figures.waterborne && figures.voc_g_per_ml > NOTABLE_VOC_G_PER_ML;
    hazards.flammable = figures.burns;
    hazards.rags = figures.rags;
    hazards.isocyanate = figures.isocyanate;
    hazards.formaldehyde = figures.formaldehyde;
}

fn of_prep(class: PrepClass, hazards: &mut Hazards) {
    let row = class.row();
    hazards.solvent = row.voc_g_per_l.is_some_and(|voc| voc >= 150.0);
    hazards.flammable = matches!(
        class,
        PrepClass::Alcohol | PrepClass::MineralSpirits | PrepClass::Naphtha | PrepClass::OilGrainFiller
    );
    hazards.rags = class == PrepClass::OilGrainFiller;
    hazards.caustic = matches!(
        class,
        PrepClass::CausticStripper | PrepClass::AlkalineCleaner | PrepClass::OxalicBleach
    );
}
