//! What a paint swallows and throws back by band, read from one or two swatches.
//!
//! One reading is three numbers and a film has sixty-two. The rest comes from what pigments are like: reflectances and
//! scattering change gently from band to band. Both swatches are fitted at once, each to the error of a hand-held meter,
//! so that the tint, in which a dark paint shows its colour, also mends the spectrum of the dark paint itself.

use crate::film;
use crate::hiding::internal_k_over_s;
use crate::lab::Lab;
use crate::light::{BANDS, Bands, Light};
use crate::linear::solve;
use crate::spectrum::Spectrum;
use crate::surface::{self, INSIDE};

/// A paint by band, in units in which the shelf's white throws back 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Pigment {
    /// What it swallows.
    pub k: Bands,
    /// What it throws back.
    pub s: Bands,
}

/// How strongly gentleness is asked of each part, against readings that are good to 0.4.
///
/// The values were chosen on invented paints (`tests/data/km_mix.csv`); four-fold changes of any move the median error of a
/// mixture by less than 0.2.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Gentleness {
    own: f64,
    tint: f64,
    level: f64,
    slope: f64,
}

impl Gentleness {
    pub(crate) const USUAL: Self = Self {
        own: 1.0,
        tint: 0.3,
        level: 0.1,
        slope: 4.0,
    };
    /// Another way to read the same swatches, for the sake of its disagreement.
    pub(crate) const LOOSE: Self = Self {
        own: 1.0,
        tint: 1.0,
        level: 0.3,
        slope: 0.6,
    };
}

/// Error of a reading in each of L, a, b.
pub(crate) const READING: f64 = 0.4;
/// How far the mean of ln S may lie from 0 (the white's), as a standard deviation.
const LEVEL_SPREAD: f64 = 3.3;

/// 31 of the paint's spectrum, 31 of its scattering, and the scattering's level.
const UNKNOWNS: usize = 2 * BANDS + 1;
const LEVEL: usize = 2 * BANDS;
const MOST_STEPS: usize = 25;

impl Pigment {
    /// The shelf's white, which sets the unit.
    pub(crate) fn white(colour: Lab) -> Self {
        Self {
            k: internal_k_over_s(&Spectrum::nearest(colour).0),
            s: [1.0; BANDS],
        }
    }

    /// A paint of which only the colour is known, with a level of scattering in all bands.
    pub(crate) fn flat(colour: Lab, scattering: f64) -> Self {
        let q = internal_k_over_s(&Spectrum::nearest(colour).0);
        Self {
            k: q.map(|q| q * scattering),
            s: [scattering; BANDS],
        }
    }

    /// The level of scattering at which the paint half and half with the white looks most like `tint`.
    pub(crate) fn flat_from_tint(colour: Lab, tint: Lab, white: &Self) -> Self {
        let base = Self::flat(colour, 1.0);
        let off = |ln_s: f64| {
            let s = ln_s.exp();
            let mixture = mixed(&[(&base, 0.5 * s), (white, 0.5)]).lab(Light::Day);
            crate::difference(mixture, tint)
        };
        // The difference has one valley in ln S, but may be flat far from it: scan, then narrow.
        let steps = 40;
        let at = |i: usize| -5.3 + 8.3 * (0..i).fold(0.0, |n, _| n + 1.0) / 40.0;
        let best = (0..=steps)
            .min_by(|&i, &j| off(at(i)).total_cmp(&off(at(j))))
            .unwrap_or(0);
        let (mut low, mut high) = (at(best.saturating_sub(1)), at((best + 1).min(steps)));
        while high - low > 1e-3 {
            let (left, right) = (low + 0.382 * (high - low), low + 0.618 * (high - low));
            if off(left) < off(right) {
                high = right
            } else {
                low = left
            }
        }
        Self::flat(colour, f64::midpoint(low, high).exp())
    }

    /// Both swatches fitted at once.
    pub(crate) fn from_tint(colour: Lab, tint: Lab, white: &Self, gentleness: Gentleness) -> Self {
        let start = Self::flat_from_tint(colour, tint, white);
        Fit {
            colour,
            tint,
            white: &white.k,
            gentleness,
        }
        .run(&start)
    }
}

