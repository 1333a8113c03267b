//! Colours that go together, and parts that stand out.
//!
//! Two questions that a client asks: which colour goes with this one, and will the handle be seen on the drawer. The first
//! has a published score from people judging pairs; the second is a matter of how much light each gives back.

use crate::lab::Lab;

/// The score of a pair and its two parts that do not hang on hue.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Harmony {
    /// The whole: above 0 a pair was judged to go together, below 0 not; most lie between −1 and 1.
    pub score: f64,
    /// The part of the difference in colour: the nearer, the better.
    pub by_chroma: f64,
    /// The part of lightness: light pairs and pairs of unlike lightness are liked better.
    pub by_lightness: f64,
}

/// How well two colours go together.
///
/// `CH = HC + HL + HH`, with `HC` of the chromatic difference, `HL` of the sum and the difference of lightness, `HH` of each hue.
/// Symmetric. Judged on plain patches side by side: a guide to talk over, no more.
///
/// # Source
/// `harmony-ou-luo`.
#[must_use]
pub fn harmony(one: Lab, other: Lab) -> Harmony {
    let (c1, c2) = (one.chroma(), other.chroma());
    let apart = (one.a - other.a).powi(2) + (one.b - other.b).powi(2);
    let hue_squared = (apart - (c1 - c2).powi(2)).max(0.0);
    let chromatic = (hue_squared + ((c1 - c2) / 1.46).powi(2)).sqrt();
    let by_chroma = 0.04 + 0.53 * (0.8 - 0.045 * chromatic).tanh();
    let of_sum = 0.28 + 0.54 * (-3.88 + 0.029 * (one.l + other.l)).tanh();
    let of_difference = 0.14 + 0.15 * (-2.0 + 0.2 * (one.l - other.l).abs()).tanh();
    let by_lightness = of_sum + of_difference;
    Harmony {
        score: by_chroma + by_lightness + of_hue(one) + of_hue(other),
        by_chroma,
        by_lightness,
    }
}

/// How much a colour's hue is liked, more the stronger the colour is.
fn of_hue(colour: Lab) -> f64 {
    let hue = colour.hue_deg();
    let strength = 0.5 + 0.5 * (-2.0 + 0.5 * colour.chroma()).tanh();
    let sine = |degrees: f64| degrees.to_radians().sin();
    let hue_part = -0.08 - 0.14 * sine(hue + 50.0) - 0.07 * sine(2.0 * hue + 90.0);
    let off_yellow = (90.0 - hue) / 10.0;
    let yellow = (0.22 * colour.l - 12.8) / 10.0 * (off_yellow - off_yellow.exp()).exp();
    strength * (hue_part + yellow)
}

/// Which of the swatches go with a colour, best first: index and score. Swatches of the colour itself (closer than 5) are
/// left out.
#[must_use]
pub fn partners(colour: Lab, swatches: &[Lab]) -> Vec<(usize, Harmony)> {
    let mut scored: Vec<(usize, Harmony)> = swatches
        .iter()
        .enumerate()
        .filter(|(_, swatch)| crate::difference(colour, **swatch) >= 5.0)
        .map(|(i, swatch)| (i, harmony(colour, *swatch)))
        .collect();
    scored.sort_by(|a, b| b.1.score.total_cmp(&a.1.score).then(a.0.cmp(&b.0)));
    scored
}

/// How far apart two parts are in light reflectance value, 0 to 100.
#[must_use]
pub fn reflectance_contrast(one: Lab, other: Lab) -> f64 {
    (one.light_reflectance() - other.light_reflectance()).abs()
}

/// The contrast in light reflectance value from which a handle or an edge is easily found by people who see poorly: 30.
///
/// # Source
/// `common-practice`; where a code asks for a contrast, its number counts.
pub const EASILY_FOUND: f64 = 30.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pair_is_the_same_both_ways_round() {
        let (one, other) = (Lab::new(40.0, 20.0, -30.0), Lab::new(85.0, -5.0, 40.0));
        assert!((harmony(one, other).score - harmony(other, one).score).abs() < 1e-12);
    }

    #[test]
    fn partners_come_best_first_and_leave_the_colour_out() {
        let sage = Lab::new(61.0, -16.0, 31.0);
        let swatches = [
            Lab::new(61.5, -16.0, 31.0),
            Lab::new(25.0, 50.0, -60.0),
            Lab::new(92.0, -3.0, 12.0),
        ];
        let found = partners(sage, &swatches);
        assert_eq!(found.iter().map(|p| p.0).collect::<Vec<_>>(), [2, 1]);
        assert!(found[0].1.score > found[1].1.score);
    }

    #[test]
    fn a_brass_handle_is_found_on_navy_and_lost_on_ochre() {
        let brass = Lab::new(70.0, 5.0, 40.0);
        assert!(reflectance_contrast(brass, Lab::new(24.0, 0.0, -25.0)) > EASILY_FOUND);
        assert!(reflectance_contrast(brass, Lab::new(62.0, 12.0, 45.0)) < EASILY_FOUND);
    }
}
