//! Learned rates: their interval must hold what it says, in shops made up by other means than the estimator's.

use std::collections::BTreeMap;

use money::{Logged, Rates};
use quantity::{Minutes, Range};

use crate::draws::Draws;

/// A made-up shop: one true factor for each operation, and how unevenly its steps go.
struct MadeUp {
    factors: Vec<f64>,
    unevenness: f64,
    noise: Noise,
}

#[derive(Clone, Copy)]
enum Noise {
    /// e to the power of a sum of twelve uniforms.
    TwelveUniforms,
    /// A gamma variable of mean 1, which is no log-normal: its logarithm leans to the left.
    Gamma,
}

impl MadeUp {
    fn new(draws: &mut Draws, noise: Noise) -> Self {
        let shop = 0.7 + 0.9 * draws.uniform();
        let apart = 0.05 + 0.4 * draws.uniform();
        let count = draws.whole(4, 9);
        let factors = (0..count)
            .map(|_| shop * (apart * twelve_uniforms(draws)).exp())
            .collect();
        Self {
            factors,
            unevenness: 0.1 + 0.4 * draws.uniform(),
            noise,
        }
    }

    fn actual(&self, draws: &mut Draws, operation: usize, planned: Minutes) -> Minutes {
        let factor = self.factors[operation]
            * match self.noise {
                Noise::TwelveUniforms => (self.unevenness * twelve_uniforms(draws)).exp(),
                Noise::Gamma => gamma(draws, 1.0 / (self.unevenness * self.unevenness)),
            };
        Minutes::rounded((planned.get() as f64 * factor).max(1.0))
    }

    /// A log in which some operations stand often, some hardly and some not at all.
    fn log(&self, draws: &mut Draws) -> Vec<Logged<usize>> {
        let mut log = Vec::new();
        for operation in 0..self.factors.len() {
            for _ in 0..draws.whole(0, 3) * draws.whole(0, 5) {
                let planned = Minutes::new(draws.whole(10, 120));
                log.push(Logged {
                    operation,
                    planned,
                    actual: self.actual(draws, operation, planned),
                });
            }
        }
        log
    }
}

fn twelve_uniforms(draws: &mut Draws) -> f64 {
    (0..12).map(|_| draws.uniform()).sum::<f64>() - 6.0
}

/// Gamma of mean 1, by the squeeze of a normal cubed (Marsaglia and Tsang).
fn gamma(draws: &mut Draws, shape: f64) -> f64 {
    let d = shape - 1.0 / 3.0;
    loop {
        let z = draws.normal();
        let v = (1.0 + z / (9.0 * d).sqrt()).powi(3);
        if v > 0.0 && draws.uniform().ln() < 0.5 * z * z + d - d * v + d * v.ln() {
            return d * v / shape;
        }
    }
}

fn holds(range: Range<Minutes>, actual: Minutes) -> bool {
    range.contains(actual)
}

/// The share of next steps within their 90 % interval, over 300 shops; and that of those with at most two in the log.
fn coverage(noise: Noise, seed: u64) -> (f64, f64) {
    let mut draws = Draws::new(seed);
    let (mut within, mut all, mut little_within, mut little) = (0, 0, 0, 0);
    for _ in 0..300 {
        let shop = MadeUp::new(&mut draws, noise);
        let rates = Rates::learn(&shop.log(&mut draws));
        for operation in 0..shop.factors.len() {
            let interval = rates.minutes(&operation, Minutes::new(400));
            for _ in 0..10 {
                let hit = holds(interval, shop.actual(&mut draws, operation, Minutes::new(400)));
                within += i32::from(hit);
                all += 1;
                if rates.of(&operation).logged <= 2 {
                    little_within += i32::from(hit);
                    little += 1;
                }
            }
        }
    }
    (
        f64::from(within) / f64::from(all),
        f64::from(little_within) / f64::from(little),
    )
}

#[test]
fn nine_in_ten_next_steps_lie_within_the_interval() {
    let (all, little) = coverage(Noise::TwelveUniforms, 21);
    assert!((0.89..=0.92).contains(&all), "{all}");
    assert!((0.86..=0.96).contains(&little), "with little in the log {little}");
}

#[test]
fn nearly_so_where_the_noise_is_no_log_normal() {
    let (all, little) = coverage(Noise::Gamma, 22);
    assert!((0.89..=0.93).contains(&all), "{all}");
    assert!((0.86..=0.96).contains(&little), "with little in the log {little}");
}

