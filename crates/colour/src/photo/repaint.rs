//! Another colour under the light that falls on a zone.
//!
//! The light is found on a small picture ([`super::apart`]); here it is laid over every pixel of the full one, once, and then
//! mixed with whatever look is asked for.

use serde::{Deserialize, Serialize};

use crate::lab::Lab;
use crate::photo::apart::{Parts, Small};
use crate::photo::card::{OldColour, linear_table};
use crate::photo::plane::{by_rows, narrow};
use crate::photo::{Mask, PhotoError, Picture};
use crate::srgb::{nearest_level, to_linear};

/// What to show.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Look {
    /// The new colour.
    pub colour: Lab,
    /// How much it gleams beside the photograph: 0 dead flat, 1 as now, 3 far more.
    pub sheen: f64,
    /// How much of the wood's figure shows: 0 for paint, 1 for a stain.
    pub grain: f64,
}

impl Look {
    /// A paint that covers, gleaming as the piece does now.
    #[must_use]
    pub const fn paint(colour: Lab) -> Self {
        Self {
            colour,
            sheen: 1.0,
            grain: 0.0,
        }
    }
}

/// A photograph whose zone has been taken apart, ready for any colour.
#[derive(Debug, Clone)]
pub struct Repaint {
    picture: Picture,
    mask: Mask,
    light: [f32; 3],
    rows: Vec<Row>,
    cells: Vec<Cell>,
}

/// The marked part of one row.
#[derive(Debug, Clone, Copy, Default)]
struct Row {
    left: usize,
    right: usize,
    first_cell: usize,
}

/// Light on one pixel, in units of [`SHADE`] and [`GLEAM`].
#[derive(Debug, Clone, Copy, Default)]
struct Cell {
    smooth: u16,
    with_grain: u16,
    gleam: u16,
}

/// Steps in a shading of 1.
const SHADE: f32 = 16384.0;
/// Steps in a gleam as bright as white.
const GLEAM: f32 = 65535.0;

impl Repaint {
    /// Takes the light on the zone apart.
    ///
    /// Needs about 6 bytes a marked pixel beside the picture and the mask, both of which it keeps.
    ///
    /// # Errors
    /// [`PhotoError`]: a mask of another size or with nothing in it, a spot or a card that does not do.
    pub fn prepare(picture: Picture, mask: Mask, old: OldColour) -> Result<Self, PhotoError> {
        mask.fits(&picture)?;
        let start = old.start(&picture)?;
        let small = Small::of(&picture, &mask, &start);
        let parts = small.taken_apart(start.old.map(|v| v.max(0.004)));
        let rows = rows_of(&mask);
        let light = start.light.map(narrow);
        let cells = cells(&picture, &rows, &parts, light);
        Ok(Self {
            picture,
            mask,
            light,
            rows,
            cells,
        })
    }

    /// The picture with the zone in its new look.
    #[must_use]
    pub fn paint(&self, look: &Look) -> Picture {
        let mut picture = self.picture.clone();
        self.paint_over(look, &mut picture);
        picture
    }

    /// As [`Repaint::paint`], over a picture that an earlier one made: only the zone is written.
    ///
    /// A picture of another size becomes a new one.
    pub fn paint_over(&self, look: &Look, earlier: &mut Picture) {
        let width = self.picture.width();
        if (earlier.width, earlier.height) != (width, self.picture.height()) {
            *earlier = self.picture.clone();
        }
        let new = to_linear(look.colour).map(narrow);
        let (sheen, grain) = (narrow(look.sheen.clamp(0.0, 5.0)), narrow(look.grain.clamp(0.0, 2.0)));
        // Whole numbers from here on: a 12-megapixel picture leaves a few nanoseconds a pixel.
        let mixer = Mixer {
            colour: std::array::from_fn(|c| fixed(self.light[c] * new[c] / SHADE * LEVELS)),
            gleam: std::array::from_fn(|c| fixed(self.light[c] * sheen / GLEAM * LEVELS)),
            grain: i64::from(fixed(grain)),
            levels: level_table(),
        };
        by_rows(&mut earlier.rgb, width * 3, |first, band| {
            for (y, line) in (first..).zip(band.chunks_exact_mut(width * 3)) {
                let row = self.rows[y];
                let here = y * width + row.left..y * width + row.right;
                let cells = &self.cells[row.first_cell..row.first_cell + (row.right - row.left)];
                let photo = &self.picture.rgb()[here.start * 3..here.end * 3];
                mixer.paint_row(
                    cells,
                    &self.mask.cover()[here],
                    photo,
                    &mut line[row.left * 3..row.right * 3],
                );
            }
        });
    }