/// The reflectance a meter reads of paints mixed by volume.
///
/// `K = Σ c K`, `S = Σ c S`; amounts need not add up to 1.
///
/// # Source
/// `two-constant-mixing`.
#[must_use]
pub fn mixed(parts: &[(&Pigment, f64)]) -> Spectrum {
    Spectrum(std::array::from_fn(|i| {
        let (k, s) = parts
            .iter()
            .fold((0.0, 0.0), |(k, s), (p, c)| (k + c * p.k[i], s + c * p.s[i]));
        surface::measured(film::opaque(k / s.max(1e-12)), 0.0, INSIDE)
    }))
}

struct Fit<'a> {
    colour: Lab,
    tint: Lab,
    white: &'a Bands,
    gentleness: Gentleness,
}

/// Value and derivatives of one band.
#[derive(Clone, Copy, Default)]
struct Band {
    r: f64,
    r_by_z: f64,
    tint_r: f64,
    tint_z: f64,
    tint_r_by_z: f64,
    tint_r_by_s: f64,
    tint_z_by_r: f64,
}

/// A residual: its value and the unknowns it hangs on.
type Condition = (f64, Vec<(usize, f64)>);

impl Fit<'_> {
    /// Levenberg and Marquardt's descent.
    fn run(&self, start: &Pigment) -> Pigment {
        let own = Spectrum::nearest(self.colour).0;
        let mut x = [0.0; UNKNOWNS];
        for i in 0..BANDS {
            let r = own.0[i].clamp(1e-5, 1.0 - 1e-5);
            x[i] = 0.5 * (r / (1.0 - r)).ln();
            x[BANDS + i] = start.s[i].ln();
        }
        x[LEVEL] = start.s[0].ln();
        let mut damping = 1e-3;
        let mut conditions = self.conditions(&x);
        let mut cost = squares(&conditions);
        for _ in 0..MOST_STEPS {
            let (next, next_conditions) = loop {
                let trial = step(&x, &conditions, damping);
                let trial_conditions = self.conditions(&trial);
                if squares(&trial_conditions) < cost {
                    damping = (damping / 5.0).max(1e-9);
                    break (trial, trial_conditions);
                }
                damping *= 5.0;
                if damping > 1e6 {
                    return pigment(&x);
                }
            };
            let gain = cost - squares(&next_conditions);
            (x, conditions, cost) = (next, next_conditions, cost - gain);
            if gain < 1e-5 * cost {
                break;
            }
        }
        pigment(&x)
    }

    fn conditions(&self, x: &[f64; UNKNOWNS]) -> Vec<Condition> {
        let bands: Vec<Band> = (0..BANDS).map(|i| band(x[i], x[BANDS + i], self.white[i])).collect();
        let Gentleness {
            own,
            tint,
            level,
            slope,
        } = self.gentleness;
        let mut all = Vec::with_capacity(4 * BANDS + 6);
        for i in 1..BANDS {
            let (left, right) = (&bands[i - 1], &bands[i]);
            all.push((own * (x[i] - x[i - 1]), vec![(i, own), (i - 1, -own)]));
            let (s, s_before) = (BANDS + i, BANDS + i - 1);
            all.push((slope * (x[s] - x[s_before]), vec![(s, slope), (s_before, -slope)]));
            let (up, down) = (tint * right.tint_z_by_r, tint * left.tint_z_by_r);
            all.push((
                tint * (right.tint_z - left.tint_z),
                vec![
                    (i, up * right.tint_r_by_z),
                    (s, up * right.tint_r_by_s),
                    (i - 1, -down * left.tint_r_by_z),
                    (s_before, -down * left.tint_r_by_s),
                ],
            ));
        }
        for i in 0..BANDS {
            all.push((
                level * (x[BANDS + i] - x[LEVEL]),
                vec![(BANDS + i, level), (LEVEL, -level)],
            ));
        }
        all.push((x[LEVEL] / LEVEL_SPREAD, vec![(LEVEL, 1.0 / LEVEL_SPREAD)]));
        let own_by = |i: usize| vec![(i, bands[i].r_by_z)];
        let tint_by = |i: usize| vec![(i, bands[i].tint_r_by_z), (BANDS + i, bands[i].tint_r_by_s)];
        seen_as(self.colour, &std::array::from_fn(|i| bands[i].r), own_by, &mut all);
        seen_as(self.tint, &std::array::from_fn(|i| bands[i].tint_r), tint_by, &mut all);
        all
    }
}

