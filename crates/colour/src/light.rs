//! The two lights a piece is seen in, and what a reflectance looks like in them.
//!
//! A colour that matches by day can part under a lamp. Both lights are stated as weights for 31 bands, so that a colour
//! under either is one weighted sum; the white is the sum of the weights themselves, which keeps a perfect white exactly
//! neutral.

use std::sync::LazyLock;

use crate::lab::Xyz;

/// Number of bands: 400 to 700 nm, every 10 nm.
pub const BANDS: usize = 31;

/// One number a band.
pub type Bands = [f64; BANDS];

/// What the piece is lit by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Light {
    /// Daylight, CIE illuminant D65.
    Day,
    /// An incandescent lamp, CIE illuminant A.
    Lamp,
}

/// The weights of one light and the white they add up to.
#[derive(Debug)]
pub(crate) struct Weights {
    pub(crate) bands: [[f64; 3]; BANDS],
    pub(crate) white: Xyz,
}

/// Printed from a reference library; see the heading of the file.
const TABLE: &str = include_str!("../data/weights.csv");

static DAY: LazyLock<Weights> = LazyLock::new(|| weights(1));
static LAMP: LazyLock<Weights> = LazyLock::new(|| weights(4));

impl Light {
    pub(crate) fn weights(self) -> &'static Weights {
        match self {
            Self::Day => &DAY,
            Self::Lamp => &LAMP,
        }
    }

    /// The white of this light: what a surface that gives everything back looks like.
    #[must_use]
    pub fn white(self) -> Xyz {
        self.weights().white
    }

    /// The wavelength of a band in nm.
    #[must_use]
    pub fn wavelength_nm(band: usize) -> f64 {
        (0..band).fold(400.0, |nm, _| nm + 10.0)
    }
}

impl Weights {
    /// Tristimulus values of a reflectance.
    pub(crate) fn xyz(&self, reflectance: &Bands) -> Xyz {
        let mut sum = [0.0; 3];
        for (r, weight) in reflectance.iter().zip(&self.bands) {
            for (total, w) in sum.iter_mut().zip(weight) {
                *total += r * w;
            }
        }
        Xyz {
            x: sum[0],
            y: sum[1],
            z: sum[2],
        }
    }
}

/// Reads the three columns that start at `first` of the table.
fn weights(first: usize) -> Weights {
    let mut bands = [[0.0; 3]; BANDS];
    let rows = TABLE
        .lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_digit()));
    for (band, row) in bands.iter_mut().zip(rows) {
        for (weight, field) in band.iter_mut().zip(row.split(',').skip(first)) {
            *weight = field
                .parse()
                .expect("the embedded table holds numbers; a unit test reads it");
        }
    }
    let sum = |i: usize| bands.iter().map(|w| w[i]).sum();
    Weights {
        bands,
        white: Xyz {
            x: sum(0),
            y: sum(1),
            z: sum(2),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_has_a_row_for_each_band() {
        let rows: Vec<f64> = TABLE
            .lines()
            .filter(|line| line.starts_with(|c: char| c.is_ascii_digit()))
            .map(|line| line.split(',').next().unwrap().parse().unwrap())
            .collect();
        assert_eq!(rows.len(), BANDS);
        assert!(
            rows.iter()
                .enumerate()
                .all(|(i, nm)| (nm - Light::wavelength_nm(i)).abs() < 1e-9)
        );
    }

    /// CIE 15: D65 has X 0.9505, Z 1.089; A has X 1.0985, Z 0.3558 (four digits).
    #[test]
    fn the_whites_are_the_published_ones() {
        let (day, lamp) = (Light::Day.white(), Light::Lamp.white());
        assert!((day.x - 0.9505).abs() < 1e-4 && (day.z - 1.089).abs() < 3e-4 && (day.y - 1.0).abs() < 1e-9);
        assert!((lamp.x - 1.0985).abs() < 1e-4 && (lamp.z - 0.3558).abs() < 2e-4 && (lamp.y - 1.0).abs() < 1e-9);
    }
}
