//! What an act costs: minutes by hand, material, money, and what is breathed.
//!
//! The rates stand in `data/effort.csv`, common practice throughout: the shop's log corrects them later. Exposure is a measure
//! to rank schedules by and nothing else; vapour in a room is reckoned in `hazard`.

use std::sync::LazyLock;

use serde::Deserialize;
use trade::methods::Method;
use trade::{FinishClass, Material, Operation, PrepClass};

use crate::act::Act;
use crate::amount::amount;
use crate::bench::{Bench, rows};
use crate::supplies;
use crate::surface::{Surface, um};

/// A row of the table of effort.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct EffortRow {
    operation: Operation,
    set_up_min: f64,
    min_per_m2: f64,
    moulded: f64,
    turned: f64,
    slatted: f64,
    carved: f64,
    case_interior: f64,
    #[expect(dead_code, reason = "for the reader of the table")]
    note: String,
    #[expect(dead_code, reason = "for the reader of the table")]
    status: trade::Status,
}

static EFFORT: LazyLock<Vec<EffortRow>> = LazyLock::new(|| {
    let read: Vec<EffortRow> = rows(include_str!("../data/effort.csv"));
    let mut sorted: Vec<Option<EffortRow>> = Operation::EVERY.iter().map(|_| None).collect();
    for row in read {
        let at = row.operation as usize;
        sorted[at] = Some(row);
    }
    sorted
        .into_iter()
        .map(|row| row.expect("the crate's tests find a row for every operation"))
        .collect()
});

/// Ratio of grains at which a sanding pass takes its usual time.
const USUAL_GRIT_RATIO: f64 = 1.5;
/// Setting up and cleaning a gun takes longer than opening a can.
const GUN_MORE_MIN: f64 = 14.0;
/// Abrading wet takes longer: wiping, looking, drying the face.
const WET_FACTOR: f64 = 1.5;
/// What an act takes.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Effort {
    pub(crate) hands_on_min: u32,
    /// The same before rounding: what labour is reckoned from.
    pub(crate) exact_min: f64,
    pub(crate) materials_minor: f64,
    pub(crate) exposure: f64,
}

/// What `act` takes on the surface as it is before.
pub(crate) fn effort(act: &Act, before: &Surface, bench: &Bench<'_>) -> Effort {
    let exact_min = if act.hands_on_min > 0 {
        f64::from(act.hands_on_min)
    } else {
        hands_on(act, before, bench)
    };
    let hands_on_min = whole_minutes(exact_min);
    let amount = amount(act, before, bench);
    let ml = amount.product_ml.typical;
    let price = match act.material {
        Some(Material::Finish(class)) => bench.figures(class).price_per_ml,
        Some(Material::Prep(class)) => bench.prep_price_per_ml(class),
        None => 0.0,
    };
    Effort {
        hands_on_min,
        exact_min,
        materials_minor: ml * price + supplies::cost_minor(act, &amount, before, bench),
        exposure: exposure(act, ml, hands_on_min, bench),
    }
}

/// Minutes by hand.
///
/// Sanding takes longer the coarser the scratch to be removed: the work goes with the square of the ratio of grains (a proposal:
/// depth goes with the one, cut with the other), so that equal steps come out quickest, as the bench knows.
fn hands_on(act: &Act, before: &Surface, bench: &Bench<'_>) -> f64 {
    let op = as_worked(act, before);
    let row = &EFFORT[op as usize];
    let detail = bench.detail(row.moulded, row.turned, row.slatted, row.carved, row.case_interior);
    let area_m2 = bench.zone.area_m2;
    let mut per_m2 = row.min_per_m2;
    let mut set_up = row.set_up_min;
    if let (Operation::Sand, Some(grit)) = (op, act.grit) {
        let ratio = if before.scratch_um == 0 {
            1.0
        } else {
            f64::from(before.scratch_um) / grit.particle_um()
        };
        per_m2 *= (ratio / USUAL_GRIT_RATIO).powi(2).clamp(0.3, 6.0);
    }
    if matches!(
        act.prep_class(),
        Some(PrepClass::OilGrainFiller | PrepClass::WaterborneGrainFiller)
    ) {
        per_m2 = 12.0 * passes(act);
    } else {
        set_up += per_place_min(act) * places(act.op, bench);
    }
    if act.op == Operation::StripHeat || act.op == Operation::StripSand {
        // More coats, more passes.
        per_m2 *= f64::from(before.found_layers().map(|layer| layer.coats).sum::<u8>().clamp(2, 10)) / 3.0;
    }
    if matches!(act.method, Some(Method::Hvlp)) {
        set_up += GUN_MORE_MIN;
        per_m2 = EFFORT[Operation::Spray as usize].min_per_m2;
    }
    let work = area_m2 * per_m2 * detail * if act.wet && act.grit.is_some() { WET_FACTOR } else { 1.0 };
    set_up + work
}

/// The operation by whose rate an act goes: what the hands do, whatever it is called. Sanding a film is scuffing it, and a clear
/// coat that goes on with a pad goes like a sealer, or, where it is wiped off again, like an oil.
fn as_worked(act: &Act, before: &Surface) -> Operation {
    match act.op {
        Operation::Sand if !before.is_bare() => Operation::Scuff,
        Operation::ClearCoat if act.finish() == Some(FinishClass::GelVarnish) => Operation::Oil,
        Operation::ClearCoat if act.method == Some(Method::Pad) => Operation::Seal,
        op => op,
    }
}