/// Adds the three conditions that a reflectance be seen as `want`; `by` gives what a band's reflectance hangs on.
fn seen_as(want: Lab, have: &Bands, by: impl Fn(usize) -> Vec<(usize, f64)>, all: &mut Vec<Condition>) {
    let (lab, slopes) = lab_and_slopes(have);
    let off = [lab.l - want.l, lab.a - want.a, lab.b - want.b];
    for (value, slope) in off.iter().zip(&slopes) {
        let hangs_on = (0..BANDS).flat_map(|i| by(i).into_iter().map(move |(x, d)| (x, slope[i] * d / READING)));
        all.push((value / READING, hangs_on.collect()));
    }
}

/// One band: the paint's reflectance (R = (tanh z + 1)/2) and that of its tint, with derivatives.
fn band(z: f64, ln_s: f64, white_q: f64) -> Band {
    let t = z.tanh();
    let r = f64::midpoint(t, 1.0).clamp(1e-7, 1.0 - 1e-9);
    let r_by_z = f64::midpoint(1.0, -t * t);
    let open = 1.0 - INSIDE * (1.0 - r);
    let inside = r / open;
    let inside_by_r = (1.0 - INSIDE) / (open * open);
    let q = film::k_over_s(inside);
    let q_by_inside = (inside * inside - 1.0) / (2.0 * inside * inside);
    let s = ln_s.exp();
    let tint_q = ((q * s + white_q) / (s + 1.0)).max(1e-9);
    let root = (tint_q * (tint_q + 2.0)).sqrt();
    let tint_inside = film::opaque(tint_q);
    let tint_inside_by_q = -tint_inside / root;
    let tint_r = surface::measured(tint_inside, 0.0, INSIDE);
    let tint_by_q = tint_inside_by_q * (1.0 - INSIDE) / (1.0 - INSIDE * tint_inside).powi(2);
    Band {
        r,
        r_by_z,
        tint_r,
        tint_z: 0.5 * (tint_r / (1.0 - tint_r)).ln(),
        tint_r_by_z: tint_by_q * s / (s + 1.0) * q_by_inside * inside_by_r * r_by_z,
        tint_r_by_s: tint_by_q * s * (q - tint_q) / (s + 1.0),
        tint_z_by_r: 0.5 / (tint_r * (1.0 - tint_r)),
    }
}

/// The daylight colour of a reflectance and how each of L, a, b changes with each band.
pub(crate) fn lab_and_slopes(reflectance: &Bands) -> (Lab, [Bands; 3]) {
    let weights = Light::Day.weights();
    let white = weights.white;
    let xyz = weights.xyz(reflectance);
    let slope = |value: f64, white: f64| {
        let t = value / white;
        let by_t = if t > 216.0 / 24389.0 {
            1.0 / (3.0 * t.cbrt().powi(2))
        } else {
            24389.0 / 27.0 / 116.0
        };
        by_t / white
    };
    let (fx, fy, fz) = (slope(xyz.x, white.x), slope(xyz.y, white.y), slope(xyz.z, white.z));
    let mut slopes = [[0.0; BANDS]; 3];
    for (i, w) in weights.bands.iter().enumerate() {
        slopes[0][i] = 116.0 * fy * w[1];
        slopes[1][i] = 500.0 * (fx * w[0] - fy * w[1]);
        slopes[2][i] = 200.0 * (fy * w[1] - fz * w[2]);
    }
    (xyz.to_lab(white), slopes)
}

fn squares(conditions: &[Condition]) -> f64 {
    conditions.iter().map(|(value, _)| value * value).sum()
}

