//! What objects to abrading: lead, thin faces, detail, grits, and what lies on the surface.

use trade::{Grit, Operation, Substrate};

use crate::act::Act;
use crate::bench::Bench;
use crate::rule::{Hits, RuleId};
use crate::surface::{Residue, Surface};
use crate::wish::Without;

/// Each grain at least half the size of the one before (`common-practice`, the hard limit of the abrasive table).
const MOST_GRIT_RATIO: f64 = 2.0;

pub(super) fn abrade(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    lead(surface, act, bench, hits);
    thin_faces(surface, act, bench, hits);
    what_lies_on_it(surface, act, bench, hits);
    hits.add_if(bench.is_without(Without::Sanding) && !act.wet, RuleId::ExcludedByWish);
    let machine = act.op == Operation::StripSand;
    hits.add_if(machine && bench.is_without(Without::Sanding), RuleId::ExcludedByWish);
    hits.add_if(machine && !bench.limits.has_sander, RuleId::ToolMissing);
    hits.add_if(
        machine && bench.zone.detail != trade::methods::Detail::Flat,
        RuleId::DetailSandedAway,
    );
    hits.add_if(
        act.op == Operation::Sand && skips_a_grit(surface, act, bench),
        RuleId::GritSkipped,
    );
    let smooths = matches!(act.op, Operation::Sand | Operation::Scuff);
    hits.add_if(smooths && surface.is_bare_stain(), RuleId::StainSandedAway);
    hits.add_if(
        act.op == Operation::Level && !surface.setting.is_over(),
        RuleId::FillerNotSet,
    );
    if let Some(top) = surface.planned_top() {
        hits.add_if(
            surface.top_age_min < bench.figures(top.class).recoat_min,
            RuleId::SandingTooSoon,
        );
    }
}

/// Paint leaves traces in the wood when it is off; of a clear finish, whose driers held lead, none that counts.
fn lead(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    let open_edges = act.op == Operation::Distress && bench.lead_suspect && surface.has_found_layers();
    hits.add_if(open_edges, RuleId::DistressedIntoLead);
    if !bench.lead_is_disturbed(surface) {
        return;
    }
    if act.op == Operation::StripSand {
        hits.add(RuleId::LeadPaintMachined);
    } else if !act.wet {
        hits.add(RuleId::DrySandingBeforeLeadTest);
    }
}

fn thin_faces(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    let coarse = |limit: Grit| act.grit.is_some_and(|grit| grit < limit);
    if bench.thin_face {
        let by_machine = act.op == Operation::StripSand;
        let at_the_wood = surface.is_bare() || by_machine;
        hits.add_if(
            at_the_wood && (by_machine || coarse(Grit::P120)),
            RuleId::VeneerSandedCoarse,
        );
        let face_um = bench.zone.substrate.face_um().unwrap_or(u32::MAX);
        let after_um = u32::from(surface.loss_um) + act.grit.map_or(0, |grit| u32::from(crate::surface::um(grit)) / 2);
        hits.add_if(
            at_the_wood && act.op == Operation::Sand && after_um > face_um / 2,
            RuleId::VeneerSandedThrough,
        );
    }
    let plated = bench.zone.substrate == Substrate::PlatedMetal;
    hits.add_if(plated && coarse(Grit::P220), RuleId::PlatingCutThrough);
}

fn what_lies_on_it(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    if act.op == Operation::Distress {
        return;
    }
    // Grease on metal that came with the last scuffing is wiped off after the next.
    let greasy = surface.grease && !(bench.metal && surface.keyed);
    let dirty = surface.wax || greasy || surface.silicone == 1 || surface.nicotine == 1;
    hits.add_if(dirty, RuleId::SandingOverGrease);
    let gummed = surface.softened > 0 || surface.residue != Residue::None || !surface.drying.is_over();
    hits.add_if(gummed, RuleId::SandingOverResidue);
}

fn skips_a_grit(surface: &Surface, act: &Act, bench: &Bench<'_>) -> bool {
    let Some(grit) = act.grit else { return false };
    bench.fibrous
        && surface.is_bare()
        && surface.scratch_um > 0
        && f64::from(surface.scratch_um) / grit.particle_um() > MOST_GRIT_RATIO
}
