//! How long `plan` takes for the five pieces of the example shop: `cargo run --release -p shop --bin plan-bench [-- RUNS [SCHEDULES]]`.

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;

use shop::file::{Beside, Source};
use shop::plan::Effort;

const FILES: [&str; 6] = [
    "shop.toml",
    "hall-bench.toml",
    "kitchen-chairs.toml",
    "sideboard.toml",
    "blanket-box.toml",
    "stool.toml",
];

struct Folder<'f>(&'f Path);

impl Beside for Folder<'_> {
    fn bytes(&self, _from: &str, name: &str) -> Result<Vec<u8>, String> {
        std::fs::read(self.0.join(name)).map_err(|error| error.to_string())
    }
}

fn main() -> ExitCode {
    let mut out = std::io::stdout();
    match measure() {
        Ok(text) => {
            let _ = out.write_all(text.as_bytes());
            ExitCode::SUCCESS
        }
        Err(reason) => {
            let _ = std::io::stderr().write_all(reason.as_bytes());
            ExitCode::from(2)
        }
    }
}

fn measure() -> Result<String, String> {
    let runs: usize = std::env::args().nth(1).and_then(|runs| runs.parse().ok()).unwrap_or(11);
    let schedules = std::env::args().nth(2).and_then(|schedules| schedules.parse().ok());
    let effort = schedules.map_or_else(Effort::default, |schedules| Effort {
        schedules,
        ..Effort::default()
    });
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/garage-in-march");
    let mut sources = Vec::new();
    for file in FILES {
        let text = std::fs::read_to_string(folder.join(file)).map_err(|error| format!("{file}: {error}\n"))?;
        sources.push(Source::new(file, text));
    }
    let now = jiff::Timestamp::UNIX_EPOCH;
    let mut reading_ms = Vec::new();
    let mut planning_ms = Vec::new();
    let mut said = String::new();
    for _ in 0..runs.max(1) {
        let begun = Instant::now();
        let read = shop::file::read(&sources, &Folder(&folder)).map_err(|refusals| refusals.to_string())?;
        reading_ms.push(begun.elapsed().as_secs_f64() * 1000.0);
        let begun = Instant::now();
        let plan = shop::plan::plan(&read.shop, now, effort).map_err(|failure| format!("{failure:?}\n"))?;
        planning_ms.push(begun.elapsed().as_secs_f64() * 1000.0);
        said = format!(
            "{} steps, {} days; {}",
            plan.steps().count(),
            plan.days.len(),
            plan.schedule.words
        );
    }
    Ok(format!(
        "pieces=5 schedules={} runs={} read_ms={:.1} plan_ms={:.1} (medians)\n{said}\n",
        effort.schedules,
        runs.max(1),
        median(&mut reading_ms),
        median(&mut planning_ms)
    ))
}

fn median(times: &mut [f64]) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}
