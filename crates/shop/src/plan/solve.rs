//! Asking the scheduler, and saying in words how good its answer is.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};
use schedule::{ActivityId, Due, Outcome, Placement, Plan as Placements, Previous, Solution, Span};

use super::air::ShopAir;
use super::bench_log::BenchLog;
use super::calendar::{PlanClock, working_stretches};
use super::conflict::{Names, Telling, spoken};
use super::failure::{NoPlan, PlanFailure};
use super::output::{Late, Plan, ScheduleSummary};
use super::problem::{Posed, Posing, StepPlace};
use super::work::WorkPiece;
use crate::model::Shop;

/// How hard the scheduler tries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// So many schedules are made at most.
    pub schedules: u64,
    /// Seed of all chance.
    pub seed: u64,
}

impl Default for Effort {
    /// Three hundred schedules: a screen's worth of waiting, and near the best for a handful of pieces.
    fn default() -> Self {
        Effort {
            schedules: 300,
            seed: 1,
        }
    }
}

impl Effort {
    /// For a plan after a slip: a quarter of what the first plan took, for most of it stays and is looked at no more.
    #[must_use]
    pub fn for_replan(self) -> Self {
        Effort {
            schedules: self.schedules.div_ceil(4),
            ..self
        }
    }

    /// The first schedule that holds.
    pub fn least() -> Self {
        Effort { schedules: 1, seed: 1 }
    }
}

/// Where the steps of an earlier plan stood, by step id: what is kept of a plan for the next one.
#[derive(Debug, Clone, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
pub struct PreviousStarts {
    /// Beginning and end of each step's work.
    pub steps: BTreeMap<String, (Timestamp, Timestamp)>,
    /// When each piece was to be ready, by its id.
    #[serde(default)]
    pub ready: BTreeMap<String, Timestamp>,
}

impl PreviousStarts {
    /// What is to be kept of a plan.
    pub fn of(plan: &Plan) -> Self {
        let steps = plan
            .steps()
            .map(|(_, _, step)| (step.id.clone(), (step.starts.timestamp(), step.ends.timestamp())));
        let ready = plan
            .pieces
            .iter()
            .map(|piece| (piece.id.clone(), piece.ready.timestamp()));
        PreviousStarts {
            steps: steps.collect(),
            ready: ready.collect(),
        }
    }
}

/// What is asked of the scheduler.
pub(crate) struct Solving<'s> {
    pub(crate) shop: &'s Shop,
    pub(crate) work: &'s [WorkPiece],
    pub(crate) clock: &'s PlanClock,
    pub(crate) air: &'s ShopAir,
    pub(crate) log: &'s BenchLog,
    pub(crate) effort: Effort,
}

/// Its answer.
pub(crate) struct Solved {
    pub(crate) places: Vec<StepPlace>,
    pub(crate) placements: Placements,
    /// The drying clocks of the problem.
    pub(crate) clocks: Vec<schedule::Clock>,
    solution: Solution,
    /// What a moved step counts; nothing where no plan was followed.
    worth_moving_min: Option<i64>,
    pub(crate) assumed: Vec<String>,
}

