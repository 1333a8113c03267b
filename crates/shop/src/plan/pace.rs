//! The shop's own pace: what the bench log says of how long work takes, and of how much it takes.
//!
//! Every step that was begun and done gives the minutes that it took against those of the table. `money::Rates` learns from
//! them; the next plan's minutes are the table's times what it learned, to the nearest twentieth so that one more line in the
//! log does not push every step by a minute. Which schedule is best is still told by the table, so that work under way keeps its
//! steps.

use money::{Estimate, Logged, Rate, Rates};
use quantity::Minutes;
use trade::Operation;

use super::calendar::{PlanClock, working_stretches};
use super::output::Pace;
use super::work::{WorkPiece, WorkStep};
use crate::model::{Mark, MarkKind, MarkedAmount, MarkedStep, Shop};

/// The least and the most that the log may make of a table's minutes.
const FACTORS: (f64, f64) = (0.25, 4.0);
/// With fewer steps in the log, a plan is taken to be as sure as one without any.
const ENOUGH_LOGGED: usize = 10;

/// What the log has taught.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// Each operation that the log holds, in the trade's order.
    pub operations: Vec<LearnedOperation>,
    /// How many steps it rests on, all operations together.
    pub logged: usize,
    /// How many were left out as interruptions or slips of the thumb.
    pub left_out: usize,
    /// What steps took of their materials, newest first.
    pub amounts: Vec<LearnedAmount>,
}

/// The shop's pace at one operation, as factors on the table's minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LearnedOperation {
    /// The operation.
    pub operation: Operation,
    /// How it goes here.
    pub rate: Rate,
}

/// What a step took of its material against what was planned.
#[derive(Debug, Clone, PartialEq)]
pub struct LearnedAmount {
    /// The step, by its id.
    pub step: String,
    /// What was planned.
    pub planned: MarkedAmount,
    /// What it took, mL.
    pub took_ml: f64,
}

impl LearnedAmount {
    /// How it stands to the range: "within", "less than" or "more than".
    pub fn verdict(&self) -> &'static str {
        if self.took_ml < self.planned.low_ml {
            "less than"
        } else if self.took_ml > self.planned.high_ml {
            "more than"
        } else {
            "within"
        }
    }
}

/// Reads what the shop's log teaches.
pub fn learned(shop: &Shop) -> Learned {
    let log = observed(shop);
    let rates = Rates::learn(&log);
    let mut operations: Vec<LearnedOperation> = Vec::new();
    for operation in Operation::EVERY {
        let rate = rates.of(operation);
        if rate.logged > 0 {
            operations.push(LearnedOperation {
                operation: *operation,
                rate,
            });
        }
    }
    Learned {
        logged: operations.iter().map(|operation| operation.rate.logged).sum(),
        operations,
        left_out: rates.left_out(),
        amounts: amounts(&shop.log),
    }
}

/// The learned rates, as the plan asks them.
pub(crate) struct Paces {
    rates: Rates<Operation>,
    logged: usize,
}

impl Paces {
    /// The pace that the shop's log teaches.
    pub(crate) fn of(shop: &Shop) -> Self {
        let log = observed(shop);
        let rates = Rates::learn(&log);
        Paces {
            logged: log.len() - rates.left_out(),
            rates,
        }
    }

    /// Gives every step of a piece the shop's own minutes; a schedule written by hand keeps those that were written.
    pub(crate) fn apply(&self, piece: &mut WorkPiece) {
        if self.logged == 0 {
            return;
        }
        let zones = piece.zones.iter_mut().filter(|zone| !zone.own);
        let steps = piece
            .opening
            .iter_mut()
            .chain(zones.flat_map(|zone| &mut zone.steps))
            .chain(std::iter::once(&mut piece.closing));
        for step in steps {
            self.set(step);
        }
    }

    fn set(&self, step: &mut WorkStep) {
        let rate = self.rates.of(&step.operation);
        let factor = (rate.typical.clamp(FACTORS.0, FACTORS.1) * 20.0).round() / 20.0;
        let table_min = step.hands_on_min;
        let times = |factor: f64| minutes(f64::from(table_min) * factor);
        step.hands_on_min = times(factor);
        step.pace = Some(Pace {
            table_min,
            factor,
            low_min: times(rate.low).min(step.hands_on_min),
            high_min: times(rate.high).max(step.hands_on_min),
            logged: rate.logged,
            logged_in_all: self.logged,
        });
    }

