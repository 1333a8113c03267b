//! Moving a step by hand: whether it may begin at a moment, and where not, what stands against it and which times would do.
//!
//! First what certainly stands against it is told: hours too short, air that its coat cannot bear, a wait that is not over, dust beside
//! what is wet, steps that cannot be done before it, a pinned step that cannot come after it. All of that is worked out by the rules
//! alone, without a search, so that it is certain and quick. Then the scheduler is asked for one plan around the step, first quickly and
//! then with much more patience: it finds a plan, or shows that there is none and what cannot all hold, or neither. The words say which.

use std::fmt;

use jiff::{Timestamp, ZonedDateTime};
use schedule::{ActivityId, Breaks, Conflict, Demand, Due, Effect, Minute, Outcome, Pin, Problem, Span};

use super::Planning;
use super::calendar::working_stretches;
use super::conflict::{Names, Telling, spoken, told};
use super::problem::{Posed, Posing};
use super::solve::{self, Effort, Solving};
use super::work::WorkPiece;
use crate::model::Shop;

/// So many schedules are tried around the moment that was asked for before it is refused,
const PATIENT_TRIES: u64 = 200;
/// and so many for the earliest one.
const EARLIEST_TRIES: u64 = 40;
/// So many other moments are looked at on each side of the wanted one.
const MOMENTS: usize = 16;
/// They lie on quarters of an hour.
const QUARTER_MIN: Minute = 15;
/// No further away than this, minutes.
const FURTHEST_MIN: Minute = 28 * 1440;

/// Why a step cannot begin at a moment.
#[derive(Debug, Clone, PartialEq)]
pub struct NotMoved {
    /// The step as a person calls it.
    pub step: String,
    /// The moment that was wanted.
    pub wanted: ZonedDateTime,
    /// What stands against it, the step's own first.
    pub against: Vec<String>,
    /// The nearest moments that were found to do, in rising order; empty where none was found.
    pub nearest: Vec<ZonedDateTime>,
}

impl fmt::Display for NotMoved {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} cannot begin {}: {}.",
            self.step,
            told(&self.wanted),
            self.against.join("; ")
        )?;
        let nearest: Vec<String> = self.nearest.iter().map(told).collect();
        match nearest.as_slice() {
            [] => f.write_str(" No other time near it was found either."),
            times => write!(f, " It could begin {}.", times.join(", or ")),
        }
    }
}

/// Whether a step of the shop's plan may begin at a moment, everything else being laid out around it.
///
/// # Errors
/// What stands against it, and the nearest moments that would do. A piece that cannot be planned at all, or a step that is not in the
/// plan, stands against nothing here: whoever plans afterwards is told of it there.
pub fn may_begin_at(
    shop: &Shop,
    now: Timestamp,
    effort: Effort,
    step_id: &str,
    to: Timestamp,
) -> Result<(), Box<NotMoved>> {
    let mut planning = Planning::new(shop, now, effort);
    let Ok(work) = planning.work() else { return Ok(()) };
    let work: Vec<WorkPiece> = work.into_iter().map(|(piece, _)| piece).collect();
    let asking = Asking::new(&planning, &work, now, to, step_id);
    let Some(asking) = asking else { return Ok(()) };
    let wanted = planning.clock.minute_from(to);
    let mut against = asking.reasons(wanted);
    if against.is_empty() {
        match asking.around(wanted) {
            Around::Found => return Ok(()),
            Around::Impossible(demands) => against.push(format!("these cannot all hold with it there: {}", demands.join("; "))),
            Around::NotFound(tried) => against.push(format!(
                "none of the {tried} orders of the other steps that were tried leaves it there, though none was shown to be impossible"
            )),
        }
    }
    let nearest = asking.nearest(wanted);
    Err(Box::new(NotMoved {
        step: asking.names.name(step_id),
        wanted: planning.clock.moment(wanted),
        against,
        nearest: nearest
            .into_iter()
            .map(|minute| planning.clock.moment(minute))
            .collect(),
    }))
}

