//! Convex rings in a plane, anticlockwise: taking one away from another.

/// A place in the plane.
pub(crate) type Spot = (f64, f64);

/// A convex ring less another, as convex pieces; what `is_nothing` holds for is dropped on the way.
pub(crate) fn without(ring: &[Spot], cover: &[Spot], is_nothing: &dyn Fn(&[Spot]) -> bool) -> Vec<Vec<Spot>> {
    let mut inside = ring.to_vec();
    let mut pieces = Vec::new();
    for i in 0..cover.len() {
        let (p, q) = (cover[i], cover[(i + 1) % cover.len()]);
        let (out, within) = parted(&inside, p, q);
        if is_nothing(&within) {
            // They do not meet at all: the ring stays as it was.
            return vec![ring.to_vec()];
        }
        if !is_nothing(&out) {
            pieces.push(out);
        }
        inside = within;
    }
    pieces
}

/// A ring parted by the line from `p` to `q`: right of it, left of it.
fn parted(ring: &[Spot], p: Spot, q: Spot) -> (Vec<Spot>, Vec<Spot>) {
    let side = |s: Spot| (q.0 - p.0) * (s.1 - p.1) - (q.1 - p.1) * (s.0 - p.0);
    let (mut right, mut left) = (Vec::new(), Vec::new());
    for i in 0..ring.len() {
        let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
        let (sa, sb) = (side(a), side(b));
        if sa >= 0.0 {
            left.push(a);
        }
        if sa <= 0.0 {
            right.push(a);
        }
        if sa * sb < 0.0 {
            let t = sa / (sa - sb);
            let cut = (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t);
            left.push(cut);
            right.push(cut);
        }
    }
    (right, left)
}

/// The area of a ring; below nothing when it runs clockwise.
pub(crate) fn area(ring: &[Spot]) -> f64 {
    (0..ring.len())
        .map(|i| {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            a.0 * b.1 - b.0 * a.1
        })
        .sum::<f64>()
        / 2.0
}

/// Whether an anticlockwise ring never turns right.
pub(crate) fn is_convex(ring: &[Spot]) -> bool {
    let n = ring.len();
    (0..n).all(|i| {
        let (a, b, c) = (ring[i], ring[(i + 1) % n], ring[(i + 2) % n]);
        (b.0 - a.0) * (c.1 - b.1) - (b.1 - a.1) * (c.0 - b.0) >= -1e-12
    })
}

/// The least rectangle around some spots.
pub(crate) fn bounds(spots: &[Spot]) -> (Spot, Spot) {
    spots.iter().fold(
        ((f64::INFINITY, f64::INFINITY), (f64::NEG_INFINITY, f64::NEG_INFINITY)),
        |(low, high), s| ((low.0.min(s.0), low.1.min(s.1)), (high.0.max(s.0), high.1.max(s.1))),
    )
}
