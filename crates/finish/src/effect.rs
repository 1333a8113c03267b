//! What each operation does to the surface. Effects only: whether it was wise is for `object` to say.

use trade::finish_rows::Group;
use trade::{FinishClass, Grit, Operation, PrepClass, Substrate};

use crate::act::Act;
use crate::bench::{Bench, minutes};
use crate::effort::{scratch_of, whole_minutes};
use crate::surface::{Clock, Residue, Surface, um};
use crate::zone::DefectKind;

/// Glue stays clamped for an hour and is left alone for a day: before that its water swells the joint. Common practice.
const GLUE_SET_MIN: u32 = 24 * 60;
/// A wet-abraded or rinsed film is dry on its face after an hour, wet-abraded wood after four. Common practice.
const FILM_DRY_MIN: u32 = 60;
const WOOD_DRY_MIN: u32 = 4 * 60;
/// Metal, glass and plastic dry in half an hour. Common practice.
const HARD_DRY_MIN: u32 = 30;
/// The second coat of waterborne stain-block counts when the first is a day old (`wood-handbook-ch16`, C14).
pub(crate) const STAIN_BLOCK_DAY_MIN: u32 = 24 * 60;
/// What grain filler leaves on bare wood: rougher than P150, so that one fine pass follows (`wood-handbook-ch16`, `navy-14044`).
const FILLER_HAZE_UM: u16 = 110;
/// What blocks at once.
pub(crate) const BLOCKED: u8 = 9;
/// Stripping with a machine at P60 takes about so much wood; each further pass about its own grain. A judgement.
const STRIP_LOSS_UM: u16 = 250;

/// The surface after `act`, its hands-on minutes and its wait.
pub(crate) fn apply(before: &Surface, act: &Act, hands_on_min: u32, bench: &Bench<'_>) -> Surface {
    let mut surface = *before;
    surface.pass(hands_on_min);
    work(&mut surface, act, bench);
    surface.pass(act.wait_min);
    surface
}

fn work(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    match act.op {
        Operation::Clean => clean(surface, act, bench),
        Operation::Rinse => rinse(surface, act, bench),
        Operation::Dewax => dewax(surface, act),
        Operation::StripChemical => strip_chemical(surface, act),
        Operation::StripSand => strip_sand(surface, act, bench),
        Operation::StripHeat => surface.softened = found_coats(surface).min(surface.softened.saturating_add(4)),
        Operation::Scrape => scrape(surface, bench),
        Operation::Neutralise => neutralise(surface),
        Operation::Bleach => bleach(surface, bench),
        Operation::Glue => {
            surface.loose = false;
            surface.glue_smeared |= surface.is_bare() && bench.fibrous;
            surface.setting = Clock::start(GLUE_SET_MIN);
        }
        Operation::Fill if act.prep_class() == Some(PrepClass::Heat) => steam(surface, bench),
        Operation::Fill => fill(surface, act),
        Operation::Level => {
            surface.proud = false;
            leave_dust(surface, act, bench);
        }
        Operation::Sand => sand(surface, act, bench),
        Operation::Scuff => scuff(surface, act, bench),
        Operation::DustOff => surface.dusty = false,
        Operation::Mask => surface.masked = true,
        Operation::SpotPrime => spot_prime(surface, act, bench),
        Operation::Prime
        | Operation::Seal
        | Operation::Stain
        | Operation::Paint
        | Operation::Spray
        | Operation::ClearCoat
        | Operation::Oil
        | Operation::Wax
        | Operation::Glaze => coat(surface, act, bench),
        Operation::Distress => {
            surface.distressed = true;
            leave_dust(surface, act, bench);
        }
        Operation::RemoveHardware => surface.hardware_off = true,
        Operation::RefitHardware => surface.refitted = true,
    }
}

/// Coats of the old finish that are left.
pub(crate) fn found_coats(surface: &Surface) -> u8 {
    surface
        .found_layers()
        .fold(0, |sum, layer| sum.saturating_add(layer.coats))
}

const fn is_spirit(class: PrepClass) -> bool {
    matches!(
        class,
        PrepClass::Alcohol | PrepClass::MineralSpirits | PrepClass::Naphtha
    )
}

/// How long water or spirits take to leave: the table's time on bare wood, its least on a closed film, little on metal.
fn drying_time_min(class: PrepClass, surface: &Surface, bench: &Bench<'_>) -> u32 {
    let Some(wait) = class.row().wait_h else { return 0 };
    if !bench.fibrous {
        minutes(wait.low).min(HARD_DRY_MIN)
    } else if surface.is_bare() {
        minutes(wait.typical)
    } else {
        minutes(wait.low)
    }
}