    /// The photograph as it was taken.
    #[must_use]
    pub const fn picture(&self) -> &Picture {
        &self.picture
    }
}

/// A look as factors of [`POINT`] binary places.
struct Mixer {
    colour: [u32; 3],
    gleam: [u32; 3],
    grain: i64,
    levels: Vec<u8>,
}

impl Mixer {
    fn paint_row(&self, cells: &[Cell], cover: &[u8], photo: &[u8], out: &mut [u8]) {
        let pixels = out.chunks_exact_mut(3).zip(photo.chunks_exact(3));
        for ((cell, cover), (pixel, old)) in cells.iter().zip(cover).zip(pixels) {
            let painted = self.mix(*cell);
            match cover {
                255 => pixel.copy_from_slice(&painted),
                cover => {
                    for c in 0..3 {
                        pixel[c] = blend(old[c], painted[c], *cover);
                    }
                }
            }
        }
    }

    #[inline]
    fn mix(&self, cell: Cell) -> [u8; 3] {
        let shade = if self.grain == 0 {
            u32::from(cell.smooth)
        } else {
            self.with_grain(cell)
        };
        let shine = u32::from(cell.gleam);
        // No overflow: two products of 16 bits and at most 2^15 each.
        std::array::from_fn(|c| {
            let light = (shade * self.colour[c] + shine * self.gleam[c]) >> POINT;
            self.levels[usize::try_from(light).unwrap_or(MOST_LEVEL).min(MOST_LEVEL)]
        })
    }

    fn with_grain(&self, cell: Cell) -> u32 {
        let smooth = i64::from(cell.smooth);
        let figured = smooth + (((i64::from(cell.with_grain) - smooth) * self.grain) >> POINT);
        u32::try_from(figured.clamp(0, 65535)).unwrap_or(0)
    }
}

fn blend(old: u8, new: u8, cover: u8) -> u8 {
    let (old, new, cover) = (u32::from(old), u32::from(new), u32::from(cover));
    u8::try_from((old * (255 - cover) + new * cover + 127) / 255).unwrap_or(u8::MAX)
}

/// Steps of linear light that screen levels are looked up by; fine enough for the darkest.
const LEVELS: f32 = 8191.0;

fn level_table() -> Vec<u8> {
    (0..=8191_u16)
        .map(|i| nearest_level(f64::from(i) / f64::from(LEVELS)))
        .collect()
}

const MOST_LEVEL: usize = 8191;
/// Binary places of a factor.
const POINT: u32 = 14;

/// A factor as a whole number of 2^-14, cut off at 2.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=32768 before"
)]
fn fixed(factor: f32) -> u32 {
    (factor * 16384.0 + 0.5).clamp(0.0, 32768.0) as u32
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=65535 before"
)]
fn steps(value: f32) -> u16 {
    (value + 0.5).clamp(0.0, 65535.0) as u16
}

/// Where each row is marked, and where its cells begin.
fn rows_of(mask: &Mask) -> Vec<Row> {
    let mut first_cell = 0;
    mask.cover()
        .chunks_exact(mask.width())
        .map(|line| {
            let left = line.iter().position(|c| *c > 0).unwrap_or(0);
            let right = line.iter().rposition(|c| *c > 0).map_or(left, |x| x + 1);
            let row = Row {
                left,
                right,
                first_cell,
            };
            first_cell += right - left;
            row
        })
        .collect()
}

/// Lays the small maps over the full picture.
fn cells(picture: &Picture, rows: &[Row], parts: &Parts, light: [f32; 3]) -> Vec<Cell> {
    let total = rows.last().map_or(0, |row| row.first_cell + row.right - row.left);
    let mut cells = vec![Cell::default(); total];
    let hands = std::thread::available_parallelism()
        .map_or(1, std::num::NonZero::get)
        .min(8);
    let table = linear_table();
    let mut left = cells.as_mut_slice();
    std::thread::scope(|scope| {
        let share = rows.len().div_ceil(hands).max(1);
        for (i, band) in rows.chunks(share).enumerate() {
            let size = band.iter().map(|row| row.right - row.left).sum();
            let (mine, rest) = std::mem::take(&mut left).split_at_mut(size);
            left = rest;
            let table = &table;
            let source = Source {
                picture,
                parts,
                light,
                table,
            };
            scope.spawn(move || source.fill(i * share, band, mine));
        }
    });
    cells
}

