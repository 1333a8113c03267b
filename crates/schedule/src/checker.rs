//! The independent check of a plan: every rule of the model again, by the plainest reading of its words.
//!
//! It shares no code with the solver, not even the calendars: it goes through the plan minute by minute or event by
//! event and is slow on purpose. Run on every plan in tests and in debug builds.

use crate::model::{
    Activity, ActivityId, Breaks, Effect, HandId, Lag, Minute, Placement, Plan, Point, Problem, Score, Span, Wait,
};

/// One rule that a plan breaks, in words, with the caller's names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Violation {
    /// Which rule, a stable kebab-case id.
    pub rule: &'static str,
    /// What, where, by how much.
    pub message: String,
}

/// Every rule that the plan breaks; empty for a valid plan.
#[must_use]
pub fn check(problem: &Problem, plan: &Plan) -> Vec<Violation> {
    let mut found = Found(Vec::new());
    if plan.placements.len() != problem.activities.len() {
        let message = format!(
            "{} placements for {} activities",
            plan.placements.len(),
            problem.activities.len()
        );
        found.add("placement-for-each", message);
        return found.0;
    }
    for (activity, placement) in problem.activities.iter().zip(&plan.placements) {
        check_times(problem, activity, placement, &mut found);
        check_segments(problem, activity, placement, &mut found);
    }
    check_hands(problem, plan, &mut found);
    check_resources(problem, plan, &mut found);
    check_rooms(problem, plan, &mut found);
    for lag in &problem.lags {
        check_lag(problem, lag, plan, &mut found);
    }
    found.0
}

/// The plan's score by the model's words.
#[must_use]
pub fn score(problem: &Problem, plan: &Plan) -> Score {
    let placements = &plan.placements;
    let completion = placements.iter().map(|p| p.end).max().unwrap_or(0);
    let late: i64 = problem
        .dues
        .iter()
        .map(|due| i64::from(due.weight) * (placements[due.activity.0].end - due.at).max(0))
        .sum();
    let mut weighted = late + i64::from(problem.completion_weight) * completion;
    let mut moved_min = 0;
    if let Some(previous) = &problem.previous {
        for (now, was) in placements.iter().zip(&previous.placements) {
            let by = was.as_ref().map_or(0, |was| (now.start - was.start).abs());
            moved_min += by;
            if by > 0 {
                weighted += previous.worth_moving_min;
            }
        }
    }
    let mut lost_min = 0;
    for hand in 0..problem.hands.len() {
        let mine: Vec<Span> = work_of(placements, HandId(hand));
        let Some(last) = mine.iter().map(|span| span.to).max() else {
            continue;
        };
        let there: Minute = working(problem, HandId(hand))
            .iter()
            .map(|span| Span::new(span.from.max(problem.not_before), span.to.min(last)).length())
            .sum();
        let worked: Minute = mine
            .iter()
            .map(|span| Span::new(span.from.max(problem.not_before), span.to).length())
            .sum();
        lost_min += (there - worked).max(0);
    }
    Score {
        weighted,
        completion,
        lost_min,
        moved_min,
    }
}

struct Found(Vec<Violation>);

impl Found {
    fn add(&mut self, rule: &'static str, message: String) {
        self.0.push(Violation { rule, message });
    }
}

/// Stretches in which a hand is at work, in order of start.
fn work_of(placements: &[Placement], hand: HandId) -> Vec<Span> {
    let mut mine: Vec<Span> = placements
        .iter()
        .filter(|p| p.hands.contains(&hand))
        .flat_map(|p| p.segments.iter().copied())
        .collect();
    mine.sort();
    mine
}

/// The hand's periods less the blocks, cut piece by piece.
fn working(problem: &Problem, hand: HandId) -> Vec<Span> {
    let mut left = problem.hands[hand.0].periods.clone();
    for block in &problem.blocks {
        if block.hand.is_some_and(|who| who != hand) {
            continue;
        }
        left = left
            .iter()
            .flat_map(|period| {
                [
                    Span::new(period.from, period.to.min(block.span.from)),
                    Span::new(period.from.max(block.span.to), period.to),
                ]
            })
            .filter(|piece| piece.length() > 0)
            .collect();
    }
    left.sort();
    // Periods that touch are one: nobody need stop between them.
    let mut merged: Vec<Span> = Vec::new();
    for period in left {
        match merged.last_mut() {
            Some(last) if last.to == period.from => last.to = period.to,
            _ => merged.push(period),
        }
    }
    merged
}

