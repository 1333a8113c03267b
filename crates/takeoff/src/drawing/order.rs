//! In which order parts are painted so that nearer ones cover farther ones.
//!
//! Two parts in boxes that a plane square to an axis can part have an order when they overlap on the sheet: the one on
//! the eye's side of the plane is nearer. Where the boxes run into each other, the axis on which they do so least decides.

use super::projected::Drawn;
use super::view::{Eye, Spot};
use crate::solid::convex::bounds;

/// Places of the parts, farthest first. Where no order is without fault (three parts in a ring), the part whose middle lies
/// farthest goes first.
pub(super) fn far_to_near(drawn: &[Drawn], eye: &Eye) -> Vec<usize> {
    let n = drawn.len();
    let mut nearer_than: Vec<Vec<usize>> = vec![Vec::new(); n];
    let mut waits_for = vec![0_usize; n];
    let boxes: Vec<(Spot, Spot)> = drawn.iter().map(|d| bounds(&d.hull)).collect();
    for a in 0..n {
        for b in a + 1..n {
            if !meet(boxes[a], boxes[b]) || !overlap(&drawn[a].hull, &drawn[b].hull) {
                continue;
            }
            match nearer(&drawn[a], &drawn[b], eye) {
                Some(true) => {
                    nearer_than[b].push(a);
                    waits_for[a] += 1;
                }
                Some(false) => {
                    nearer_than[a].push(b);
                    waits_for[b] += 1;
                }
                None => {}
            }
        }
    }
    let depth: Vec<f64> = drawn.iter().map(|d| (d.low + d.high).dot(eye.toward)).collect();
    let mut order = Vec::with_capacity(n);
    let mut left: Vec<usize> = (0..n).collect();
    left.sort_by(|&a, &b| depth[a].total_cmp(&depth[b]).then(a.cmp(&b)));
    while !left.is_empty() {
        let place = left.iter().position(|&i| waits_for[i] == 0).unwrap_or(0);
        let next = left.remove(place);
        for &other in &nearer_than[next] {
            waits_for[other] = waits_for[other].saturating_sub(1);
        }
        order.push(next);
    }
    order
}

/// Whether `a` is the nearer of two parts; `None` when neither can cover the other.
fn nearer(a: &Drawn, b: &Drawn, eye: &Eye) -> Option<bool> {
    const TOUCH: f64 = 1e-7;
    let mut says = [false, false];
    let mut least: Option<(f64, bool)> = None;
    for axis in 0..3 {
        let v = eye.toward.along(axis);
        if v.abs() < 1e-6 {
            continue;
        }
        for (gap, a_above) in [
            (a.low.along(axis) - b.high.along(axis), true),
            (b.low.along(axis) - a.high.along(axis), false),
        ] {
            let a_nearer = a_above == (v > 0.0);
            if gap > -TOUCH {
                says[usize::from(a_nearer)] = true;
            }
            if least.is_none_or(|(best, _)| gap > best) {
                least = Some((gap, a_nearer));
            }
        }
    }
    match says {
        [true, true] => None,
        [false, true] => Some(true),
        [true, false] => Some(false),
        [false, false] => least.map(|(_, a_nearer)| a_nearer),
    }
}

/// By how much two outlines must overlap to matter, in metres.
const MATTERS_M: f64 = 2e-4;

fn meet(a: (Spot, Spot), b: (Spot, Spot)) -> bool {
    a.0.0 < b.1.0 - MATTERS_M && b.0.0 < a.1.0 - MATTERS_M && a.0.1 < b.1.1 - MATTERS_M && b.0.1 < a.1.1 - MATTERS_M
}

/// Whether two convex outlines overlap: no side of either parts them.
fn overlap(a: &[Spot], b: &[Spot]) -> bool {
    !parted(a, b) && !parted(b, a)
}

fn parted(a: &[Spot], b: &[Spot]) -> bool {
    (0..a.len()).any(|i| {
        let (p, q) = (a[i], a[(i + 1) % a.len()]);
        let (dx, dy) = (q.0 - p.0, q.1 - p.1);
        let size = dx.hypot(dy);
        // Outwards of an anticlockwise outline is to the right of its direction.
        size > 0.0
            && b.iter()
                .all(|s| ((s.0 - p.0) * dy - (s.1 - p.1) * dx) / size > -MATTERS_M)
    })
}
