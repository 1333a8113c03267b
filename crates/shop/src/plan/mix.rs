//! How the material of a step is mixed: no more than can be put on while it stays usable.
//!
//! The pot life is the label's, else the class's; the ratio is the label's or nobody's, for classes differ too much in it to
//! guess. How fast it is put on follows from the step's own minutes.

use finish::Step;
use quantity::{Minutes, Volume};
use takeoff::quantities::{Mixing, batches};
use trade::Material;

use super::output::Mixes;
use crate::model::ShelfProduct;

/// How a step's material is mixed; `None` for what is not.
pub(crate) fn mixes(step: &Step, product: Option<&ShelfProduct>) -> Option<Mixes> {
    let quantity = step.quantity.as_ref()?;
    let label = product.map(|product| product.label).unwrap_or_default();
    let pot_life = label.pot_life.or_else(|| class_pot_life(step.material?))?;
    let thinner_share = if quantity.ml.typical > 0.0 {
        quantity.thinner_ml.typical / quantity.ml.typical
    } else {
        0.0
    };
    let (base_parts, hardener_parts) = label.mix.unwrap_or((1.0, 0.0));
    let coat = Volume::from_ml(quantity.ml.typical * (1.0 + thinner_share));
    let hours = f64::from(step.hands_on_min.max(1)) / 60.0;
    let mixing = Mixing {
        base_parts,
        hardener_parts,
        thinner_share,
        pot_life,
    };
    let mixes = batches(coat, coat.litres() / hours, mixing)?;
    let tenths = |volume: Volume| (volume.ml() * 10.0).round() / 10.0;
    Some(Mixes {
        count: mixes.count,
        each_ml: tenths(mixes.base + mixes.hardener + mixes.thinner),
        base_ml: tenths(mixes.base),
        hardener_ml: label.mix.map(|_| tenths(mixes.hardener)),
        thinner_ml: tenths(mixes.thinner),
        pot_life_min: pot_life.get(),
    })
}

/// How long a mix of the class stays usable; `None` for what is used from the can.
fn class_pot_life(material: Material) -> Option<Minutes> {
    match material {
        Material::Finish(class) => class.row().pot_life_h.map(Minutes::from_hours),
        // A grain filler's minutes are those in which it must be wiped, not those of a mix.
        Material::Prep(class) => class
            .row()
            .pot_life_min
            .filter(|minutes| class.is_filler() && *minutes > 0.0)
            .map(|minutes| Minutes::from_hours(minutes / 60.0)),
    }
}
