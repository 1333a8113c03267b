//! Takes the light on a zone apart: shading, gleam, and the figure of the wood.
//!
//! A pixel of a painted surface is its colour times the light that falls on it, plus the gleam of its skin, which has the
//! light's colour whatever the paint. With the old colour known, three numbers a pixel give both, once the camera's noise is
//! averaged out: the gleam is smooth and is found over wide windows that stop at edges of the shading; the shading is sharp
//! at edges and grooves and smooth between. What is left, the figure of the wood, changes colour as it gets darker, which
//! shading does not: so much of it as goes with such a change is taken out, and the rest is smoothed away gently.

use crate::photo::card::{Start, linear_table};
use crate::photo::mask::count;
use crate::photo::plane::{Plane, by_rows, narrow};
use crate::photo::{Mask, Picture};

/// The zone is taken apart on a picture of this many pixels along its longer side.
const WORKING: usize = 720;
/// Radii below are for a picture of this many.
const RADII_FOR: f64 = 420.0;
/// How much a gleam may be expected, as a prior against old colours so grey that gleam and shading look alike.
const GLEAM_PRIOR: f64 = 1e-4;
/// Relative variance of the shading within a window above which it is an edge and stays.
const EDGE: f32 = 0.015;
/// The same for the window of the gleam.
const GLEAM_EDGE: f32 = 0.05;

/// The zone on a small picture: linear light over the light's own strength, and how much of each pixel is marked.
pub(super) struct Small {
    step: usize,
    width: usize,
    rgb: [Plane; 3],
    weight: Plane,
}

impl Small {
    pub(super) fn of(picture: &Picture, mask: &Mask, start: &Start) -> Self {
        let step = picture.width().max(picture.height()).div_ceil(WORKING).max(1);
        let (width, height) = (picture.width().div_ceil(step), picture.height().div_ceil(step));
        let table = linear_table();
        let light = start.light.map(narrow);
        let mut sums = vec![[0.0_f32; 4]; width * height];
        by_rows(&mut sums, width, |first, band| {
            for (dy, sums) in band.chunks_exact_mut(width).enumerate() {
                let top = (first + dy) * step;
                for y in top..(top + step).min(picture.height()) {
                    let line = &picture.rgb()[y * picture.width() * 3..(y + 1) * picture.width() * 3];
                    let cover = &mask.cover()[y * picture.width()..(y + 1) * picture.width()];
                    for (sum, (block, covers)) in sums.iter_mut().zip(line.chunks(step * 3).zip(cover.chunks(step))) {
                        for (pixel, _) in block.chunks_exact(3).zip(covers).filter(|(_, c)| **c >= 128) {
                            for c in 0..3 {
                                sum[c] += table[usize::from(pixel[c])];
                            }
                            sum[3] += 1.0;
                        }
                    }
                }
            }
        });
        let channel = |c: usize| Plane::from_fn(width, sums.len(), |i| sums[i][c] / sums[i][3].max(1.0) / light[c]);
        let whole = narrow(count(step * step));
        let weight = Plane::from_fn(width, sums.len(), |i| sums[i][3] / whole);
        Self {
            step,
            width,
            rgb: [channel(0), channel(1), channel(2)],
            weight,
        }
    }

    /// A radius for this size of picture.
    fn radius(&self, at_420: usize) -> usize {
        let longest = count(self.width.max(self.weight.height()));
        let wanted = count(at_420) * longest / RADII_FOR;
        (1..4 * at_420 + 2).find(|r| count(*r) + 0.5 > wanted).unwrap_or(at_420)
    }

    fn plane(&self, value: impl Fn(usize) -> f32) -> Plane {
        Plane::from_fn(self.width, self.weight.data.len(), value)
    }

    pub(super) fn taken_apart(&self, old: [f64; 3]) -> Parts {
        let gleam = self.gleam(old);
        let old = old.map(narrow);
        let total: f32 = old.iter().sum();
        let light = |c: usize, i: usize| (self.rgb[c].data[i] - gleam.data[i]).max(1e-3 * old[c]);
        let shade = self.plane(|i| (0..3).map(|c| light(c, i)).sum::<f32>() / total);
        // How much redder than the old colour: shading leaves it, figure changes it.
        let tone = self.plane(|i| {
            let (red, rest) = (light(0, i) / old[0], (light(1, i) + light(2, i)) / (old[1] + old[2]));
            (red / rest).ln()
        });
        let figure = self.figure(&shade, &tone);
        let without_figure = self.plane(|i| shade.data[i] * figure.data[i]);
        let (keep, level) = self.edges(&without_figure);
        Parts {
            step: self.step,
            total,
            gleam,
            figure,
            keep,
            level,
        }
    }

