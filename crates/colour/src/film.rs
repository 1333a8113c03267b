//! A film of paint over what lies under it: Kubelka–Munk, one band at a time.
//!
//! `k` is how much of the light a film of unit thickness swallows, `s` how much it throws back, `x` its thickness (so that
//! k·x and s·x have no unit); reflectances are inside the film, without the skin of its surface (see [`crate::surface`]).

/// Reflectance of a film so thick that nothing behind it shows.
///
/// `R∞ = 1 + K/S − √((K/S)² + 2 K/S)`, written so that it keeps its digits for strong colours.
///
/// Range: `k_over_s` ≥ 0; below it counts as 0.
///
/// # Source
/// `kubelka-1948`.
///
/// ```
/// assert!((colour::film::opaque(0.5) - 0.381_966_011).abs() < 1e-9);
/// ```
#[must_use]
pub fn opaque(k_over_s: f64) -> f64 {
    let q = k_over_s.max(0.0);
    1.0 / (1.0 + q + (q * (q + 2.0)).sqrt())
}

/// K/S of an opaque film from its reflectance: `(1 − R)² / 2R`.
///
/// Range: 0 < R ≤ 1; outside it is clamped to 1e-6 and 1.
#[must_use]
pub fn k_over_s(opaque_reflectance: f64) -> f64 {
    let r = opaque_reflectance.clamp(1e-6, 1.0);
    (1.0 - r).powi(2) / (2.0 * r)
}

/// Reflectance of a film of thickness `x` over a backing of reflectance `backing`.
///
/// `R = (1 − Rg (a − b coth bSX)) / (a − Rg + b coth bSX)`, `a = 1 + K/S`, `b = √(a² − 1)`. Guarded at its three bare spots: no
/// film, no scattering (`Rg e^(−2KX)`), no absorption (`b → 0`, where `b coth bSX → 1/SX`).
///
/// Range: `k, s, x` ≥ 0, `backing` 0 to 1.
///
/// # Source
/// `kubelka-1948`, hyperbolic form.
///
/// ```
/// // A film that only scatters, s·x = 1, over black gives half of the light back.
/// assert!((colour::film::over(0.0, 1.0, 1.0, 0.0) - 0.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn over(k: f64, s: f64, x: f64, backing: f64) -> f64 {
    if x <= 0.0 || (k <= 0.0 && s <= 0.0) {
        return backing;
    }
    if s <= 1e-12 * k {
        return backing * (-2.0 * k * x).exp();
    }
    let q = k / s;
    let a = 1.0 + q;
    let b = (q * (q + 2.0)).sqrt();
    let sx = s * x;
    let t = b * sx;
    // b·coth(t): its series about 0, its limit far out.
    let c = if t < 1e-4 {
        (1.0 + t * t / 3.0) / sx
    } else if t > 350.0 {
        b
    } else {
        b / t.tanh()
    };
    (1.0 - backing * (a - c)) / (a - backing + c)
}

/// What a film is made of, read from how it looks over two backings at one thickness: `(k·x, s·x)`.
///
/// Both equations of [`over`] are linear in `a` and `b coth bSX`. Each pair is a reflectance and its backing.
///
/// Returns `None` where the two say nothing of the film: equal backings, or a film that covers so well that both look the
/// same.
#[must_use]
pub fn from_two_backings(dark: (f64, f64), light: (f64, f64)) -> Option<(f64, f64)> {
    let ((r0, g0), (r1, g1)) = (dark, light);
    let (p0, m0, q0) = (r0 + g0, r0 - g0, 1.0 + r0 * g0);
    let (p1, m1, q1) = (r1 + g1, r1 - g1, 1.0 + r1 * g1);
    let denominator = p0 * m1 - p1 * m0;
    if denominator.abs() < 1e-9 || r1 - r0 < 1e-6 {
        return None;
    }
    let a = ((q0 * m1 - q1 * m0) / denominator).max(1.0);
    let c = (p0 * q1 - p1 * q0) / denominator;
    let b = (a * a - 1.0).sqrt();
    let sx = if b < 1e-6 { 1.0 / c } else { (b / c).atanh() / b };
    (sx.is_finite() && sx > 0.0).then_some(((a - 1.0) * sx, sx))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn opaque_and_back() {
        for r in [1e-5, 0.03, 0.4, 0.9, 0.999] {
            assert!((opaque(k_over_s(r)) - r).abs() < 1e-12, "{r}");
        }
    }

    #[test]
    fn a_thick_film_forgets_its_backing() {
        assert!((over(0.3, 1.0, 1e4, 0.9) - opaque(0.3)).abs() < 1e-12);
        assert!((over(0.3, 1.0, 1e4, 0.0) - opaque(0.3)).abs() < 1e-12);
    }

    #[test]
    fn guards_join_without_a_step() {
        let near = over(1e-10, 1.0, 1.0, 0.2);
        let at = over(0.0, 1.0, 1.0, 0.2);
        assert!((near - at).abs() < 1e-8);
        assert!((over(1.0, 0.0, 0.5, 0.8) - 0.8 * (-1.0_f64).exp()).abs() < 1e-12);
        assert!((over(1.0, 1e-9, 0.5, 0.8) - over(1.0, 0.0, 0.5, 0.8)).abs() < 1e-8);
        assert!((over(1.0, 1.0, 0.0, 0.37) - 0.37).abs() < 1e-15);
    }

    #[test]
    fn two_backings_give_the_film_back() {
        for (k, s, x) in [(0.02, 1.0, 1.5), (0.8, 0.6, 0.7), (0.0, 2.0, 0.5)] {
            let read = |g| (over(k, s, x, g), g);
            let (kx, sx) = from_two_backings(read(0.02), read(0.8)).unwrap();
            assert!((kx - k * x).abs() < 1e-6 && (sx - s * x).abs() < 1e-6, "{kx} {sx}");
        }
        assert!(from_two_backings((0.5, 0.1), (0.5, 0.1)).is_none());
    }
}
