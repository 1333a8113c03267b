//! Will it stick? The verdict of the compatibility table, with age, key and film taken into account.

use trade::finish_rows::Group;
use trade::{FinishClass, FoundSurface, Operation, Verdict, compat};

use crate::act::Act;
use crate::bench::Bench;
use crate::rule::{Hits, RuleId};
use crate::surface::Surface;

/// The second window of spray-can enamel opens after a day (C19).
pub(crate) const SECOND_WINDOW_MIN: u32 = 24 * 60;

pub(super) fn stick(surface: &Surface, act: &Act, class: FinishClass, bench: &Bench<'_>, hits: &mut Hits) {
    if act.op == Operation::SpotPrime {
        return spot(surface, bench, hits);
    }
    let own_coat = surface.planned_top().filter(|top| top.class == class);
    if let Some(top) = surface.planned_top() {
        hits.add_if(
            surface.top_age_min < bench.figures(top.class).recoat_min,
            RuleId::RecoatTooSoon,
        );
    }
    if own_coat.is_some() {
        same_again(surface, class, bench, hits);
    } else {
        over_another(surface, act, class, bench, hits);
    }
    silicone(surface, class, hits);
    stearate(surface, class, hits);
    thickness(surface, class, bench, hits);
}

fn spot(surface: &Surface, bench: &Bench<'_>, hits: &mut Hits) {
    hits.add_if(surface.wax, RuleId::WaxUnderCoat);
    hits.add_if(surface.silicone == 1, RuleId::SiliconeUnderCoat);
    if let Some(top) = surface.planned_top() {
        hits.add_if(
            surface.top_age_min < bench.figures(top.class).recoat_min,
            RuleId::RecoatTooSoon,
        );
    }
}

/// Another coat of the class that is on top.
fn same_again(surface: &Surface, class: FinishClass, bench: &Bench<'_>, hits: &mut Hits) {
    let figures = bench.figures(class);
    if surface.keyed {
        return;
    }
    if class == FinishClass::AerosolMetallicEnamel {
        let between = figures.window_min.is_some_and(|window| surface.top_age_min > window);
        hits.add_if(
            between && surface.top_age_min < SECOND_WINDOW_MIN,
            RuleId::LiftingWindow,
        );
        return;
    }
    // Each coat of shellac or lacquer melts into the one before; wax, oil and stain build no film to key.
    if !figures.film || figures.evaporates {
        return;
    }
    let past_window = figures.window_min.is_some_and(|window| surface.top_age_min > window);
    hits.add_if(past_window, RuleId::WindowMissed);
    // Two-part films hold chemically inside their window; paint is laid coat on coat inside its own.
    let rubbed_between = matches!(figures.group, Group::Clear | Group::Primer | Group::Sealer) && !figures.isocyanate;
    hits.add_if(rubbed_between && !past_window, RuleId::NoKeyBetweenCoats);
}

fn over_another(surface: &Surface, act: &Act, class: FinishClass, bench: &Bench<'_>, hits: &mut Hits) {
    let face = surface.face(bench);
    let verdict = compat::verdict(face, class).verdict;
    let parted_by_wax = face == FoundSurface::ShellacWaxedFilm;
    match verdict {
        Verdict::OkAfterBarrier | Verdict::Never if parted_by_wax => hits.add(RuleId::WaxedShellacUnderFilm),
        Verdict::Ok | Verdict::OkWithinTotalThickness => {}
        Verdict::OkAfterScuff => hits.add_if(!surface.keyed && has_a_face(surface, bench), RuleId::NotScuffed),
        Verdict::OkOverPrimer => hits.add(RuleId::NeedsPrimer),
        Verdict::OkAfterBarrier => hits.add(RuleId::NeedsBarrier),
        Verdict::OkWithinWindowElseScuff => {
            let figures = surface.planned_top().map(|top| bench.figures(top.class));
            let open = figures.is_some_and(|f| f.window_min.is_none_or(|window| surface.top_age_min <= window));
            hits.add_if(!surface.keyed && !open, RuleId::WindowMissed);
        }
        Verdict::GlazeOnly => hits.add_if(act.op != Operation::Glaze, RuleId::CannotSoakIn),
        Verdict::TestPatch => {
            hits.add(RuleId::TryAPatchFirst);
            hits.add_if(!surface.keyed && has_a_face(surface, bench), RuleId::NotScuffed);
        }
        Verdict::WaitUntilCured => hits.add_if(!is_cured_for(surface, class, bench), RuleId::NotCured),
        Verdict::RemoveContaminantFirst => {
            let wax = surface.wax || surface.top().is_some_and(|top| top.class.row().group == Group::Wax);
            hits.add(if wax || surface.silicone != 1 {
                RuleId::WaxUnderCoat
            } else {
                RuleId::SiliconeUnderCoat
            });
        }
        Verdict::NotMeaningful => hits.add(RuleId::CannotSoakIn),
        Verdict::Never => hits.add(RuleId::NeverOver),
    }
    // A glaze, a stain or a wax lies on what it is meant to lie on; a film wants a key on every film but a melting one.
    let bites = surface.planned_top().is_none_or(|top| {
        let below = bench.figures(top.class);
        !below.film || (below.evaporates && bench.figures(class).evaporates)
    });
    let film_on_primer = surface
        .planned_top()
        .is_some_and(|top| matches!(bench.figures(top.class).group, Group::Primer | Group::Sealer));
    hits.add_if(
        film_on_primer && !bites && !surface.keyed && bench.figures(class).film,
        RuleId::NoKeyBetweenCoats,
    );
    // Bare metal and plastic are as smooth as any film.
    let hard_face = surface.is_bare() && !bench.fibrous;
    hits.add_if(
        hard_face && !surface.keyed && bench.figures(class).film,
        RuleId::NotScuffed,
    );
}

