//! Prints shopping lists and the risk of quotes for the figures on standard input, for the check against reference
//! libraries.
//!
//! In: `cans NEED_ML SIZE_ML:PRICE …` or `quote MATERIALS LOG_SD MINUTES LOG_SD WAGE PURCHASE PRICE`, money in minor units.
//! Out: the cost and the number of cans; or the chance of a loss, the 10th and 90th percentile and the mean of the cost.

#![expect(clippy::print_stdout, reason = "its whole purpose is to print figures")]

use std::io::BufRead;
use std::process::ExitCode;
use std::str::FromStr;

use money::{Estimate, HourlyRates, Job, Need, Offer, Pricing, Shop, Wanted, cheapest_cans, quote};
use quantity::{Minutes, Money, Volume};

fn main() -> ExitCode {
    for line in std::io::stdin().lock().lines() {
        let answer = line.map_err(|fault| fault.to_string()).and_then(|line| answer(&line));
        match answer {
            Ok(answer) => println!("{answer}"),
            Err(refusal) => {
                println!("{refusal}");
                return ExitCode::from(2);
            }
        }
    }
    ExitCode::SUCCESS
}

fn answer(line: &str) -> Result<String, String> {
    let words: Vec<&str> = line.split_whitespace().collect();
    match words[..] {
        ["cans", need, ref offers @ ..] => cans(need, offers),
        [
            "quote",
            materials,
            materials_sd,
            minutes,
            minutes_sd,
            wage,
            purchase,
            price,
        ] => {
            let job = Job {
                materials: Estimate::new(money(materials)?, read(materials_sd)?),
                hands_on: Estimate::new(Minutes::new(read(minutes)?), read(minutes_sd)?),
                purchase: money(purchase)?,
                rates: HourlyRates {
                    wage: money(wage)?,
                    overhead: Money::ZERO,
                },
            };
            let quote = quote(&job, Pricing::Asked(money(price)?)).map_err(|refused| refused.to_string())?;
            let (p10, p90) = (quote.price_p10.minor(), quote.price_p90.minor());
            Ok(format!(
                "{} {p10} {p90} {}",
                quote.loss_chance,
                quote.average_cost.minor()
            ))
        }
        _ => Err(format!("`{line}` is neither `cans` nor `quote` with its figures")),
    }
}

fn cans(need: &str, offers: &[&str]) -> Result<String, String> {
    let offer = |text: &&str| {
        let (size, price) = text
            .split_once(':')
            .ok_or_else(|| format!("`{text}` is no size:price"))?;
        Ok(Offer {
            size: Volume::from_ml(read(size)?),
            price: money(price)?,
            shop: 0,
        })
    };
    let wanted = Wanted {
        material: "material".to_owned(),
        needs: vec![Need {
            volume: Volume::from_ml(read(need)?),
            in_days: 0,
        }],
        shelf: Vec::new(),
        offers: offers.iter().map(offer).collect::<Result<_, String>>()?,
        least_useful: Volume::ZERO,
    };
    let list = cheapest_cans(&[wanted], &[Shop::default()]).map_err(|refused| refused.to_string())?;
    let count: i64 = list
        .materials
        .iter()
        .flat_map(|bought| &bought.cans)
        .map(|cans| cans.count)
        .sum();
    Ok(format!("{} {count}", list.total.minor()))
}

fn money(word: &str) -> Result<Money, String> {
    read(word).map(Money::from_minor)
}

fn read<T: FromStr>(word: &str) -> Result<T, String> {
    word.parse()
        .map_err(|_| format!("`{word}` is not a figure that fits here"))
}
