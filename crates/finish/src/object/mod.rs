//! What objects to a step, and to the end of a schedule.
//!
//! The one idea: a rule looks at the surface before a step and at the step, and says whether it is broken; nothing else. The
//! search may take no step that a rule objects to, and the check runs the same rules over any schedule.

mod abrade;
mod at_end;
mod bleed;
mod coat;
mod stick;
mod take_off;

use trade::{Operation, PrepClass, Substrate};

use crate::act::Act;
use crate::bench::Bench;
use crate::rule::{Hits, RuleId};
use crate::surface::{ROUGH_UM, Surface};

pub(crate) use at_end::{at_end, wear};
pub(crate) use stick::{is_over_primer, stick_window};

/// The rules that object to `act` on this surface.
pub(crate) fn object(surface: &Surface, act: &Act, bench: &Bench<'_>) -> Hits {
    let mut hits = Hits::default();
    if bench.zone.removable && !surface.hardware_off && act.op != Operation::RemoveHardware {
        hits.add(RuleId::HardwareInPlace);
    }
    if act.is_sprayed() || act.op == Operation::Spray {
        spraying(surface, act, bench, &mut hits);
    }
    if act.op.is_dusty() || act.op == Operation::Sand {
        abrade::abrade(surface, act, bench, &mut hits);
    }
    take_off::take_off(surface, act, bench, &mut hits);
    if act.op.is_coating() {
        coat::coat(surface, act, bench, &mut hits);
    }
    coat::grain_filler(surface, act, bench, &mut hits);
    if act.op == Operation::RefitHardware {
        let light_min = surface
            .planned_top()
            .map_or(0, |top| bench.figures(top.class).light_min);
        hits.add_if(surface.top_age_min < light_min, RuleId::RefittedTooSoon);
        hits.add_if(!surface.hardware_off, RuleId::HardwareInPlace);
    }
    let flakes = act.op == Operation::Scrape && surface.softened == 0 && surface.flaking;
    hits.add_if(
        flakes && !act.wet && bench.lead_is_disturbed(surface),
        RuleId::DrySandingBeforeLeadTest,
    );
    let too_soon = act.op == Operation::Scrape && surface.softened > 0 && !surface.setting.is_over();
    hits.add_if(too_soon, RuleId::ScrapedTooSoon);
    if act.op == Operation::Fill {
        coat::filler(surface, act, bench, &mut hits);
        steam(surface, act, bench, &mut hits);
    }
    hits.add_if(wets_bare_tannin(surface, act, bench), RuleId::IronOnTannin);
    hits.add_if(changes_nothing(surface, act, bench), RuleId::NothingToDo);
    hits
}

fn spraying(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    use crate::wish::Without;
    use trade::methods::Method;
    let can = act.method == Some(Method::AerosolCan);
    hits.add_if(bench.is_without(Without::Spraying), RuleId::ExcludedByWish);
    hits.add_if(!can && !bench.limits.has_spray_gun, RuleId::ToolMissing);
    let stands_alone = bench.zone.removable && surface.hardware_off;
    hits.add_if(!stands_alone && !surface.masked, RuleId::OversprayUnmasked);
}

/// Dents are steamed on bare solid wood, as stripping or the planer left it.
fn steam(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    if act.prep_class() != Some(PrepClass::Heat) {
        return;
    }
    let solid = matches!(bench.zone.substrate, Substrate::Solid(_) | Substrate::Wood);
    hits.add_if(!surface.is_bare() || !solid, RuleId::SteamOnFinish);
    let sanded = surface.is_bare() && surface.scratch_um < ROUGH_UM;
    hits.add_if(sanded && solid, RuleId::SteamedAfterSanding);
}

/// Whether water comes to bare wood whose tannin iron would turn black.
fn wets_bare_tannin(surface: &Surface, act: &Act, bench: &Bench<'_>) -> bool {
    let watery = match act.op {
        Operation::Rinse => act.prep_class().is_none(),
        _ => act.finish().is_some_and(|class| bench.figures(class).waterborne),
    };
    watery && surface.is_bare() && bench.fibrous && bench.tannin >= 2
}

/// Whether a step of preparation meets nothing that it would take away or mend.
fn changes_nothing(surface: &Surface, act: &Act, bench: &Bench<'_>) -> bool {
    use crate::surface::Residue;
    match act.op {
        Operation::Dewax => !surface.wax && surface.silicone != 1 && surface.is_wiped_lately(),
        Operation::StripChemical | Operation::StripHeat | Operation::StripSand => !surface.has_found_layers(),
        Operation::Scrape => surface.softened == 0 && !surface.flaking && !surface.glue_smeared,
        Operation::Fill if act.prep_class() == Some(PrepClass::Heat) => {
            let dent = |defect: &crate::zone::Defect| defect.kind == crate::zone::DefectKind::Dent;
            !surface.open_defects || !bench.zone.defects.iter().any(dent)
        }
        // Dulled already, and by nothing coarser.
        Operation::Scuff | Operation::Sand if !surface.is_bare() => {
            let as_fine = crate::effort::scratch_of(act) >= surface.film_scratch_um;
            surface.keyed && !surface.raised && as_fine
        }
        Operation::Rinse => surface.residue == Residue::None || surface.softened > 0,
        Operation::Neutralise => !matches!(surface.residue, Residue::Alkali | Residue::Acid),
        Operation::Glue => !surface.loose,
        Operation::Level => !surface.proud,
        Operation::DustOff => !surface.dusty,
        Operation::Mask => surface.masked,
        Operation::RemoveHardware => surface.hardware_off,
        _ => false,
    }
}