#[test]
fn eight_in_ten_whole_jobs_lie_between_their_tenths() {
    let mut draws = Draws::new(23);
    let mut within = 0;
    let jobs = 600;
    for _ in 0..jobs {
        let shop = MadeUp::new(&mut draws, Noise::TwelveUniforms);
        let rates = Rates::learn(&shop.log(&mut draws));
        let steps: Vec<(usize, Minutes)> = (0..draws.whole(6, 20))
            .map(|_| {
                (
                    (draws.uniform() * shop.factors.len() as f64) as usize,
                    Minutes::new(draws.whole(10, 120)),
                )
            })
            .collect();
        let estimate = rates.total(&steps);
        let actual: Minutes = steps
            .iter()
            .map(|(operation, planned)| shop.actual(&mut draws, *operation, *planned))
            .sum();
        let off = (actual.hours() / estimate.typical.hours()).ln() / estimate.log_sd;
        within += i32::from(off.abs() <= 1.281_551_6);
    }
    let share = f64::from(within) / f64::from(jobs);
    assert!((0.78..=0.83).contains(&share), "{share}");
}

fn pairs(operation: &'static str, factors: &[f64]) -> Vec<Logged<&'static str>> {
    factors
        .iter()
        .map(|factor| Logged {
            operation,
            planned: Minutes::new(1000),
            actual: Minutes::rounded(1000.0 * factor),
        })
        .collect()
}

#[test]
fn much_in_the_log_stands_for_itself_and_little_leans_on_the_rest() {
    let mut log = pairs("sand", &[1.5, 1.1, 2.05, 1.5, 1.3, 1.73].repeat(8));
    log.extend(pairs("prime", &[1.0, 0.75, 1.33, 1.0].repeat(12)));
    log.extend(pairs("stain", &[3.0]));
    let rates = Rates::learn(&log);
    assert!(
        (rates.of(&"sand").typical - 1.5).abs() < 0.06,
        "{:?}",
        rates.of(&"sand")
    );
    assert!(
        (rates.of(&"prime").typical - 1.0).abs() < 0.06,
        "{:?}",
        rates.of(&"prime")
    );
    let stain = rates.of(&"stain").typical;
    assert!(
        stain > 1.5 && stain < 2.95,
        "one entry of three is drawn towards the others: {stain}"
    );
    let never_done = rates.of(&"wax");
    assert_eq!(never_done.logged, 0);
    assert!(never_done.high / never_done.low > 2.0 * rates.of(&"sand").high / rates.of(&"sand").low);
}

#[test]
fn with_nothing_logged_the_plan_stands_with_a_wide_interval() {
    let rates: Rates<u8> = Rates::learn(&[]);
    let rate = rates.of(&0);
    assert!((rate.typical - 1.0).abs() < 1e-6);
    assert!((rate.low * rate.high - 1.0).abs() < 1e-6, "as wide below as above");
    assert!(rate.high > 2.0 && rate.high < 4.0, "{rate:?}");
    assert_eq!(rates.total(&[]).typical, Minutes::ZERO);
    let total = rates.total(&[(1, Minutes::new(60)), (2, Minutes::new(60))]);
    assert!(total.log_sd < rate.log_sd, "two steps even out a little");
}

#[test]
fn slips_of_the_finger_are_left_out_and_counted() {
    let pair = |planned, actual| Logged {
        operation: 0,
        planned: Minutes::new(planned),
        actual: Minutes::new(actual),
    };
    let rates = Rates::learn(&[pair(30, 31), pair(30, 0), pair(0, 30), pair(10, 480), pair(-5, 5)]);
    assert_eq!(rates.left_out(), 4);
    assert_eq!(rates.of(&0).logged, 1);
}

#[test]
fn the_order_of_the_log_does_not_matter() {
    let mut draws = Draws::new(24);
    let log = MadeUp::new(&mut draws, Noise::TwelveUniforms).log(&mut draws);
    let mut turned = log.clone();
    turned.reverse();
    let (one, other) = (Rates::learn(&log), Rates::learn(&turned));
    for operation in log
        .iter()
        .map(|step| (step.operation, ()))
        .collect::<BTreeMap<_, _>>()
        .keys()
    {
        let (one, other) = (one.of(operation), other.of(operation));
        assert!((one.typical / other.typical - 1.0).abs() < 1e-9 && (one.high / other.high - 1.0).abs() < 1e-9);
    }
}
