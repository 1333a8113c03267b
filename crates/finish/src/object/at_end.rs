//! What objects to the end of a schedule: the wish not reached, the finish too soft, something left lying.

use trade::FinishClass;
use trade::finish_rows::Group;

use crate::bench::{Bench, gives_look, is_clear_top};
use crate::object::stick::is_over_primer;
use crate::rule::{Hits, RuleId};
use crate::surface::{Layer, Surface};
use crate::wish::Look;

/// The rules that object to ending here.
pub(crate) fn at_end(surface: &Surface, bench: &Bench<'_>) -> Hits {
    let mut hits = Hits::default();
    left_lying(surface, bench, &mut hits);
    look(surface, bench, &mut hits);
    coats(surface, bench, &mut hits);
    protection(surface, bench, &mut hits);
    let wish = bench.wish;
    hits.add_if(wish.strip && surface.has_found_layers(), RuleId::OldFinishLeft);
    hits.add_if(wish.glaze && !surface.glazed, RuleId::GlazeMissing);
    hits.add_if(wish.distress && !surface.distressed, RuleId::DistressMissing);
    hits.add_if(surface.marks_show(bench), RuleId::WaterMarkShows);
    hits
}

fn left_lying(surface: &Surface, bench: &Bench<'_>, hits: &mut Hits) {
    let dulled = surface.planned_top().is_some() && (surface.keyed || surface.dusty) && !surface.distressed;
    hits.add_if(dulled || (surface.distressed && surface.dusty), RuleId::LastCoatDulled);
    hits.add_if(surface.open_defects, RuleId::OpenDefectUnderCoat);
    hits.add_if(surface.loose, RuleId::LoosePartUnderCoat);
    hits.add_if(surface.proud, RuleId::FillerNotLevelled);
    hits.add_if(surface.softened > 0, RuleId::SoftenedFinishLeft);
    hits.add_if(surface.flaking, RuleId::FlakingUnderCoat);
    hits.add_if(bench.zone.removable && !surface.refitted, RuleId::HardwareNotRefitted);
    hits.add_if(
        surface.raised && surface.top().is_some_and(|top| top.dry_um > 0 && top.coats > 1),
        RuleId::RaisedGrain,
    );
}

/// The coat that gives the look, if it is there.
fn look_layer<'a>(surface: &'a Surface, bench: &Bench<'_>) -> Option<&'a Layer> {
    let opaque = matches!(bench.wish.look, Look::Paint | Look::Metallic);
    surface.planned_layers().rev().find(|layer| {
        gives_look(bench.wish.look, layer.class)
            && (layer.opaque == opaque || layer.class == FinishClass::RubOnMetallicWax)
            && bench
                .wish
                .class
                .is_none_or(|class| class == layer.class || is_of_stain(bench, class))
    })
}

/// A wish for a class of stain names the stain and leaves the clear coat open.
fn is_of_stain(bench: &Bench<'_>, class: FinishClass) -> bool {
    bench.wish.look == Look::Stain && class.row().group == Group::Stain
}

fn look(surface: &Surface, bench: &Bench<'_>, hits: &mut Hits) {
    let reached = look_layer(surface, bench).is_some();
    let see_through = matches!(bench.wish.look, Look::Clear | Look::Stain | Look::Wax);
    let hidden = see_through && surface.layers().iter().any(|layer| layer.opaque);
    let stain_wanted = bench.wish.look == Look::Stain && !surface.stained && !surface.glazed;
    let class_wanted = bench.wish.class.is_some_and(|class| surface.coats_of(class) == 0);
    hits.add_if(
        !reached || hidden || stain_wanted || class_wanted,
        RuleId::LookNotReached,
    );
    let top = surface
        .planned_layers()
        .rev()
        .find(|layer| bench.figures(layer.class).group != Group::Wax || bench.wish.look == Look::Wax);
    hits.add_if(
        top.is_some_and(|layer| !bench.figures(layer.class).sheen_suits),
        RuleId::SheenNotReached,
    );
}

fn coats(surface: &Surface, bench: &Bench<'_>, hits: &mut Hits) {
    let over_primer = is_over_primer(surface);
    for layer in surface.planned_layers() {
        let group = bench.figures(layer.class).group;
        let under = matches!(group, Group::Primer | Group::Sealer | Group::Stain);
        if (under && layer.class != FinishClass::DewaxedShellac) || is_barrier(surface, layer) {
            continue;
        }
        hits.add_if(
            layer.coats < surface.coats_wanted(layer.class, bench),
            RuleId::TooFewCoats,
        );
    }
    if let Some(layer) = look_layer(surface, bench)
        && let Some(hide) = bench.coats_to_hide(layer.class, over_primer)
    {
        hits.add_if(layer.coats < hide, RuleId::ColourNotHidden);
    }
}

/// Whether a layer of shellac only parts what is above it from what is below.
fn is_barrier(surface: &Surface, layer: &Layer) -> bool {
    layer.class == FinishClass::DewaxedShellac && surface.top() != Some(layer)
}

fn protection(surface: &Surface, bench: &Bench<'_>, hits: &mut Hits) {
    let porous = surface
        .planned_top()
        .is_some_and(|top| matches!(top.class, FinishClass::ChalkTypePaint | FinishClass::MilkPaint));
    hits.add_if(porous, RuleId::PorousPaintOpen);
    let clear_on_top = surface.planned_top().is_some_and(|top| is_clear_top(top.class));
    hits.add_if(surface.glazed && !clear_on_top, RuleId::GlazeOpen);
    if wear(surface, bench) < bench.wear_needed {
        let asked_for = bench.wish.class.is_some() || bench.wish.look == Look::Wax;
        hits.add(if asked_for {
            RuleId::SoftForUse
        } else {
            RuleId::WearBelowUse
        });
    }
}

/// How hard the finish wears, 1 to 5: what the outermost film or oil bears. Paste wax adds nothing; gilding wax is itself what wears.
pub(crate) fn wear(surface: &Surface, bench: &Bench<'_>) -> u8 {
    let film = surface
        .planned_layers()
        .rev()
        .find(|layer| bench.figures(layer.class).group != Group::Wax);
    if surface
        .planned_top()
        .is_some_and(|top| top.class == FinishClass::RubOnMetallicWax)
    {
        return bench.figures(FinishClass::RubOnMetallicWax).wear;
    }
    // Under wax alone it is the old finish, where it stays, that wears.
    let outermost = film
        .or_else(|| surface.found_layers().last())
        .or_else(|| surface.planned_top());
    outermost.map_or(0, |layer| bench.figures(layer.class).wear)
}
