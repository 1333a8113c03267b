//! The surface state: what a zone is like between two steps.
//!
//! The one idea: everything the rules look at, in one small value that is copied, compared and hashed. The search walks over
//! these; the check runs one through a schedule. What changes it stands in `effect`, what objects to it in `object`.

mod clock;
mod found;
mod key;

use trade::finish_rows::Group;
use trade::{FinishClass, FoundSurface, Grit};

use crate::bench::{Bench, whole_um};
use crate::object::is_over_primer;
use crate::wish::Look;
use crate::zone::DefectKind;

pub(crate) use clock::Clock;
pub(crate) use key::Key;

/// Most layers kept apart; what is found beyond is added to the outermost found one.
const MOST_LAYERS: usize = 12;
/// Scratch of wood as stripping, scraping or the planer leaves it: a little coarser than P100. A judgement, common practice.
pub(crate) const ROUGH_UM: u16 = 170;

/// One layer of the build-up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct Layer {
    pub(crate) class: FinishClass,
    pub(crate) coats: u8,
    pub(crate) dry_um: u16,
    /// Whether it was found, and not put on by the schedule.
    pub(crate) found: bool,
    /// Whether it hides what is below; two-part polyurethane comes pigmented and clear.
    pub(crate) opaque: bool,
}

/// What is left in the surface by the material last used on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Residue {
    None,
    Stripper,
    Alkali,
    Acid,
    Cleaner,
}

/// The state of one zone's surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is an independent trait of a surface; any combination occurs"
)]
pub(crate) struct Surface {
    pub(crate) layers: [Layer; MOST_LAYERS],
    pub(crate) len: u8,
    pub(crate) wax: bool,
    /// 0 none, 1 on the face, 2 washed: still to be shut in.
    pub(crate) silicone: u8,
    pub(crate) grease: bool,
    /// 0 none, 1 on the face, 2 washed: still to be blocked under light paint.
    pub(crate) nicotine: u8,
    pub(crate) residue: Residue,
    /// Coats softened by stripper or heat and not yet scraped off.
    pub(crate) softened: u8,
    pub(crate) flaking: bool,
    /// Some of the old coats are stripped off and some are left.
    pub(crate) half_stripped: bool,
    /// Bare patches in an old finish that stays.
    pub(crate) patchy: bool,
    pub(crate) loose: bool,
    pub(crate) open_defects: bool,
    /// Places filled with soft wax.
    pub(crate) wax_filled: bool,
    /// Filler or a scraped edge that stands proud.
    pub(crate) proud: bool,
    /// Bare wood that was glued, and neither sanded nor scraped since.
    pub(crate) glue_smeared: bool,
    /// Size of the scratch in the bare substrate; 0 where none matters.
    pub(crate) scratch_um: u16,
    /// The same in the outermost film.
    pub(crate) film_scratch_um: u16,
    /// Dulled all over since the last coat.
    pub(crate) keyed: bool,
    pub(crate) dusty: bool,
    pub(crate) raised: bool,
    /// The grain was raised and cut once, or sealed: it does not rise again.
    pub(crate) raised_before: bool,
    /// Coats of waterborne stain-block that count against tannin, or 9 for a blocked surface.
    pub(crate) blocked: u8,
    /// Whether dye or old stain lies below.
    pub(crate) dyed: bool,
    /// Spot coats on knots, or on the cut edges of board.
    pub(crate) knot_coats: u8,
    pub(crate) conditioned: bool,
    pub(crate) pores_filled: bool,
    pub(crate) bleached: bool,
    pub(crate) stained: bool,
    pub(crate) glazed: bool,
    pub(crate) distressed: bool,
    pub(crate) hardware_off: bool,
    pub(crate) refitted: bool,
    pub(crate) masked: bool,
    pub(crate) cut_through: bool,
    /// Wood taken off so far; reckoned for thin faces only.
    pub(crate) loss_um: u16,
    /// Since the outermost coat of the schedule.
    pub(crate) top_age_min: u32,
    /// Water or solvent leaving the surface.
    pub(crate) drying: Clock,
    /// Glue or filler setting.
    pub(crate) setting: Clock,
    /// Since the last solvent wipe; counts for oily wood.
    pub(crate) wiped_age_min: u32,
    /// Since bare wood was laid open.
    pub(crate) bare_age_min: u32,
}

