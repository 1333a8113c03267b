//! Which states are one: what later rules cannot tell apart.

use trade::finish_rows::Group;
use trade::{FinishClass, Grit};

use crate::bench::{Bench, gives_look};
use crate::effect::edge_loss_um;
use crate::object::is_over_primer;
use crate::surface::{Layer, MOST_LAYERS, NO_LAYER, Surface, um};
use crate::wish::Look;

/// Some rules ask whether a coat is a day old.
const DAY_MIN: u32 = 24 * 60;

/// What still matters of planned layers that lie under others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct Covered {
    over_primer: bool,
    look: bool,
    film_level: u8,
    thin_level: u8,
    shellac: u8,
}

/// A state as far as anything later can tell it from another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct Key {
    surface: Surface,
    covered: Covered,
}

impl Surface {
    /// The same state for all that comes after it: clocks that are over stand still, and an age stops where no rule asks further.
    pub(crate) fn settled(&self, bench: &Bench<'_>) -> Self {
        let mut state = *self;
        state.drying = self.drying.settled();
        state.setting = self.setting.settled();
        state.bare_age_min = 0;
        state.wiped_age_min = if bench.oily_wood { self.wiped_age_min.min(31) } else { 0 };
        state.top_age_min = match self.top() {
            None => 0,
            Some(top) if top.found => self.top_age_min,
            Some(top) => {
                let figures = bench.figures(top.class);
                let asked = [
                    figures.recoat_min,
                    figures.window_min.map_or(0, |window| window + 1),
                    figures.light_min,
                    figures.cure_min,
                    DAY_MIN,
                ];
                self.top_age_min.min(asked.into_iter().fold(0, u32::max))
            }
        };
        state
    }

    /// The state as far as the rules can tell it from another: ages only by the thresholds they are compared with.
    pub(crate) fn key(&self, bench: &Bench<'_>) -> Key {
        let mut key = *self;
        let covered = key.forget_covered(bench);
        // How thick the film is to the micrometre is said by the levels.
        for layer in key.layers.iter_mut().filter(|layer| !layer.found) {
            layer.dry_um = layer.dry_um.min(1);
        }
        key.drying = self.drying.settled();
        key.setting = self.setting.settled();
        key.bare_age_min = 0;
        key.wiped_age_min = if bench.oily_wood { self.wiped_age_min.min(31) } else { 0 };
        key.top_age_min = match self.top() {
            None => 0,
            Some(top) => {
                let figures = bench.figures(top.class);
                let age = self.top_age_min;
                u32::from(age >= figures.recoat_min)
                    + u32::from(figures.window_min.is_some_and(|window| age > window))
                    + u32::from(age >= figures.light_min)
                    + u32::from(age >= figures.cure_min)
                    + u32::from(age >= 24 * 60)
            }
        };
        Key { surface: key, covered }
    }

    /// Drops the planned layers that lie under another, where all that matters of them later is said by [`Covered`], and what no
    /// rule looks at any more.
    fn forget_covered(&mut self, bench: &Bench<'_>) -> Covered {
        let over_primer = is_over_primer(self);
        let opaque_wish = matches!(bench.wish.look, Look::Paint | Look::Metallic);
        let gives_it = |layer: &&Layer| gives_look(bench.wish.look, layer.class) && layer.opaque == opaque_wish;
        let look = self
            .planned_layers()
            .find(gives_it)
            .map(|layer| (layer.class, layer.coats));
        let colour_done = opaque_wish && look.is_some_and(|(class, coats)| coats >= self.coats_wanted(class, bench));
        if colour_done {
            self.blocked = 9;
            self.knot_coats = 2;
            self.dyed = false;
        }
        if self.planned_top().is_some_and(|top| top.dry_um > 0) {
            self.scratch_um = 0;
            self.conditioned = false;
            self.pores_filled = false;
            self.raised_before |= !self.raised;
        }
        let covered = Covered {
            over_primer: over_primer && !colour_done,
            look: look.is_some(),
            film_level: film_level(self.film_um(), bench),
            thin_level: thin_level(self.planned_film_um()),
            shellac: if colour_done {
                0
            } else {
                self.coats_of(FinishClass::DewaxedShellac).min(2)
            },
        };
        let Some(top) = self.planned_top().copied() else {
            return covered;
        };
        let kept = *self;
        self.len = 0;
        self.layers = [NO_LAYER; MOST_LAYERS];
        for layer in kept.layers() {
            let under = matches!(
                bench.figures(layer.class).group,
                Group::Primer | Group::Sealer | Group::Stain
            );
            let complete = under || layer.coats >= kept.coats_wanted(layer.class, bench);
            if layer.found || !complete || *layer == top {
                self.push(*layer);
            }
        }
        covered
    }
}

/// Total film told apart only as far as a limit of some class makes it matter: what is left for the three coats of pre-catalysed
/// lacquer, the two of conversion varnish, the three of lacquer, the two of two-part polyurethane.
fn film_level(film_um: u16, bench: &Bench<'_>) -> u8 {
    let limits: &[u16] = if bench.wish.look == Look::Paint {
        &[80]
    } else {
        &[25, 51, 65, 80]
    };
    limits.iter().fold(0, |level, limit| level + u8::from(film_um > *limit))
}

/// A planned film told apart only as far as an abrasive finer than P180 goes through its edges or not.
fn thin_level(planned_um: u16) -> u8 {
    [Grit::P320, Grit::P220, Grit::P180]
        .into_iter()
        .fold(0, |level, grit| level + u8::from(planned_um >= edge_loss_um(um(grit))))
}