/// Asks the scheduler, with a longer horizon if the first was too short.
pub(crate) fn solve(
    solving: &Solving<'_>,
    previous: Option<(Timestamp, &PreviousStarts)>,
) -> Result<Solved, PlanFailure> {
    let mut horizon = first_horizon(solving);
    let names = Names::of(solving.work);
    for attempt in 0..3 {
        let not_before = previous.map_or(0, |(now, _)| solving.clock.minute_from(now).max(0));
        let mut posed = Posing {
            shop: solving.shop,
            work: solving.work,
            clock: solving.clock,
            air: solving.air,
            log: solving.log,
            not_before,
            horizon: horizon + not_before,
        }
        .pose();
        if let Some((_, previous)) = previous {
            posed.problem.previous = as_before(&posed, solving, previous);
            let told: Vec<Due> = as_told(&posed, solving, previous).collect();
            posed.problem.dues.extend(told);
        }
        let effort = schedule::Effort {
            schedules: solving.effort.schedules,
            stop: None,
            seed: solving.effort.seed,
            threads: 1,
        };
        match schedule::solve(&posed.problem, &effort) {
            Outcome::Planned(solution) => {
                let too_cold = posed
                    .never_fit
                    .iter()
                    .map(|(room_idx, class)| too_cold(solving.shop, *room_idx, *class));
                let assumed = too_cold
                    .chain(posed.missed.iter().map(|pair| window_missed(&names, pair)))
                    .collect();
                let previous = posed.problem.previous.as_ref();
                return Ok(Solved {
                    worth_moving_min: previous.map(|previous| previous.worth_moving_min),
                    places: posed.places,
                    placements: solution.plan.clone(),
                    clocks: posed.problem.clocks,
                    solution,
                    assumed,
                });
            }
            Outcome::Infeasible(_) | Outcome::NotFound { .. } if attempt < 2 => horizon *= 3,
            Outcome::Infeasible(conflict) => {
                let telling = Telling {
                    problem: &posed.problem,
                    names: &names,
                    clock: solving.clock,
                };
                let demands = conflict.demands.iter().map(|demand| telling.demand(demand)).collect();
                return Err(no_dates(demands));
            }
            Outcome::NotFound { schedules } => {
                return Err(no_dates(vec![format!(
                    "none of {schedules} schedules that were tried keeps every longest wait within the working hours"
                )]));
            }
            Outcome::Refused(refusals) => return Err(no_dates(refusals.iter().map(ToString::to_string).collect())),
        }
    }
    Err(no_dates(vec![
        "the working hours of a year do not hold the work".to_owned(),
    ]))
}

fn no_dates(demands: Vec<String>) -> PlanFailure {
    let releases = vec![
        "more or longer working hours".to_owned(),
        "a later pin, or none".to_owned(),
        "another choice of schedule for a zone with a short recoat window".to_owned(),
    ];
    PlanFailure::NoSchedule(vec![NoPlan::Calendar { demands, releases }])
}

fn too_cold(shop: &Shop, room_idx: usize, class: trade::FinishClass) -> String {
    let room = shop
        .settings
        .rooms
        .get(room_idx)
        .map_or("shop", |room| room.name.as_str());
    format!(
        "the air of the {room} never allows {} while anybody works: it was planned as if the room were warmed and dry enough for the time of each coat",
        class.label()
    )
}

fn window_missed(names: &Names, (earlier, later): &(String, String)) -> String {
    let (earlier, later) = (names.name(earlier), names.name(later));
    format!("the time in which {later} was to follow {earlier} has passed: scuff or wipe the surface again before it")
}

/// Long enough for the work at the shop's hours twice over, the waits one after another, and four weeks more.
pub(crate) fn first_horizon(solving: &Solving<'_>) -> i64 {
    const WEEK_MIN: i64 = 7 * 1440;
    let settings = &solving.shop.settings;
    let week_min: i64 = (0..settings.hands.len())
        .flat_map(|hand_idx| working_stretches(settings, hand_idx, solving.clock, 2 * WEEK_MIN))
        .map(|(from, to)| to - from)
        .sum::<i64>()
        / 2;
    let work_min: i64 = solving
        .work
        .iter()
        .flat_map(WorkPiece::steps)
        .map(|step| i64::from(step.hands_on_min))
        .sum();
    let longest_wait_min: i64 = solving
        .work
        .iter()
        .flat_map(|piece| &piece.zones)
        .map(|zone| {
            let waits: i64 = zone
                .steps
                .iter()
                .filter_map(|step| step.wait)
                .map(|wait| i64::from(wait.min_min))
                .sum();
            waits + i64::from(zone.handle_min)
        })
        .max()
        .unwrap_or(0);
    let weeks = 2 * work_min / week_min.max(60) + 1;
    // A cold room stretches a wait up to six times.
    let longest_wait_min = longest_wait_min.min(60 * 1440) * 4;
    (weeks * WEEK_MIN + longest_wait_min + 4 * WEEK_MIN).min(3 * 52 * WEEK_MIN)
}

