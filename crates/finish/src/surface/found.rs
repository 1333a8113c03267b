//! The surface of a zone as found.

use trade::FinishClass;
use trade::finish_rows::Group;

use crate::bench::{Bench, minutes, whole_um};
use crate::surface::{Clock, Layer, MOST_LAYERS, NO_LAYER, Residue, Surface};
use crate::zone::{Condition, Contaminant, Soundness, may_hold_lead};

/// Found layers kept apart, so that as many again can be planned.
const MOST_FOUND: usize = 5;

impl Surface {
    /// The surface of a zone as found.
    pub(crate) fn found(bench: &Bench<'_>) -> Self {
        let zone = bench.zone;
        let has = |contaminant| zone.contaminants.contains(&contaminant);
        let is = |condition| zone.conditions.contains(&condition);
        let handled = !zone.found.is_empty() || bench.metal;
        let mut surface = Self {
            layers: [NO_LAYER; MOST_LAYERS],
            len: 0,
            wax: has(Contaminant::Wax),
            silicone: u8::from(has(Contaminant::Silicone)),
            grease: handled || has(Contaminant::Grease) || is(Condition::Greasy),
            nicotine: u8::from(has(Contaminant::Nicotine) || is(Condition::Smoky)),
            residue: Residue::None,
            softened: 0,
            half_stripped: false,
            flaking: is(Condition::Flaking),
            patchy: false,
            loose: zone.defects.iter().any(|defect| defect.kind.is_loose()),
            open_defects: zone.defects.iter().any(|defect| !defect.kind.is_loose()),
            wax_filled: false,
            proud: false,
            glue_smeared: false,
            scratch_um: 0,
            film_scratch_um: 0,
            keyed: false,
            dusty: false,
            raised: false,
            raised_before: !bench.fibrous,
            blocked: 0,
            dyed: false,
            knot_coats: 0,
            conditioned: false,
            pores_filled: false,
            bleached: false,
            stained: false,
            glazed: false,
            distressed: false,
            hardware_off: false,
            refitted: false,
            masked: false,
            cut_through: false,
            loss_um: 0,
            top_age_min: u32::MAX / 4,
            drying: Clock::default(),
            setting: Clock::default(),
            wiped_age_min: u32::MAX / 4,
            bare_age_min: 0,
        };
        for layer in &zone.found {
            surface.flaking |= layer.soundness == Soundness::Flaking;
            surface.add_found(layer.class, layer.coats);
        }
        surface.note_worn_patches(bench);
        surface.start_found_clock(bench);
        if surface.is_bare() {
            surface.flaking = false;
            surface.lay_bare(bench);
        }
        surface
    }

    /// A coat put on within its curing time is still curing: the clock of the outermost layer says so.
    fn start_found_clock(&mut self, bench: &Bench<'_>) {
        if let Some(days) = bench.zone.found.last().and_then(|layer| layer.age_d) {
            self.top_age_min = minutes(days * 24.0);
        }
    }

    /// Worn paint has bare patches; worn clear film is thin, but its wood is still closed.
    fn note_worn_patches(&mut self, bench: &Bench<'_>) {
        let worn = |layer: &crate::zone::FoundLayer| layer.soundness == Soundness::Worn;
        let is_worn = bench.zone.conditions.contains(&Condition::Worn) || bench.zone.found.iter().any(worn);
        self.patchy = is_worn && !self.is_bare() && self.found_layers().any(|layer| may_hold_lead(layer.class));
    }

    fn add_found(&mut self, class: FinishClass, coats: Option<u8>) {
        let row = class.row();
        match row.group {
            Group::Wax => {
                self.wax = true;
                return;
            }
            Group::Stain => self.dyed = true,
            _ => {}
        }
        let coats = coats.unwrap_or(row.coats).max(1);
        let dry_um = row
            .dry_film_um
            .map_or(0, |film| whole_um(film.typical))
            .saturating_mul(u16::from(coats));
        if self.len as usize >= MOST_FOUND {
            let last = &mut self.layers[self.len as usize - 1];
            last.class = class;
            last.coats = last.coats.saturating_add(coats);
            last.dry_um = last.dry_um.saturating_add(dry_um);
            return;
        }
        self.push(Layer {
            class,
            coats,
            dry_um,
            found: true,
            opaque: may_hold_lead(class),
        });
    }
}
