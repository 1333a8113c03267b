//! How much of its material an act takes: asked of `takeoff::quantities`, which alone knows how to reckon it.
//!
//! What is decided here is what the state of the surface has to say: how thirsty it is, which coat this is, how many passes of
//! a stripper are left, which hollows there are to fill.

use quantity::{Area, Length, Range, Volume};
use takeoff::quantities::{
    Absorbency, Coating, Hollow, Share, filler, nth_coat, prep_volume, strip_passes, with_area_error,
};
use trade::finish_rows::Group;
use trade::methods::Method;
use trade::{FinishClass, Material, Operation, PrepClass};

use crate::act::Act;
use crate::bench::Bench;
use crate::effect::{coats_a_pass, found_coats};
use crate::surface::Surface;
use crate::zone::DefectKind;

/// What an act takes, mL.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Amount {
    /// Of its material, as it comes from the can.
    pub(crate) product_ml: Range<f64>,
    /// Of thinner, where the label asks for any.
    pub(crate) thinner_ml: Range<f64>,
}

impl Amount {
    const NOTHING: Self = Self {
        product_ml: Range::exactly(0.0),
        thinner_ml: Range::exactly(0.0),
    };

    fn of(product: Range<Volume>, thinner: Range<Volume>, bench: &Bench<'_>) -> Self {
        let ml = |volume: Range<Volume>| with_area_error(volume.map(|volume| volume.ml()), bench.area_error);
        Self {
            product_ml: ml(product),
            thinner_ml: ml(thinner),
        }
    }
}

/// How much the act takes on the surface as it is before.
pub(crate) fn amount(act: &Act, before: &Surface, bench: &Bench<'_>) -> Amount {
    match act.material {
        None => Amount::NOTHING,
        Some(Material::Finish(class)) => {
            let coat = nth_coat(
                shares(act, bench),
                &coating(act, class, before, bench),
                nth(class, before),
            );
            Amount::of(coat.product, coat.thinner, bench)
        }
        Some(Material::Prep(class)) => {
            let volume = prep(act, class, before, bench).unwrap_or(Range::exactly(Volume::ZERO));
            Amount::of(volume, Range::exactly(Volume::ZERO), bench)
        }
    }
}

/// The shares of the zone that an act goes over: all of it, or its spots.
fn shares<'b>(act: &Act, bench: &'b Bench<'_>) -> &'b [Share] {
    if act.op == Operation::SpotPrime {
        &bench.spots
    } else {
        &bench.shares
    }
}

fn coating(act: &Act, class: FinishClass, before: &Surface, bench: &Bench<'_>) -> Coating {
    let limits = bench.limits;
    let mut coating = bench
        .coating(class)
        .put_on_by(tool(act, bench).unwrap_or(limits.by_hand))
        .on(absorbency(class, before, bench));
    if let Some(lost_ml) = limits
        .cup_loss_ml
        .filter(|_| coating.method == limits.sprayer && coating.method.is_spraying())
    {
        coating.set_up_loss = Volume::from_ml(lost_ml);
    }
    coating
}

/// What the shop really puts an act's material on with: its own tool where the act says brush or gun.
pub(crate) fn tool(act: &Act, bench: &Bench<'_>) -> Option<Method> {
    match act.method? {
        Method::Brush => Some(bench.limits.by_hand),
        Method::Hvlp => Some(bench.limits.sprayer),
        other => Some(other),
    }
}

fn nth(class: FinishClass, before: &Surface) -> u8 {
    before.coats_of(class).saturating_add(1)
}

/// How much the surface drinks. The rate of a wax is stated for a finished surface, so that one never counts as sealed.
fn absorbency(class: FinishClass, before: &Surface, bench: &Bench<'_>) -> Absorbency {
    if class.row().group != Group::Wax && !before.is_bare_of_film() {
        Absorbency::Sealed
    } else if before.is_bare_of_film() && bench.open_pores && !before.pores_filled && !before.conditioned {
        Absorbency::Open
    } else {
        Absorbency::Close
    }
}