    /// How sure the minutes of a piece are, as the standard deviation of their logarithm; `None` before enough is logged.
    pub(crate) fn log_sd(&self, piece: &WorkPiece) -> Option<f64> {
        if self.logged < ENOUGH_LOGGED {
            return None;
        }
        let steps: Vec<(Operation, Minutes)> = piece
            .steps()
            .map(|step| {
                let table_min = step.pace.map_or(step.hands_on_min, |pace| pace.table_min);
                (step.operation, Minutes::new(i64::from(table_min)))
            })
            .collect();
        let whole: Estimate<Minutes> = self.rates.total(&steps);
        Some(whole.log_sd)
    }
}

/// Whole minutes, one at least.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a positive number of minutes; a float cast saturates"
)]
fn minutes(minutes: f64) -> u32 {
    minutes.round().max(1.0) as u32
}

/// Every step of the log that was begun and done, with the table's minutes and those that it took.
fn observed(shop: &Shop) -> Vec<Logged<Operation>> {
    let mut begun: Vec<(&str, &Mark)> = Vec::new();
    let mut observed: Vec<(&str, Logged<Operation>)> = Vec::new();
    for mark in &shop.log {
        let step = mark.step.as_str();
        match mark.what {
            MarkKind::Begun => {
                begun.retain(|(other, _)| *other != step);
                begun.push((step, mark));
            }
            MarkKind::Done => {
                let Some(place) = begun.iter().position(|(other, _)| *other == step) else {
                    continue;
                };
                let (_, from) = begun.swap_remove(place);
                if let Some(of) = &mark.of {
                    let actual = Minutes::new(worked_min(shop, of, from, mark));
                    let planned = Minutes::new(i64::from(of.table_min));
                    observed.push((
                        step,
                        Logged {
                            operation: of.operation,
                            planned,
                            actual,
                        },
                    ));
                }
            }
            MarkKind::Undone => {
                begun.retain(|(other, _)| *other != step);
                observed.retain(|(other, _)| *other != step);
            }
            _ => {}
        }
    }
    observed.into_iter().map(|(_, logged)| logged).collect()
}

/// Minutes of work between two marks: within one day all but the breaks that lie between them, over several days the working hours.
fn worked_min(shop: &Shop, of: &MarkedStep, from: &Mark, to: &Mark) -> i64 {
    let zone = jiff::tz::TimeZone::get(&shop.settings.zone_id).unwrap_or(jiff::tz::TimeZone::UTC);
    let (begun, done) = (from.at.to_zoned_datetime(zone.clone()), to.at.to_zoned_datetime(zone));
    let Ok(midnight) = begun.start_of_day() else { return 0 };
    let clock = PlanClock::starting_at(&midnight);
    let (begun_min, done_min) = (clock.minute_of(from.at), clock.minute_of(to.at));
    let hours = working_stretches(&shop.settings, of.hand, &clock, done_min.saturating_add(1440));
    if begun.date() == done.date() {
        let breaks = hours.windows(2).map(|pair| (pair[0].1, pair[1].0));
        let rested: i64 = breaks
            .filter(|(from, to)| begun_min <= *from && *to <= done_min)
            .map(|(from, to)| to - from)
            .sum();
        done_min - begun_min - rested
    } else {
        hours
            .iter()
            .map(|(from, to)| (to.min(&done_min) - from.max(&begun_min)).max(0))
            .sum()
    }
}

/// What steps took of their materials, the last word of each, newest first.
fn amounts(log: &[Mark]) -> Vec<LearnedAmount> {
    let mut told: Vec<LearnedAmount> = Vec::new();
    for mark in log {
        let (MarkKind::Took { took_ml }, Some(of)) = (mark.what, &mark.of) else {
            continue;
        };
        if let Some(planned) = &of.amount {
            told.retain(|other| other.step != mark.step);
            told.push(LearnedAmount {
                step: mark.step.clone(),
                planned: planned.clone(),
                took_ml,
            });
        }
    }
    told.reverse();
    told
}
