//! Mending a batch that is already in the pot: nothing can be taken out.

use quantity::Volume;
use serde::{Deserialize, Serialize};

use crate::difference;
use crate::film;
use crate::hiding::internal_k_over_s;
use crate::lab::Lab;
use crate::light::{BANDS, Light};
use crate::mix::pigment::{Pigment, mixed};
use crate::mix::recipe::Prospect;
use crate::mix::search::{PAINT_PENALTY, candidates};
use crate::mix::shelf::{Disagreement, Shelf};
use crate::spectrum::Spectrum;
use crate::surface::{self, INSIDE};

/// What is in the pot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Batch {
    /// Index of each paint on the shelf and how much of it went in.
    pub parts: Vec<(usize, Volume)>,
    /// What a dry swatch of it reads.
    pub reads: Lab,
}

/// What to add to a batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Correction {
    /// Index of each paint on the shelf and how much of it to add; empty where the batch is best left alone.
    pub additions: Vec<(usize, Volume)>,
    /// How much there will be.
    pub makes: Volume,
    /// What it should look like by daylight.
    pub by_day: Lab,
    /// How far from the target it will be.
    pub prospect: Prospect,
}

/// Why a batch cannot be mended.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BatchError {
    /// Nothing in it.
    #[error("the batch holds nothing: enter what went into the pot and how much of it.")]
    Empty,
    /// A paint that is not on the shelf.
    #[error("the batch names paint number {index}, but the shelf has {count}.")]
    NoSuchPaint {
        /// The index given.
        index: usize,
        /// Paints on the shelf.
        count: usize,
    },
    /// An amount below nothing or a reading that cannot be.
    #[error("{what} cannot be.")]
    Impossible {
        /// What was given.
        what: String,
    },
}

impl Shelf {
    /// The best additions to a batch, best first, at most one for each number of paints up to three, none larger than
    /// `most` in all.
    ///
    /// The batch counts as the paint that its swatch shows, not as the one that its recipe promised.
    ///
    /// # Errors
    /// [`BatchError`]: an empty batch, a paint that is not on the shelf, an impossible amount or reading.
    pub fn correct(&self, batch: &Batch, target: &Spectrum, most: Volume) -> Result<Vec<Correction>, BatchError> {
        let total = self.checked(batch)?;
        let base = self.as_it_reads(batch, total);
        let goal = target.lab(Light::Day);
        let found = candidates(&self.readings[0], Some(&base), goal, 3);
        let mut all: Vec<(f64, Correction)> = vec![self.correction(&base, &[], total, goal)];
        all.extend(
            found
                .iter()
                .map(|c| self.correction(&base, &c.parts, total, goal))
                .filter(|(_, c)| (c.makes - total).ml() <= most.ml() && !c.additions.is_empty()),
        );
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut kept: Vec<Correction> = Vec::new();
        for (_, correction) in all {
            if kept.iter().all(|k| correction.additions.len() < k.additions.len()) {
                kept.push(correction);
            }
        }
        Ok(kept)
    }

    fn checked(&self, batch: &Batch) -> Result<Volume, BatchError> {
        let mut total = Volume::ZERO;
        for (index, volume) in &batch.parts {
            if *index >= self.paints().len() {
                return Err(BatchError::NoSuchPaint {
                    index: *index,
                    count: self.paints().len(),
                });
            }
            if !(volume.ml() >= 0.0 && volume.is_finite()) {
                return Err(BatchError::Impossible {
                    what: format!("an amount of {} ml", volume.ml()),
                });
            }
            total += *volume;
        }
        if !batch.reads.is_plausible() {
            let Lab { l, a, b } = batch.reads;
            return Err(BatchError::Impossible {
                what: format!("a reading of L {l:.1}, a {a:.1}, b {b:.1}"),
            });
        }
        if total.ml() <= 0.0 {
            Err(BatchError::Empty)
        } else {
            Ok(total)
        }
    }

    /// The batch by band: its recipe's mixture, bent until it looks like its swatch.
    fn as_it_reads(&self, batch: &Batch, total: Volume) -> Pigment {
        let mut pot = Pigment {
            k: [0.0; BANDS],
            s: [0.0; BANDS],
        };
        for (index, volume) in &batch.parts {
            let share = volume.ml() / total.ml();
            for i in 0..BANDS {
                pot.k[i] += share * self.readings[0][*index].k[i];
                pot.s[i] += share * self.readings[0][*index].s[i];
            }
        }
        let wanted = internal_k_over_s(&Spectrum::nearest(batch.reads).0);
        // The smooth spectrum of what was read over that of what was promised says where to bend; twice is exact enough.
        for _ in 0..4 {
            let promised = internal_k_over_s(&Spectrum::nearest(mixed(&[(&pot, 1.0)]).lab(Light::Day)).0);
            for i in 0..BANDS {
                pot.k[i] *= wanted[i].max(1e-6) / promised[i].max(1e-6);
            }
        }
        pot
    }

    fn correction(&self, base: &Pigment, parts: &[(usize, f64)], total: Volume, goal: Lab) -> (f64, Correction) {
        let seen = |swapped: Option<(usize, usize)>| {
            Spectrum(std::array::from_fn(|i| {
                let (mut k, mut s) = (base.k[i], base.s[i]);
                for (paint, amount) in parts {
                    let way = swapped.filter(|(p, _)| p == paint).map_or(0, |(_, way)| way);
                    k += amount * self.readings[way][*paint].k[i];
                    s += amount * self.readings[way][*paint].s[i];
                }
                surface::measured(film::opaque(k / s.max(1e-12)), 0.0, INSIDE)
            }))
            .lab(Light::Day)
        };
        let by_day = seen(None);
        let mut doubt = Disagreement::default();
        for (paint, _) in parts {
            let off = |way| difference(by_day, seen(Some((*paint, way)))).powi(2);
            let known = self.paints()[*paint].tint_with_white.is_some();
            let sum = if known {
                &mut doubt.with_tint
            } else {
                &mut doubt.without
            };
            *sum += f64::midpoint(off(1), off(2));
        }
        let doubt = Disagreement {
            with_tint: doubt.with_tint.sqrt(),
            without: doubt.without.sqrt(),
        };
        let left = difference(by_day, goal);
        let added: f64 = parts.iter().map(|p| p.1).sum();
        let penalty: f64 = parts.iter().map(|_| PAINT_PENALTY).sum();
        // A batch that doubles for the sake of a little is no good bargain.
        let score = left.hypot(doubt.with_tint.sqrt()).hypot(doubt.without) + penalty + 0.3 * added;
        let correction = Correction {
            additions: parts.iter().map(|(paint, amount)| (*paint, total * *amount)).collect(),
            makes: total * (1.0 + added),
            by_day,
            prospect: Prospect::of(left, doubt),
        };
        (score, correction)
    }
}