fn prep(act: &Act, class: PrepClass, before: &Surface, bench: &Bench<'_>) -> Option<Range<Volume>> {
    // A tack rag is counted by the piece, as a supply.
    if class == PrepClass::TackCloth {
        return None;
    }
    if class.is_filler() {
        return Some(filler(&hollows(bench), class.row()).volume);
    }
    prep_volume(
        Area::from_m2(bench.zone.area_m2),
        class.row(),
        passes(act, class, before, bench),
    )
}

/// How often one step puts its material on. Every pass of a stripper that is sure to be needed is a step of its own; the last of
/// them may want one more.
fn passes(act: &Act, class: PrepClass, before: &Surface, bench: &Bench<'_>) -> Range<u8> {
    match act.op {
        Operation::StripChemical => {
            let left = found_coats(before).saturating_sub(before.softened);
            if left > coats_a_pass(class) {
                Range::exactly(1)
            } else {
                strip_passes(1)
            }
        }
        Operation::Clean if bench.heavy_grime => Range::new(1, 2, 2),
        _ if class == PrepClass::WaterborneGrainFiller => Range::new(2, 2, 3),
        _ => Range::exactly(1),
    }
}

/// What there is to fill, 1 mm deep where nobody measured.
fn hollows(bench: &Bench<'_>) -> Vec<Hollow> {
    let filled = bench.zone.defects.iter().filter(|defect| !defect.kind.is_loose());
    filled
        .map(|defect| {
            let count = u16::try_from(defect.count).unwrap_or(u16::MAX);
            let depth = Length::from_mm(defect.depth_mm.unwrap_or(1.0));
            match defect.kind {
                DefectKind::Dent => Hollow::dents(count, depth),
                DefectKind::Chip => Hollow::chips(count, depth),
                DefectKind::Hole => Hollow::holes(count, depth),
                DefectKind::Crack => Hollow::cracks(count, depth),
                DefectKind::MissingVeneer | DefectKind::Burn => Hollow::patches(count, depth),
                DefectKind::Gouge | DefectKind::LooseVeneer | DefectKind::LooseJoint => Hollow::gouges(count, depth),
            }
        })
        .collect()
}

/// In words, what a quantity was reckoned from.
pub(crate) fn basis(act: &Act, before: &Surface, bench: &Bench<'_>) -> String {
    let area_m2 = bench.zone.area_m2;
    match act.material {
        Some(Material::Finish(class)) => {
            let coating = coating(act, class, before, bench);
            let spots = if act.op == Operation::SpotPrime {
                "spots, 5 % of "
            } else {
                ""
            };
            match (coating.method.is_spraying(), coating.volume_solids, coating.dry_film) {
                (true, Some(solids), Some(dry)) => format!(
                    "{spots}{area_m2:.2} m², {:.0} µm dry at {:.0} % solids, of which {:.0} % arrive on flat work, and {:.0} mL left in the gun",
                    dry.typical.um(),
                    solids.typical * 100.0,
                    coating.transfer.typical * 100.0,
                    coating.set_up_loss.ml()
                ),
                _ => {
                    let drinks = match (coating.soaks_in(), coating.absorbency) {
                        (false, _) | (true, Absorbency::Close) => "",
                        (true, Absorbency::Open) => ", open pores drink a third more",
                        (true, Absorbency::Sealed) => ", a sealed surface takes half",
                    };
                    let later = if coating.soaks_in() && nth(class, before) > 1 {
                        ", a later coat six tenths of the first"
                    } else {
                        ""
                    };
                    format!(
                        "{spots}{area_m2:.2} m² at {:.1} m²/L{drinks}{later}",
                        coating.spread.typical.m2_per_litre()
                    )
                }
            }
        }
        Some(Material::Prep(class)) => match class.row().spread_m2_per_l {
            Some(spread) => {
                let passes = passes(act, class, before, bench).typical;
                let times = if passes > 1 {
                    format!(", {passes} times")
                } else {
                    String::new()
                };
                format!("{area_m2:.2} m² at {:.1} m²/L{times}", spread.typical)
            }
            None => "by count, kind and depth of the damage".to_owned(),
        },
        None => String::new(),
    }
}