const NO_LAYER: Layer = Layer {
    class: FinishClass::Unknown,
    coats: 0,
    dry_um: 0,
    found: false,
    opaque: false,
};

impl Surface {
    fn push(&mut self, layer: Layer) {
        if (self.len as usize) < MOST_LAYERS {
            self.layers[self.len as usize] = layer;
            self.len += 1;
        }
    }

    /// Puts a coat on: one more of the outermost layer's class, or a new layer.
    pub(crate) fn add_coat(&mut self, class: FinishClass, dry_um: u16, opaque: bool) {
        match self.layers[..self.len as usize].last_mut() {
            Some(top) if !top.found && top.class == class => {
                top.coats = top.coats.saturating_add(1);
                top.dry_um = top.dry_um.saturating_add(dry_um);
            }
            _ => self.push(Layer {
                class,
                coats: 1,
                dry_um,
                found: false,
                opaque,
            }),
        }
    }

    pub(crate) fn layers(&self) -> &[Layer] {
        &self.layers[..self.len as usize]
    }

    pub(crate) fn found_layers(&self) -> impl Iterator<Item = &Layer> {
        self.layers().iter().filter(|layer| layer.found)
    }

    pub(crate) fn planned_layers(&self) -> impl DoubleEndedIterator<Item = &Layer> {
        self.layers().iter().filter(|layer| !layer.found)
    }

    pub(crate) fn top(&self) -> Option<&Layer> {
        self.layers().last()
    }

    /// The outermost layer, if the schedule put it on.
    pub(crate) fn planned_top(&self) -> Option<&Layer> {
        self.top().filter(|layer| !layer.found)
    }

    pub(crate) fn is_bare(&self) -> bool {
        self.len == 0
    }

    /// Whether no film closes the wood yet: bare, or stained only.
    pub(crate) fn is_bare_of_film(&self) -> bool {
        self.layers().iter().all(|layer| layer.dry_um == 0)
    }

    pub(crate) fn has_found_layers(&self) -> bool {
        self.found_layers().next().is_some()
    }

    pub(crate) fn coats_of(&self, class: FinishClass) -> u8 {
        self.planned_layers()
            .filter(|layer| layer.class == class)
            .map(|layer| layer.coats)
            .sum()
    }

    /// How many coats of the class are wanted here. A sealer below takes the place of one where three are usual.
    pub(crate) fn coats_wanted(&self, class: FinishClass, bench: &Bench<'_>) -> u8 {
        let wanted = bench.coats_wanted(class, is_over_primer(self));
        let clear = bench.figures(class).group == Group::Clear && bench.figures(class).film;
        let seals = |layer: &Layer| layer.class != class && bench.figures(layer.class).group == Group::Sealer;
        let sealed = bench.wish.coats.is_none() && wanted >= 3 && clear && self.planned_layers().any(seals);
        if sealed { wanted - 1 } else { wanted }
    }

    pub(crate) fn film_um(&self) -> u16 {
        self.layers()
            .iter()
            .fold(0, |sum, layer| sum.saturating_add(layer.dry_um))
    }

    /// Abrades the outermost film by so much; a trace of it stays.
    pub(crate) fn wear_film(&mut self, loss_um: u16) {
        if let Some(top) = self.layers[..self.len as usize].last_mut() {
            top.dry_um = top.dry_um.saturating_sub(loss_um).max(top.dry_um.min(1));
        }
    }

    /// What the schedule has put on so far, stains not counted, micrometres.
    pub(crate) fn planned_film_um(&self) -> u16 {
        self.planned_layers()
            .fold(0, |sum, layer| sum.saturating_add(layer.dry_um))
    }

    /// Whether bare stain is the outermost.
    pub(crate) fn is_bare_stain(&self) -> bool {
        self.planned_top()
            .is_some_and(|top| top.class.row().group == Group::Stain && top.dry_um == 0)
    }