    /// The gleam: of all (shading, gleam) that give a pixel's colour the best in the least-squares sense, averaged over
    /// windows that stop where the shading does.
    fn gleam(&self, old: [f64; 3]) -> Plane {
        let (sum, square): (f64, f64) = (old.iter().sum(), old.iter().map(|v| v * v).sum());
        let determinant = square * (3.0 + GLEAM_PRIOR) - sum * sum;
        let weights: [f32; 3] = old.map(|v| narrow((square - sum * v) / determinant));
        let rgb = |i: usize| [self.rgb[0].data[i], self.rgb[1].data[i], self.rgb[2].data[i]];
        let guess = self.plane(|i| rgb(i).iter().zip(weights).map(|(v, w)| v * w).sum());
        let brightness = self.plane(|i| rgb(i).iter().zip(old).map(|(v, o)| v * narrow(o / square)).sum());
        let (marked, mean) = self
            .weight
            .data
            .iter()
            .zip(&brightness.data)
            .fold((0.0, 0.0), |(n, s), (w, v)| (n + w, s + w * v));
        let scale = if mean > 0.0 { marked / mean } else { 1.0 };
        let guide = self.plane(|i| brightness.data[i] * scale);
        let mut gleam = self.guided(&guide, &guess, self.radius(25), GLEAM_EDGE);
        let wide = self.mean(&brightness, self.radius(25));
        for (i, value) in gleam.data.iter_mut().enumerate() {
            // Burnt-out light on a grey surface cannot be told by its colour, only by standing out.
            let least = rgb(i).iter().fold(f32::MAX, |m, v| m.min(*v));
            let burnt = ((least - 0.6) / 0.2).clamp(0.0, 1.0);
            let surplus = burnt * (brightness.data[i] - 1.5 * wide.data[i]).max(0.0) * narrow(sum / 3.0);
            *value = value.max(0.0) + surplus;
            // No more gleam than there is light in the weakest channel.
            *value = value.min(least.max(0.0));
        }
        gleam
    }

    /// By what to multiply the shading to take out the part of the figure that goes with a change of tone.
    fn figure(&self, shade: &Plane, tone: &Plane) -> Plane {
        let log = self.plane(|i| shade.data[i].max(1e-6).ln());
        let tone = self.mean(tone, self.radius(1));
        let (log_mean, tone_mean) = (self.mean(&log, self.radius(9)), self.mean(&tone, self.radius(9)));
        let part = |i: usize| (log.data[i] - log_mean.data[i], tone.data[i] - tone_mean.data[i]);
        let (mut both, mut logs, mut tones) = (0.0_f64, 0.0_f64, 0.0_f64);
        for (i, weight) in self.weight.data.iter().enumerate() {
            let (l, t) = part(i);
            // Larger steps are edges of the shading, not figure.
            if l.abs() < 0.35 {
                let (w, l, t) = (f64::from(*weight), f64::from(l), f64::from(t));
                both += w * l * t;
                logs += w * l * l;
                tones += w * t * t;
            }
        }
        let slope = both / (tones + 1e-9);
        let explained = both * both / (logs * tones + 1e-12);
        let trust = ((explained - 0.05) / 0.1).clamp(0.0, 1.0);
        let factor = narrow(slope * trust);
        self.plane(|i| (-factor * part(i).1).clamp(-1.0, 1.0).exp())
    }

    /// Smoothing that keeps edges, as the two maps of `smooth = keep · value + level`.
    fn edges(&self, shade: &Plane) -> (Plane, Plane) {
        let radius = self.radius(4);
        let sums = self.weight.box_sum(radius);
        let mean = shade.mean(&self.weight, &sums, radius);
        let square = self
            .plane(|i| shade.data[i] * shade.data[i])
            .mean(&self.weight, &sums, radius);
        let keep = self.plane(|i| {
            let m2 = mean.data[i] * mean.data[i];
            let variance = (square.data[i] - m2).max(0.0);
            variance / (variance + EDGE * m2 + 1e-12)
        });
        let level = self.plane(|i| (1.0 - keep.data[i]) * mean.data[i]);
        (
            keep.mean(&self.weight, &sums, radius),
            level.mean(&self.weight, &sums, radius),
        )
    }

    fn mean(&self, plane: &Plane, radius: usize) -> Plane {
        plane.mean(&self.weight, &self.weight.box_sum(radius), radius)
    }

    /// The guided filter: `values` averaged over windows, following `guide` where it steps.
    fn guided(&self, guide: &Plane, values: &Plane, radius: usize, edge: f32) -> Plane {
        let sums = self.weight.box_sum(radius);
        let mean = |plane: &Plane| plane.mean(&self.weight, &sums, radius);
        let (g, v) = (mean(guide), mean(values));
        let gg = mean(&self.plane(|i| guide.data[i] * guide.data[i]));
        let gv = mean(&self.plane(|i| guide.data[i] * values.data[i]));
        let slope = self
            .plane(|i| (gv.data[i] - g.data[i] * v.data[i]) / ((gg.data[i] - g.data[i] * g.data[i]).max(0.0) + edge));
        let offset = self.plane(|i| v.data[i] - slope.data[i] * g.data[i]);
        let (slope, offset) = (mean(&slope), mean(&offset));
        self.plane(|i| slope.data[i] * guide.data[i] + offset.data[i])
    }
}

/// What was found on the small picture.
pub(super) struct Parts {
    /// Pixels of the full picture along one of the small.
    pub(super) step: usize,
    pub(super) total: f32,
    pub(super) gleam: Plane,
    pub(super) figure: Plane,
    pub(super) keep: Plane,
    pub(super) level: Plane,
}
