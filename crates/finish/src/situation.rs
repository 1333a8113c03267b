//! The situation a finding was made in, in words that can be kept and compared.
//!
//! Whoever overrules a warning overrules it for a situation: this step, on this surface, in this zone, for this wish. The situation is
//! said in short parts, joined by "; ", and holds what the rules look at and no more, so that it stays the same when something else
//! changes, and is another one as soon as the finding has another cause. The parts are words, so that a person can read which of
//! them has changed. That no rule looks at anything that its situation does not name is tested over random zones, trait by trait.

use std::fmt::Write as _;

use trade::methods::Method;

use crate::act::Act;
use crate::bench::Bench;
use crate::object::is_over_primer;
use crate::rule::RuleId;
use crate::surface::{Layer, Residue, Surface};
use crate::zone::{Defect, DefectKind, Use};

/// The situation of a finding at a step (with its act and the surface before it), or at the end of the schedule.
pub(crate) fn situation(rule: RuleId, surface: &Surface, act: Option<&Act>, bench: &Bench<'_>) -> String {
    let mut parts = Parts::default();
    parts.add(act.map_or_else(|| "at the end".to_owned(), step));
    zone(&mut parts, surface, bench);
    for layer in surface.layers() {
        parts.add(layer_words(layer));
    }
    state(&mut parts, surface, bench);
    if act.is_none() {
        whole_wish(&mut parts, bench);
    } else {
        parts.add(format!("for a {} look", bench.wish.look.label()));
        parts.add_if(bench.light && bench.wish.colour.is_some(), "light colour");
        parts.add_if(!bench.light, "dark colour");
    }
    what_this_rule_asks(&mut parts, rule, surface, act, bench);
    parts.0
}

/// The parts that one situation has and the other has not: first what was, then what is.
#[must_use]
pub fn changed(then: &str, now: &str) -> (Vec<String>, Vec<String>) {
    let parts = |text: &str| -> Vec<String> { text.split("; ").map(str::to_owned).collect() };
    let (then, now) = (parts(then), parts(now));
    let missing = |from: &[String], of: &[String]| -> Vec<String> {
        from.iter().filter(|part| !of.contains(part)).cloned().collect()
    };
    (missing(&then, &now), missing(&now, &then))
}

#[derive(Default)]
struct Parts(String);

impl Parts {
    fn add(&mut self, part: impl AsRef<str>) {
        if !self.0.is_empty() {
            self.0.push_str("; ");
        }
        self.0.push_str(part.as_ref());
    }

    fn add_if(&mut self, holds: bool, part: &str) {
        if holds {
            self.add(part);
        }
    }
}

fn step(act: &Act) -> String {
    let mut words = act.op.id().to_owned();
    if let Some(material) = act.material {
        let _ = write!(words, " with {}", material.id());
    }
    if let Some(grit) = act.grit {
        let _ = write!(words, " {grit}");
    }
    if act.wet {
        words.push_str(" wet");
    }
    if act.is_sprayed() {
        words.push_str(" sprayed");
    }
    words
}

fn zone(parts: &mut Parts, surface: &Surface, bench: &Bench<'_>) {
    let zone = bench.zone;
    parts.add(format!("on {}", zone.substrate.id()));
    if zone.detail != crate::Detail::Flat {
        parts.add(zone.detail.id());
    }
    parts.add(match zone.use_ {
        Use::Display => "for display".to_owned(),
        other => format!("for {}", other.id()),
    });
    if bench.lead_suspect {
        parts.add("may hold lead");
    } else {
        parts.add_if(bench.lead_is_disturbed(surface), "the old film may hold lead");
    }
    parts.add_if(zone.removable, "comes off");
}

fn layer_words(layer: &Layer) -> String {
    let whose = if layer.found { "found" } else { "new" };
    let hides = if layer.opaque { "" } else { ", clear" };
    format!("{whose} {} × {}{hides}", layer.coats, layer.class.id())
}