fn check_times(problem: &Problem, activity: &Activity, placement: &Placement, found: &mut Found) {
    let name = &activity.name;
    let start = placement.start;
    if let Some(pin) = &activity.pin {
        if start != pin.start {
            found.add(
                "pinned-start",
                format!("{name} starts at {start}, pinned at {}", pin.start),
            );
        }
        if !pin.hands.is_empty() && pin.hands != placement.hands {
            found.add(
                "pinned-hands",
                format!("{name} is done by {:?}, pinned to {:?}", placement.hands, pin.hands),
            );
        }
    } else {
        let earliest = problem.not_before.max(activity.release);
        if start < earliest {
            found.add(
                "start-after-release",
                format!("{name} starts at {start}, not before {earliest}"),
            );
        }
        if start.rem_euclid(problem.grid.max(1)) != 0 {
            found.add(
                "start-on-grid",
                format!("{name} starts at {start}, off the grid of {}", problem.grid),
            );
        }
    }
    let begun = activity.pin.as_ref().is_some_and(|pin| pin.begun);
    let windows = &activity.start_windows;
    if !begun && !windows.is_empty() && !windows.iter().any(|w| w.from <= start && start < w.to) {
        found.add(
            "start-in-window",
            format!("{name} starts at {start}, outside its {} start windows", windows.len()),
        );
    }
    let limit = activity.deadline.unwrap_or(problem.horizon).min(problem.horizon);
    if placement.end > limit {
        found.add(
            "end-by-deadline",
            format!("{name} ends at {}, after {limit}", placement.end),
        );
    }
}

fn check_segments(problem: &Problem, activity: &Activity, placement: &Placement, found: &mut Found) {
    let name = &activity.name;
    let mut bad = |why: String| found.add("work-in-periods", format!("{name}: {why}"));
    let hands = &placement.hands;
    if hands.len() != activity.hands {
        bad(format!("{} hands of {}", hands.len(), activity.hands));
    }
    if hands.windows(2).any(|pair| pair[0] >= pair[1]) || hands.iter().any(|hand| hand.0 >= problem.hands.len()) {
        bad(format!("hands {hands:?} are not an ascending list of known ones"));
        return;
    }
    if !activity.among.is_empty() && hands.iter().any(|hand| !activity.among.contains(hand)) {
        bad(format!("done by {hands:?}, allowed are {:?}", activity.among));
    }
    let segments = &placement.segments;
    let (Some(first), Some(last)) = (segments.first(), segments.last()) else {
        bad("no segment".to_owned());
        return;
    };
    if first.from != placement.start || last.to != placement.end {
        bad("its segments do not span it".to_owned());
    }
    if segments.windows(2).any(|pair| pair[0].to >= pair[1].from) {
        bad("its segments are not apart and in order".to_owned());
    }
    let worked: Minute = segments.iter().map(|s| s.to - s.from).sum();
    if worked != activity.duration {
        bad(format!("{worked} min worked of {}", activity.duration));
    }
    if (activity.breaks == Breaks::Within || activity.hands == 0) && segments.len() != 1 {
        bad("split, though it may not be".to_owned());
    }
    if activity.pin.as_ref().is_some_and(|pin| pin.begun) {
        return;
    }
    for &hand in hands {
        let periods = working(problem, hand);
        for segment in segments {
            if !periods.iter().any(|p| p.from <= segment.from && segment.to <= p.to) {
                bad(format!(
                    "{}..{} is outside the hours of {}",
                    segment.from, segment.to, problem.hands[hand.0].name
                ));
            }
        }
    }
    // Between two segments nobody may have been free to go on: a split is for breaks alone.
    for pair in segments.windows(2) {
        let gap = Span::new(pair[0].to, pair[1].from);
        let mut shared = vec![gap];
        for &hand in hands {
            let periods = working(problem, hand);
            shared = shared
                .iter()
                .flat_map(|s| {
                    periods
                        .iter()
                        .map(move |p| Span::new(s.from.max(p.from), s.to.min(p.to)))
                })
                .filter(|s| s.length() > 0)
                .collect();
        }
        if !shared.is_empty() {
            bad(format!(
                "idle from {} to {} though its hands work then",
                gap.from, gap.to
            ));
        }
    }
}

fn check_hands(problem: &Problem, plan: &Plan, found: &mut Found) {
    for hand in 0..problem.hands.len() {
        let mut mine: Vec<(Span, usize)> = plan
            .placements
            .iter()
            .enumerate()
            .filter(|(_, p)| p.hands.contains(&HandId(hand)) && p.end > p.start)
            .map(|(index, p)| (Span::new(p.start, p.end), index))
            .collect();
        mine.sort();
        for pair in mine.windows(2) {
            let ((before, first), (after, second)) = (pair[0], pair[1]);
            let (first, second) = (&problem.activities[first], &problem.activities[second]);
            let clean_up = match first.product {
                Some(product) if second.product != Some(product) => {
                    problem.clean_up_min.get(product.0).copied().unwrap_or(0)
                }
                _ => 0,
            };
            if after.from < before.to + clean_up {
                let message = format!(
                    "{} has {} until {} (clean-up {clean_up} min) and {} from {}",
                    problem.hands[hand].name, first.name, before.to, second.name, after.from
                );
                found.add("one-thing-at-a-time", message);
            }
        }
    }
}

