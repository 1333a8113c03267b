//! What objects to a coat: what is under it, its place and air, its method, the wood's own ways.

use trade::finish_rows::Group;
use trade::{FinishClass, Grit, Operation, PrepClass, Substrate};

use crate::act::Act;
use crate::bench::{Bench, is_clear_top};
use crate::effect::is_opaque;
use crate::object::{bleed, stick};
use crate::rule::{Hits, RuleId};
use crate::surface::{Layer, Residue, Surface, deeper_than, um};
use crate::wish::{Look, Sheen, Without};
use crate::zone::Use;

pub(super) fn coat(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    what_is_under_it(surface, act, bench, hits);
    wood(surface, act, bench, hits);
    if let Some(class) = act.finish() {
        the_class(surface, class, act, bench, hits);
        stick::stick(surface, act, class, bench, hits);
        bleed::bleed(surface, act, class, bench, hits);
        hits.add_if(
            gives_first_colour(surface, act, class, bench) && edges_drink(surface, bench),
            RuleId::EdgesNotSealed,
        );
    }
}

/// Whether this is the first coat of colour, primer not counted.
fn gives_first_colour(surface: &Surface, act: &Act, class: FinishClass, bench: &Bench<'_>) -> bool {
    let is_colour = |class| bench.figures(class).group != Group::Primer;
    let begun = surface
        .planned_layers()
        .any(|layer| layer.opaque && is_colour(layer.class));
    !begun && act.op != Operation::SpotPrime && is_colour(class) && is_opaque(surface, act, class, bench)
}

/// Whether cut edges of board are still thirsty: no old finish, no spot coat, and under the next coat neither a film that is not
/// waterborne nor two coats of what is.
fn edges_drink(surface: &Surface, bench: &Bench<'_>) -> bool {
    let board = matches!(bench.zone.substrate, Substrate::Mdf | Substrate::ParticleBoard) && bench.zone.edge_m > 0.0;
    let shuts = |layer: &Layer| bench.figures(layer.class).film && !bench.figures(layer.class).waterborne;
    let coats: u8 = surface.planned_layers().map(|layer| layer.coats).sum();
    board && !surface.has_found_layers() && surface.knot_coats == 0 && coats < 2 && !surface.planned_layers().any(shuts)
}

/// Grain filler is laid like a coat: on wood that is clean, dry, free of dust and sanded for the finish to come.
pub(super) fn grain_filler(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    let fills_pores = matches!(
        act.prep_class(),
        Some(PrepClass::OilGrainFiller | PrepClass::WaterborneGrainFiller)
    );
    if act.op == Operation::Fill && fills_pores {
        what_is_under_it(surface, act, bench, hits);
        hits.add_if(
            surface.is_bare() && surface.scratch_um > um(bench.finest_grit()),
            RuleId::ScratchTooCoarse,
        );
    }
}

/// Damage is filled: by what kind of filler, on what, and whether what it leaves is seen.
pub(super) fn filler(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    let Some(class) = act.prep_class().filter(|class| class.is_filler()) else {
        return;
    };
    let layer_mm = class.row().max_layer_mm;
    let shallow = layer_mm.is_some_and(|layer_mm| layer_mm > 0.0 && deeper_than(bench, layer_mm));
    hits.add_if(shallow && surface.open_defects, RuleId::FillerTooShallow);
    let seen = matches!(bench.wish.look, Look::Clear | Look::Stain | Look::Wax);
    let matched = matches!(class, PrepClass::WaxStick | PrepClass::BurnInStick);
    hits.add_if(seen && !matched, RuleId::FillerShows);
    if class == PrepClass::WaxStick {
        let hard = surface.planned_top().map_or(surface.has_found_layers(), |top| {
            surface.top_age_min >= bench.figures(top.class).light_min
        });
        hits.add_if(!hard, RuleId::WaxStickTooEarly);
    }
    // The knife that melts the stick is hot enough for the fume of lead.
    hits.add_if(
        class == PrepClass::BurnInStick && bench.lead_is_disturbed(surface),
        RuleId::LeadPaintMachined,
    );
}

fn what_is_under_it(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    hits.add_if(surface.grease, RuleId::GreaseUnderCoat);
    hits.add_if(surface.nicotine == 1, RuleId::NicotineUnderCoat);
    hits.add_if(surface.dusty, RuleId::DustUnderCoat);
    hits.add_if(surface.softened > 0, RuleId::SoftenedFinishLeft);
    hits.add_if(surface.flaking, RuleId::FlakingUnderCoat);
    hits.add_if(surface.half_stripped, RuleId::HalfStripped);
    hits.add_if(surface.loose, RuleId::LoosePartUnderCoat);
    hits.add_if(
        surface.open_defects && !bench.may_fill_with_wax(),
        RuleId::OpenDefectUnderCoat,
    );
    let waxes = act.finish().is_some_and(|class| class.row().group == Group::Wax);
    hits.add_if(surface.wax_filled && !waxes, RuleId::CoatOverWaxStick);
    hits.add_if(!surface.drying.is_over(), RuleId::DampUnderCoat);
    hits.add_if(!surface.setting.is_over(), RuleId::FillerNotSet);
    if act.op != Operation::SpotPrime {
        hits.add_if(surface.proud, RuleId::FillerNotLevelled);
        let primer = act.op == Operation::Prime;
        hits.add_if(surface.patchy && !primer, RuleId::BarePatches);
        hits.add_if(surface.cut_through && !primer, RuleId::CutThroughEdges);
    }
    residue(surface, hits);
}