/// The problem without the pin that is asked for, and what is needed to tell of it.
struct Asking<'a> {
    planning: &'a Planning<'a>,
    posed: Posed,
    names: Names,
    stretches: Vec<(Minute, Minute)>,
    step: ActivityId,
    not_before: Minute,
}

/// What is known of a plan around the step.
enum Around {
    /// There is one.
    Found,
    /// There is none: these demands, the step's new time left out, cannot all hold with it.
    Impossible(Vec<String>),
    /// None was found in so many schedules, and none refuted.
    NotFound(u64),
}

/// What [`Asking::soonest`] finds, by activity.
struct Soonest {
    /// The soonest start; the fixed one of what is pinned.
    starts: Vec<Minute>,
    /// The soonest start by what comes before it, whatever is pinned.
    wanted: Vec<Minute>,
    /// The wait that holds it back to then.
    held_by: Vec<Option<usize>>,
}

impl<'a> Asking<'a> {
    fn new(
        planning: &'a Planning<'a>,
        work: &[WorkPiece],
        now: Timestamp,
        to: Timestamp,
        step_id: &str,
    ) -> Option<Self> {
        let not_before = planning.clock.minute_from(now).max(0);
        let solving = Solving {
            shop: planning.shop,
            work,
            clock: &planning.clock,
            air: &planning.air,
            log: &planning.log,
            effort: planning.effort,
        };
        let horizon = solve::first_horizon(&solving) + not_before.max(planning.clock.minute_from(to));
        let mut posed = Posing {
            shop: planning.shop,
            work,
            clock: &planning.clock,
            air: &planning.air,
            log: &planning.log,
            not_before,
            horizon,
        }
        .pose();
        let place = posed
            .problem
            .activities
            .iter()
            .position(|activity| activity.name == step_id)?;
        // Where it was pinned before does not count any more; what is begun is not moved.
        let activity = &mut posed.problem.activities[place];
        if activity.pin.as_ref().is_some_and(|pin| pin.begun) {
            return None;
        }
        activity.pin = None;
        let mut stretches: Vec<(Minute, Minute)> = (0..planning.shop.settings.hands.len())
            .flat_map(|hand_idx| working_stretches(&planning.shop.settings, hand_idx, &planning.clock, horizon))
            .collect();
        stretches.sort_unstable();
        Some(Asking {
            planning,
            posed,
            names: Names::of(work),
            stretches,
            step: ActivityId(place),
            not_before,
        })
    }

    fn problem(&self) -> &Problem {
        &self.posed.problem
    }

    /// What the step itself asks and this minute does not give.
    fn own_reasons(&self, minute: Minute) -> Vec<String> {
        let mut reasons = Vec::new();
        if minute < self.not_before {
            reasons.push("that time has gone by".to_owned());
        }
        if !self.is_worked(minute) {
            reasons.push(self.hours_of(minute));
        }
        let activity = &self.problem().activities[self.step.0];
        if !is_open(&activity.start_windows, minute) {
            reasons.push(self.air_of(minute, &activity.start_windows));
        }
        reasons.extend(self.waits_of(minute));
        reasons
    }

    /// All that certainly stands against this minute.
    fn reasons(&self, minute: Minute) -> Vec<String> {
        let mut reasons = self.own_reasons(minute);
        if reasons.is_empty() {
            reasons.extend(self.before_it(minute));
            reasons.extend(self.after_it(minute));
        }
        reasons
    }

    /// Why it cannot be so soon: the step before it that ends last.
    fn before_it(&self, minute: Minute) -> Option<String> {
        let soonest = self.soonest(None);
        let start = soonest.starts[self.step.0];
        if minute >= start {
            return None;
        }
        let clock = &self.planning.clock;
        let lag = soonest.held_by[self.step.0].and_then(|lag_idx| self.problem().lags.get(lag_idx))?;
        let ends = soonest.starts[lag.from.0] + self.problem().activities[lag.from.0].duration;
        Some(format!(
            "it can begin {} at the soonest, for {} comes first and cannot be done before {}{}",
            told(&clock.moment(start)),
            self.telling().name(lag.from),
            told(&clock.moment(ends)),
            self.telling().then_waits(lag, ends)
        ))
    }

