//! The share of the light that a surface gives back, band by band, and a likely one for a colour of which only three
//! numbers are known.
//!
//! Pigments have smooth spectra. Of the endless many reflectances with the same colour, [`Spectrum::smoothest`] takes the
//! one which changes least from band to band, written as (tanh z + 1)/2 so that it can neither fall below nothing nor give
//! back more than it gets.

use crate::difference;
use crate::lab::{Lab, Xyz};
use crate::light::{BANDS, Bands, Light};
use crate::linear::solve;

/// Reflectance 0 to 1 in 31 bands, 400 to 700 nm, every 10 nm.
#[derive(Debug, Clone, PartialEq)]
pub struct Spectrum(pub Bands);

/// No reflectance between nothing and everything has this colour.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error(
    "no painted surface can have the colour L {l:.1}, a {a:.1}, b {b:.1}: it is brighter or purer than any. Check the reading."
)]
pub struct Unpaintable {
    /// Lightness asked for.
    pub l: f64,
    /// Green to red asked for.
    pub a: f64,
    /// Blue to yellow asked for.
    pub b: f64,
}

/// Bands and the three conditions on the colour.
const UNKNOWNS: usize = BANDS + 3;
/// Newton steps before giving up; ordinary colours take 5 to 15.
const MOST_STEPS: usize = 120;

impl Spectrum {
    /// A neutral surface of one reflectance.
    #[must_use]
    pub const fn flat(reflectance: f64) -> Self {
        Self([reflectance; BANDS])
    }

    /// Its colour in a light.
    #[must_use]
    pub fn lab(&self, light: Light) -> Lab {
        self.xyz(light).to_lab(light.white())
    }

    /// Its tristimulus values in a light.
    #[must_use]
    pub fn xyz(&self, light: Light) -> Xyz {
        light.weights().xyz(&self.0)
    }

    /// The smoothest reflectance with exactly this daylight colour.
    ///
    /// Minimises Σ (z\[i+1\] − z\[i\])² under the three conditions on X, Y, Z, with R = (tanh z + 1)/2: Newton on the 34
    /// conditions of Lagrange. Comes back to the same Lab within 1e-6.
    ///
    /// # Errors
    /// [`Unpaintable`] for a colour that no reflectance has, and for full white and full black themselves.
    ///
    /// # Source
    /// `smoothest-tanh` (Burns, least hyperbolic tangent slope squared), status MEM.
    pub fn smoothest(colour: Lab) -> Result<Self, Unpaintable> {
        let refuse = Unpaintable {
            l: colour.l,
            a: colour.a,
            b: colour.b,
        };
        if !colour.is_plausible() {
            return Err(refuse);
        }
        let goal = colour.to_xyz(Light::Day.white());
        newton([goal.x, goal.y, goal.z]).ok_or(refuse)
    }

    /// The smoothest reflectance of this colour, or of the paintable colour next to it towards the grey of its lightness.
    ///
    /// The second number says how far that is (CIEDE2000); 0 for nearly every reading.
    #[must_use]
    pub fn nearest(colour: Lab) -> (Self, f64) {
        if let Ok(exact) = Self::smoothest(colour) {
            return (exact, 0.0);
        }
        let l = if colour.l.is_finite() {
            colour.l.clamp(0.2, 99.8)
        } else {
            50.0
        };
        let toward = |share: f64| Lab::new(l, colour.a * share, colour.b * share);
        let (mut good, mut low, mut high) = (Self::flat(Lab::new(l, 0.0, 0.0).light_reflectance() / 100.0), 0.0, 1.0);
        if let Ok(same_hue) = Self::smoothest(toward(1.0)) {
            (good, low) = (same_hue, 1.0);
        }
        while high - low > 1e-3 {
            let middle = f64::midpoint(low, high);
            match Self::smoothest(toward(middle)) {
                Ok(spectrum) => (good, low) = (spectrum, middle),
                Err(_) => high = middle,
            }
        }
        let apart = difference(good.lab(Light::Day), colour);
        (good, apart)
    }
}