/// Starts drying; what still dries from before goes on.
fn dry(surface: &mut Surface, need_min: u32) {
    let left = surface.drying.need_min.saturating_sub(surface.drying.age_min);
    surface.drying = Clock::start(need_min.max(left));
}

fn wet_the_grain(surface: &mut Surface, bench: &Bench<'_>) {
    if surface.is_bare() && bench.fibrous && !surface.raised_before {
        surface.raised = true;
    }
}

fn clean(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    let class = act.prep_class().unwrap_or(PrepClass::NeutralCleaner);
    if is_spirit(class) {
        dewax(surface, act);
        surface.wax = surface.wax && class == PrepClass::Alcohol;
        // Spirits take finger grease off metal and plastic; kitchen and hand grime on a wood finish wants water as well.
        if !bench.fibrous {
            surface.grease &= bench.heavy_grime && class == PrepClass::Alcohol;
            surface.dusty = false;
        }
        return;
    }
    if !bench.heavy_grime || class == PrepClass::AlkalineCleaner {
        surface.grease = false;
        surface.nicotine = if surface.nicotine == 0 { 0 } else { 2 };
    }
    // A cleaner does not take away what stripper, alkali or acid left: that wants its own wash.
    if surface.residue == Residue::None {
        surface.residue = Residue::Cleaner;
    }
    wet_the_grain(surface, bench);
    dry(surface, drying_time_min(class, surface, bench));
}

fn dewax(surface: &mut Surface, act: &Act) {
    let class = act.prep_class().unwrap_or(PrepClass::MineralSpirits);
    if class != PrepClass::Alcohol {
        surface.wax = false;
    }
    if class == PrepClass::Naphtha && surface.silicone == 1 {
        surface.silicone = 2;
    }
    surface.wiped_age_min = 0;
    dry(surface, class.row().wait_h.map_or(30, |wait| minutes(wait.low)));
}

fn rinse(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    let need_min = match surface.residue {
        // What stripper leaves in the grain takes the time the table gives after stripping.
        Residue::Stripper if bench.fibrous => PrepClass::GelStripper
            .row()
            .wait_h
            .map_or(1440, |wait| minutes(wait.typical)),
        _ if !bench.fibrous => HARD_DRY_MIN,
        _ => drying_time_min(PrepClass::NeutralCleaner, surface, bench),
    };
    // Under softened finish sits stripper that no rinse reaches; alkali and acid want more than water.
    if surface.softened == 0 && !matches!(surface.residue, Residue::Alkali | Residue::Acid) {
        surface.residue = Residue::None;
    }
    if act.prep_class().is_none() {
        wet_the_grain(surface, bench);
    }
    surface.dusty = false;
    dry(surface, need_min);
}

fn strip_chemical(surface: &mut Surface, act: &Act) {
    let class = act.prep_class().unwrap_or(PrepClass::GelStripper);
    surface.softened = found_coats(surface).min(surface.softened.saturating_add(coats_a_pass(class)));
    surface.residue = if class == PrepClass::CausticStripper {
        Residue::Alkali
    } else {
        Residue::Stripper
    };
    surface.setting = Clock::start(class.row().dwell_min.map_or(0, |dwell| whole_minutes(dwell.low)));
    surface.wax = false;
    surface.grease = false;
    surface.nicotine = 0;
    surface.keyed = false;
}

/// How many ordinary coats one pass softens. Common practice.
pub(crate) const fn coats_a_pass(class: PrepClass) -> u8 {
    match class {
        PrepClass::BenzylAlcoholStripper | PrepClass::MethyleneChlorideStripper => 4,
        PrepClass::CausticStripper => 6,
        _ => 3,
    }
}

fn lose(surface: &mut Surface, loss_um: u16, bench: &Bench<'_>) {
    if bench.zone.substrate.face_um().is_some() && surface.is_bare() {
        surface.loss_um = surface.loss_um.saturating_add(loss_um);
    }
}

fn strip_sand(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    let had_film = surface.has_found_layers();
    surface.take_off(found_coats(surface), bench);
    surface.softened = 0;
    surface.scratch_um = if bench.fibrous {
        scratch_of(act).max(um(Grit::P80))
    } else {
        0
    };
    lose(surface, STRIP_LOSS_UM, bench);
    surface.glue_smeared = false;
    surface.keyed = true;
    surface.nicotine = if had_film { 0 } else { surface.nicotine };
    leave_dust(surface, act, bench);
}