fn state(parts: &mut Parts, surface: &Surface, bench: &Bench<'_>) {
    parts.add_if(surface.wax, "wax");
    parts.add_if(surface.silicone == 1, "silicone");
    parts.add_if(surface.silicone == 2, "silicone washed");
    parts.add_if(surface.grease, "grease");
    parts.add_if(surface.nicotine == 1, "nicotine");
    parts.add_if(surface.nicotine == 2, "nicotine washed");
    parts.add(match surface.residue {
        Residue::None => "no residue",
        Residue::Stripper => "stripper in it",
        Residue::Alkali => "alkali in it",
        Residue::Acid => "acid in it",
        Residue::Cleaner => "cleaner on it",
    });
    if surface.softened > 0 {
        parts.add(format!("{} coats softened", surface.softened));
    }
    let flags = [
        (surface.flaking, "flaking"),
        (surface.half_stripped, "half stripped"),
        (surface.patchy, "bare patches"),
        (surface.loose, "loose parts"),
        (surface.open_defects, "open damage"),
        (surface.proud, "filler proud"),
        (surface.glue_smeared, "glue on the wood"),
        (surface.wax_filled, "filled with wax"),
        (surface.keyed, "dulled"),
        (surface.dusty, "dusty"),
        (surface.raised, "grain raised"),
        (surface.dyed, "dye below"),
        (surface.conditioned, "conditioned"),
        (surface.pores_filled, "pores filled"),
        (surface.bleached, "bleached"),
        (surface.stained, "stained"),
        (surface.glazed, "glazed"),
        (surface.distressed, "distressed"),
        (surface.hardware_off, "hardware off"),
        (surface.refitted, "refitted"),
        (surface.masked, "masked"),
        (surface.cut_through, "edges cut through"),
        (!surface.drying.is_over(), "still damp"),
        (!surface.setting.is_over(), "still setting"),
        (bench.water_marked, "water-marked"),
    ];
    for (holds, part) in flags {
        parts.add_if(holds, part);
    }
    for (count, part) in [(surface.blocked, "blocked"), (surface.knot_coats, "knots sealed")] {
        if count > 0 {
            parts.add(format!("{part} {count}"));
        }
    }
    if surface.scratch_um > 0 {
        parts.add(format!("scratch {} µm", surface.scratch_um));
    }
    if surface.loss_um > 0 {
        parts.add(format!("{} µm sanded off", surface.loss_um));
    }
    age(parts, surface, bench);
}

/// How old the outermost coat is, as far as a rule can tell.
fn age(parts: &mut Parts, surface: &Surface, bench: &Bench<'_>) {
    let Some(top) = surface.top() else { return };
    let figures = bench.figures(top.class);
    let age_min = surface.top_age_min;
    parts.add_if(top.found && !surface.is_of_unknown_age(), "put on lately");
    let young = age_min < figures.recoat_min;
    parts.add_if(young, "too young to coat");
    // A label may have a coat cured sooner than its class bears light use.
    if age_min >= figures.cure_min {
        parts.add("cured");
    } else if age_min >= figures.light_min {
        parts.add("hard");
    } else if !young {
        parts.add("dry");
    }
    parts.add_if(
        figures.window_min.is_some_and(|window_min| age_min > window_min),
        "window closed",
    );
}

fn whole_wish(parts: &mut Parts, bench: &Bench<'_>) {
    let wish = bench.wish;
    parts.add(format!("for a {} look", wish.look.label()));
    if let Some([red, green, blue]) = wish.colour {
        parts.add(format!("colour #{red:02x}{green:02x}{blue:02x}"));
    }
    if let Some(sheen) = wish.sheen {
        parts.add(format!("sheen {}", sheen.id()));
    }
    if let Some(class) = wish.class {
        parts.add(format!("with {}", class.id()));
    }
    if let Some(coats) = wish.coats {
        parts.add(format!("in {coats} coats"));
    }
    parts.add_if(wish.strip, "to be stripped");
    parts.add_if(wish.distress, "to be distressed");
    parts.add_if(wish.glaze, "to be glazed");
    if let Some(hide) = bench.limits.coats_to_hide {
        parts.add(format!("hidden by {} or {} coats", hide.over_found, hide.over_primer));
    }
}