/// Wax waits until the coat below bears light use (C23); everything else until it is cured through.
fn is_cured_for(surface: &Surface, class: FinishClass, bench: &Bench<'_>) -> bool {
    let Some(top) = surface.top() else { return true };
    let below = bench.figures(top.class);
    let waxes = bench.figures(class).group == Group::Wax;
    surface.top_age_min >= if waxes { below.light_min } else { below.cure_min }
}

/// Whether there is a film, or a hard substrate, to scuff.
fn has_a_face(surface: &Surface, bench: &Bench<'_>) -> bool {
    !bench.fibrous || surface.top().is_some_and(|top| top.dry_um > 0)
}

/// Whether a full primer lies under the next coat.
pub(crate) fn is_over_primer(surface: &Surface) -> bool {
    surface
        .planned_layers()
        .any(|layer| layer.class.row().group == Group::Primer)
}

fn silicone(surface: &Surface, class: FinishClass, hits: &mut Hits) {
    let shut_in = class == FinishClass::DewaxedShellac;
    hits.add_if(
        surface.silicone == 1 || (surface.silicone == 2 && !shut_in),
        RuleId::SiliconeUnderCoat,
    );
}

fn stearate(surface: &Surface, class: FinishClass, hits: &mut Hits) {
    let soapy = surface
        .planned_top()
        .is_some_and(|top| top.class == FinishClass::LacquerSandingSealer);
    let parted = matches!(
        class,
        FinishClass::OilBasedPolyurethane
            | FinishClass::GelVarnish
            | FinishClass::WaterbornePolyurethane
            | FinishClass::WaterborneFlatClear
            | FinishClass::TwoPartWaterbornePolyurethane
            | FinishClass::ConversionVarnish
    );
    hits.add_if(soapy && parted, RuleId::StearateUnderCoat);
}

/// A class with a limit on its total film counts every film below it; any heap of more than eight old coats is too thick.
fn thickness(surface: &Surface, class: FinishClass, bench: &Bench<'_>, hits: &mut Hits) {
    /// Old coats beyond which overcoating fails early (`mil-hdbk-1110` states the rule, the number is common practice).
    const MOST_OLD_COATS: u8 = 8;
    let figures = bench.figures(class);
    let total_um = surface.film_um().saturating_add(figures.dry_um);
    hits.add_if(
        figures.max_total_um.is_some_and(|most| total_um > most),
        RuleId::FilmTooThick,
    );
    let old: u8 = surface
        .found_layers()
        .fold(0, |sum, layer| sum.saturating_add(layer.coats));
    hits.add_if(old > MOST_OLD_COATS && figures.film, RuleId::FilmTooThick);
}

/// The window in which `next` may follow a coat of `class` without scuffing: its end, and the start of a second one.
pub(crate) fn stick_window(class: FinishClass, next: &Act, bench: &Bench<'_>) -> (Option<u32>, Option<u32>) {
    let figures = bench.figures(class);
    if class == FinishClass::AerosolMetallicEnamel && next.finish() == Some(class) {
        return (figures.window_min, Some(SECOND_WINDOW_MIN));
    }
    let needs_window =
        figures.film && !figures.evaporates && next.finish().is_some_and(|next| bench.figures(next).film);
    (figures.window_min.filter(|_| needs_window), None)
}
