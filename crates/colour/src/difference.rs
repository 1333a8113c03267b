//! How far two colours are apart to the eye: CIEDE2000.
//!
//! Written in vectors rather than angles: a pair's mean hue is the direction of the sum of two unit vectors, its difference in
//! hue a chord. That takes one arc tangent, and only for blues, where the usual form takes two and six cosines. The `palette`
//! crate's own stays as a check in the tests; it counts mean hues on beyond 360°, which shows in the fourth decimal.

use crate::lab::Lab;

const POW_25_7: f64 = 6_103_515_625.0;

/// CIEDE2000 with all weights 1.
///
/// Symmetric; 0 for the same colour. Made for small differences; above about 10 it only says "another colour". Where the
/// hues lie exactly opposite each other the formula has two values, of which one is given.
///
/// # Source
/// `ciede2000-sharma`, table 1.
///
/// ```
/// use colour::{Lab, difference};
/// let apart = difference(Lab::new(50.0, 2.6772, -79.7751), Lab::new(50.0, 0.0, -82.7485));
/// assert!((apart - 2.0425).abs() < 1e-4);
/// ```
#[must_use]
#[inline]
pub fn difference(one: Lab, other: Lab) -> f64 {
    let mean_chroma = 0.5 * ((one.a * one.a + one.b * one.b).sqrt() + (other.a * other.a + other.b * other.b).sqrt());
    let stretch = 1.5 - 0.5 * share_of_25(mean_chroma);
    let (a1, a2) = (one.a * stretch, other.a * stretch);
    let (c1, c2) = ((a1 * a1 + one.b * one.b).sqrt(), (a2 * a2 + other.b * other.b).sqrt());
    let chroma = 0.5 * (c1 + c2);
    // The chord between the hues: 2 √(C1 C2) sin(Δh/2), its sign that of the turn from one to the other.
    let turn = a1 * other.b - a2 * one.b;
    let (product, inner) = (c1 * c2, a1 * a2 + one.b * other.b);
    let chord = if inner > 0.0 {
        // The same, without the difference of two like numbers that near hues would leave.
        turn * (2.0 / (product + inner)).sqrt()
    } else {
        (2.0 * (product - inner)).sqrt().copysign(turn)
    };
    let (cosine, sine) = mean_hue((a1, one.b, c1), (a2, other.b, c2));

    let lightness = 0.5 * (one.l + other.l) - 50.0;
    let l2 = lightness * lightness;
    let s_l = 1.0 + 0.015 * l2 / (20.0 + l2).sqrt();
    let s_c = 1.0 + 0.045 * chroma;
    let s_h = 1.0 + 0.015 * chroma * hue_weight(cosine, sine);
    let (dl, dc, dh) = ((other.l - one.l) / s_l, (c2 - c1) / s_c, chord / s_h);
    (dl * dl + dc * dc + dh * dh + rotation(chroma, cosine, sine) * dc * dh)
        .max(0.0)
        .sqrt()
}

/// √(C⁷ / (C⁷ + 25⁷)).
#[inline]
fn share_of_25(chroma: f64) -> f64 {
    let c2 = chroma * chroma;
    let c7 = c2 * c2 * c2 * chroma;
    (c7 / (c7 + POW_25_7)).sqrt()
}

/// Cosine and sine of the mean hue of two colours (a, b, chroma); a grey has no say, and two greys give hue 0.
#[inline]
fn mean_hue(one: (f64, f64, f64), other: (f64, f64, f64)) -> (f64, f64) {
    // The sum of the two unit vectors, times both chromas: that spares the divisions.
    let (x, y) = (one.0 * other.2 + other.0 * one.2, one.1 * other.2 + other.1 * one.2);
    let length = (x * x + y * y).sqrt();
    if length > 1e-9 * one.2 * other.2 {
        let part = 1.0 / length;
        return (x * part, y * part);
    }
    let angle = |(a, b, _): (f64, f64, f64)| b.atan2(a).rem_euclid(std::f64::consts::TAU);
    let middle = match (one.2 > 0.0, other.2 > 0.0) {
        // Exactly opposite: the mean of the two angles as they are counted from 0 to 360°.
        (true, true) => 0.5 * (angle(one) + angle(other)),
        (true, false) => angle(one),
        (false, true) => angle(other),
        (false, false) => 0.0,
    };
    (middle.cos(), middle.sin())
}