    /// A step that is pinned, and comes after this one with waits that leave no room between them.
    fn after_it(&self, minute: Minute) -> Option<String> {
        let soonest = self.soonest(Some(minute));
        let pushed = self.problem().activities.iter().enumerate().find(|(place, activity)| {
            let pin = activity.pin.as_ref().filter(|pin| !pin.begun);
            pin.is_some_and(|pin| soonest.wanted[*place] > pin.start)
        })?;
        let earliest = told(&self.planning.clock.moment(soonest.wanted[pushed.0]));
        let pin = self.telling().pin(ActivityId(pushed.0));
        Some(format!(
            "{pin}, and with what lies between it could not be before {earliest}"
        ))
    }

    /// The soonest start of every step by hours, air and shortest waits alone, as if there were hands and room for all at once: no plan
    /// has any of them earlier. With a minute, the step begins there.
    fn soonest(&self, minute: Option<Minute>) -> Soonest {
        let problem = self.problem();
        let telling = self.telling();
        let fixed: Vec<Option<Minute>> = (0..problem.activities.len())
            .map(|place| match minute {
                Some(minute) if place == self.step.0 => Some(minute),
                _ => problem.activities[place].pin.as_ref().map(|pin| pin.start),
            })
            .collect();
        let mut starts: Vec<Minute> = fixed
            .iter()
            .enumerate()
            .map(|(place, fixed)| fixed.unwrap_or_else(|| self.fitted(place, self.not_before)))
            .collect();
        let mut wanted = starts.clone();
        let mut held_by = vec![None; starts.len()];
        // Waits only lead forward: after as many rounds as there are steps nothing moves any more.
        for _ in 0..starts.len() {
            let mut is_still = true;
            for (lag_idx, lag) in problem.lags.iter().enumerate() {
                let ends = starts[lag.from.0] + problem.activities[lag.from.0].duration;
                let until = telling.until(ends, lag.min);
                let to = lag.to.0;
                if until > wanted[to] {
                    wanted[to] = until;
                    if fixed[to].is_none() {
                        starts[to] = self.fitted(to, until);
                        wanted[to] = starts[to];
                    }
                    held_by[to] = Some(lag_idx);
                    is_still = false;
                }
            }
            if is_still {
                break;
            }
        }
        Soonest {
            starts,
            wanted,
            held_by,
        }
    }

    /// The first minute from this one on at which somebody works for as long as the step takes, in air that allows it.
    fn fitted(&self, place: usize, from: Minute) -> Minute {
        let activity = &self.problem().activities[place];
        let from = from.max(activity.release);
        if activity.hands == 0 {
            return from;
        }
        let needed = match activity.breaks {
            Breaks::Within => activity.duration,
            Breaks::Split => 1,
        };
        let whole = [Span::new(from, Minute::MAX)];
        let windows = if activity.start_windows.is_empty() {
            &whole[..]
        } else {
            &activity.start_windows[..]
        };
        self.stretches
            .iter()
            .flat_map(|(begins, ends)| {
                windows
                    .iter()
                    .map(move |window| (from.max(*begins).max(window.from), *ends, window.to))
            })
            .filter(|(at, ends, closes)| at + needed <= *ends && at < closes)
            .map(|(at, ..)| at)
            .min()
            .unwrap_or(from)
    }

