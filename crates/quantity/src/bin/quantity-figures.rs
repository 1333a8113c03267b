//! Reads quantities as people type them from standard input and prints them in SI, for the check against a reference
//! library.
//!
//! In: lines of a kind, a space and what is typed, as in `length 18 3/4 in`. Out: the figure in m, m², m³, kg, K, m³/s or
//! m²/L.

#![expect(clippy::print_stdout, reason = "its whole purpose is to print figures")]

use std::io::BufRead;
use std::process::ExitCode;

use quantity::{Area, Flow, Length, Mass, Spread, Temperature, Volume, WetFilm};

fn main() -> ExitCode {
    for line in std::io::stdin().lock().lines() {
        let figure = line.map_err(|fault| fault.to_string()).and_then(|line| read(&line));
        match figure {
            Ok(figure) => println!("{figure:e}"),
            Err(refusal) => {
                println!("{refusal}");
                return ExitCode::from(2);
            }
        }
    }
    ExitCode::SUCCESS
}

fn read(line: &str) -> Result<f64, String> {
    let (kind, typed) = line.split_once(' ').unwrap_or((line, ""));
    match kind {
        "length" => Length::parse(typed).map(Length::m),
        "area" => Area::parse(typed).map(Area::m2),
        "volume" => Volume::parse(typed).map(Volume::m3),
        "mass" => Mass::parse(typed).map(Mass::kg),
        "film" => WetFilm::parse(typed).map(WetFilm::m),
        "temperature" => Temperature::parse(typed).map(Temperature::kelvin),
        "flow" => Flow::parse(typed).map(Flow::m3_per_s),
        "spread" => Spread::parse(typed).map(Spread::m2_per_litre),
        _ => {
            return Err(format!(
                "`{kind}` is no kind of quantity: write length, area, volume, mass, film, temperature, flow or spread"
            ));
        }
    }
    .map_err(|refusal| refusal.to_string())
}
