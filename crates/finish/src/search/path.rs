//! A finished path: the acts that lead to the wish, and what they come to in the measures a person chooses by.

use trade::{Material, PrepClass};

use crate::act::Act;
use crate::bench::{Bench, Figures, gives_look};
use crate::effect::apply;
use crate::effort::effort;
use crate::object::wear;
use crate::search::Spent;
use crate::search::perform::spent_on;
use crate::surface::Surface;

/// A finished path.
#[derive(Debug, Clone)]
pub(crate) struct Path {
    pub(crate) acts: Vec<Act>,
    pub(crate) spent: Spent,
    pub(crate) wear: u8,
    pub(crate) elapsed_min: u32,
    pub(crate) cured_min: u32,
    pub(crate) keeps_old_finish: bool,
    /// Whether it takes isocyanate, formaldehyde or caustic: fine for those equipped for it, not what to offer first.
    pub(crate) harsh: bool,
    /// Whether the finish that gives the look stands on the shelf.
    pub(crate) on_shelf: bool,
}

impl Path {
    /// The measures of a path that ends on this surface; its acts are still to come.
    pub(super) fn at(surface: &Surface, spent: Spent, bench: &Bench<'_>) -> Self {
        Self {
            acts: Vec::new(),
            spent,
            wear: wear(surface, bench),
            elapsed_min: after_last(surface, spent, bench, |figures| figures.light_min),
            cured_min: after_last(surface, spent, bench, |figures| figures.cure_min),
            keeps_old_finish: surface.has_found_layers(),
            harsh: false,
            on_shelf: surface.planned_layers().any(|layer| {
                gives_look(bench.wish.look, layer.class) && bench.product(Material::Finish(layer.class)).is_some()
            }),
        }
    }

    pub(super) fn with(mut self, acts: Vec<Act>, bench: &Bench<'_>) -> Self {
        self.harsh = acts.iter().any(|act| is_harsh(act, bench));
        self.acts = acts;
        self
    }

    /// The path of these acts with their waits as they stand; minutes and materials are reckoned anew.
    pub(crate) fn of(mut acts: Vec<Act>, bench: &Bench<'_>) -> Self {
        let mut surface = Surface::found(bench);
        let mut spent = Spent::default();
        for act in &mut acts {
            act.hands_on_min = 0;
            let taken = effort(act, &surface, bench);
            act.hands_on_min = taken.hands_on_min;
            surface = apply(&surface, act, taken.hands_on_min, bench);
            spent.add(&spent_on(&taken, act.wait_min, bench));
        }
        Self::at(&surface, spent, bench).with(acts, bench)
    }

    /// Whether this path is nowhere worse than the other in the five measures, nor buys what the other has on the shelf.
    pub(crate) const fn is_as_good_as(&self, other: &Path) -> bool {
        self.elapsed_min <= other.elapsed_min
            && self.spent.hands_on_min <= other.spent.hands_on_min
            && self.spent.cost <= other.spent.cost
            && self.spent.exposure <= other.spent.exposure
            && self.wear >= other.wear
            && (self.on_shelf || !other.on_shelf)
    }
}

fn is_harsh(act: &Act, bench: &Bench<'_>) -> bool {
    let figures = act.finish().map(|class| bench.figures(class));
    act.prep_class() == Some(PrepClass::CausticStripper)
        || figures.is_some_and(|figures| figures.isocyanate || figures.formaldehyde)
}

/// Elapsed time when the last coat has come to a further state, given its figures.
fn after_last(surface: &Surface, spent: Spent, bench: &Bench<'_>, until: impl Fn(&Figures) -> u32) -> u32 {
    let slowest = surface.planned_top().map_or(0, |top| until(bench.figures(top.class)));
    spent.elapsed_min + slowest.saturating_sub(surface.top_age_min)
}