fn scrape(surface: &mut Surface, bench: &Bench<'_>) {
    if surface.softened > 0 {
        surface.take_off(surface.softened, bench);
        surface.softened = 0;
        surface.setting = Clock::default();
        surface.half_stripped = surface.has_found_layers();
        // What lay on the film went with it.
        surface.grease = bench.metal && surface.grease;
    } else if surface.flaking {
        surface.flaking = false;
        surface.patchy = true;
        surface.proud = true;
    }
    surface.glue_smeared = false;
}

fn neutralise(surface: &mut Surface) {
    match surface.residue {
        Residue::Alkali => {
            surface.residue = Residue::Cleaner;
            dry(
                surface,
                PrepClass::CausticStripper
                    .row()
                    .wait_h
                    .map_or(4320, |wait| minutes(wait.typical)),
            );
        }
        Residue::Acid => surface.residue = Residue::Cleaner,
        Residue::None | Residue::Stripper | Residue::Cleaner => {}
    }
}

fn bleach(surface: &mut Surface, bench: &Bench<'_>) {
    surface.bleached = true;
    surface.residue = Residue::Acid;
    wet_the_grain(surface, bench);
    dry(
        surface,
        PrepClass::OxalicBleach
            .row()
            .wait_h
            .map_or(2880, |wait| minutes(wait.typical)),
    );
}

fn fill(surface: &mut Surface, act: &Act) {
    let class = act.prep_class().unwrap_or(PrepClass::WaterBasedFiller);
    let need_min = class.row().wait_h.map_or(120, |wait| minutes(wait.typical));
    // Waterborne grain filler goes on twice, and dries each time.
    let passes = if class == PrepClass::WaterborneGrainFiller {
        2
    } else {
        1
    };
    surface.setting = Clock::start(need_min * passes);
    if matches!(class, PrepClass::OilGrainFiller | PrepClass::WaterborneGrainFiller) {
        surface.pores_filled = true;
        // What is wiped across the grain leaves a haze that wants one fine pass, unless stain lies below: that pass would cut it.
        if surface.is_bare() {
            surface.scratch_um = surface.scratch_um.max(FILLER_HAZE_UM);
        }
    } else {
        surface.open_defects = false;
        surface.wax_filled |= class == PrepClass::WaxStick;
        surface.proud = class != PrepClass::WaxStick;
    }
}

/// Dents deeper than this do not come up all the way under steam, mm. Common practice.
const STEAM_RAISES_MM: f64 = 2.0;

/// Whether steam raises everything that is dented, gouged or holed here: on bare solid wood, shallow dents and nothing else.
pub(crate) fn steam_mends(bench: &Bench<'_>) -> bool {
    let shallow = |defect: &crate::zone::Defect| {
        defect.kind.is_loose() || (defect.kind == DefectKind::Dent && defect.depth_mm.unwrap_or(1.0) <= STEAM_RAISES_MM)
    };
    matches!(bench.zone.substrate, Substrate::Solid(_) | Substrate::Wood) && bench.zone.defects.iter().all(shallow)
}

/// Steam from a damp cloth under a hot iron: crushed fibres swell back, and the grain rises.
fn steam(surface: &mut Surface, bench: &Bench<'_>) {
    if surface.is_bare() {
        surface.open_defects &= !steam_mends(bench);
    }
    wet_the_grain(surface, bench);
    dry(surface, if bench.fibrous { WOOD_DRY_MIN } else { HARD_DRY_MIN });
}

/// Dry abrasion leaves dust; wet abrasion leaves water. On metal fingers leave grease with either.
fn leave_dust(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    if bench.metal && surface.planned_top().is_none() {
        surface.grease = true;
    }
    if act.wet {
        wet_the_grain(surface, bench);
        let need_min = match (bench.fibrous, surface.is_bare()) {
            (false, _) => HARD_DRY_MIN,
            (true, true) => WOOD_DRY_MIN,
            (true, false) => FILM_DRY_MIN,
        };
        dry(surface, need_min);
    } else {
        surface.dusty = true;
    }
}

fn sand(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    if surface.is_bare() {
        if bench.fibrous {
            surface.scratch_um = scratch_of(act);
        }
        surface.glue_smeared = false;
        lose(surface, scratch_of(act) / 2, bench);
    } else {
        abrade_film(surface, act);
    }
    surface.keyed = true;
    cut_grain(surface);
    leave_dust(surface, act, bench);
}