fn check_resources(problem: &Problem, plan: &Plan, found: &mut Found) {
    for (index, resource) in problem.resources.iter().enumerate() {
        let mut taken: Vec<(Span, u32)> = Vec::new();
        for (activity, placement) in problem.activities.iter().zip(&plan.placements) {
            for used in activity.uses.iter().filter(|used| used.resource.0 == index) {
                taken.push((Span::new(placement.start, placement.end), used.amount));
            }
        }
        for hold in problem.holds.iter().filter(|hold| hold.resource.0 == index) {
            let span = Span::new(plan.placements[hold.after.0].end, plan.placements[hold.until.0].start);
            taken.push((span, hold.amount));
        }
        taken.retain(|&(span, amount)| span.length() > 0 && amount > 0);
        // Use rises only where something starts, and capacity falls only where it says so.
        let mut moments: Vec<Minute> = taken.iter().map(|(span, _)| span.from).collect();
        moments.extend(resource.capacity.iter().map(|&(from, _)| from));
        for moment in moments {
            let used: u64 = taken
                .iter()
                .filter(|(s, _)| s.from <= moment && moment < s.to)
                .map(|&(_, amount)| u64::from(amount))
                .sum();
            let there = resource
                .capacity
                .iter()
                .rfind(|&&(from, _)| from <= moment)
                .map_or(0, |&(_, amount)| amount);
            if used > u64::from(there) {
                found.add(
                    "resource-capacity",
                    format!("{}: {used} of {there} in use at {moment}", resource.name),
                );
            }
        }
    }
}

fn check_rooms(problem: &Problem, plan: &Plan, found: &mut Found) {
    for (coat, coat_at) in problem.activities.iter().zip(&plan.placements) {
        let Some((room, Effect::Coat { wet })) = coat.room else {
            continue;
        };
        let dry = elapsed(problem, wet, coat_at.end);
        for (dust, dust_at) in problem.activities.iter().zip(&plan.placements) {
            if dust.room != Some((room, Effect::Dust)) {
                continue;
            }
            if dust_at.start < dry && coat_at.start < dust_at.end {
                let message = format!(
                    "{} raises dust {}..{} while {} is wet {}..{dry}",
                    dust.name, dust_at.start, dust_at.end, coat.name, coat_at.start
                );
                found.add("no-dust-on-wet", message);
            }
        }
    }
}

fn check_lag(problem: &Problem, lag: &Lag, plan: &Plan, found: &mut Found) {
    let at = |id: ActivityId, point: Point| match point {
        Point::Start => plan.placements[id.0].start,
        Point::End => plan.placements[id.0].end,
    };
    let (begun, ended) = (at(lag.from, lag.from_point), at(lag.to, lag.to_point));
    let names = || {
        let name = |id: ActivityId| problem.activities[id.0].name.as_str();
        format!("{} at {begun}, {} at {ended}", name(lag.from), name(lag.to))
    };
    let earliest = elapsed(problem, lag.min, begun);
    if ended < earliest {
        found.add("shortest-wait", format!("{}: not before {earliest}", names()));
    }
    if let Some(max) = lag.max {
        let latest = elapsed(problem, max, begun);
        if ended > latest {
            found.add("longest-wait", format!("{}: not after {latest}", names()));
        }
    }
    if let Some((within, again)) = lag.closed {
        let (shut, open) = (elapsed(problem, within, begun), elapsed(problem, again, begun));
        if shut < ended && ended < open {
            found.add("closed-stretch", format!("{}: by {shut} or from {open}", names()));
        }
    }
}

/// When a wait begun at `begun` is over. The progress is added up minute by minute from the rates as they were given: slow,
/// and not the solver's way.
fn elapsed(problem: &Problem, wait: Wait, begun: Minute) -> Minute {
    let (clock, progress) = match wait {
        Wait::Minutes(minutes) => return begun + minutes,
        Wait::Progress { clock, progress } => (&problem.clocks[clock.0], progress),
    };
    let rates: Vec<(Minute, i64)> = clock.rates().collect();
    let mut turn = 0;
    let (mut made, mut minute) = (0, begun);
    while made < progress && minute <= problem.horizon {
        while rates.get(turn + 1).is_some_and(|next| next.0 <= minute) {
            turn += 1;
        }
        made += rates.get(turn).map_or(0, |rate| rate.1);
        minute += 1;
    }
    if made < progress { Minute::MAX / 4 } else { minute }
}
