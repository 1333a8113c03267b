//! A colour as a meter gives it, and how far two of them are apart.
//!
//! [`Lab`] is the one currency of the crate: readings come in as it, screen colours and spectra are turned into it, and
//! differences are taken in it. It is CIE L\*a\*b\* under daylight (D65) with the 2° observer throughout; a reading made
//! for print (D50) is another number for the same colour: [`Lab::from_print_reading`].

use serde::{Deserialize, Serialize};

use crate::light::Light;

/// CIE 15: below this share of white the cube root gives way to a straight line.
const EPSILON: f64 = 216.0 / 24389.0;
const KAPPA: f64 = 24389.0 / 27.0;

/// Lightness 0 (black) to 100 (white), `a` from green (−) to red (+), `b` from blue (−) to yellow (+).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Lab {
    /// Lightness, 0 to 100.
    pub l: f64,
    /// Green to red, about −128 to 128.
    pub a: f64,
    /// Blue to yellow, about −128 to 128.
    pub b: f64,
}

/// Tristimulus values, `y` being 1 for a perfect white in the same light.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Xyz {
    /// Red-ish.
    pub x: f64,
    /// Luminance, 0 to 1.
    pub y: f64,
    /// Blue-ish.
    pub z: f64,
}

impl Lab {
    /// A colour from its three numbers.
    #[must_use]
    pub const fn new(l: f64, a: f64, b: f64) -> Self {
        Self { l, a, b }
    }

    /// Whether the three are numbers that a reading can have: lightness 0 to 100, the others within ±200.
    #[must_use]
    pub fn is_plausible(self) -> bool {
        (0.0..=100.5).contains(&self.l) && self.a.abs() <= 200.0 && self.b.abs() <= 200.0
    }

    /// How strong the colour is: 0 for a grey.
    #[must_use]
    pub fn chroma(self) -> f64 {
        self.a.hypot(self.b)
    }

    /// Its place on the colour circle in degrees, 0 to 360: red 0, yellow 90, green 180, blue 270.
    #[must_use]
    pub fn hue_deg(self) -> f64 {
        self.b.atan2(self.a).to_degrees().rem_euclid(360.0)
    }

    /// Light reflectance value: the share of the light that comes back, 0 to 100.
    ///
    /// `LRV = 100 · Y`. The two surfaces of an edge or a handle are told apart by the difference of theirs.
    ///
    /// ```
    /// assert!((colour::Lab::new(50.0, 0.0, 0.0).light_reflectance() - 18.42).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn light_reflectance(self) -> f64 {
        self.to_xyz(Light::Day.white()).y * 100.0
    }

    /// Tristimulus values against a white.
    #[must_use]
    pub fn to_xyz(self, white: Xyz) -> Xyz {
        let fy = (self.l + 16.0) / 116.0;
        let back = |f: f64| {
            if f.powi(3) > EPSILON {
                f.powi(3)
            } else {
                (116.0 * f - 16.0) / KAPPA
            }
        };
        Xyz {
            x: back(fy + self.a / 500.0) * white.x,
            y: back(fy) * white.y,
            z: back(fy - self.b / 200.0) * white.z,
        }
    }
}

impl Xyz {
    /// Lightness and colour against a white.
    ///
    /// `L = 116 f(Y/Yn) − 16`, `a = 500 (f(X/Xn) − f(Y/Yn))`, `b = 200 (f(Y/Yn) − f(Z/Zn))`, with `f` the cube root and
    /// near black its tangent.
    ///
    /// # Source
    /// `cie-15`, CIE 1976 L\*a\*b\*.
    #[must_use]
    pub fn to_lab(self, white: Self) -> Lab {
        let f = |t: f64| {
            if t > EPSILON {
                t.cbrt()
            } else {
                (KAPPA * t + 16.0) / 116.0
            }
        };
        let (fx, fy, fz) = (f(self.x / white.x), f(self.y / white.y), f(self.z / white.z));
        Lab::new(116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::difference;

    #[test]
    fn a_colour_comes_back_from_xyz() {
        for lab in [
            Lab::new(0.5, 0.2, -0.1),
            Lab::new(61.0, -16.3, 31.2),
            Lab::new(100.0, 0.0, 0.0),
        ] {
            let white = Light::Lamp.white();
            let back = lab.to_xyz(white).to_lab(white);
            assert!(difference(lab, back) < 1e-9, "{lab:?} {back:?}");
        }
    }

    #[test]
    fn hue_runs_from_red_over_yellow() {
        assert!((Lab::new(50.0, 0.0, 20.0).hue_deg() - 90.0).abs() < 1e-9);
        assert!((Lab::new(50.0, 0.0, -20.0).hue_deg() - 270.0).abs() < 1e-9);
    }

    #[test]
    fn a_reading_out_of_range_is_not_plausible() {
        assert!(Lab::new(50.0, 10.0, 10.0).is_plausible());
        assert!(!Lab::new(130.0, 0.0, 0.0).is_plausible());
        assert!(!Lab::new(f64::NAN, 0.0, 0.0).is_plausible());
    }
}
