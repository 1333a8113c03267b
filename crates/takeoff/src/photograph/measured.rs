//! A length measured on a photograph, and how sure it is.

use crate::Dimension;
use quantity::Length;

/// Ninety of a hundred normal errors are smaller than this many standard errors.
const NINETY: f64 = 1.644_853_627;

/// A length with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// The length itself.
    pub length: Length,
    /// One standard deviation of what the true length may be around it.
    pub standard_error: Length,
    /// The true length lies between these two in about nine of ten cases.
    pub interval_90: (Length, Length),
}

impl Measured {
    /// As a dimension of a form.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        Dimension::photographed(self.length, self.standard_error)
    }
}

/// One possible reading of the photograph: its weight, the length in metres and its variance.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reading {
    pub(super) weight: f64,
    pub(super) length: f64,
    pub(super) variance: f64,
}

/// The mixture of all possible readings; their weights add to one.
pub(super) fn mixed(readings: &[Reading]) -> Measured {
    let mean: f64 = readings.iter().map(|reading| reading.weight * reading.length).sum();
    let variance: f64 = readings
        .iter()
        .map(|reading| reading.weight * (reading.variance + (reading.length - mean).powi(2)))
        .sum();
    let deviation = variance.sqrt();
    let bound = |sign: f64| match readings {
        [_] => mean + sign * NINETY * deviation,
        _ => quantile(readings, f64::midpoint(1.0, sign * 0.9), mean, deviation),
    };
    Measured {
        length: Length::from_m(mean),
        standard_error: Length::from_m(deviation),
        interval_90: (Length::from_m(bound(-1.0).max(0.0)), Length::from_m(bound(1.0))),
    }
}

/// The length that the given share of the mixture lies below, by halving.
fn quantile(readings: &[Reading], share: f64, mean: f64, deviation: f64) -> f64 {
    let below = |length: f64| -> f64 {
        readings
            .iter()
            .map(|reading| reading.weight * normal_below((length - reading.length) / reading.variance.sqrt()))
            .sum()
    };
    let (mut low, mut high) = (mean - 6.0 * deviation, mean + 6.0 * deviation);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if below(middle) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Share of a normal distribution below so many standard errors, within 1e-6: Simpson's rule over its density.
fn normal_below(z: f64) -> f64 {
    const PAIRS: u32 = 32;
    let z = z.clamp(-8.0, 8.0);
    let step = z / f64::from(2 * PAIRS);
    let density = |x: f64| (-0.5 * x * x).exp() / std::f64::consts::TAU.sqrt();
    let sum: f64 = (0..PAIRS)
        .map(|pair| {
            let at = f64::from(2 * pair) * step;
            density(at) + 4.0 * density(at + step) + density(at + 2.0 * step)
        })
        .sum();
    0.5 + sum * step / 3.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(weight: f64, length: f64, deviation: f64) -> Reading {
        Reading {
            weight,
            length,
            variance: deviation * deviation,
        }
    }

    #[test]
    fn the_normal_share_is_that_of_the_tables() {
        for (z, share) in [(0.0, 0.5), (1.0, 0.841_345), (1.644_854, 0.95), (-1.96, 0.024_998)] {
            assert!((normal_below(z) - share).abs() < 1e-6, "{z}");
        }
    }

    #[test]
    fn one_reading_written_twice_is_the_same_as_once() {
        let once = mixed(&[reading(1.0, 2.0, 0.01)]);
        let twice = mixed(&[reading(0.5, 2.0, 0.01), reading(0.5, 2.0, 0.01)]);
        assert!((once.interval_90.0.m() - twice.interval_90.0.m()).abs() < 1e-6);
        assert!((once.interval_90.1.m() - 2.016_448_5).abs() < 1e-6);
    }

    #[test]
    fn two_readings_apart_span_both() {
        let both = mixed(&[reading(0.5, 1.0, 0.001), reading(0.5, 1.1, 0.001)]);
        assert!(both.interval_90.0.m() < 1.0 && both.interval_90.1.m() > 1.1);
        assert!((both.standard_error.m() - 0.05).abs() < 1e-4);
    }
}