    /// Waits after what is begun or done that this minute does not keep, and dust beside what is still wet.
    fn waits_of(&self, minute: Minute) -> Vec<String> {
        let problem = self.problem();
        let telling = self.telling();
        let mut reasons = Vec::new();
        for lag in problem.lags.iter().filter(|lag| lag.to == self.step) {
            if let Some(ended) = telling.ended(lag.from) {
                if minute < telling.until(ended, lag.min) {
                    reasons.push(telling.shortest(lag));
                }
                if lag.max.is_some_and(|most| minute > telling.until(ended, most)) {
                    reasons.push(telling.longest(lag));
                }
            }
        }
        let step = &problem.activities[self.step.0];
        if let Some((room, Effect::Dust)) = step.room {
            for (place, other) in problem.activities.iter().enumerate() {
                let Some((other_room, Effect::Coat { wet })) = other.room else {
                    continue;
                };
                let Some(ended) = telling.ended(ActivityId(place)).filter(|_| other_room == room) else {
                    continue;
                };
                let dry = telling.until(ended, wet);
                if minute < dry {
                    let dry = told(&self.planning.clock.moment(dry));
                    let name = self.names.name(&other.name);
                    reasons.push(format!(
                        "it throws dust, and {name} is wet in the same room until {dry}"
                    ));
                }
            }
        }
        reasons
    }

