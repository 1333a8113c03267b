//! What the search wants next: the coats, and only those, that lead to the look; all else follows from what objects to them.

use trade::finish_rows::Group;
use trade::methods::Method;
use trade::{FinishClass, Grit, Operation, PrepClass};

use crate::act::Act;
use crate::bench::{Bench, gives_look, is_clear_top};
use crate::remedy::{fillers, scrape};
use crate::rule::RuleId;
use crate::surface::{Layer, Surface};
use crate::wish::{Look, Without};
use crate::zone::may_hold_lead as is_paint;

/// Whether the old finish stays, or by what way it goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Way {
    /// It stays, or there was none.
    Keep,
    /// Stripper and scraper.
    Chemistry(PrepClass),
    /// Machine sanding.
    Sanding,
    /// Heat and scraper.
    Heat,
}

impl Way {
    /// Every way that could come into question.
    pub(crate) const EVERY: [Way; 6] = [
        Way::Keep,
        Way::Chemistry(PrepClass::GelStripper),
        Way::Chemistry(PrepClass::BenzylAlcoholStripper),
        Way::Chemistry(PrepClass::CausticStripper),
        Way::Sanding,
        Way::Heat,
    ];
}

/// Clear classes that may lie over paint to protect it. Strong solvents would lift it; oils need wood.
const OVER_PAINT: [FinishClass; 5] = [
    FinishClass::WaterbornePolyurethane,
    FinishClass::WaterborneFlatClear,
    FinishClass::TwoPartWaterbornePolyurethane,
    FinishClass::OilBasedPolyurethane,
    FinishClass::PasteWax,
];

const STAINS: [FinishClass; 4] = [
    FinishClass::DyeStain,
    FinishClass::OilPigmentStain,
    FinishClass::WaterborneStain,
    FinishClass::GelStain,
];

/// Adds the acts wanted on this surface. None if the look is complete.
pub(crate) fn wants(surface: &Surface, way: Way, bench: &Bench<'_>, into: &mut Vec<Act>) {
    if way != Way::Keep && surface.has_found_layers() {
        into.push(if surface.softened > 0 {
            scrape(surface, bench)
        } else {
            strip(way)
        });
        return;
    }
    if surface.refitted {
        return;
    }
    // What may wait for a wax stick may as well be filled before the first coat.
    if surface.open_defects && surface.planned_top().is_none() && bench.may_fill_with_wax() {
        fillers(bench, &mut |filler| into.push(filler));
    }
    match bench.wish.look {
        Look::Paint | Look::Metallic => opaque(surface, bench, into),
        Look::Clear => clear(surface, bench, into),
        Look::Stain => {
            if surface.stained || surface.glazed {
                clear(surface, bench, into);
            } else {
                stain(surface, bench, into);
            }
        }
        Look::Wax => wax(surface, bench, into),
    }
}

fn strip(way: Way) -> Act {
    match way {
        Way::Chemistry(class) => Act::prep(Operation::StripChemical, class),
        Way::Heat => Act::prep(Operation::StripHeat, PrepClass::Heat),
        Way::Sanding | Way::Keep => Act::abrade(Operation::StripSand, Grit::P60, false),
    }
}

/// Last things: what hides no more coats but is still missing.
pub(crate) fn last_things(missing: RuleId, surface: &Surface) -> Option<Act> {
    match missing {
        RuleId::HardwareNotRefitted => Some(Act::of(Operation::RefitHardware)),
        RuleId::OpenDefectUnderCoat => Some(Act::prep(Operation::Fill, PrepClass::WaxStick)),
        RuleId::LastCoatDulled if surface.dusty => Some(Act::prep(Operation::DustOff, PrepClass::TackCloth)),
        _ => None,
    }
}

fn may_be(class: FinishClass, bench: &Bench<'_>) -> bool {
    let of_stain = bench.wish.look == Look::Stain
        && bench
            .wish
            .class
            .is_some_and(|wished| wished.row().group == Group::Stain);
    bench.may_use(class) && (of_stain || bench.wish.class.is_none_or(|wished| wished == class))
}

