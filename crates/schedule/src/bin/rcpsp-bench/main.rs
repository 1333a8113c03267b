//! Measures the engine on published benchmark instances, which stay where they are.
//!
//! `rcpsp-bench DIR BEST.csv [--schedules N | --seconds S] [--threads T] [--seed K] [--write DIR] [--every N]`
//!
//! Reads PSPLIB `.sm`, ProGen/max `.sch`, plain job-shop `.jsp` and the shop `.json`; prints one line an instance and a
//! last line of means. Every plan goes through the checker before its number is printed. `--every N` takes each N-th
//! instance only. Clocks and printing are allowed here and nowhere else in the crate.
#![expect(clippy::print_stderr, reason = "a measuring program prints what it measures")]

mod best;
mod instance;
mod progen;
mod psplib;
mod shop;

use best::Known;
use schedule::{Effort, Outcome, checker, solve};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

struct Asked {
    folder: PathBuf,
    best: PathBuf,
    schedules: u64,
    seconds: Option<f64>,
    threads: usize,
    seed: u64,
    write: Option<PathBuf>,
    every: usize,
}

const USAGE: &str =
    "rcpsp-bench DIR BEST.csv [--schedules N | --seconds S] [--threads T] [--seed K] [--write DIR] [--every N]";

fn asked() -> Result<Asked, String> {
    let mut words = std::env::args().skip(1);
    let mut next = |what: &str| words.next().ok_or_else(|| format!("{what} is missing\n{USAGE}"));
    let (folder, best) = (PathBuf::from(next("DIR")?), PathBuf::from(next("BEST.csv")?));
    let mut asked = Asked {
        folder,
        best,
        schedules: u64::MAX,
        seconds: None,
        threads: 1,
        seed: 1,
        write: None,
        every: 1,
    };
    let mut limited = false;
    while let Ok(flag) = next("") {
        let value = next(&format!("the value of {flag}"))?;
        let wrong = |_| format!("{flag} {value}: not a number");
        match flag.as_str() {
            "--schedules" => asked.schedules = value.parse().map_err(wrong)?,
            "--seconds" => {
                asked.seconds = Some(
                    value
                        .parse::<f64>()
                        .map_err(|_| format!("{flag} {value}: not a number"))?,
                )
            }
            "--threads" => asked.threads = value.parse().map_err(wrong)?,
            "--seed" => asked.seed = value.parse().map_err(wrong)?,
            "--every" => asked.every = value.parse::<usize>().map_err(wrong)?.max(1),
            "--write" => asked.write = Some(PathBuf::from(&value)),
            _ => return Err(format!("{flag} is not known\n{USAGE}")),
        }
        limited |= flag == "--schedules" || flag == "--seconds";
    }
    if !limited {
        asked.schedules = 5_000;
    }
    Ok(asked)
}

/// What is added up over the instances.
#[derive(Default)]
struct Tally {
    over_cp: Vec<f64>,
    over_best: Vec<f64>,
    n: usize,
    proved: usize,
    infeasible_proved: usize,
    not_found: usize,
    wrong: usize,
}

