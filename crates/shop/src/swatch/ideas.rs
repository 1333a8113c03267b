//! Colours that could go with one, where the shelf holds none: a fan of plausible furniture paints, ranked.

use colour::harmony::{Harmony, harmony};
use colour::{Lab, Srgb, difference};

/// One colour to talk over.
#[derive(Debug, Clone, PartialEq)]
pub struct Idea {
    /// The colour, as a screen can show it.
    pub colour: Srgb,
    /// How well the pair was judged to go together.
    pub harmony: Harmony,
}

/// Two ideas nearer than this are one.
const APART: f64 = 14.0;

/// The `most` colours of the fan that go best with `colour`, best first, no two of them alike.
///
/// The fan holds 24 hues in three lightnesses and two strengths beside five greys; the score is [`harmony`]'s.
pub fn ideas(colour: Lab, most: usize) -> Vec<Idea> {
    let mut fan: Vec<Idea> = fan()
        .into_iter()
        .filter(|lab| difference(*lab, colour) >= APART)
        .map(|lab| {
            let shown = Srgb::nearest(lab);
            Idea {
                colour: shown,
                harmony: harmony(colour, shown.to_lab()),
            }
        })
        .collect();
    fan.sort_by(|a, b| {
        b.harmony
            .score
            .total_cmp(&a.harmony.score)
            .then(a.colour.cmp(&b.colour))
    });
    let mut kept: Vec<Idea> = Vec::new();
    for idea in fan {
        let is_new = kept
            .iter()
            .all(|there| difference(there.colour.to_lab(), idea.colour.to_lab()) >= APART);
        if is_new && kept.len() < most {
            kept.push(idea);
        }
    }
    kept
}

fn fan() -> Vec<Lab> {
    let mut fan: Vec<Lab> = [15.0, 35.0, 55.0, 75.0, 94.0].map(|l| Lab::new(l, 0.0, 1.0)).to_vec();
    for step in 0..24 {
        let hue = f64::from(step) * 15.0_f64.to_radians();
        for l in [30.0, 55.0, 80.0] {
            for chroma in [12.0, 28.0] {
                fan.push(Lab::new(l, chroma * hue.cos(), chroma * hue.sin()));
            }
        }
    }
    fan
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ideas_come_best_first_and_none_like_another() {
        let navy = Srgb::parse("#35506b").unwrap().to_lab();
        let found = ideas(navy, 6);
        assert_eq!(found.len(), 6);
        for (i, one) in found.iter().enumerate() {
            assert!(difference(one.colour.to_lab(), navy) > 8.0);
            for other in &found[i + 1..] {
                assert!(one.harmony.score >= other.harmony.score);
                assert!(difference(one.colour.to_lab(), other.colour.to_lab()) >= APART);
            }
        }
    }
}
