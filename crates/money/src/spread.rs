//! The distribution of a sum: something fixed and independent log-normal parts, each added or taken away.
//!
//! Sums of log-normals have no closed form. All parts but the one that varies most are integrated over by the
//! trapezoidal rule on the normal scale, and the widest part, left inside in its closed form, smooths what is integrated.
//! Chances are good to about 1e-6. There is no sampling and no seed.

use crate::normal::{self, cdf, density};

/// How many standard deviations the search for a quantile reaches, and how many are integrated over: beyond six lie two
/// in a thousand million.
const HALF_WIDTH: f64 = 8.0;
const INTEGRATED: f64 = 6.0;
/// Steps of the innermost integration, where the closed form can turn sharply, and of those around it.
const INNER_STEPS: i32 = 192;
const OUTER_STEPS: i32 = 48;

/// One log-normal part: its median, below nothing where it is taken away, and the standard deviation of its logarithm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Part {
    pub(crate) median: f64,
    pub(crate) log_sd: f64,
}

impl Part {
    fn mean(self) -> f64 {
        self.median * (self.log_sd * self.log_sd / 2.0).exp()
    }

    fn width(self) -> f64 {
        (self.median * self.log_sd).abs()
    }

    /// The value at so many standard deviations towards more of it.
    fn at(self, z: f64) -> f64 {
        self.median * (self.log_sd * z).exp()
    }

    /// The chance that this part is at most `amount`.
    fn chance_at_most(self, amount: f64) -> f64 {
        let ratio = amount / self.median;
        match (self.width() > 0.0, self.median > 0.0) {
            (false, _) => f64::from(amount >= self.median),
            (true, true) if amount > 0.0 => cdf(ratio.ln() / self.log_sd),
            (true, true) => 0.0,
            (true, false) if amount < 0.0 => cdf(-ratio.ln() / self.log_sd),
            (true, false) => 1.0,
        }
    }
}

/// Fixed plus independent log-normal parts.
#[derive(Debug, Clone)]
pub(crate) struct Spread {
    fixed: f64,
    /// The widest first.
    parts: Vec<Part>,
}

impl Spread {
    pub(crate) fn new(fixed: f64, parts: &[Part]) -> Self {
        let mut parts = parts.to_vec();
        parts.sort_by(|one, other| other.width().total_cmp(&one.width()));
        Self { fixed, parts }
    }

    pub(crate) fn mean(&self) -> f64 {
        self.fixed + self.parts.iter().map(|part| part.mean()).sum::<f64>()
    }

    /// The chance that the sum is at most `amount`.
    pub(crate) fn chance_at_most(&self, amount: f64) -> f64 {
        chance_at_most(&self.parts, amount - self.fixed)
    }

    /// The amount that is not exceeded with `chance`.
    ///
    /// On the scale of the normal distribution the chance is nearly straight in the amount, so false position (with the
    /// Illinois halving of the end that stays) needs few steps; where all is certain it halves.
    pub(crate) fn quantile(&self, chance: f64) -> f64 {
        let wanted = normal::quantile(chance);
        let off = |amount: f64| normal::quantile(self.chance_at_most(amount)) - wanted;
        let (mut low, mut high) = (self.end(-1.0), self.end(1.0));
        let (mut below, mut above) = (-HALF_WIDTH - wanted, HALF_WIDTH - wanted);
        let mut moved_low = false;
        let narrow = (high - low) * 1e-12 + 1e-6;
        for _ in 0..100 {
            if high - low <= narrow {
                break;
            }
            let middle = (low * above - high * below) / (above - below);
            let at_middle = off(middle);
            if at_middle.abs() < 1e-12 {
                return middle;
            }
            if at_middle < 0.0 {
                (low, below) = (middle, at_middle);
                above /= if moved_low { 2.0 } else { 1.0 };
            } else {
                (high, above) = (middle, at_middle);
                below /= if moved_low { 1.0 } else { 2.0 };
            }
            moved_low = at_middle < 0.0;
        }
        0.5 * (low + high)
    }

    /// Where next to everything lies above (−1) or below (+1): eight standard deviations of every part.
    fn end(&self, towards: f64) -> f64 {
        let far = |part: &Part| part.at(towards * HALF_WIDTH * part.median.signum());
        self.fixed + self.parts.iter().map(far).sum::<f64>()
    }
}

fn chance_at_most(parts: &[Part], amount: f64) -> f64 {
    match parts {
        [] => f64::from(amount >= 0.0),
        [only] => only.chance_at_most(amount),
        [wider @ .., last] if last.width() > 0.0 => {
            let half = if wider.len() == 1 {
                INNER_STEPS / 2
            } else {
                OUTER_STEPS / 2
            };
            let step = INTEGRATED / f64::from(half);
            let sum: f64 = (-half..=half)
                .map(|idx| f64::from(idx) * step)
                .map(|z| density(z) * chance_at_most(wider, amount - last.at(z)))
                .sum();
            (sum * step).clamp(0.0, 1.0)
        }
        [wider @ .., last] => chance_at_most(wider, amount - last.median),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_of_equal_width_are_integrated_to_seven_digits() {
        // With both spreads equal and the medians equal, ln(X/Y) is normal, so P(X − Y ≤ 0) is one half, and shifting
        // one median by a factor moves it by the normal distribution function of ln(factor) / (spread · √2).
        for (log_sd, factor) in [(0.2, 1.0_f64), (0.2, 1.3), (0.5, 0.7), (1.5, 2.0)] {
            let spread = Spread::new(
                0.0,
                &[
                    Part { median: 100.0, log_sd },
                    Part {
                        median: -100.0 * factor,
                        log_sd,
                    },
                ],
            );
            let chance = cdf(factor.ln() / (log_sd * 2.0_f64.sqrt()));
            assert!((spread.chance_at_most(0.0) - chance).abs() < 1e-7, "{log_sd} {factor}");
        }
    }

    #[test]
    fn a_quantile_is_met_with_its_chance() {
        let parts = [
            Part {
                median: 40.0,
                log_sd: 0.3,
            },
            Part {
                median: -20.0,
                log_sd: 0.6,
            },
            Part {
                median: 5.0,
                log_sd: 0.0,
            },
        ];
        let spread = Spread::new(7.0, &parts);
        for chance in [0.01, 0.1, 0.5, 0.97] {
            assert!((spread.chance_at_most(spread.quantile(chance)) - chance).abs() < 1e-7);
        }
    }
}
