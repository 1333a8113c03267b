//! A zone that grows from a few touches.
//!
//! Light and shade change how bright a surface is, far less what colour it is. From the touched places the zone spreads to
//! every neighbour whose colour, whatever its brightness, is nearer to the touches' than to what lies along the border of
//! the picture; cracks, holes and frayed edges are mended at the end. Where colour does not tell the zone from its
//! surroundings it runs over, and that is said instead of shown.

use crate::photo::card::linear_table;
use crate::photo::mask::count;
use crate::photo::plane::{Plane, narrow};
use crate::photo::{Mask, PhotoError, Picture};

/// How freely the zone spreads: 1 as measured at the touches; less keeps it closer, more lets it run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach(pub f64);

impl Default for Reach {
    fn default() -> Self {
        Self(1.0)
    }
}

/// The zone is grown on a picture with this many pixels along its longer side.
const WORKING: usize = 720;
/// Noise of a pixel's level in a phone's picture.
const NOISE_LEVELS: f32 = 1.2;
/// Squared distance in standard deviations up to which a pixel may belong.
const BELONGS: f32 = 30.0;
/// Least spread of a colour, in logarithms of the ratios of the channels.
const LEAST_SPREAD: f32 = 0.018;
/// How many colours stand for the surroundings.
const SURROUNDINGS: usize = 10;
/// A colour along the border that is nearer to the touches than this is the zone's own, cut off by the picture's edge.
const SAME: f32 = 0.03;
/// Where the zone's colour takes more of the border than this, it is the surroundings' colour too.
const OWN_BORDER: f64 = 0.4;
/// A zone of more than this share of the picture, or of its border, has run over.
const MOST_SHARE: f64 = 0.85;
const MOST_BORDER: f64 = 0.6;

/// Spreads from the touched pixels (column, row).
///
/// # Errors
/// [`PhotoError`]: a touch outside of the picture, none at all, or a zone that runs over its surroundings.
pub fn grow(picture: &Picture, touches: &[(usize, usize)], reach: Reach) -> Result<Mask, PhotoError> {
    for &(x, y) in touches {
        if x >= picture.width() || y >= picture.height() {
            return Err(PhotoError::Outside {
                x,
                y,
                width: picture.width(),
                height: picture.height(),
            });
        }
    }
    if touches.is_empty() {
        return Err(PhotoError::EmptyMask);
    }
    let small = picture.shrunk_to(WORKING);
    let step = picture.width().max(picture.height()).div_ceil(WORKING).max(1);
    let touches: Vec<(usize, usize)> = touches
        .iter()
        .map(|(x, y)| ((x / step).min(small.width() - 1), (y / step).min(small.height() - 1)))
        .collect();
    let tones = Tones::of(&small);
    let mut colour = Family::around(&tones, &touches);
    let around = surroundings(&tones, &touches).ok_or(PhotoError::NotSeparable)?;
    let mut zone = spread(&tones, &colour, &around, &touches, reach);
    // What was reached knows the colour's range better than the touches do.
    if zone.iter().filter(|inside| **inside).count() > 200 {
        colour = colour.joined_with(&Family::of(&tones, &zone));
        zone = spread(&tones, &colour, &around, &touches, reach);
    }
    let zone = snapped(&mended(&zone, tones.width), &small);
    if runs_over(&zone, tones.width) {
        return Err(PhotoError::NotSeparable);
    }
    Ok(enlarged(&zone, &small, step, picture))
}

/// Colour without brightness: ln(R/G) and ln(B/G), averaged over nine pixels, and their noise.
struct Tones {
    width: usize,
    red: Vec<f32>,
    blue: Vec<f32>,
    noise: Vec<f32>,
    light: Vec<f32>,
}

impl Tones {
    fn of(picture: &Picture) -> Self {
        let table = linear_table();
        let width = picture.width();
        let pixels = picture.rgb().len() / 3;
        let ones = Plane::new(width, vec![1.0; pixels]);
        let sums = ones.box_sum(1);
        let channel = |c: usize| {
            let plane = Plane::from_fn(width, pixels, |i| table[usize::from(picture.rgb()[3 * i + c])] + 1e-4);
            plane.mean(&ones, &sums, 1)
        };
        let [r, g, b] = [channel(0), channel(1), channel(2)];
        let of = |f: &dyn Fn(usize) -> f32| (0..pixels).map(f).collect::<Vec<f32>>();
        // A level of noise is 2.4 / (level + 14) of the linear light; nine pixels share it, two channels add it.
        let relative = |light: f32| NOISE_LEVELS * 2.4 / (255.0 * light.max(0.0).powf(1.0 / 2.4) + 14.0);
        Self {
            width,
            red: of(&|i| (r.data[i] / g.data[i]).ln()),
            blue: of(&|i| (b.data[i] / g.data[i]).ln()),
            noise: of(&|i| (relative(g.data[i]).powi(2) + relative(r.data[i].min(b.data[i])).powi(2)) / 9.0),
            light: of(&|i| g.data[i].ln()),
        }
    }

