//! The skin of a film: light is thrown back where air meets binder, on the way in and again on the way out.
//!
//! Kubelka–Munk knows only what happens inside. `k1` is the share mirrored on the way in (0 for a reading that leaves the
//! mirror out, which is what hand-held meters and swatches give), `k2` the share turned back inside on the way out.

/// Share turned back inside that this crate reckons with.
///
/// Perfectly diffuse light in a binder of refractive index 1.5 makes 0.6; fits to readings lie between 0.4 and 0.6 (status
/// MEM). A wrong value here moves coats and mixtures little, because the same one is used on the way in and out.
pub const INSIDE: f64 = 0.5;

/// What a meter reads of a film whose inside gives back `internal`.
///
/// `R = k1 + (1 − k1)(1 − k2) Ri / (1 − k2 Ri)`. Range: all 0 to 1, `k2` below 1.
///
/// # Source
/// `saunderson-1942`, as restated by Allen (1980), eq. 24.
///
/// ```
/// assert!((colour::surface::measured(0.2, 0.0, 0.4) - 0.130_434_783).abs() < 1e-9);
/// ```
#[must_use]
pub fn measured(internal: f64, k1: f64, k2: f64) -> f64 {
    k1 + (1.0 - k1) * (1.0 - k2) * internal / (1.0 - k2 * internal)
}

/// The inside of a film of which a meter reads `measured`: the inverse of [`measured`].
///
/// `Ri = (R − k1) / (1 − k1 − k2 (1 − R))`.
///
/// # Source
/// `saunderson-1942`, as restated by Allen (1980), eq. 26.
#[must_use]
pub fn internal(measured: f64, k1: f64, k2: f64) -> f64 {
    (measured - k1) / (1.0 - k1 - k2 * (1.0 - measured))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_undoes_the_other() {
        for (r, k1, k2) in [(0.02, 0.0, 0.5), (0.5, 0.04, 0.6), (0.99, 0.02, 0.4)] {
            assert!((internal(measured(r, k1, k2), k1, k2) - r).abs() < 1e-12);
        }
    }
}