/// `T = 1 − 0.17 cos(h − 30°) + 0.24 cos 2h + 0.32 cos(3h + 6°) − 0.20 cos(4h − 63°)` from the cosine and sine of h.
#[inline]
fn hue_weight(c1: f64, s1: f64) -> f64 {
    const COS_30: f64 = 0.866_025_403_784_438_6;
    const COS_6: f64 = 0.994_521_895_368_273_3;
    const SIN_6: f64 = 0.104_528_463_267_653_47;
    const COS_63: f64 = 0.453_990_499_739_546_8;
    const SIN_63: f64 = 0.891_006_524_188_367_8;
    let (c2, s2) = (c1 * c1 - s1 * s1, 2.0 * s1 * c1);
    let (c3, s3) = (c2 * c1 - s2 * s1, s2 * c1 + c2 * s1);
    let (c4, s4) = (c2 * c2 - s2 * s2, 2.0 * s2 * c2);
    1.0 - 0.17 * (c1 * COS_30 + s1 * 0.5) + 0.24 * c2 + 0.32 * (c3 * COS_6 - s3 * SIN_6)
        - 0.20 * (c4 * COS_63 + s4 * SIN_63)
}

/// `R_T`, which turns the blues: `−2 √(C⁷/(C⁷ + 25⁷)) sin(60° exp(−((h − 275°)/25°)²))`.
#[inline]
fn rotation(chroma: f64, cosine: f64, sine: f64) -> f64 {
    // The formula counts hue from 0 to 360° and does not go round: seen from 275°, a hue of 5° is 270° away, not 90°. More than
    // 105° from blue the exponential is below 3e-8.
    const COS_275: f64 = 0.087_155_742_747_658_17;
    const SIN_275: f64 = -0.996_194_698_091_745_5;
    let toward_blue = cosine * COS_275 + sine * SIN_275;
    if toward_blue < -0.26 || (sine >= 0.0 && cosine >= 0.0) {
        return 0.0;
    }
    let away = (sine * COS_275 - cosine * SIN_275).atan2(toward_blue).to_degrees() / 25.0;
    -2.0 * share_of_25(chroma) * sine_below_60((-away * away).exp() * std::f64::consts::FRAC_PI_3)
}

/// The sine of an angle from 0 to 60° (in radians), by its series as far as x¹⁵: the next term is below 7e-15.
#[inline]
fn sine_below_60(x: f64) -> f64 {
    let x2 = x * x;
    // x − x³/3! + x⁵/5! …, from the last term on.
    const PARTS: [f64; 7] = [
        1.0 / 210.0,
        1.0 / 156.0,
        1.0 / 110.0,
        1.0 / 72.0,
        1.0 / 42.0,
        1.0 / 20.0,
        1.0 / 6.0,
    ];
    x * PARTS.iter().fold(1.0, |rest, part| 1.0 - x2 * part * rest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use palette::color_difference::Ciede2000;
    use palette::white_point::D65;

    #[test]
    fn another_program_says_the_same() {
        let wander = |i: u32, step: f64| f64::from(i) * step % 1.0;
        for i in 0..5000 {
            let one = Lab::new(
                100.0 * wander(i, 0.618),
                200.0 * wander(i, 0.755) - 100.0,
                200.0 * wander(i, 0.57) - 100.0,
            );
            let near = |v: f64, step| v + 20.0 * (wander(i, step) - 0.5);
            let other = Lab::new(near(one.l, 0.31), near(one.a, 0.47), near(one.b, 0.83));
            let of = |lab: Lab| palette::Lab::<D65, f64>::new(lab.l, lab.a, lab.b);
            let theirs: f64 = of(one).difference(of(other));
            assert!((difference(one, other) - theirs).abs() < 3e-4, "{one:?} {other:?}");
        }
    }

    #[test]
    fn the_sine_is_the_sine() {
        for degrees in 0..=60 {
            let x = f64::from(degrees).to_radians();
            assert!((sine_below_60(x) - x.sin()).abs() < 1e-14, "{degrees}°");
        }
    }

    #[test]
    fn a_grey_has_no_say_in_the_hue() {
        let grey = (0.0, 0.0, 0.0);
        let close = |one: (f64, f64), other: (f64, f64)| (one.0 - other.0).hypot(one.1 - other.1) < 1e-12;
        assert!(close(mean_hue(grey, (3.0, 4.0, 5.0)), (0.6, 0.8)));
        assert!(close(mean_hue((-5.0, 0.0, 5.0), grey), (-1.0, 0.0)));
        assert!(close(mean_hue(grey, grey), (1.0, 0.0)));
        assert!(close(
            mean_hue((2.0, 0.0, 2.0), (0.0, 7.0, 7.0)),
            (0.5_f64.sqrt(), 0.5_f64.sqrt())
        ));
    }

    #[test]
    fn greys_differ_in_lightness_alone() {
        assert!(difference(Lab::new(50.0, 0.0, 0.0), Lab::new(50.0, 0.0, 0.0)).abs() < 1e-12);
        let apart = difference(Lab::new(50.0, 0.0, 0.0), Lab::new(60.0, 0.0, 0.0));
        assert!((apart - 9.4).abs() < 0.2, "{apart}");
    }

    #[test]
    fn colours_exactly_opposite_have_a_difference() {
        let apart = difference(Lab::new(50.0, -31.0, 8.0), Lab::new(50.0, 31.0, -8.0));
        assert!(apart.is_finite() && apart > 20.0, "{apart}");
    }
}