    fn at(&self, pixel: usize) -> (f32, f32) {
        (self.red[pixel], self.blue[pixel])
    }

    fn neighbours(&self, at: usize) -> impl Iterator<Item = usize> {
        let (width, size) = (self.width, self.red.len());
        let x = at % width;
        [
            (x > 0).then(|| at - 1),
            (x + 1 < width).then_some(at + 1),
            at.checked_sub(width),
            (at + width < size).then_some(at + width),
        ]
        .into_iter()
        .flatten()
    }
}

/// A colour and its range.
#[derive(Debug, Clone, Copy)]
struct Family {
    red: f32,
    blue: f32,
    red_var: f32,
    blue_var: f32,
    both: f32,
}

impl Family {
    fn around(tones: &Tones, touches: &[(usize, usize)]) -> Self {
        let height = tones.red.len() / tones.width;
        let mut near = vec![false; tones.red.len()];
        for &(x, y) in touches {
            for row in y.saturating_sub(4)..(y + 5).min(height) {
                for column in x.saturating_sub(4)..(x + 5).min(tones.width) {
                    near[row * tones.width + column] = true;
                }
            }
        }
        Self::of(tones, &near)
    }

    fn of(tones: &Tones, zone: &[bool]) -> Self {
        let inside = || zone.iter().enumerate().filter(|(_, inside)| **inside).map(|(i, _)| i);
        let n = narrow(count(inside().count()).max(1.0));
        let mean = |values: &[f32]| inside().map(|i| values[i]).sum::<f32>() / n;
        let (red, blue) = (mean(&tones.red), mean(&tones.blue));
        let spread = |f: &dyn Fn(usize) -> f32| inside().map(f).sum::<f32>() / n;
        Self {
            red,
            blue,
            red_var: spread(&|i| (tones.red[i] - red).powi(2)),
            blue_var: spread(&|i| (tones.blue[i] - blue).powi(2)),
            both: spread(&|i| (tones.red[i] - red) * (tones.blue[i] - blue)),
        }
    }

    /// The touches' colour with what was reached: the range of the larger, at most three times the first one's.
    fn joined_with(&self, reached: &Self) -> Self {
        let most = |first: f32, then: f32| then.clamp(first, 3.0 * first.max(LEAST_SPREAD * LEAST_SPREAD));
        Self {
            red: f32::midpoint(self.red, reached.red),
            blue: f32::midpoint(self.blue, reached.blue),
            red_var: most(self.red_var, reached.red_var),
            blue_var: most(self.blue_var, reached.blue_var),
            both: reached
                .both
                .clamp(-self.red_var.min(self.blue_var), self.red_var.min(self.blue_var)),
        }
    }

    /// Squared distance of a pixel in standard deviations of the colour and the noise.
    fn distance(&self, tones: &Tones, at: usize) -> f32 {
        let (dr, db) = (tones.red[at] - self.red, tones.blue[at] - self.blue);
        let more = tones.noise[at] + LEAST_SPREAD * LEAST_SPREAD;
        let (rr, bb) = (self.red_var + more, self.blue_var + more);
        let determinant = rr * bb - self.both * self.both;
        (bb * dr * dr - 2.0 * self.both * dr * db + rr * db * db) / determinant.max(1e-12)
    }
}