    fn telling(&self) -> Telling<'_> {
        Telling {
            problem: self.problem(),
            names: &self.names,
            clock: &self.planning.clock,
        }
    }

    /// Whether somebody is at work from this minute on for as long as the step takes without a break.
    fn is_worked(&self, minute: Minute) -> bool {
        let activity = &self.problem().activities[self.step.0];
        let needed = match activity.breaks {
            Breaks::Within => activity.duration,
            Breaks::Split => 1,
        };
        self.stretches
            .iter()
            .any(|(from, to)| *from <= minute && minute + needed <= *to)
    }

    fn hours_of(&self, minute: Minute) -> String {
        let clock = &self.planning.clock;
        let day = clock.moment(minute).date();
        let hours: Vec<String> = self
            .stretches
            .iter()
            .map(|(from, to)| (clock.moment(*from), clock.moment(*to)))
            .filter(|(from, _)| from.date() == day)
            .map(|(from, to)| format!("{} to {}", from.strftime("%-H:%M"), to.strftime("%-H:%M")))
            .collect();
        let takes = spoken(self.problem().activities[self.step.0].duration);
        let hours = if hours.is_empty() {
            "nobody works that day".to_owned()
        } else {
            format!("that day is worked {}", hours.join(" and "))
        };
        let wall = clock.moment(minute).datetime();
        let block = self
            .planning
            .shop
            .settings
            .blocks
            .iter()
            .find(|block| block.from <= wall && wall < block.to);
        let why = block.map_or_else(String::new, |block| match block.why.as_str() {
            "" => ", with this time taken out".to_owned(),
            why => format!(", with this time taken out ({why})"),
        });
        format!("it takes {takes} and {hours}{why}")
    }

    fn air_of(&self, minute: Minute, windows: &[Span]) -> String {
        let clock = &self.planning.clock;
        let day = clock.moment(minute).date();
        let spans: Vec<String> = windows
            .iter()
            .map(|span| (clock.moment(span.from), clock.moment(span.to)))
            .filter(|(from, to)| from.date() <= day && day <= to.date())
            .map(|(from, to)| format!("{} to {}", told(&from), told(&to)))
            .collect();
        if spans.is_empty() {
            "the air is too cold or too damp for this coat all that day".to_owned()
        } else {
            format!("the air allows this coat only {}", spans.join(" and "))
        }
    }

    /// The problem with the step pinned to this minute.
    fn pinned_to(&self, minute: Minute) -> Problem {
        let mut problem = self.problem().clone();
        let activity = &mut problem.activities[self.step.0];
        activity.start_windows.clear();
        activity.pin = Some(Pin {
            start: minute,
            hands: Vec::new(),
            begun: false,
        });
        problem
    }

    /// Looks for a plan with the step begun at this minute, with the patience that a refusal asks for.
    fn around(&self, minute: Minute) -> Around {
        if self.does(minute) {
            return Around::Found;
        }
        let problem = self.pinned_to(minute);
        match schedule::solve(&problem, &effort(PATIENT_TRIES, self.planning.effort.seed)) {
            Outcome::Planned(_) => Around::Found,
            Outcome::Infeasible(conflict) if is_telling(&conflict) => {
                let telling = Telling {
                    problem: &problem,
                    names: &self.names,
                    clock: &self.planning.clock,
                };
                // That hands are needed at all goes without saying where anything else is in the conflict.
                let is_said =
                    |demand: &&Demand| **demand != Demand::Pin(self.step) && !matches!(demand, Demand::Hours(_));
                let said = conflict
                    .demands
                    .iter()
                    .filter(is_said)
                    .map(|demand| telling.demand(demand));
                let mut said: Vec<String> = said.collect();
                if said.is_empty() {
                    said.push("the hours and hands that there are".to_owned());
                }
                Around::Impossible(said)
            }
            Outcome::Infeasible(_) | Outcome::Refused(_) => Around::NotFound(PATIENT_TRIES),
            Outcome::NotFound { schedules } => Around::NotFound(schedules.max(1)),
        }
    }

    /// Whether a plan is found at once with the step begun at this minute: one schedule is made and none refuted, for a proof that
    /// there is none can take long and is not needed here.
    fn does(&self, minute: Minute) -> bool {
        let effort = effort(1, self.planning.effort.seed);
        matches!(schedule::solve(&self.pinned_to(minute), &effort), Outcome::Planned(_))
    }

    /// The nearest moments that do: one before the wanted one and one after it, where there are such.
    fn nearest(&self, wanted: Minute) -> Vec<Minute> {
        let mut nearest = Vec::new();
        let earliest = self.earliest();
        let soonest = earliest.unwrap_or_else(|| self.soonest(None).starts[self.step.0]);
        let mut moments: Vec<Minute> = self
            .stretches
            .iter()
            .flat_map(|(from, to)| {
                (0..)
                    .map(move |turn| from + turn * QUARTER_MIN)
                    .take_while(move |at| at < to)
            })
            .filter(|at| *at >= soonest && (at - wanted).abs() <= FURTHEST_MIN)
            .collect();
        moments.extend(earliest);
        moments.sort_unstable();
        moments.dedup();
        let (before, after): (Vec<Minute>, Vec<Minute>) = moments.into_iter().partition(|at| *at < wanted);
        let is_fit = |at: &Minute| self.own_reasons(*at).is_empty();
        let does = |at: &Minute| self.after_it(*at).is_none() && self.does(*at);
        // The first quarters one by one, then every hour, then every four: what is near first, and far enough.
        let thinned = |(turn, at): (usize, Minute)| match turn {
            0..6 => Some(at),
            6..24 => (turn % 4 == 0).then_some(at),
            _ => (turn % 16 == 0).then_some(at),
        };
        let first = |moments: Vec<Minute>| {
            let fit = moments.into_iter().filter(is_fit).enumerate().filter_map(thinned);
            fit.take(MOMENTS).find(does)
        };
        nearest.extend(first(before.into_iter().rev().collect()));
        nearest.extend(first(after.into_iter().filter(|at| *at > wanted).collect()));
        nearest
    }

    /// About the earliest moment that the step could begin at, were it all that matters.
    fn earliest(&self) -> Option<Minute> {
        let mut problem = self.problem().clone();
        problem.previous = None;
        problem.dues = vec![Due {
            activity: self.step,
            at: self.not_before,
            weight: 1,
        }];
        match schedule::solve(&problem, &effort(EARLIEST_TRIES, self.planning.effort.seed)) {
            Outcome::Planned(solution) => solution
                .plan
                .placements
                .get(self.step.0)
                .map(|placement| placement.start),
            _ => None,
        }
    }
}

fn effort(schedules: u64, seed: u64) -> schedule::Effort<'static> {
    schedule::Effort {
        schedules,
        stop: None,
        seed,
        threads: 1,
    }
}

/// Whether a conflict says something about the shop: what only fails for the length of time that was looked at proves nothing.
fn is_telling(conflict: &Conflict) -> bool {
    conflict.minimal && !conflict.demands.contains(&Demand::Horizon) && conflict.demands.len() > 1
}

/// Whether a minute lies in one of the windows; no windows are always open.
fn is_open(windows: &[Span], minute: Minute) -> bool {
    windows.is_empty() || windows.iter().any(|window| window.from <= minute && minute < window.to)
}
