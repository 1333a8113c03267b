//! What puts right what a rule objects to: the step before the step.
//!
//! The one idea: the search reasons backwards. It wants a coat; a rule objects; the remedies of that rule are the steps worth
//! considering now. Nothing here says in which order a zone is done: the objections do.

use trade::finish_rows::Group;
use trade::methods::Method;
use trade::{FinishClass, Grit, Operation, PrepClass};

use crate::act::Act;
use crate::bench::Bench;
use crate::effect::steam_mends;
use crate::rule::{Hits, RuleId};
use crate::surface::{Residue, Surface, um};
use crate::wish::Look;

/// A move of the search.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Move {
    /// Do this now.
    Do(Act),
    /// Wait longer after the last step, until its coat (or what dries or sets) is so old.
    WaitUntil(u32),
}

const PRIMERS: [FinishClass; 4] = [
    FinishClass::ShellacPrimer,
    FinishClass::WaterborneBondingPrimer,
    FinishClass::WaterborneStainBlockingPrimer,
    FinishClass::OilPrimer,
];

const BARE_GRITS: [Grit; 6] = [Grit::P80, Grit::P100, Grit::P120, Grit::P150, Grit::P180, Grit::P220];

/// Steps between grits as the bench takes them: one grade skipped at most, between the ideal of 1.6 and the limit of 2.
const USUAL_GRIT_RATIO: f64 = 1.75;

/// The order in which objections are met when a step has several: what lies deepest first.
const ORDER: &[RuleId] = &[
    RuleId::HardwareInPlace,
    RuleId::RecoatTooSoon,
    RuleId::SandingTooSoon,
    RuleId::RefittedTooSoon,
    RuleId::SoftenedFinishLeft,
    RuleId::StripperResidue,
    RuleId::AlkaliResidue,
    RuleId::AcidResidue,
    RuleId::CleanerResidue,
    RuleId::SandingOverResidue,
    RuleId::WaxUnderCoat,
    RuleId::SandingOverGrease,
    RuleId::FlakingUnderCoat,
    RuleId::LoosePartUnderCoat,
    RuleId::WaterMarkShows,
    RuleId::OpenDefectUnderCoat,
    RuleId::FillerNotLevelled,
    RuleId::ScratchTooCoarse,
    RuleId::GlueUnderStain,
    RuleId::PoresShow,
    RuleId::BlotchyStain,
    RuleId::KnotsNotSealed,
    RuleId::EdgesNotSealed,
    RuleId::BarePatches,
    RuleId::CutThroughEdges,
    RuleId::NotCured,
    RuleId::OneCoatOfStainBlock,
    RuleId::BleedThrough,
    RuleId::FlashRust,
    RuleId::NeedsPrimer,
    RuleId::NeedsBarrier,
    RuleId::WaxedShellacUnderFilm,
    RuleId::OilyWoodUnsealed,
    RuleId::SiliconeUnderCoat,
    RuleId::WaxOnBareWood,
    RuleId::NeverOver,
    RuleId::TryAPatchFirst,
    RuleId::RaisedGrain,
    RuleId::NotScuffed,
    RuleId::NoKeyBetweenCoats,
    RuleId::WindowMissed,
    RuleId::GreaseUnderCoat,
    RuleId::NicotineUnderCoat,
    RuleId::DustUnderCoat,
    RuleId::OversprayUnmasked,
    RuleId::OilyWoodNotWiped,
    RuleId::DampUnderCoat,
    RuleId::FillerNotSet,
    RuleId::WaxStickTooEarly,
];

/// Objections no step can meet; the act is not to be had from here.
fn has_no_remedy(hits: Hits) -> bool {
    hits.iter().any(|rule| !ORDER.contains(&rule))
}

/// The moves that bring the surface nearer to bearing `act`, given what objects to it. Empty if nothing would.
pub(crate) fn remedies(act: &Act, hits: Hits, surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Move>) {
    if has_no_remedy(hits) {
        return;
    }
    if let Some(rule) = ORDER.iter().copied().find(|rule| hits.has(*rule)) {
        remedy(rule, act, surface, bench, into);
    }
}

