//! What objects to taking things off: strippers, heat, cleaners.

use trade::{FinishClass, Operation, PrepClass, Substrate};

use crate::act::Act;
use crate::bench::Bench;
use crate::object::coat;
use crate::rule::{Hits, RuleId};
use crate::surface::{Residue, Surface};
use crate::wish::{Look, Without};

pub(super) fn take_off(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    match act.op {
        Operation::StripChemical => {
            hits.add_if(surface.softened > 0, RuleId::SoftenedFinishLeft);
            strippers(act, bench, hits);
        }
        Operation::StripHeat => {
            hits.add_if(surface.softened > 0, RuleId::SoftenedFinishLeft);
            heat(surface, bench, hits);
        }
        Operation::Bleach => coat::residue(surface, hits),
        Operation::Clean => cleaners(surface, act, bench, hits),
        Operation::Rinse => {
            let veneer = matches!(bench.zone.substrate, Substrate::Veneer(_));
            let flooded = veneer && surface.residue == Residue::Stripper && act.prep_class().is_none();
            hits.add_if(flooded, RuleId::VeneerFlooded);
        }
        _ => {}
    }
    let acid = act.prep_class() == Some(PrepClass::OxalicBleach);
    hits.add_if(acid && bench.metal, RuleId::NothingToDo);
}

fn strippers(act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    let substrate = bench.zone.substrate;
    match act.prep_class() {
        Some(PrepClass::MethyleneChlorideStripper) => {
            hits.add(RuleId::BannedStripper);
            hits.add_if(bench.is_without(Without::StrongSolvents), RuleId::ExcludedByWish);
        }
        Some(PrepClass::CausticStripper) => {
            let glued =
                bench.thin_face || matches!(substrate, Substrate::Mdf | Substrate::ParticleBoard | Substrate::Wicker);
            hits.add_if(glued, RuleId::CausticOnVeneer);
            let seen = matches!(bench.wish.look, Look::Clear | Look::Stain | Look::Wax);
            hits.add_if(bench.fibrous && bench.tannin >= 2 && seen, RuleId::CausticDarkens);
            hits.add_if(substrate == Substrate::Aluminium, RuleId::CausticOnAluminium);
        }
        _ => {}
    }
}

fn heat(surface: &Surface, bench: &Bench<'_>, hits: &mut Hits) {
    hits.add_if(bench.lead_is_disturbed(surface), RuleId::LeadPaintMachined);
    hits.add_if(!bench.limits.has_heat, RuleId::ToolMissing);
    let solid = matches!(bench.zone.substrate, Substrate::Solid(_) | Substrate::Wood) || bench.metal;
    hits.add_if(!solid, RuleId::HeatNearVeneerOrGlass);
}

fn cleaners(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    let melts = surface.top().is_some_and(|top| {
        matches!(
            top.class,
            FinishClass::DewaxedShellac
                | FinishClass::WaxedShellac
                | FinishClass::ShellacPrimer
                | FinishClass::NitrocelluloseLacquer
        )
    });
    hits.add_if(
        melts && act.prep_class() == Some(PrepClass::Alcohol),
        RuleId::AlcoholOnShellac,
    );
    if act.prep_class() != Some(PrepClass::AlkalineCleaner) {
        return;
    }
    let shellac = surface.top().is_some_and(|top| top.class.is_shellac());
    let delicate = bench.thin_face || shellac || bench.zone.substrate == Substrate::Aluminium;
    hits.add_if(delicate, RuleId::AlkaliOnDelicate);
}