    /// Takes `coats` off from outside in, found layers only. Bare wood is laid open when the last is gone.
    pub(crate) fn take_off(&mut self, coats: u8, bench: &Bench<'_>) {
        let mut left = coats;
        while left > 0 && self.len > 0 {
            let top = &mut self.layers[self.len as usize - 1];
            let taken = top.coats.min(left);
            let per_coat = top.dry_um / u16::from(top.coats.max(1));
            left -= taken;
            top.coats -= taken;
            top.dry_um = top.dry_um.saturating_sub(per_coat.saturating_mul(u16::from(taken)));
            if top.coats == 0 {
                *top = NO_LAYER;
                self.len -= 1;
            }
        }
        if self.len == 0 {
            self.lay_bare(bench);
        }
    }

    fn lay_bare(&mut self, bench: &Bench<'_>) {
        self.flaking = false;
        self.half_stripped = false;
        self.patchy = false;
        self.keyed = false;
        self.film_scratch_um = 0;
        self.bare_age_min = 0;
        self.scratch_um = match bench.zone.substrate {
            _ if !bench.fibrous => 0,
            trade::Substrate::Wicker => 0,
            // Board comes sanded from the factory, about as P150 leaves it.
            trade::Substrate::Mdf | trade::Substrate::ParticleBoard if bench.zone.found.is_empty() => um(Grit::P150),
            _ => ROUGH_UM,
        };
    }

    /// What the next coat meets.
    pub(crate) fn face(&self, bench: &Bench<'_>) -> FoundSurface {
        if self.wax {
            return FoundSurface::PasteWaxFilm;
        }
        if self.silicone == 1 {
            return FoundSurface::SiliconeContaminated;
        }
        let Some(top) = self.top() else {
            return bench.zone.substrate.bare_surface();
        };
        if top.found && self.is_of_unknown_age() {
            return match top.class {
                // Shellac of unknown make is taken for the ordinary kind, which holds wax.
                FinishClass::DewaxedShellac => FoundSurface::ShellacWaxedFilm,
                class => class.surface_when_cured(),
            };
        }
        if self.top_age_min >= bench.figures(top.class).cure_min {
            top.class.surface_when_cured()
        } else {
            top.class.surface_when_dry()
        }
    }

    /// Lets time pass.
    pub(crate) fn pass(&mut self, time_min: u32) {
        self.top_age_min = self.top_age_min.saturating_add(time_min).min(u32::MAX / 4);
        self.wiped_age_min = self.wiped_age_min.saturating_add(time_min).min(u32::MAX / 4);
        self.bare_age_min = self.bare_age_min.saturating_add(time_min);
        self.drying.pass(time_min);
        self.setting.pass(time_min);
    }

    /// Whether nobody knows how long ago the outermost coat was put on: long enough, then.
    pub(crate) const fn is_of_unknown_age(&self) -> bool {
        self.top_age_min >= u32::MAX / 4
    }

    /// Whether a solvent wipe still counts on oily wood: half an hour (C24).
    pub(crate) const fn is_wiped_lately(&self) -> bool {
        const WIPE_LASTS_MIN: u32 = 30;
        self.wiped_age_min <= WIPE_LASTS_MIN
    }

    /// Whether bare wood has lain open for more than two weeks.
    pub(crate) const fn is_bare_too_long(&self) -> bool {
        self.bare_age_min > 14 * 24 * 60
    }

    /// Whether the wish and the finding ask for bleach: dark marks in bared wood under a finish that shows them.
    pub(crate) fn marks_show(&self, bench: &Bench<'_>) -> bool {
        let seen = matches!(bench.wish.look, Look::Clear | Look::Stain | Look::Wax);
        seen && bench.water_marked && bench.fibrous && !self.bleached && (self.has_found_layers() || bench.tannin >= 2)
    }
}

/// Size of a grit's grain, whole micrometres.
pub(crate) fn um(grit: Grit) -> u16 {
    whole_um(grit.particle_um())
}

/// Whether a defect of the zone is deeper than `layer_mm`.
pub(crate) fn deeper_than(bench: &Bench<'_>, layer_mm: f64) -> bool {
    let is_deep = |kind: DefectKind, depth: Option<f64>| !kind.is_loose() && depth.unwrap_or(1.0) > layer_mm;
    bench
        .zone
        .defects
        .iter()
        .any(|defect| is_deep(defect.kind, defect.depth_mm))
}
