//! Prints the figures of moist air and of wood for each air on standard input, for the check against a reference library.
//!
//! In: lines of `temp_c rh`, the humidity from 0 to 1. Out: `saturation_pa dew_point_c wet_bulb_c humidity_ratio emc_pct`.

#![expect(clippy::print_stdout, reason = "its whole purpose is to print figures")]

use std::io::BufRead;
use std::process::ExitCode;

use climate::{Air, wood};

fn main() -> ExitCode {
    for line in std::io::stdin().lock().lines() {
        let air = line.map_err(|fault| fault.to_string()).and_then(|line| read(&line));
        match air {
            Ok(air) => println!(
                "{} {} {} {} {}",
                climate::air::saturation_pressure_pa(air.temp_c()),
                air.dew_point_c(),
                air.wet_bulb_c(),
                air.humidity_ratio(),
                wood::emc_pct(air)
            ),
            Err(refusal) => {
                println!("{refusal}");
                return ExitCode::from(2);
            }
        }
    }
    ExitCode::SUCCESS
}

/// An air from a line of two figures.
fn read(line: &str) -> Result<Air, String> {
    let figures: Vec<f64> = line.split_whitespace().filter_map(|word| word.parse().ok()).collect();
    let [temp_c, rh] = figures[..] else {
        return Err(format!(
            "`{line}` is not two figures: write the temperature in °C and the humidity from 0 to 1, as in `20 0.5`"
        ));
    };
    Air::from_c(temp_c, rh).map_err(|refusal| refusal.to_string())
}