fn main() -> ExitCode {
    match asked().and_then(|asked| measure(&asked)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

/// Prints a line; who reads no further is told so, and nothing panics.
fn say(line: &str) -> Result<(), String> {
    writeln!(std::io::stdout(), "{line}").map_err(|error| format!("standard output: {error}"))
}

fn measure(asked: &Asked) -> Result<(), String> {
    let known = best::read(&asked.best, &asked.folder)?;
    let mut paths: Vec<PathBuf> = std::fs::read_dir(&asked.folder)
        .map_err(|error| format!("{}: {error}", asked.folder.display()))?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| instance::is_one(path))
        .collect();
    paths.sort_by_key(|path| instance::natural(path));
    if let Some(folder) = &asked.write {
        std::fs::create_dir_all(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    }
    say("instance,objective,bound,proved,milliseconds")?;
    let mut tally = Tally::default();
    for path in paths.iter().step_by(asked.every) {
        one(asked, path, &known, &mut tally)?;
    }
    let mean = |values: &[f64]| {
        let count = u32::try_from(values.len()).unwrap_or(u32::MAX).max(1);
        values.iter().sum::<f64>() / f64::from(count)
    };
    say(&format!(
        "mean_over_cp_percent={:.3} mean_over_best_percent={:.3} proved={}/{} infeasible_proved={} not_found={} wrong={}",
        mean(&tally.over_cp),
        mean(&tally.over_best),
        tally.proved,
        tally.n,
        tally.infeasible_proved,
        tally.not_found,
        tally.wrong
    ))?;
    Ok(())
}

fn one(asked: &Asked, path: &Path, known: &[Known], tally: &mut Tally) -> Result<(), String> {
    let instance = instance::read(path)?;
    let name = &instance.name;
    let known = known.iter().find(|known| known.name.eq_ignore_ascii_case(name));
    let begun = Instant::now();
    let limit = asked.seconds.map(Duration::from_secs_f64);
    let stop = || limit.is_some_and(|limit| begun.elapsed() >= limit);
    let effort = Effort {
        schedules: asked.schedules,
        stop: limit.is_some().then_some(&stop),
        seed: asked.seed,
        threads: asked.threads,
    };
    let outcome = solve(&instance.problem, &effort);
    let milliseconds = begun.elapsed().as_millis();
    tally.n += 1;
    match &outcome {
        Outcome::Planned(solution) => {
            let violations = checker::check(&instance.problem, &solution.plan);
            let score = checker::score(&instance.problem, &solution.plan);
            if !violations.is_empty() || score != solution.score {
                tally.wrong += 1;
                eprintln!(
                    "{name}: the plan is wrong: {violations:?} {score:?} {:?}",
                    solution.score
                );
            }
            let (objective, bound) = (instance.objective(&score), instance.objective(&solution.bound));
            say(&format!(
                "{name},{objective},{bound},{},{milliseconds}",
                solution.proved
            ))?;
            tally.proved += usize::from(solution.proved);
            if let Some(known) = known {
                let is_wrong = known.is_infeasible
                    || known.lower.is_some_and(|lower| objective < lower)
                    || known
                        .upper
                        .is_some_and(|upper| bound > upper || (solution.proved && objective > upper));
                if is_wrong {
                    tally.wrong += 1;
                    eprintln!("{name}: {objective} with bound {bound} contradicts what is known: {known:?}");
                }
                push_percent(
                    &mut tally.over_cp,
                    objective,
                    known.critical_path.or(instance.critical_path),
                );
                push_percent(&mut tally.over_best, objective, known.upper);
            }
            if let Some(folder) = &asked.write {
                let file = folder.join(format!("{name}.solution.json"));
                std::fs::write(&file, instance.solution_json(&solution.plan, objective))
                    .map_err(|error| format!("{}: {error}", file.display()))?;
            }
        }
        Outcome::Infeasible(_) => {
            say(&format!("{name},infeasible,,true,{milliseconds}"))?;
            tally.infeasible_proved += 1;
            if known.is_some_and(|known| !known.is_infeasible && known.upper.is_some()) {
                tally.wrong += 1;
                eprintln!("{name}: said to be infeasible, but it is not");
            }
        }
        Outcome::NotFound { .. } => {
            tally.not_found += usize::from(known.is_none_or(|known| !known.is_infeasible));
            say(&format!("{name},,,false,{milliseconds}"))?;
        }
        Outcome::Refused(refusals) => {
            tally.wrong += 1;
            say(&format!("{name},refused,,false,{milliseconds}"))?;
            eprintln!("{name}: {refusals:?}");
        }
    }
    Ok(())
}

fn push_percent(values: &mut Vec<f64>, objective: i64, of: Option<i64>) {
    let exact = |value: i64| f64::from(i32::try_from(value).unwrap_or(i32::MAX));
    if let Some(of) = of.filter(|&of| of > 0) {
        values.push(100.0 * exact(objective - of) / exact(of));
    }
}
