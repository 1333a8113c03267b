//! Which patches are wholly hidden, so that they need not be written.
//!
//! Exact: from each patch all nearer flat patches are taken away, piece by piece; it is shown when something remains.

use super::projected::{Drawn, Marks};
use super::view::Spot;
use crate::solid::convex::{self, bounds};

/// Past this many remaining pieces a patch counts as seen; it nearly always is.
const MANY: usize = 48;

/// For each part in painting order, whether each of its patches is seen. What is smaller than `hair` (metres on the
/// sheet) is not.
pub(super) fn shown(drawn: &[Drawn], order: &[usize], hair: f64) -> Vec<Vec<bool>> {
    let mut nearer: Vec<(&[Spot], (Spot, Spot))> = Vec::new();
    let mut shown = vec![Vec::new(); order.len()];
    for (step, &i) in order.iter().enumerate().rev() {
        let seen = |ring: &[Spot]| {
            let own = bounds(ring);
            !is_sliver(ring, hair) && remains(ring, own, &nearer, hair)
        };
        match &drawn[i].marks {
            Marks::Patches(patches) => {
                shown[step] = patches.iter().map(|p| seen(&p.ring)).collect();
                let covers = patches.iter().filter(|p| convex::is_convex(&p.ring));
                nearer.extend(covers.map(|p| (p.ring.as_slice(), bounds(&p.ring))));
            }
            Marks::Turned { .. } => shown[step] = vec![seen(&drawn[i].hull)],
        }
    }
    shown
}

/// Whether more than a hair of the ring remains when the nearer ones are taken away.
fn remains(ring: &[Spot], own: (Spot, Spot), nearer: &[(&[Spot], (Spot, Spot))], hair: f64) -> bool {
    let covers: Vec<&[Spot]> = nearer
        .iter()
        .rev()
        .filter(|(_, (low, high))| low.0 < own.1.0 && own.0.0 < high.0 && low.1 < own.1.1 && own.0.1 < high.1)
        .map(|(cover, _)| *cover)
        .collect();
    // Most patches show one of a few spots, which is soon found out.
    if samples(ring).any(|spot| !covers.iter().any(|cover| holds(cover, spot))) {
        return true;
    }
    let mut left = vec![ring.to_vec()];
    for cover in covers {
        left = left
            .iter()
            .flat_map(|piece| convex::without(piece, cover, &|ring| is_sliver(ring, hair)))
            .collect();
        if left.is_empty() {
            return false;
        }
        if left.len() > MANY {
            return true;
        }
    }
    true
}

/// The middle of a ring, and spots a little within its corners.
fn samples(ring: &[Spot]) -> impl Iterator<Item = Spot> {
    let n = ring.len().max(1) as f64;
    let sum = ring
        .iter()
        .fold((0.0, 0.0), |sum, spot| (sum.0 + spot.0, sum.1 + spot.1));
    let middle = (sum.0 / n, sum.1 / n);
    let near = move |spot: &Spot| (spot.0 + (middle.0 - spot.0) * 0.03, spot.1 + (middle.1 - spot.1) * 0.03);
    std::iter::once(middle).chain(ring.iter().step_by(ring.len().div_ceil(8).max(1)).map(near))
}

/// Whether a convex ring holds a spot.
fn holds(ring: &[Spot], spot: Spot) -> bool {
    (0..ring.len()).all(|i| {
        let (p, q) = (ring[i], ring[(i + 1) % ring.len()]);
        (q.0 - p.0) * (spot.1 - p.1) - (q.1 - p.1) * (spot.0 - p.0) >= 0.0
    })
}

/// Whether a ring has less area than a hair along its own length.
fn is_sliver(ring: &[Spot], hair: f64) -> bool {
    if ring.len() < 3 {
        return true;
    }
    let (low, high) = bounds(ring);
    let long = (high.0 - low.0).max(high.1 - low.1);
    convex::area(ring) <= 0.5 * hair * long.max(hair)
}
