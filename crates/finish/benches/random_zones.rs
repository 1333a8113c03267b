//! How long planning takes over a thousand random zones: median and worst, in milliseconds.
//!
//! `cargo bench -p finish`. The zones are those of the tests.

use std::io::Write;
use std::time::Instant;

use finish::plan;

#[path = "../tests/it/random_zones.rs"]
#[allow(
    dead_code,
    clippy::unwrap_used,
    reason = "shared with the tests, which use all of it"
)]
mod random_zones;

/// Each zone is timed so often and its best time counts: other work may share the machine.
const REPEATS: usize = 15;

fn main() -> std::io::Result<()> {
    let mut generator = random_zones::Draw::seeded(1);
    let zones: Vec<_> = (0..1_000).map(|_| random_zones::draw(&mut generator)).collect();
    // The tables are read once, at the first plan of a program.
    let first = Instant::now();
    let _ = plan(&zones[0].0, &zones[0].1, &zones[0].2);
    let first_ms = first.elapsed().as_secs_f64() * 1e3;
    let (mut solved, mut barred): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
    for (zone, wish, limits) in &zones {
        let mut best_ms = f64::MAX;
        let mut is_planned = false;
        for _ in 0..REPEATS {
            let began = Instant::now();
            is_planned = plan(zone, wish, limits).is_ok();
            best_ms = best_ms.min(began.elapsed().as_secs_f64() * 1e3);
        }
        if is_planned { &mut solved } else { &mut barred }.push(best_ms);
    }
    let mut out = std::io::stdout().lock();
    writeln!(out, "first plan with reading the tables: {first_ms:.2} ms")?;
    for (name, mut took_ms) in [("planned", solved), ("no schedule, with its explanation", barred)] {
        took_ms.sort_by(f64::total_cmp);
        let at = |share: usize| {
            took_ms
                .get((took_ms.len() * share / 100).min(took_ms.len().saturating_sub(1)))
                .copied()
                .unwrap_or(0.0)
        };
        writeln!(
            out,
            "{name}: {} zones, median {:.2} ms, 95 % {:.2} ms, worst {:.2} ms",
            took_ms.len(),
            at(50),
            at(95),
            at(100)
        )?;
    }
    Ok(())
}