fn scuff(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    surface.keyed = true;
    if !surface.is_bare() {
        abrade_film(surface, act);
    }
    cut_grain(surface);
    leave_dust(surface, act, bench);
}

const fn cut_grain(surface: &mut Surface) {
    if surface.raised {
        surface.raised = false;
        surface.raised_before = true;
    }
}

/// A light pass takes about a twentieth of its grain off a film. A proposal: common practice has no figure.
const PART_OF_GRAIN: u16 = 20;
/// Its edges, where all pressure sits, lose so many times as much. A proposal too.
const AT_EDGES: u16 = 4;

/// What a pass with this grain takes off the edges of a film, micrometres.
pub(crate) const fn edge_loss_um(grain_um: u16) -> u16 {
    grain_um / PART_OF_GRAIN * AT_EDGES
}

/// Where the planned film is thinner than what an abrasive takes at edges, they are through; under a paper coarser than P180 they are
/// in any case.
fn abrade_film(surface: &mut Surface, act: &Act) {
    let grain_um = scratch_of(act);
    surface.film_scratch_um = grain_um;
    if surface.planned_top().is_some() {
        let coarse = act.grit.is_some_and(|grit| grit < Grit::P180);
        let film_um = surface.planned_film_um();
        surface.cut_through |= coarse || (film_um > 0 && film_um < edge_loss_um(grain_um));
    }
    surface.wear_film(grain_um / PART_OF_GRAIN);
}

fn spot_prime(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    surface.knot_coats = surface.knot_coats.saturating_add(1);
    surface.patchy = false;
    surface.cut_through = false;
    if let Some(class) = act.finish() {
        dry(surface, bench.figures(class).recoat_min);
    }
}

fn coat(surface: &mut Surface, act: &Act, bench: &Bench<'_>) {
    let Some(class) = act.finish() else {
        // A conditioner soaks in and leaves no film.
        surface.conditioned = true;
        dry(
            surface,
            PrepClass::WoodConditioner
                .row()
                .wait_h
                .map_or(120, |wait| minutes(wait.typical)),
        );
        return;
    };
    let figures = bench.figures(class);
    let closes = figures.film && !figures.waterborne;
    if surface.is_bare_of_film() && bench.fibrous {
        if figures.waterborne && !surface.raised_before {
            surface.raised = true;
        }
        if closes && !surface.raised {
            surface.raised_before = true;
        }
    }
    surface.glue_smeared = false;
    block(surface, class);
    surface.add_coat(class, figures.dry_um, is_opaque(surface, act, class, bench));
    surface.top_age_min = 0;
    surface.keyed = false;
    surface.film_scratch_um = 0;
    surface.stained |= figures.group == Group::Stain;
    surface.glazed |= act.op == Operation::Glaze;
    if act.op == Operation::Prime {
        surface.patchy = false;
        surface.cut_through = false;
    }
    if surface.silicone == 2 && surface.coats_of(FinishClass::DewaxedShellac) >= 2 {
        surface.silicone = 0;
    }
}

/// Whether a coat hides what is below. Two-part polyurethane is paint when it is painted on, or is the first colour sprayed.
pub(crate) fn is_opaque(surface: &Surface, act: &Act, class: FinishClass, bench: &Bench<'_>) -> bool {
    let group = bench.figures(class).group;
    let first_colour = || {
        bench.wish.look == crate::wish::Look::Paint
            && surface
                .planned_layers()
                .all(|layer| layer.class == class || !layer.opaque || is_primer(layer.class))
    };
    let two_part = class == FinishClass::TwoPartWaterbornePolyurethane;
    matches!(group, Group::Paint | Group::Primer)
        || (two_part && (act.op == Operation::Paint || (act.op == Operation::Spray && first_colour())))
}

fn is_primer(class: FinishClass) -> bool {
    class.row().group == Group::Primer
}

/// What a coat does against bleeding.
fn block(surface: &mut Surface, class: FinishClass) {
    match class {
        FinishClass::ShellacPrimer | FinishClass::OilPrimer => surface.blocked = BLOCKED,
        // Clear shellac blocks by its film alone: two coats, as over knots.
        FinishClass::DewaxedShellac if surface.coats_of(class) >= 1 => surface.blocked = BLOCKED,
        FinishClass::WaterborneStainBlockingPrimer => {
            let second = surface.blocked >= 1 && surface.top_age_min >= STAIN_BLOCK_DAY_MIN;
            surface.blocked = if second { BLOCKED } else { surface.blocked.max(1) };
        }
        _ => {}
    }
}