/// A coat of a class by every method that suits class, shop and state.
fn coats(class: FinishClass, surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Act>) {
    let group = bench.figures(class).group;
    if class == FinishClass::AerosolMetallicEnamel {
        into.push(Act::coat(Operation::Spray, class, Method::AerosolCan));
        return;
    }
    let begun = surface.planned_top().is_some_and(|top| top.class == class);
    let goes_on_sprayed = begun && surface.masked;
    let may_brush = !bench.figures(class).spray_only && !goes_on_sprayed;
    if may_brush {
        let op = match group {
            Group::Oil => Operation::Oil,
            Group::Wax => Operation::Wax,
            Group::Stain => Operation::Stain,
            Group::Paint => Operation::Paint,
            _ if bench.wish.look == Look::Paint
                && gives_look(Look::Paint, class)
                && !is_clear_over_paint(surface, bench) =>
            {
                Operation::Paint
            }
            _ => Operation::ClearCoat,
        };
        let by_pad = matches!(group, Group::Oil | Group::Wax | Group::Stain)
            || matches!(class, FinishClass::GelVarnish | FinishClass::DewaxedShellac);
        into.push(Act::coat(op, class, if by_pad { Method::Pad } else { Method::Brush }));
    }
    let sprays = matches!(group, Group::Paint | Group::Clear) && class != FinishClass::GelVarnish;
    let has_gun = bench.limits.has_spray_gun && !bench.is_without(Without::Spraying);
    let stays_brushed = begun && !surface.masked && !bench.zone.removable;
    if sprays && has_gun && !stays_brushed {
        into.push(Act::coat(Operation::Spray, class, Method::Hvlp));
    }
}

fn is_clear_over_paint(surface: &Surface, bench: &Bench<'_>) -> bool {
    surface
        .planned_layers()
        .any(|layer| bench.figures(layer.class).group == Group::Paint)
}

/// The layer that gives an opaque look, if begun.
fn colour_layer<'a>(surface: &'a Surface, bench: &Bench<'_>) -> Option<&'a Layer> {
    surface.planned_layers().find(|layer| {
        gives_look(bench.wish.look, layer.class)
            && (layer.opaque || layer.class == FinishClass::RubOnMetallicWax)
            && bench.wish.class.is_none_or(|wished| wished == layer.class)
    })
}

fn opaque(surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Act>) {
    let Some(colour) = colour_layer(surface, bench) else {
        first_colour(surface, bench, into);
        return;
    };
    let wanted = surface.coats_wanted(colour.class, bench);
    let on_top = surface.planned_top() == Some(colour);
    if colour.coats < wanted {
        if on_top {
            coats(colour.class, surface, bench, into);
        } else {
            // A barrier over the first coats cannot be meant: the colour goes on, or the branch ends.
            into.clear();
        }
        return;
    }
    if bench.wish.glaze && !surface.glazed {
        STAINS
            .iter()
            .filter(|class| **class != FinishClass::DyeStain && bench.may_use(**class))
            .for_each(|class| {
                into.push(Act::coat(Operation::Glaze, *class, Method::Pad));
            });
        return;
    }
    if bench.wish.distress && !surface.distressed {
        into.push(Act::abrade(
            Operation::Distress,
            Grit::P220,
            bench.lead_is_disturbed(surface) || bench.is_without(Without::Sanding),
        ));
        return;
    }
    if bench.wish.look == Look::Paint {
        protect(surface, colour.class, bench, into);
    }
}

fn first_colour(surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Act>) {
    for class in FinishClass::CHOOSABLE.iter().copied() {
        if gives_look(bench.wish.look, class) && may_be(class, bench) {
            coats(class, surface, bench, into);
        }
    }
    let usual = bench.limits.coats_to_hide.iter();
    let mut hides = usual.chain(bench.limits.coats_to_hide_with.iter().map(|(_, hide)| hide));
    let primer_saves = bench.wish.look == Look::Paint && hides.any(|hide| hide.over_primer < hide.over_found);
    if primer_saves && surface.planned_top().is_none() {
        for class in [
            FinishClass::WaterborneBondingPrimer,
            FinishClass::WaterborneStainBlockingPrimer,
        ] {
            if bench.may_use(class) {
                into.push(Act::coat(Operation::Prime, class, Method::Brush));
            }
        }
    }
}

