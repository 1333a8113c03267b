//! The eye's yardstick around one colour: CIEDE2000 made flat, so that a solver can take steps in it.

use crate::difference;
use crate::lab::Lab;

/// Turns a small change of (L, a, b) into three numbers whose sum of squares is the squared difference.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Yardstick {
    /// Upper triangle by rows: `[ll, la, lb, aa, ab, bb]`.
    root: [f64; 6],
}

impl Yardstick {
    pub(crate) fn around(colour: Lab) -> Self {
        const H: f64 = 0.05;
        let moved = |dl: f64, da: f64, db: f64| {
            let to = Lab::new(colour.l + H * dl, colour.a + H * da, colour.b + H * db);
            (difference(colour, to) / H).powi(2)
        };
        let (ll, aa, bb) = (moved(1.0, 0.0, 0.0), moved(0.0, 1.0, 0.0), moved(0.0, 0.0, 1.0));
        let la = f64::midpoint(moved(1.0, 1.0, 0.0), -ll - aa);
        let lb = f64::midpoint(moved(1.0, 0.0, 1.0), -ll - bb);
        let ab = f64::midpoint(moved(0.0, 1.0, 1.0), -aa - bb);
        // Cholesky's root; the floor keeps a rounding error from making it imaginary.
        let r_ll = ll.max(1e-6).sqrt();
        let (r_la, r_lb) = (la / r_ll, lb / r_ll);
        let r_aa = (aa - r_la * r_la).max(1e-6).sqrt();
        let r_ab = (ab - r_la * r_lb) / r_aa;
        let r_bb = (bb - r_lb * r_lb - r_ab * r_ab).max(1e-6).sqrt();
        Self {
            root: [r_ll, r_la, r_lb, r_aa, r_ab, r_bb],
        }
    }

    pub(crate) fn measure(&self, change: [f64; 3]) -> [f64; 3] {
        let [ll, la, lb, aa, ab, bb] = self.root;
        let [l, a, b] = change;
        [ll * l + la * a + lb * b, aa * a + ab * b, bb * b]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_differences_are_measured_right() {
        for colour in [
            Lab::new(50.0, 20.0, -40.0),
            Lab::new(80.0, 5.0, 60.0),
            Lab::new(20.0, 1.0, 1.0),
        ] {
            let yardstick = Yardstick::around(colour);
            for (dl, da, db) in [(0.2, 0.1, -0.1), (0.0, 0.2, 0.3), (-0.3, 0.1, 0.2)] {
                let flat: f64 = yardstick
                    .measure([dl, da, db])
                    .iter()
                    .map(|v| v * v)
                    .sum::<f64>()
                    .sqrt();
                let true_one = difference(colour, Lab::new(colour.l + dl, colour.a + da, colour.b + db));
                assert!((flat / true_one - 1.0).abs() < 0.06, "{colour:?} {flat} {true_one}");
            }
        }
    }
}