/// Colours along the border of the picture, each as far from the ones before it as there is, without the zone's own;
/// nothing where most of the border has the zone's colour.
fn surroundings(tones: &Tones, touches: &[(usize, usize)]) -> Option<Vec<(f32, f32)>> {
    let (width, height) = (tones.width, tones.red.len() / tones.width);
    let (mx, my) = (width / 20 + 1, height / 20 + 1);
    let own: Vec<(f32, f32)> = touches.iter().map(|(x, y)| tones.at(y * width + x)).collect();
    let on_border = |i: &usize| {
        let (x, y) = (i % width, i / width);
        x < mx || x + mx >= width || y < my || y + my >= height
    };
    // Every seventh pixel is plenty.
    let mut border: Vec<usize> = (0..tones.red.len()).step_by(7).filter(on_border).collect();
    let all = border.len();
    border.retain(|i| {
        own.iter()
            .all(|own| apart(*own, tones.at(*i)) > SAME * SAME + 4.0 * tones.noise[*i])
    });
    if count(border.len()) < (1.0 - OWN_BORDER) * count(all) {
        return None;
    }
    let mut chosen: Vec<(f32, f32)> = Vec::new();
    for _ in 0..SURROUNDINGS {
        let away = |i: &usize| chosen.iter().map(|c| apart(*c, tones.at(*i))).fold(f32::MAX, f32::min);
        match border.iter().max_by(|a, b| away(a).total_cmp(&away(b))) {
            Some(i) => chosen.push(tones.at(*i)),
            None => break,
        }
    }
    Some(chosen)
}

fn apart(one: (f32, f32), other: (f32, f32)) -> f32 {
    (one.0 - other.0).powi(2) + (one.1 - other.1).powi(2)
}

fn spread(
    tones: &Tones,
    colour: &Family,
    around: &[(f32, f32)],
    touches: &[(usize, usize)],
    reach: Reach,
) -> Vec<bool> {
    let mut zone = vec![false; tones.red.len()];
    let reach = narrow(reach.0.clamp(0.1, 10.0));
    let own: Vec<(f32, f32)> = touches
        .iter()
        .map(|(x, y)| tones.at(y * tones.width + x))
        .chain([(colour.red, colour.blue)])
        .collect();
    let nearest = |tone: (f32, f32), to: &[(f32, f32)]| to.iter().map(|c| apart(*c, tone)).fold(f32::MAX, f32::min);
    let belongs = |at: usize| {
        let tone = tones.at(at);
        colour.distance(tones, at) <= BELONGS * reach && nearest(tone, &own) < reach * nearest(tone, around)
    };
    let mut waiting: Vec<usize> = touches.iter().map(|(x, y)| y * tones.width + x).collect();
    for at in &waiting {
        zone[*at] = true;
    }
    while let Some(at) = waiting.pop() {
        for next in tones.neighbours(at) {
            // Next to black there is no colour to go by: only from one dark pixel to another of like brightness.
            let step = (tones.light[next] - tones.light[at]).abs();
            if !zone[next] && step < 2.5 && belongs(next) {
                zone[next] = true;
                waiting.push(next);
            }
        }
    }
    zone
}

/// Share of marked pixels in the square around each.
fn shares(zone: &[bool], width: usize, radius: usize) -> Vec<f32> {
    let plane = Plane::new(width, zone.iter().map(|inside| f32::from(u8::from(*inside))).collect());
    let ones = Plane::new(width, vec![1.0; zone.len()]);
    plane.mean(&ones, &ones.box_sum(radius), radius).data
}

/// Pixels along the edge go to the side whose pixels, a little further in, they look more like.
fn snapped(zone: &[bool], picture: &Picture) -> Vec<bool> {
    let near = shares(zone, picture.width(), 2);
    let side = |sure: &dyn Fn(f32) -> bool| {
        let weights = Plane::from_fn(picture.width(), zone.len(), |i| f32::from(u8::from(sure(near[i]))));
        let sums = weights.box_sum(4);
        let mean = |c: usize| {
            let levels = Plane::from_fn(picture.width(), zone.len(), |i| f32::from(picture.rgb()[3 * i + c]));
            levels.mean(&weights, &sums, 4).data
        };
        ([mean(0), mean(1), mean(2)], sums.data)
    };
    let (inside, inside_sums) = side(&|share| share > 0.999);
    let (outside, outside_sums) = side(&|share| share < 0.001);
    let apart = |means: &[Vec<f32>; 3], i: usize| -> f32 {
        (0..3)
            .map(|c| (f32::from(picture.rgb()[3 * i + c]) - means[c][i]).powi(2))
            .sum()
    };
    zone.iter()
        .enumerate()
        .map(|(i, was)| {
            let undecided = near[i] > 0.001 && near[i] < 0.999 && inside_sums[i] > 0.5 && outside_sums[i] > 0.5;
            if undecided {
                apart(&inside, i) < apart(&outside, i)
            } else {
                *was
            }
        })
        .collect()
}