/// Where the steps stood; nothing where none of them had a place.
fn as_before(posed: &Posed, solving: &Solving<'_>, previous: &PreviousStarts) -> Option<Previous> {
    let placements = posed.problem.activities.iter().map(|activity| {
        let (from, to) = previous.steps.get(&activity.name)?;
        let (start, end) = (solving.clock.minute_of(*from), solving.clock.minute_of(*to));
        Some(Placement {
            start,
            end,
            hands: Vec::new(),
            segments: vec![Span::new(start, end)],
        })
    });
    let placements: Vec<Option<Placement>> = placements.collect();
    placements.iter().any(Option::is_some).then(|| Previous {
        placements,
        worth_moving_min: solving.shop.settings.worth_moving.get(),
    })
}

/// A piece that nobody wants by a day was still to be ready at a time, which somebody may have been told: after a slip it is not to be
/// later for nothing.
fn as_told<'s>(
    posed: &'s Posed,
    solving: &'s Solving<'_>,
    previous: &'s PreviousStarts,
) -> impl Iterator<Item = Due> + use<'s> {
    posed.places.iter().enumerate().filter_map(|(place, step)| {
        let StepPlace::Closing { piece_idx } = *step else {
            return None;
        };
        let piece = solving.work.get(piece_idx).filter(|piece| piece.due.is_none())?;
        let ready = previous.ready.get(&piece.id)?;
        Some(Due {
            activity: ActivityId(place),
            at: solving.clock.minute_of(*ready),
            weight: piece.due_weight,
        })
    })
}

impl Solved {
    /// The schedule as a whole.
    pub(crate) fn summary(&self, work: &[WorkPiece], clock: &PlanClock) -> ScheduleSummary {
        let bench_min = self
            .placements
            .placements
            .iter()
            .flat_map(|placement| &placement.segments)
            .map(|segment| segment.length())
            .sum::<i64>();
        let (score, bound) = (self.solution.score, self.solution.bound);
        ScheduleSummary {
            starts: clock.first().clone(),
            ends: clock.moment(
                self.placements
                    .placements
                    .iter()
                    .map(|placement| placement.end)
                    .max()
                    .unwrap_or(0),
            ),
            bench_min: u32::try_from(bench_min).unwrap_or(0),
            objective: score.weighted.saturating_add(score.completion),
            bound: bound.weighted.saturating_add(bound.completion),
            proved: self.solution.proved,
            late: self.late(work, clock),
            words: self.words(),
        }
    }

    fn words(&self) -> String {
        if self.solution.proved {
            return "This is the best there is: no schedule of these steps is earlier.".to_owned();
        }
        let (score, bound) = (self.solution.score, self.solution.bound);
        let gap_min = (score.weighted - bound.weighted).max(0) + (score.completion - bound.completion).max(0);
        let hours = SignedDuration::from_mins(gap_min).as_hours().max(1);
        if bound.completion > 0 {
            let moves = match self.worth_moving_min {
                Some(worth) if worth > 0 => format!(", a moved step counted as {}", spoken(worth)),
                _ => String::new(),
            };
            format!("At most {hours} h from the best there could be{moves}.")
        } else {
            format!(
                "The best of {} schedules that were tried; how near it is to the best there could be is not known.",
                self.solution.schedules
            )
        }
    }

    fn late(&self, work: &[WorkPiece], clock: &PlanClock) -> Vec<Late> {
        let mut late = Vec::new();
        for (place, placement) in self.places.iter().zip(&self.placements.placements) {
            let StepPlace::Closing { piece_idx } = *place else {
                continue;
            };
            let piece = &work[piece_idx];
            let Some(due) = piece.due.and_then(|due| clock.end_of(due)) else {
                continue;
            };
            if placement.end > due {
                let by_min = u32::try_from(placement.end - due).unwrap_or(u32::MAX);
                late.push(Late {
                    piece: piece.name.clone(),
                    by_h: (f64::from(by_min) / 6.0).round() / 10.0,
                });
            }
        }
        late
    }
}