fn remedy(rule: RuleId, act: &Act, surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Move>) {
    let wet = bench.lead_is_disturbed(surface) || bench.is_without(crate::wish::Without::Sanding);
    let mut add = |act: Act| into.push(Move::Do(act));
    match rule {
        RuleId::HardwareInPlace => add(Act::of(Operation::RemoveHardware)),
        RuleId::SoftenedFinishLeft | RuleId::FlakingUnderCoat => add(scrape(surface, bench)),
        RuleId::StripperResidue => washes(&mut add),
        RuleId::AlkaliResidue | RuleId::AcidResidue => add(Act::of(Operation::Neutralise)),
        RuleId::CleanerResidue => add(Act::of(Operation::Rinse)),
        RuleId::SandingOverResidue => under_abrasive(surface, bench, &mut add),
        RuleId::WaxUnderCoat if surface.wax => dewaxers(&mut add),
        RuleId::SandingOverGrease => {
            if surface.wax {
                dewaxers(&mut add);
            } else if surface.silicone == 1 {
                add(Act::prep(Operation::Dewax, PrepClass::Naphtha));
            } else {
                cleaners(bench, &mut add);
            }
        }
        RuleId::GreaseUnderCoat | RuleId::NicotineUnderCoat => cleaners(bench, &mut add),
        RuleId::SiliconeUnderCoat if surface.silicone == 1 => add(Act::prep(Operation::Dewax, PrepClass::Naphtha)),
        RuleId::LoosePartUnderCoat => add(Act::of(Operation::Glue)),
        RuleId::OpenDefectUnderCoat => fillers(bench, &mut add),
        RuleId::FillerNotLevelled => add(Act::abrade(Operation::Level, Grit::P220, wet)),
        RuleId::WaterMarkShows if surface.is_bare() => add(Act::prep(Operation::Bleach, PrepClass::OxalicBleach)),
        RuleId::PoresShow if surface.is_bare_of_film() => {
            add(Act::prep(Operation::Fill, PrepClass::OilGrainFiller));
            add(Act::prep(Operation::Fill, PrepClass::WaterborneGrainFiller));
        }
        RuleId::ScratchTooCoarse => {
            let finest = bench.finest_grit();
            let finer = |grit: &&Grit| {
                let usual = f64::from(surface.scratch_um) / grit.particle_um() <= USUAL_GRIT_RATIO;
                um(**grit) < surface.scratch_um && **grit <= finest && usual
            };
            BARE_GRITS
                .iter()
                .filter(finer)
                .for_each(|grit| add(Act::abrade(Operation::Sand, *grit, wet)));
        }
        RuleId::BlotchyStain => add(Act::prep(Operation::Seal, PrepClass::WoodConditioner)),
        RuleId::KnotsNotSealed => spots_of_shellac(&mut add),
        RuleId::GlueUnderStain => add(Act::abrade(Operation::Sand, bench.finest_grit(), wet)),
        RuleId::EdgesNotSealed => {
            spots_of_shellac(&mut add);
            match surface
                .planned_top()
                .filter(|top| bench.figures(top.class).group == Group::Primer)
            {
                Some(primer) => add(Act::coat(Operation::Prime, primer.class, Method::Brush)),
                None => primers(surface, bench, &mut add),
            }
        }
        RuleId::BarePatches | RuleId::CutThroughEdges => {
            let spot = |class| Act::coat(Operation::SpotPrime, class, Method::Brush);
            PRIMERS.iter().for_each(|class| add(spot(*class)));
            primers(surface, bench, &mut add);
        }
        RuleId::OneCoatOfStainBlock => {
            if let Some(top) = surface
                .planned_top()
                .filter(|top| top.class == FinishClass::WaterborneStainBlockingPrimer)
            {
                add(Act::coat(Operation::Prime, top.class, Method::Brush));
            }
        }
        RuleId::NeedsPrimer | RuleId::BleedThrough | RuleId::FlashRust => {
            primers(surface, bench, &mut add);
        }
        RuleId::NeverOver | RuleId::TryAPatchFirst | RuleId::WaxedShellacUnderFilm => {
            barrier(surface, &mut add);
            if matches!(bench.wish.look, Look::Paint | Look::Metallic) {
                primers(surface, bench, &mut add);
            }
        }
        RuleId::NeedsBarrier | RuleId::OilyWoodUnsealed | RuleId::SiliconeUnderCoat | RuleId::WaxOnBareWood => {
            barrier(surface, &mut add)
        }
        RuleId::NotCured => barrier(surface, &mut add),
        RuleId::RaisedGrain | RuleId::NotScuffed | RuleId::NoKeyBetweenCoats | RuleId::WindowMissed => {
            add(Act::abrade(Operation::Scuff, scuff_grit(surface, bench), wet));
        }
        RuleId::DustUnderCoat => add(Act::prep(Operation::DustOff, PrepClass::TackCloth)),
        RuleId::OversprayUnmasked => add(Act::of(Operation::Mask)),
        RuleId::OilyWoodNotWiped => {
            add(Act::prep(Operation::Dewax, PrepClass::Naphtha));
            add(Act::prep(Operation::Clean, PrepClass::Alcohol));
        }
        _ => {}
    }
    if let Some(until_min) = wait_remedy(rule, act, surface, bench) {
        into.push(Move::WaitUntil(until_min));
    }
}