/// Closes cracks, drops frays and fills holes.
fn mended(zone: &[bool], width: usize) -> Vec<bool> {
    let grown: Vec<bool> = shares(zone, width, 2).iter().map(|share| *share > 0.0).collect();
    let closed: Vec<bool> = shares(&grown, width, 2).iter().map(|share| *share > 0.999).collect();
    let even: Vec<bool> = shares(&closed, width, 1)
        .iter()
        .zip(&closed)
        .map(|(share, _)| *share > 0.5)
        .collect();
    filled(&even, width)
}

/// Everything that cannot be reached from the border over unmarked pixels is inside.
fn filled(zone: &[bool], width: usize) -> Vec<bool> {
    let height = zone.len() / width;
    let mut outside = vec![false; zone.len()];
    let border = (0..width)
        .flat_map(|x| [x, (height - 1) * width + x])
        .chain((0..height).flat_map(|y| [y * width, y * width + width - 1]));
    let mut waiting: Vec<usize> = border.filter(|i| !zone[*i]).collect();
    for at in &waiting {
        outside[*at] = true;
    }
    while let Some(at) = waiting.pop() {
        let x = at % width;
        let around = [
            (x > 0).then(|| at - 1),
            (x + 1 < width).then_some(at + 1),
            at.checked_sub(width),
            Some(at + width),
        ];
        for next in around.into_iter().flatten().filter(|n| *n < zone.len()) {
            if !zone[next] && !outside[next] {
                outside[next] = true;
                waiting.push(next);
            }
        }
    }
    outside.iter().map(|outside| !outside).collect()
}

fn runs_over(zone: &[bool], width: usize) -> bool {
    let height = zone.len() / width;
    let inside = zone.iter().filter(|inside| **inside).count();
    let on_border =
        |i: &usize| i.is_multiple_of(width) || i % width == width - 1 || i / width == 0 || i / width == height - 1;
    let border = (0..zone.len()).filter(on_border).filter(|i| zone[*i]).count();
    count(inside) > MOST_SHARE * count(zone.len()) || count(border) > MOST_BORDER * count(2 * (width + height))
}

/// The zone at the picture's own size.
fn enlarged(zone: &[bool], small: &Picture, step: usize, picture: &Picture) -> Mask {
    let mut cover = vec![0_u8; picture.width() * picture.height()];
    for (y, line) in cover.chunks_exact_mut(picture.width()).enumerate() {
        for (x, out) in line.iter_mut().enumerate() {
            *out = if zone[(y / step) * small.width() + x / step] {
                255
            } else {
                0
            };
        }
    }
    Mask {
        width: picture.width(),
        height: picture.height(),
        cover,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A brown square on another colour, the lower half of the picture in shade.
    fn scene(on: [u8; 3], light_below: f32) -> Picture {
        let table = linear_table();
        let shaded = |v: u8| {
            (0..=255_u8)
                .find(|level| table[usize::from(*level)] + 1e-6 >= light_below * table[usize::from(v)])
                .unwrap()
        };
        let rgb = (0..80 * 60).flat_map(|i| {
            let (x, y) = (i % 80, i / 80);
            let colour = if (20..60).contains(&x) && (15..45).contains(&y) {
                [150, 90, 50]
            } else {
                on
            };
            if y < 30 { colour } else { colour.map(shaded) }
        });
        Picture::from_rgb(80, 60, rgb.collect()).unwrap()
    }

    #[test]
    fn spreads_over_light_and_shade() {
        let zone = grow(&scene([110, 110, 110], 0.3), &[(30, 20)], Reach::default()).unwrap();
        let wrong = (0..80 * 60)
            .filter(|i| zone.has(i % 80, i / 80) != ((20..60).contains(&(i % 80)) && (15..45).contains(&(i / 80))))
            .count();
        assert!(wrong < 120, "{wrong}");
    }

    #[test]
    fn says_when_colours_cannot_be_told_apart() {
        let refused = |picture: &Picture, touches| grow(picture, touches, Reach::default()).err();
        assert_eq!(
            refused(&scene([149, 90, 50], 1.0), &[(30, 20)]),
            Some(PhotoError::NotSeparable)
        );
        assert_eq!(refused(&scene([110, 110, 110], 0.3), &[]), Some(PhotoError::EmptyMask));
        assert!(grow(&scene([110, 110, 110], 0.3), &[(80, 0)], Reach::default()).is_err());
    }
}