/// Clear coats over finished paint: they make it wear harder, shut porous paint, and hold a glaze.
fn protect(surface: &Surface, colour: FinishClass, bench: &Bench<'_>, into: &mut Vec<Act>) {
    let porous = matches!(colour, FinishClass::ChalkTypePaint | FinishClass::MilkPaint);
    let Some(top) = surface.planned_top() else { return };
    let begun = OVER_PAINT.contains(&top.class) && top.class != colour;
    for class in OVER_PAINT {
        let wax = class == FinishClass::PasteWax;
        let harder = bench.figures(class).wear > bench.figures(colour).wear;
        let yellows = class == FinishClass::OilBasedPolyurethane && bench.light;
        let useful = if wax {
            porous
        } else {
            (harder || surface.glazed) && !yellows
        };
        let goes_on = !begun || (top.class == class && top.coats < surface.coats_wanted(class, bench));
        if useful && goes_on && class != colour && bench.may_use(class) && bench.figures(class).sheen_suits | wax {
            coats(class, surface, bench, into);
        }
    }
}

fn clear(surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Act>) {
    if surface
        .found_layers()
        .any(|layer| is_paint(layer.class) && layer.class != FinishClass::Unknown)
    {
        return;
    }
    let top = surface.planned_top().filter(|top| is_clear_top(top.class));
    if let Some(top) = top {
        let complete = top.coats >= surface.coats_wanted(top.class, bench);
        if !complete && may_be(top.class, bench) {
            coats(top.class, surface, bench, into);
        }
        // Shellac may be the finish, or only what parts the next finish from what is below.
        let barrier = top.class == FinishClass::DewaxedShellac && top.coats <= 2;
        if !barrier {
            return;
        }
    }
    sealers(surface, bench, into);
    for class in FinishClass::CHOOSABLE.iter().copied() {
        let suits = is_clear_top(class) && top.is_none_or(|top| top.class != class) && bench.figures(class).sheen_suits;
        if suits && may_be(class, bench) {
            coats(class, surface, bench, into);
        }
    }
}

/// A sealer under a clear film takes the place of one of its coats, dries sooner and sands more easily.
fn sealers(surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Act>) {
    if !surface.is_bare_of_film() || bench.wish.coats.is_some() {
        return;
    }
    let mut add = |class, method| {
        if bench.may_use(class) {
            let op = if method == Method::Hvlp {
                Operation::Spray
            } else {
                Operation::Seal
            };
            into.push(Act::coat(op, class, method));
        }
    };
    add(FinishClass::DewaxedShellac, Method::Pad);
    add(FinishClass::WaterborneSandingSealer, Method::Brush);
    if bench.limits.has_spray_gun && !bench.is_without(Without::Spraying) {
        add(FinishClass::LacquerSandingSealer, Method::Hvlp);
    }
}

fn stain(surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Act>) {
    let wished = bench.wish.class.filter(|class| class.row().group == Group::Stain);
    for class in STAINS {
        if !bench.may_use(class) || wished.is_some_and(|wished| wished != class) {
            continue;
        }
        // Over an old clear film a stain is a glaze; on wood it soaks in.
        let op = if surface.has_found_layers() {
            Operation::Glaze
        } else {
            Operation::Stain
        };
        into.push(Act::coat(op, class, Method::Pad));
    }
}

fn wax(surface: &Surface, bench: &Bench<'_>, into: &mut Vec<Act>) {
    let top = surface.planned_top().map(|top| (top.class, top.coats));
    let wax_coats = surface.coats_wanted(FinishClass::PasteWax, bench);
    if surface.coats_of(FinishClass::PasteWax) < wax_coats {
        into.push(Act::coat(Operation::Wax, FinishClass::PasteWax, Method::Pad));
    }
    if surface.has_found_layers() {
        return;
    }
    let under = [
        FinishClass::DewaxedShellac,
        FinishClass::OilVarnishBlend,
        FinishClass::DryingOil,
    ];
    for class in under {
        let begun = top.is_none_or(|(top, coats)| top == class && coats < bench.figures(class).coats);
        if begun && bench.may_use(class) {
            coats(class, surface, bench, into);
        }
    }
}