/// What only some rules look at.
fn what_this_rule_asks(parts: &mut Parts, rule: RuleId, surface: &Surface, act: Option<&Act>, bench: &Bench<'_>) {
    let wish = bench.wish;
    match rule {
        RuleId::ExcludedByWish => {
            for without in &wish.without {
                parts.add(format!("without {}", without.id()));
            }
            parts.add_if(
                act.and_then(Act::finish)
                    .is_some_and(|class| bench.limits.never.contains(&class)),
                "a class the shop refuses",
            );
        }
        RuleId::PoresShow => {
            if let Some(sheen) = wish.sheen {
                parts.add(format!("sheen {}", sheen.id()));
            }
        }
        RuleId::ToolMissing => {
            parts.add_if(!bench.limits.has_spray_gun, "no spray gun");
            parts.add_if(!bench.limits.has_sander, "no sander");
            parts.add_if(!bench.limits.has_heat, "no heat gun");
            let method = act.and_then(|act| act.method);
            parts.add_if(method == Some(Method::AerosolCan), "from a can");
        }
        RuleId::TooFewCoats | RuleId::ColourNotHidden => {
            for layer in surface.planned_layers() {
                let wanted = surface.coats_wanted(layer.class, bench);
                parts.add(format!("{wanted} coats of {} wanted", layer.class.id()));
                if let Some(hide) = bench.coats_to_hide(layer.class, is_over_primer(surface)) {
                    parts.add(format!("hidden by {hide} of them"));
                }
            }
        }
        RuleId::FilmTooThick => parts.add(format!("{} µm of film", surface.film_um())),
        RuleId::ScratchTooCoarse if surface.film_scratch_um > 0 => {
            parts.add(format!("scratch {} µm in the film", surface.film_scratch_um));
        }
        RuleId::OpenDefectUnderCoat => parts.add_if(bench.may_fill_with_wax(), "may wait for a wax stick"),
        RuleId::BareTooLong => parts.add_if(surface.is_bare_too_long(), "bare for more than two weeks"),
        RuleId::NothingToDo => {
            parts.add_if(surface.is_wiped_lately(), "wiped lately");
            let is_dent = |defect: &Defect| defect.kind == DefectKind::Dent;
            parts.add_if(bench.zone.defects.iter().any(is_dent), "dents");
        }
        RuleId::AirOutOfRange => {
            if let Some(air) = bench.limits.air {
                parts.add(format!(
                    "at best {:.0} °C and {:.0} %",
                    air.warmest_c,
                    air.driest_rh * 100.0
                ));
            }
        }
        RuleId::FillerTooShallow => {
            let deepest_mm = bench.zone.defects.iter().filter_map(|defect| defect.depth_mm);
            parts.add(format!("{:.1} mm deep", deepest_mm.fold(0.0, f64::max)));
        }
        RuleId::RecoatTooSoon
        | RuleId::SandingTooSoon
        | RuleId::WindowMissed
        | RuleId::LiftingWindow
        | RuleId::NotCured
        | RuleId::RefittedTooSoon
        | RuleId::WaxStickTooEarly => {
            if let Some(top) = surface.top() {
                let figures = bench.figures(top.class);
                let age_min = surface.top_age_min.min(figures.cure_min.max(figures.light_min));
                parts.add(format!(
                    "{age_min} min after it, recoat from {} min",
                    figures.recoat_min
                ));
                if let Some(window_min) = figures.window_min {
                    parts.add(format!("window of {window_min} min"));
                }
            }
        }
        RuleId::OilyWoodNotWiped => parts.add(format!("wiped {} min ago", surface.wiped_age_min.min(9_999))),
        _ => {}
    }
}

#[cfg(test)]
mod tests;