/// What cells are computed from.
#[derive(Clone, Copy)]
struct Source<'a> {
    picture: &'a Picture,
    parts: &'a Parts,
    light: [f32; 3],
    table: &'a [f32; 256],
}

impl Source<'_> {
    /// Fills the cells of `rows`, of which the first is row `first` of the picture.
    fn fill(&self, first: usize, rows: &[Row], cells: &mut [Cell]) {
        let first_cell = rows.first().map_or(0, |row| row.first_cell);
        let width = self.picture.width();
        let by_light = self.light.map(|v| 1.0 / v);
        let mut maps = vec![[0.0_f32; 4]; self.parts.gleam.width];
        let columns: Vec<_> = (0..width)
            .map(|x| neighbours(x, self.parts.step, self.parts.gleam.width))
            .collect();
        for (y, row) in (first..).zip(rows).filter(|(_, row)| row.right > row.left) {
            between_rows(self.parts, y, &mut maps);
            let line = &self.picture.rgb()[(y * width + row.left) * 3..(y * width + row.right) * 3];
            let mine = &mut cells[row.first_cell - first_cell..row.first_cell - first_cell + (row.right - row.left)];
            for ((column, pixel), cell) in columns[row.left..row.right].iter().zip(line.chunks_exact(3)).zip(mine) {
                let [gleam, figure, keep, level] = between_columns(&maps, *column);
                let sum: f32 = (0..3).map(|c| self.table[usize::from(pixel[c])] * by_light[c]).sum();
                let shade = ((sum - 3.0 * gleam) / self.parts.total).max(0.0);
                let smooth = keep * shade * figure + level;
                *cell = Cell {
                    smooth: steps(smooth * SHADE),
                    with_grain: steps(shade * SHADE),
                    gleam: steps(gleam * GLEAM),
                };
            }
        }
    }
}

/// The four maps along one row of the full picture, at the small picture's columns.
fn between_rows(parts: &Parts, y: usize, maps: &mut [[f32; 4]]) {
    let (above, below, share) = neighbours(y, parts.step, parts.gleam.height());
    let width = parts.gleam.width;
    let planes = [&parts.gleam, &parts.figure, &parts.keep, &parts.level];
    for (x, out) in maps.iter_mut().enumerate() {
        for (value, plane) in out.iter_mut().zip(planes) {
            let (a, b) = (plane.data[above * width + x], plane.data[below * width + x]);
            *value = a + share * (b - a);
        }
    }
}

fn between_columns(maps: &[[f32; 4]], (left, right, share): (usize, usize, f32)) -> [f32; 4] {
    let (left, right) = (&maps[left], &maps[right]);
    std::array::from_fn(|k| left[k] + share * (right[k] - left[k]))
}