/// How old what was put on last has to be for the rule to fall silent, if waiting helps.
fn wait_remedy(rule: RuleId, act: &Act, surface: &Surface, bench: &Bench<'_>) -> Option<u32> {
    let top = surface.planned_top().map(|top| bench.figures(top.class));
    match rule {
        RuleId::RecoatTooSoon | RuleId::SandingTooSoon => top.map(|top| top.recoat_min),
        RuleId::RefittedTooSoon | RuleId::WaxStickTooEarly => top.map(|top| top.light_min),
        RuleId::NotCured => {
            let waxes = act
                .finish()
                .is_some_and(|class| bench.figures(class).group == Group::Wax);
            top.map(|top| if waxes { top.light_min } else { top.cure_min })
        }
        RuleId::OneCoatOfStainBlock => top.map(|_| crate::effect::STAIN_BLOCK_DAY_MIN),
        _ => None,
    }
    .filter(|until_min| *until_min > surface.top_age_min)
}

/// Scraping: wet where stripper is still in it, and kept wet where what flakes may hold lead.
pub(crate) fn scrape(surface: &Surface, bench: &Bench<'_>) -> Act {
    let mut act = Act::of(Operation::Scrape);
    act.wet = surface.residue != Residue::None || bench.lead_is_disturbed(surface);
    act
}

fn spots_of_shellac(add: &mut impl FnMut(Act)) {
    for class in [FinishClass::ShellacPrimer, FinishClass::DewaxedShellac] {
        add(Act::coat(Operation::SpotPrime, class, Method::Brush));
    }
}

fn under_abrasive(surface: &Surface, bench: &Bench<'_>, add: &mut impl FnMut(Act)) {
    match surface.residue {
        _ if surface.softened > 0 => add(scrape(surface, bench)),
        Residue::None => {}
        Residue::Stripper => washes(add),
        Residue::Alkali | Residue::Acid => add(Act::of(Operation::Neutralise)),
        Residue::Cleaner => add(Act::of(Operation::Rinse)),
    }
}

/// Stripper washes off with water or with mineral spirits, as its label says: water raises the grain, spirits give off vapour.
fn washes(add: &mut impl FnMut(Act)) {
    add(Act::prep(Operation::Rinse, PrepClass::MineralSpirits));
    add(Act::of(Operation::Rinse));
}

fn dewaxers(add: &mut impl FnMut(Act)) {
    add(Act::prep(Operation::Dewax, PrepClass::MineralSpirits));
    add(Act::prep(Operation::Dewax, PrepClass::Naphtha));
}

fn cleaners(bench: &Bench<'_>, add: &mut impl FnMut(Act)) {
    let mut clean = |class| add(Act::prep(Operation::Clean, class));
    if !bench.fibrous {
        clean(PrepClass::Naphtha);
    }
    if !bench.fibrous && !bench.heavy_grime {
        clean(PrepClass::Alcohol);
    }
    if !bench.heavy_grime {
        clean(PrepClass::NeutralCleaner);
    }
    clean(PrepClass::AlkalineCleaner);
}

/// Everything that makes open damage good before the first coat: steam where it is enough, and every filler that holds.
pub(crate) fn fillers(bench: &Bench<'_>, add: &mut impl FnMut(Act)) {
    if steam_mends(bench) {
        add(Act::prep(Operation::Fill, PrepClass::Heat));
    }
    for class in [
        PrepClass::WaterBasedFiller,
        PrepClass::PolyesterFiller,
        PrepClass::EpoxyFiller,
        PrepClass::BurnInStick,
    ] {
        let holds = match class {
            PrepClass::WaterBasedFiller => bench.fibrous,
            // Coloured to the wood: under paint it would be work for nothing.
            PrepClass::BurnInStick => bench.fibrous && !matches!(bench.wish.look, Look::Paint | Look::Metallic),
            _ => true,
        };
        let deep_enough = class
            .row()
            .max_layer_mm
            .is_none_or(|mm| !crate::surface::deeper_than(bench, mm));
        if holds && deep_enough {
            add(Act::prep(Operation::Fill, class));
        }
    }
}

/// One primer and no more: a second of another class would only mend what the first was wrong for.
fn primers(surface: &Surface, bench: &Bench<'_>, add: &mut impl FnMut(Act)) {
    if crate::object::is_over_primer(surface) {
        return;
    }
    PRIMERS
        .iter()
        .filter(|class| bench.may_use(**class))
        .for_each(|class| add(Act::coat(Operation::Prime, *class, Method::Brush)));
}

fn barrier(surface: &Surface, add: &mut impl FnMut(Act)) {
    let wanted = if surface.silicone == 2 { 2 } else { 1 };
    if surface.coats_of(FinishClass::DewaxedShellac) < wanted {
        add(Act::coat(Operation::Seal, FinishClass::DewaxedShellac, Method::Pad));
    }
}

/// P220 on old finish, metal and primer; P320 between coats (`common-practice`, the steps of the abrasive table).
fn scuff_grit(surface: &Surface, bench: &Bench<'_>) -> Grit {
    match surface.planned_top() {
        Some(top) if !matches!(bench.figures(top.class).group, Group::Primer) => Grit::P320,
        _ => Grit::P220,
    }
}
