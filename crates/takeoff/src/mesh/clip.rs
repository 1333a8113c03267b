//! Cutting a polygon by a level plane.

/// The part of a convex polygon at or above a height (`above`), or at or below it.
pub(super) fn by_height(polygon: &[[f64; 3]], height: f64, above: bool) -> Vec<[f64; 3]> {
    let side = |p: [f64; 3]| if above { p[2] - height } else { height - p[2] };
    let mut kept = Vec::with_capacity(polygon.len() + 1);
    for i in 0..polygon.len() {
        let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
        let (sa, sb) = (side(a), side(b));
        if sa >= 0.0 {
            kept.push(a);
        }
        if sa * sb < 0.0 {
            let t = sa / (sa - sb);
            kept.push(std::array::from_fn(|k| a[k] + (b[k] - a[k]) * t));
        }
    }
    kept
}