/// Why a text is no spectrum.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NotASpectrum {
    /// A line that is no pair of numbers.
    #[error("line {line}: “{text}” is not a wavelength and a reflectance; write for example “550, 0.42” or “550, 42”.")]
    Line {
        /// Its number, from 1.
        line: usize,
        /// What stands there.
        text: String,
    },
    /// Too little of the visible range.
    #[error("the readings run from {from} to {to} nm; they must cover 400 to 700 nm, at least every 20 nm.")]
    Range {
        /// First wavelength.
        from: f64,
        /// Last wavelength.
        to: f64,
    },
    /// A reflectance that is none.
    #[error(
        "line {line}: a reflectance of {value} cannot be; it lies between 0 and 1, or between 0 and 100 as percent."
    )]
    Value {
        /// Its number, from 1.
        line: usize,
        /// What stands there.
        value: f64,
    },
}

impl Spectrum {
    /// Reads lines of wavelength in nm and reflectance, with a comma, semicolon, tab or blanks between; lines that do not
    /// begin with a figure are headings. Shares and percents are told apart by the largest value.
    ///
    /// Readings finer or coarser than 10 nm are interpolated in straight lines.
    ///
    /// # Errors
    /// [`NotASpectrum`] names the line.
    pub fn parse(text: &str) -> Result<Self, NotASpectrum> {
        let mut readings: Vec<(f64, f64)> = Vec::new();
        for (line, row) in (1..).zip(text.lines().take(5000)) {
            let row = row.trim();
            if !row.starts_with(|c: char| c.is_ascii_digit()) {
                continue;
            }
            let fields: Vec<f64> = row
                .split([',', ';', '\t', ' '])
                .filter(|f| !f.is_empty())
                .map_while(|f| f.parse().ok())
                .collect();
            let [nm, value] = fields[..] else {
                return Err(NotASpectrum::Line {
                    line,
                    text: row.chars().take(40).collect(),
                });
            };
            if !(-0.001..=100.5).contains(&value) {
                return Err(NotASpectrum::Value { line, value });
            }
            readings.push((nm, value));
        }
        readings.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (from, to) = (
            readings.first().map_or(0.0, |r| r.0),
            readings.last().map_or(0.0, |r| r.0),
        );
        let gaps = readings.windows(2).any(|pair| pair[1].0 - pair[0].0 > 20.0);
        if from > 400.0 || to < 700.0 || gaps {
            return Err(NotASpectrum::Range { from, to });
        }
        // No painted surface gives back more than all; where one value does, all are percents.
        let percent = readings.iter().any(|r| r.1 > 1.5);
        let scale = if percent { 0.01 } else { 1.0 };
        Ok(Self(std::array::from_fn(|band| {
            let nm = Light::wavelength_nm(band);
            let after = readings.partition_point(|r| r.0 < nm).min(readings.len() - 1);
            let (right, left) = (readings[after], readings[after.saturating_sub(1)]);
            let span = right.0 - left.0;
            let value = if span > 0.0 {
                left.1 + (nm - left.0) / span * (right.1 - left.1)
            } else {
                right.1
            };
            (value * scale).clamp(0.0, 1.0)
        })))
    }
}