/// Whole minutes, rounded up, 1 to a million.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the range of the type"
)]
pub(crate) fn whole_minutes(minutes: f64) -> u32 {
    (minutes - 1e-9).ceil().clamp(1.0, 1_000_000.0) as u32
}

fn per_place_min(act: &Act) -> f64 {
    match act.op {
        Operation::Glue => 4.0,
        // Melted in and pared level while warm.
        Operation::Fill if act.prep_class() == Some(PrepClass::BurnInStick) => 5.0,
        // A damp cloth, the iron, a look, once or twice more.
        Operation::Fill if act.prep_class() == Some(PrepClass::Heat) => 3.0,
        Operation::Fill | Operation::Level => 2.0,
        _ => 0.0,
    }
}

fn places(op: Operation, bench: &Bench<'_>) -> f64 {
    let wanted = |loose: bool| (op == Operation::Glue) == loose;
    let count: u32 = bench
        .zone
        .defects
        .iter()
        .filter(|defect| wanted(defect.kind.is_loose()))
        .map(|d| d.count)
        .sum();
    f64::from(count.max(1))
}

/// Waterborne grain filler shrinks and goes on twice in open pores (the table's note); everything else once a step.
fn passes(act: &Act) -> f64 {
    if act.prep_class() == Some(PrepClass::WaterborneGrainFiller) {
        2.0
    } else {
        1.0
    }
}

/// Grams of solvent, weighted up for what is nastier than white spirit, and minutes in dust. For ranking only.
fn exposure(act: &Act, ml: f64, hands_on_min: u32, bench: &Bench<'_>) -> f64 {
    let minutes = f64::from(hands_on_min);
    let dust = match act.op {
        Operation::StripSand => 3.0 * minutes,
        Operation::StripHeat => 2.0 * minutes,
        _ if act.is_abrasive() && !act.wet => minutes,
        _ => 0.0,
    };
    let mist = if act.is_sprayed() { 1.5 } else { 1.0 };
    let vapour = match act.material {
        Some(Material::Finish(class)) => ml * bench.figures(class).voc_g_per_ml * nastiness(class, bench),
        Some(Material::Prep(class)) => {
            // Caustic gives off nothing to breathe, but burns: counted as if it did.
            let burns = if class == PrepClass::CausticStripper {
                0.2 * ml
            } else {
                0.0
            };
            let voc_g_per_ml = class.row().voc_g_per_l.unwrap_or(0.0) / 1000.0;
            ml * voc_g_per_ml * prep_nastiness(class) + burns
        }
        None => 0.0,
    };
    dust + vapour * mist
}

fn nastiness(class: FinishClass, bench: &Bench<'_>) -> f64 {
    let figures = bench.figures(class);
    if figures.isocyanate {
        10.0
    } else if figures.formaldehyde {
        4.0
    } else if figures.strong {
        2.0
    } else {
        1.0
    }
}

const fn prep_nastiness(class: PrepClass) -> f64 {
    match class {
        PrepClass::MethyleneChlorideStripper => 20.0,
        PrepClass::GelStripper => 2.0,
        PrepClass::BenzylAlcoholStripper | PrepClass::PolyesterFiller => 1.5,
        _ => 1.0,
    }
}

/// Size of the scratch an abrasive act leaves.
pub(crate) fn scratch_of(act: &Act) -> u16 {
    act.grit.map_or(0, um)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Limits, Look, Wish, Zone};
    use trade::{Grit, Species, Substrate};

    #[test]
    fn every_operation_has_its_effort() {
        assert_eq!(EFFORT.len(), Operation::EVERY.len());
        assert!(EFFORT.iter().all(|row| row.set_up_min > 0.0 && row.min_per_m2 >= 0.0));
    }

    #[test]
    fn carving_takes_longer_than_flat_work() {
        let mut zone = Zone::bare("panel", Substrate::Solid(Species::Beech));
        let (wish, limits) = (Wish::of(Look::Paint), Limits::default());
        let minutes = |zone: &Zone| {
            let bench = Bench::new(zone, &wish, &limits);
            let act = Act::abrade(Operation::Scuff, Grit::P220, false);
            effort(&act, &Surface::found(&bench), &bench).hands_on_min
        };
        let flat = minutes(&zone);
        zone.detail = trade::methods::Detail::Carved;
        assert!(minutes(&zone) > flat);
    }

    #[test]
    fn dresser_takes_about_a_pint_of_acrylic_for_two_coats() {
        // Common practice: the outside of a dresser, about 2.9 m², takes a US pint (473 mL) of furniture acrylic for two coats.
        let mut zone = Zone::bare("dresser", Substrate::Solid(Species::Beech));
        zone.area_m2 = 2.9;
        let (wish, limits) = (Wish::of(Look::Paint), Limits::default());
        let bench = Bench::new(&zone, &wish, &limits);
        let act = Act::coat(Operation::Paint, FinishClass::WaterborneAcrylicEnamel, Method::Brush);
        let two_coats = 2.0 * amount(&act, &Surface::found(&bench), &bench).product_ml.typical;
        assert!((two_coats - 473.0).abs() < 0.1 * 473.0, "{two_coats} mL");
    }
}