/// What the material last used has left in the surface.
pub(super) fn residue(surface: &Surface, hits: &mut Hits) {
    match surface.residue {
        Residue::None => {}
        Residue::Stripper => hits.add(RuleId::StripperResidue),
        Residue::Alkali => hits.add(RuleId::AlkaliResidue),
        Residue::Acid => hits.add(RuleId::AcidResidue),
        Residue::Cleaner => hits.add(RuleId::CleanerResidue),
    }
}

fn wood(surface: &Surface, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    if !bench.fibrous {
        return;
    }
    let class = act.finish();
    let group = class.map(|class| class.row().group);
    if surface.is_bare() {
        let limit_um = coarsest_um(group, bench);
        hits.add_if(surface.scratch_um > limit_um, RuleId::ScratchTooCoarse);
        let burnished = surface.scratch_um > 0 && surface.scratch_um < um(Grit::P180);
        let soaks = matches!(
            class,
            Some(FinishClass::OilPigmentStain | FinishClass::WaterborneStain | FinishClass::DyeStain)
        );
        hits.add_if(soaks && burnished, RuleId::SandedTooFine);
        let pigment = matches!(class, Some(FinishClass::OilPigmentStain | FinishClass::WaterborneStain));
        hits.add_if(
            pigment && bench.blotch >= 2 && !surface.conditioned,
            RuleId::BlotchyStain,
        );
        hits.add_if(
            surface.glue_smeared && group == Some(Group::Stain),
            RuleId::GlueUnderStain,
        );
        hits.add_if(surface.marks_show(bench), RuleId::WaterMarkShows);
        hits.add_if(group == Some(Group::Wax), RuleId::WaxOnBareWood);
        if bench.oily_wood {
            hits.add_if(!surface.is_wiped_lately(), RuleId::OilyWoodNotWiped);
            // An oil soaks in and may stay slow; an oil-curing film over it stays sticky. On rosewood neither cures.
            let oxidises = class.is_some_and(|class| bench.figures(class).oxidises && group != Some(Group::Stain));
            let film = class.is_some_and(|class| bench.figures(class).film);
            let rosewood = bench.zone.substrate.species() == Some(trade::Species::Rosewood);
            hits.add_if(oxidises && (film || rosewood), RuleId::OilyWoodUnsealed);
        }
        hits.add_if(surface.is_bare_too_long(), RuleId::BareTooLong);
    } else {
        hits.add_if(
            surface.film_scratch_um > coarsest_on_film_um(group),
            RuleId::ScratchTooCoarse,
        );
    }
    hits.add_if(
        surface.raised && surface.top().is_some_and(|top| top.dry_um > 0),
        RuleId::RaisedGrain,
    );
    let film =
        class.is_some_and(|class| bench.figures(class).film && (is_clear_top(class) || group == Some(Group::Paint)));
    let glossy = matches!(bench.wish.sheen, Some(Sheen::Gloss | Sheen::SemiGloss));
    let bared = !surface.has_found_layers() && surface.is_bare_of_film();
    let opaque = matches!(group, Some(Group::Primer));
    hits.add_if(
        (film || opaque) && glossy && bared && bench.open_pores && !surface.pores_filled,
        RuleId::PoresShow,
    );
}

/// The coarsest scratch this coat covers on bare wood.
fn coarsest_um(group: Option<Group>, bench: &Bench<'_>) -> u16 {
    let grit = match group {
        Some(Group::Primer | Group::Paint) => Grit::P150,
        Some(Group::Stain) | None => Grit::P180,
        _ => bench.finest_grit(),
    };
    um(grit)
}

/// The coarsest scratch in a film that this coat covers: P180 under paint, P220 under what is seen through (`common-practice`).
fn coarsest_on_film_um(group: Option<Group>) -> u16 {
    um(match group {
        Some(Group::Primer | Group::Paint) => Grit::P180,
        _ => Grit::P220,
    })
}

fn the_class(surface: &Surface, class: FinishClass, act: &Act, bench: &Bench<'_>, hits: &mut Hits) {
    let figures = bench.figures(class);
    hits.add_if(
        figures.strong && bench.is_without(Without::StrongSolvents),
        RuleId::ExcludedByWish,
    );
    hits.add_if(bench.limits.never.contains(&class), RuleId::ExcludedByWish);
    hits.add_if(!figures.air_suits, RuleId::AirOutOfRange);
    let bare_steel = surface.is_bare() && bench.zone.substrate.rusts();
    hits.add_if(bare_steel && figures.waterborne, RuleId::FlashRust);
    let top_coat = matches!(figures.group, Group::Paint | Group::Clear | Group::Oil | Group::Wax);
    let shellac_on_top = class == FinishClass::DewaxedShellac && act.op == Operation::ClearCoat;
    hits.add_if(
        (top_coat || shellac_on_top) && bench.zone.use_ == Use::Outdoors && !figures.outdoors,
        RuleId::NotForOutdoors,
    );
    let sleeps_beside = bench.zone.use_ == Use::Nursery;
    hits.add_if(sleeps_beside && figures.formaldehyde, RuleId::NotForANursery);
    let amber = figures.oxidises && figures.group == Group::Clear;
    let over_paint = surface.planned_top().is_some_and(|top| top.opaque);
    hits.add_if(amber && over_paint && bench.light, RuleId::YellowsOverLight);
    hits.add_if(figures.spray_only && !act.is_sprayed(), RuleId::SprayClassBrushed);
}
