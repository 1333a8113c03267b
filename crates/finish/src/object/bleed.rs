//! What objects to a light coat over wood or old finish that bleeds: tannin, dye, smoke, knots.

use trade::finish_rows::Group;
use trade::{FinishClass, Operation};

use crate::act::Act;
use crate::bench::Bench;
use crate::effect::{BLOCKED, is_opaque};
use crate::rule::{Hits, RuleId};
use crate::surface::Surface;
use crate::wish::Look;
use crate::zone::may_hold_lead as is_paint;

pub(super) fn bleed(surface: &Surface, act: &Act, class: FinishClass, bench: &Bench<'_>, hits: &mut Hits) {
    if bench.wish.look != Look::Paint || !bench.light {
        return;
    }
    let colour = bench.figures(class).group != Group::Primer && is_opaque(surface, act, class, bench);
    let full = colour || act.op == Operation::Prime;
    hits.add_if(full && knots_are_open(surface, bench), RuleId::KnotsNotSealed);
    if colour && bleeds(surface, bench) {
        match surface.blocked {
            BLOCKED => {}
            0 => hits.add(RuleId::BleedThrough),
            _ => hits.add(RuleId::OneCoatOfStainBlock),
        }
    }
}

/// Whether colour waits below: tannin wood that is bare or under an old clear finish, dye and old stain, washed-in smoke.
fn bleeds(surface: &Surface, bench: &Bench<'_>) -> bool {
    let sealed_by_old_paint = surface.found_layers().any(|layer| is_paint(layer.class));
    let from_wood = bench.fibrous && bench.tannin >= 2 && !sealed_by_old_paint;
    from_wood || (surface.dyed && !sealed_by_old_paint) || surface.nicotine == 2
}

/// Knots show through light paint unless old paint, which has had its years to show them, stays on.
fn knots_are_open(surface: &Surface, bench: &Bench<'_>) -> bool {
    bench.fibrous && bench.resin >= 2 && !bench.oily_wood && surface.knot_coats < 2 && !surface.has_found_layers()
}