/// The two small pixels on either side of a full one, and how far it is from the first to the second.
fn neighbours(at: usize, step: usize, size: usize) -> (usize, usize, f32) {
    if step == 1 {
        return (at, at, 0.0);
    }
    // Middle of the pixel in half-pixels of the full picture, counted from the middle of the first small pixel.
    let halves = (2 * at + 1).saturating_sub(step);
    let first = (halves / (2 * step)).min(size - 1);
    let rest = halves - 2 * step * first;
    let share = narrow(crate::photo::mask::count(rest) / crate::photo::mask::count(2 * step));
    (first, (first + 1).min(size - 1), share.min(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Srgb, difference};

    fn flat(width: usize, height: usize, colour: Srgb) -> Picture {
        Picture::from_rgb(width, height, [colour.r, colour.g, colour.b].repeat(width * height)).unwrap()
    }

    fn whole(width: usize, height: usize) -> Mask {
        Mask::from_cover(width, height, vec![255; width * height]).unwrap()
    }

    #[test]
    fn an_evenly_lit_board_takes_the_new_colour() {
        let (old, new) = (Srgb::parse("#7a4a2b").unwrap(), Srgb::parse("#8a9a5b").unwrap());
        let ready = Repaint::prepare(flat(60, 40, old), whole(60, 40), OldColour::Reading(old.to_lab())).unwrap();
        let painted = ready.paint(&Look::paint(new.to_lab()));
        assert!(difference(painted.pixel(30, 20).unwrap().to_lab(), new.to_lab()) < 0.6);
    }

    #[test]
    fn outside_of_the_zone_nothing_changes() {
        let old = Srgb::parse("#7a4a2b").unwrap();
        let picture = flat(60, 40, old);
        let mask = Mask::polygon(60, 40, &[(10.0, 10.0), (30.0, 10.0), (30.0, 30.0), (10.0, 30.0)]);
        let ready = Repaint::prepare(picture.clone(), mask.clone(), OldColour::Reading(old.to_lab())).unwrap();
        let painted = ready.paint(&Look::paint(Lab::new(80.0, 0.0, 0.0)));
        for (i, cover) in mask.cover().iter().enumerate() {
            let same = painted.rgb()[3 * i..3 * i + 3] == picture.rgb()[3 * i..3 * i + 3];
            assert_eq!(same, *cover == 0, "{i}");
        }
    }

    #[test]
    fn the_same_colour_again_changes_next_to_nothing() {
        let old = Srgb::parse("#7a4a2b").unwrap();
        let rgb = (0..60 * 40).flat_map(|i| [0x7a, 0x4a, 0x2b].map(|v: u8| v - u8::try_from(i % 60 / 2).unwrap()));
        let picture = Picture::from_rgb(60, 40, rgb.collect()).unwrap();
        let ready = Repaint::prepare(picture.clone(), whole(60, 40), OldColour::Reading(old.to_lab())).unwrap();
        let again = ready.paint(&Look {
            grain: 1.0,
            ..Look::paint(old.to_lab())
        });
        let apart = difference(
            again.pixel(30, 20).unwrap().to_lab(),
            picture.pixel(30, 20).unwrap().to_lab(),
        );
        assert!(apart < 3.0, "{apart}");
    }

    #[test]
    fn sheen_and_grain_do_what_they_say() {
        let old = Srgb::parse("#7a4a2b").unwrap();
        // Stripes of figure, and on the right half a gleam.
        let rgb = (0..120 * 80).flat_map(|i| {
            let (x, figure) = (i % 120, if i % 6 < 3 { 8 } else { 0 });
            let gleam = if x > 60 { 40 } else { 0 };
            [0x7a, 0x4a, 0x2b].map(|v: u8| v - figure + gleam)
        });
        let picture = Picture::from_rgb(120, 80, rgb.collect()).unwrap();
        let ready = Repaint::prepare(picture, whole(120, 80), OldColour::Reading(old.to_lab())).unwrap();
        let navy = Srgb::parse("#1f3a5f").unwrap().to_lab();
        let light = |look: Look, x: usize| ready.paint(&look).pixel(x, 40).unwrap().to_lab().l;
        let spread = |look: Look| {
            (20..40)
                .map(|x| light(look, x))
                .fold((f64::MAX, 0.0_f64), |(a, b), l| (a.min(l), b.max(l)))
        };
        let (smooth, grained) = (
            spread(Look::paint(navy)),
            spread(Look {
                grain: 1.0,
                ..Look::paint(navy)
            }),
        );
        assert!(
            smooth.1 - smooth.0 < 0.6 * (grained.1 - grained.0),
            "{smooth:?} {grained:?}"
        );
        let gleaming = |sheen| {
            light(
                Look {
                    sheen,
                    ..Look::paint(navy)
                },
                100,
            )
        };
        assert!(gleaming(0.0) < gleaming(1.0) - 3.0 && gleaming(1.0) < gleaming(2.0) - 3.0);
    }

    #[test]
    fn painting_over_an_earlier_picture_is_painting_anew() {
        let old = Srgb::parse("#7a4a2b").unwrap();
        let mask = Mask::polygon(60, 40, &[(10.3, 10.0), (30.0, 11.7), (30.0, 30.0), (10.0, 30.0)]);
        let ready = Repaint::prepare(flat(60, 40, old), mask, OldColour::Reading(old.to_lab())).unwrap();
        let (one, other) = (
            Look::paint(Lab::new(80.0, 0.0, 0.0)),
            Look::paint(Lab::new(30.0, 40.0, 20.0)),
        );
        let mut picture = ready.paint(&one);
        ready.paint_over(&other, &mut picture);
        assert_eq!(picture, ready.paint(&other));
        let mut small = flat(3, 3, old);
        ready.paint_over(&one, &mut small);
        assert_eq!(small, ready.paint(&one));
    }

    #[test]
    fn an_empty_or_foreign_mask_is_refused() {
        let old = Srgb::parse("#7a4a2b").unwrap();
        let said = |mask| {
            Repaint::prepare(flat(6, 4, old), mask, OldColour::Reading(old.to_lab()))
                .unwrap_err()
                .to_string()
        };
        assert!(said(Mask::empty(6, 4)).contains("no zone is marked"));
        assert!(said(whole(5, 4)).contains("5 × 4"));
    }
}