/// Newton's method from a grey of the same luminance.
fn newton(goal: [f64; 3]) -> Option<Spectrum> {
    let weights = &Light::Day.weights().bands;
    let start = (2.0 * goal[1] - 1.0).clamp(-0.995, 0.995).atanh();
    let mut z = [start; BANDS];
    let mut multiplier = [0.0; 3];
    for _ in 0..MOST_STEPS {
        let mut matrix = [0.0; UNKNOWNS * UNKNOWNS];
        let mut right = [0.0; UNKNOWNS];
        let mut reflectance = [0.0; BANDS];
        for i in 0..BANDS {
            let t = z[i].tanh();
            let slope = f64::midpoint(1.0, -t * t);
            let bend = -2.0 * t * slope;
            let pull: f64 = (0..3).map(|k| weights[i][k] * multiplier[k]).sum();
            reflectance[i] = f64::midpoint(t, 1.0);
            matrix[i * UNKNOWNS + i] = bend * pull;
            right[i] = slope * pull;
            for k in 0..3 {
                matrix[i * UNKNOWNS + BANDS + k] = slope * weights[i][k];
                matrix[(BANDS + k) * UNKNOWNS + i] = slope * weights[i][k];
            }
        }
        for i in 0..BANDS - 1 {
            let j = i + 1;
            right[i] += 2.0 * (z[i] - z[j]);
            right[j] += 2.0 * (z[j] - z[i]);
            matrix[i * UNKNOWNS + i] += 2.0;
            matrix[j * UNKNOWNS + j] += 2.0;
            matrix[i * UNKNOWNS + j] -= 2.0;
            matrix[j * UNKNOWNS + i] -= 2.0;
        }
        for k in 0..3 {
            right[BANDS + k] = (0..BANDS).map(|i| reflectance[i] * weights[i][k]).sum::<f64>() - goal[k];
        }
        if right.iter().all(|r| r.abs() < 1e-11) {
            return Some(Spectrum(reflectance));
        }
        solve(&mut matrix, &mut right)?;
        let longest = right[..BANDS].iter().fold(0.0_f64, |m, step| m.max(step.abs()));
        let share = (2.0 / longest).min(1.0);
        for (value, step) in z.iter_mut().chain(&mut multiplier).zip(&right) {
            *value -= share * step;
        }
        if z.iter().any(|value| !value.is_finite() || value.abs() > 18.0) {
            return None;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Srgb;

    #[test]
    fn a_colour_comes_back_exactly() {
        for hex in [
            "#8a9a5b", "#1f3a5f", "#c0392b", "#ffe600", "#808080", "#0a0a0a", "#f4f4f0",
        ] {
            let colour = Srgb::parse(hex).unwrap().to_lab();
            let spectrum = Spectrum::smoothest(colour).unwrap();
            let back = spectrum.lab(Light::Day);
            assert!(difference(colour, back) < 1e-6, "{hex}: {back:?}");
            assert!(spectrum.0.iter().all(|r| (0.0..=1.0).contains(r)));
        }
    }

    #[test]
    fn readings_are_read_in_shares_and_percents() {
        let shares: String = (38..=74).map(|i| format!("{}, 0.{:03}\n", i * 10, 100 + i)).collect();
        let percents: String = (19..=37)
            .map(|i| format!("{};{}\n", i * 20, 10.0 + f64::from(i) * 0.2))
            .collect();
        let (one, other) = (
            Spectrum::parse(&format!("nm,R\n{shares}")).unwrap(),
            Spectrum::parse(&percents).unwrap(),
        );
        assert!(
            one.0.iter().zip(&other.0).all(|(a, b)| (a - b).abs() < 1e-9),
            "{one:?} {other:?}"
        );
        assert!((one.0[0] - 0.140).abs() < 1e-9 && (one.0[30] - 0.170).abs() < 1e-9);
    }

    #[test]
    fn readings_that_do_not_do_are_named() {
        let said = |text: &str| Spectrum::parse(text).unwrap_err().to_string();
        assert!(said("400, 0.1\n500; x\n").starts_with("line 2: “500; x”"));
        assert!(said("400, 0.1\n410, 140").starts_with("line 2: a reflectance of 140"));
        assert!(said("450, 0.1\n460, 0.1").contains("from 450 to 460 nm"));
        assert!(said("").contains("400 to 700 nm"));
        assert!(said("400,0.1\n700,0.1").contains("at least every 20 nm"));
    }

    #[test]
    fn a_grey_is_flat() {
        let spectrum = Spectrum::smoothest(Lab::new(50.0, 0.0, 0.0)).unwrap();
        assert!(
            spectrum.0.iter().all(|r| (r - 0.184_187).abs() < 1e-5),
            "{:?}",
            spectrum.0
        );
    }

    #[test]
    fn every_screen_colour_has_a_spectrum_near_it() {
        let steps = [0_u8, 51, 102, 153, 204, 255];
        for code in 0..216_usize {
            let (r, g, b) = (steps[code / 36], steps[code / 6 % 6], steps[code % 6]);
            let colour = Srgb::new(r, g, b).to_lab();
            let (spectrum, apart) = Spectrum::nearest(colour);
            assert!(spectrum.0.iter().all(|v| (0.0..=1.0).contains(v)));
            assert!(apart < 3.0, "{} is {apart:.2} away", Srgb::new(r, g, b));
        }
    }

    #[test]
    fn a_colour_no_paint_can_have_is_refused() {
        assert!(Spectrum::smoothest(Lab::new(95.0, 80.0, 0.0)).is_err());
        assert!(Spectrum::smoothest(Lab::new(f64::NAN, 0.0, 0.0)).is_err());
        let (_, apart) = Spectrum::nearest(Lab::new(95.0, 80.0, 0.0));
        assert!(apart > 5.0);
    }
}