/// One damped step of Gauss and Newton, no unknown by more than 1.5.
fn step(x: &[f64; UNKNOWNS], conditions: &[Condition], damping: f64) -> [f64; UNKNOWNS] {
    let mut matrix = vec![0.0; UNKNOWNS * UNKNOWNS];
    let mut right = [0.0; UNKNOWNS];
    for (value, hangs_on) in conditions {
        for &(i, slope) in hangs_on {
            right[i] -= slope * value;
            for &(j, other) in hangs_on {
                matrix[i * UNKNOWNS + j] += slope * other;
            }
        }
    }
    for i in 0..UNKNOWNS {
        matrix[i * UNKNOWNS + i] += damping;
    }
    let mut next = *x;
    if solve(&mut matrix, &mut right).is_some() {
        for (value, change) in next.iter_mut().zip(right) {
            *value += change.clamp(-1.5, 1.5);
        }
        for z in &mut next[..BANDS] {
            *z = z.clamp(-6.0, 6.0);
        }
        for ln_s in &mut next[BANDS..] {
            *ln_s = ln_s.clamp(-7.0, 4.0);
        }
    }
    next
}

fn pigment(x: &[f64; UNKNOWNS]) -> Pigment {
    let s: Bands = std::array::from_fn(|i| x[BANDS + i].exp());
    let k = std::array::from_fn(|i| {
        let r = f64::midpoint(x[i].tanh(), 1.0).clamp(1e-7, 1.0 - 1e-9);
        film::k_over_s(surface::internal(r, 0.0, INSIDE)) * s[i]
    });
    Pigment { k, s }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::difference;

    const WHITE: Lab = Lab::new(96.0, -0.5, 2.0);

    #[test]
    fn a_paint_looks_like_its_two_swatches() {
        let white = Pigment::white(WHITE);
        let truth = Pigment {
            k: Pigment::flat(Lab::new(35.0, 40.0, 25.0), 0.4).k,
            s: [0.4; BANDS],
        };
        let (own, tint) = (
            mixed(&[(&truth, 1.0)]).lab(Light::Day),
            mixed(&[(&truth, 0.5), (&white, 0.5)]).lab(Light::Day),
        );
        let read = Pigment::from_tint(own, tint, &white, Gentleness::USUAL);
        assert!(difference(mixed(&[(&read, 1.0)]).lab(Light::Day), own) < 0.3);
        assert!(difference(mixed(&[(&read, 0.5), (&white, 0.5)]).lab(Light::Day), tint) < 0.3);
        let mean_s = read.s.iter().sum::<f64>() / 31.0;
        assert!((mean_s - 0.4).abs() < 0.08, "{mean_s}");
    }

    #[test]
    fn slopes_are_those_of_the_colour() {
        let mut reflectance: Bands = std::array::from_fn(|i| 0.1 + 0.02 * (0..i).fold(0.0, |n, _| n + 1.0));
        let (lab, slopes) = lab_and_slopes(&reflectance);
        for i in [0, 7, 15, 30] {
            let before = reflectance[i];
            reflectance[i] += 1e-6;
            let moved = Spectrum(reflectance).lab(Light::Day);
            reflectance[i] = before;
            for (k, change) in [moved.l - lab.l, moved.a - lab.a, moved.b - lab.b].iter().enumerate() {
                assert!((change / 1e-6 - slopes[k][i]).abs() < 1e-3, "{k} {i}");
            }
        }
    }

    #[test]
    fn band_slopes_are_those_of_the_band() {
        for (z, ln_s, q) in [(-1.2, -1.0, 0.01), (0.4, 0.5, 0.02), (-2.5, -2.0, 0.002)] {
            let at = band(z, ln_s, q);
            let by_z = (band(z + 1e-6, ln_s, q).tint_r - at.tint_r) / 1e-6;
            let by_s = (band(z, ln_s + 1e-6, q).tint_r - at.tint_r) / 1e-6;
            assert!(
                (by_z - at.tint_r_by_z).abs() < 1e-4 && (by_s - at.tint_r_by_s).abs() < 1e-4,
                "{by_z} {by_s}"
            );
        }
    }
}
