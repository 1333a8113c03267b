//! How long the parts that a user waits for take. `cargo bench -p colour`
//!
//! Prints a line for each target: what, measured, wanted. Inputs are made here, from fixed numbers.

#![expect(clippy::print_stdout, reason = "a bench prints what it measures")]
#![allow(clippy::unwrap_used, missing_docs, reason = "a bench fails by panicking")]

use std::hint::black_box;
use std::time::{Duration, Instant};

use colour::mix::{Shelf, ShelfPaint};
use colour::photo::{Look, Mask, OldColour, Picture, Repaint};
use colour::{Hiding, HidingClass, Lab, Spectrum, Srgb, coats_to_hide, difference};
use quantity::WetFilm;

fn main() {
    // `cargo test --all-targets` runs benches too; it asks for no measurement.
    if std::env::args().any(|arg| arg == "--test") {
        return;
    }
    differences();
    coats();
    matches();
    photographs();
}

/// What several runs took: the middle one and, for a machine with other work to do, the least disturbed and the time on all
/// processors together.
struct Runs {
    times: Vec<Duration>,
    processor_ms: Option<f64>,
}

impl std::fmt::Display for Runs {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "{:.1?} (best {:.1?}",
            self.times[self.times.len() / 2],
            self.times[0]
        )?;
        if let Some(ms) = self.processor_ms.filter(|ms| *ms > 1.0) {
            write!(f, ", processor time {ms:.0} ms")?;
        }
        write!(f, ")")
    }
}

fn timed(runs: u32, mut work: impl FnMut()) -> Runs {
    let before = ticks();
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort();
    // A tick is 10 ms wherever Linux runs today.
    let processor_ms = before
        .zip(ticks())
        .map(|(before, after)| (after - before) * 10.0 / f64::from(runs));
    Runs { times, processor_ms }
}

/// Ticks of this process on all processors, in user and kernel; on Linux.
fn ticks() -> Option<f64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    let fields: Vec<&str> = stat.rsplit(')').next()?.split_whitespace().collect();
    let tick = |at: usize| fields.get(at)?.parse::<f64>().ok();
    Some(tick(11)? + tick(12)?)
}

fn differences() {
    let colours: Vec<Lab> = (0..1001)
        .map(|i| Lab::new(f64::from(i % 101), f64::from(i % 83) - 41.0, f64::from(i % 127) - 63.0))
        .collect();
    let time = timed(21, || {
        for pair in colours.windows(2) {
            black_box(difference(black_box(pair[0]), pair[1]));
        }
    });
    println!("a thousand differences: {time} (ratio to numpy: reference/colours.py)");
}

fn coats() {
    let (old, new) = (Lab::new(30.0, 15.0, 12.0), Lab::new(85.0, -3.0, 20.0));
    let time = timed(21, || {
        black_box(
            coats_to_hide(
                old,
                black_box(new),
                &Hiding::Class(HidingClass::Fair),
                WetFilm::from_um(100.0),
            )
            .unwrap(),
        );
    });
    println!("coats to hide: {time}");
}

fn matches() {
    let paints: Vec<ShelfPaint> = (0..20)
        .map(|i| {
            let hue = f64::from(i) * 18.0_f64.to_radians();
            let (l, c) = (20.0 + f64::from(i * 7 % 11) * 6.0, 12.0 + f64::from(i * 5 % 7) * 6.0);
            let colour = if i == 0 {
                Lab::new(96.0, -0.5, 2.0)
            } else {
                Lab::new(l, c * hue.cos(), c * hue.sin())
            };
            let tint = Lab::new(f64::midpoint(l, 85.0), 0.7 * c * hue.cos(), 0.7 * c * hue.sin());
            ShelfPaint {
                name: format!("paint {i}"),
                colour,
                tint_with_white: (i > 0).then_some(tint),
            }
        })
        .collect();
    let target = Spectrum::nearest(Lab::new(58.0, -9.0, 14.0)).0;
    let shelf = Shelf::try_new(paints.clone(), Some(0)).unwrap();
    let match_time = timed(11, || {
        black_box(shelf.recipes(black_box(&target), 4));
    });
    let read_time = timed(7, || {
        black_box(Shelf::try_new(paints.clone(), Some(0)).unwrap());
    });
    println!("match from 20 paints, up to 4 in a recipe: {match_time} (wanted: under 100 ms)");
    println!("reading 20 paints with their tints, once a shelf: {read_time}");
}

fn photographs() {
    let (width, height) = (4000_usize, 3000_usize);
    let rgb: Vec<u8> = (0..width * height)
        .flat_map(|i| {
            let (x, y) = (i % width, i / width);
            let grain = u8::try_from((x / 9 + y / 40) % 17).unwrap();
            let shade = u8::try_from(x * 40 / width + y * 20 / height).unwrap();
            [130 + grain - shade, 90 + grain / 2 - shade, 60 + grain / 3 - shade / 2]
        })
        .collect();
    let picture = Picture::from_rgb(width, height, rgb).unwrap();
    let file = picture.to_jpeg(90).unwrap();
    let corners = [(0.2, 0.25), (0.75, 0.2), (0.8, 0.8), (0.25, 0.85)];
    let outline: Vec<(f64, f64)> = corners.iter().map(|(x, y)| (x * 4000.0, y * 3000.0)).collect();
    let old = OldColour::Reading(Srgb::new(130, 90, 60).to_lab());
    let looks = [Lab::new(61.0, -16.0, 31.0), Lab::new(24.0, 0.0, -25.0)].map(Look::paint);

    println!("12 megapixels ({} kB as JPEG), zone of 34 %:", file.len() / 1024);
    let decode = timed(7, || {
        black_box(Picture::decode(black_box(&file)).unwrap());
    });
    println!("  decoding: {decode}");
    let mask = Mask::polygon(width, height, &outline);
    let whole = timed(7, || {
        let ready = Repaint::prepare(black_box(picture.clone()), mask.clone(), old).unwrap();
        black_box(ready.paint(&looks[0]));
    });
    println!("  first preview at full size, without decoding: {whole} (wanted: under 400 ms)");
    let ready = Repaint::prepare(picture.clone(), mask, old).unwrap();
    let mut shown = ready.paint(&looks[1]);
    let mut turn = 0;
    let again = timed(15, || {
        turn += 1;
        ready.paint_over(&looks[turn % 2], &mut shown);
        black_box(&shown);
    });
    println!("  another colour at full size: {again} (wanted: under 30 ms)");

    let small_outline: Vec<(f64, f64)> = corners.iter().map(|(x, y)| (x * 1334.0, y * 1000.0)).collect();
    let from_file = timed(7, || {
        let small = Picture::decode(black_box(&file)).unwrap().shrunk_to(1400);
        let mask = Mask::polygon(small.width(), small.height(), &small_outline);
        let ready = Repaint::prepare(small, mask, old).unwrap();
        black_box(ready.paint(&looks[0]));
    });
    println!("  first preview at screen size, from the file: {from_file} (wanted: under 400 ms)");
    let small = picture.shrunk_to(1400);
    let mask = Mask::polygon(small.width(), small.height(), &small_outline);
    let ready = Repaint::prepare(small, mask, old).unwrap();
    let again = timed(15, || {
        turn += 1;
        black_box(ready.paint(&looks[turn % 2]));
    });
    println!("  another colour at screen size: {again} (wanted: under 30 ms)");
}
