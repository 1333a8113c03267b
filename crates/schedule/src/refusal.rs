//! Problems without a meaning: an index that points nowhere, a duration below zero, periods that overlap.
//!
//! All are found at once, each naming the field and what would be right. A problem that passes may still have no plan;
//! that is an answer ([`crate::Conflict`]), not a refusal.

use crate::model::{Activity, ActivityId, Effect, HandId, Minute, Problem, Span, Wait};
use std::fmt;

/// One thing wrong with a problem as given.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct Refusal {
    /// Where: the list, the index and the caller's name.
    pub place: String,
    /// What is wrong, the limit, and what would be right.
    pub message: String,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.message)
    }
}

/// Times beyond this are refused, so that sums of a few never overflow.
const FARTHEST: Minute = 1 << 40;

/// Everything wrong with the problem as given; empty if it has a meaning.
#[must_use]
pub fn refusals(problem: &Problem) -> Vec<Refusal> {
    let mut found = Vec::new();
    let mut add = |place: String, message: String| found.push(Refusal { place, message });
    if problem.grid < 1 {
        add("grid".into(), format!("{} min; it must be 1 or more", problem.grid));
    }
    if problem.horizon.abs() > FARTHEST || problem.not_before.abs() > FARTHEST {
        add(
            "horizon".into(),
            format!(
                "{} .. {}; at most {FARTHEST} either way",
                problem.not_before, problem.horizon
            ),
        );
    }
    for (index, hand) in problem.hands.iter().enumerate() {
        if let Some(why) = disorder(&hand.periods) {
            add(format!("hand {index} ({})", hand.name), why);
        }
    }
    for (index, block) in problem.blocks.iter().enumerate() {
        if block.hand.is_some_and(|HandId(hand)| hand >= problem.hands.len()) {
            add(
                format!("block {index} ({})", block.name),
                format!("there are {} hands", problem.hands.len()),
            );
        }
    }
    for (index, resource) in problem.resources.iter().enumerate() {
        if resource.capacity.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
            add(
                format!("resource {index} ({})", resource.name),
                "its capacity changes are not ascending".into(),
            );
        }
    }
    for (index, activity) in problem.activities.iter().enumerate() {
        for why in activity_faults(problem, activity) {
            add(format!("activity {index} ({})", activity.name), why);
        }
    }
    let unknown = |id: ActivityId| id.0 >= problem.activities.len();
    for (index, lag) in problem.lags.iter().enumerate() {
        if unknown(lag.from) || unknown(lag.to) {
            add(
                format!("lag {index}"),
                format!("there are {} activities", problem.activities.len()),
            );
        }
        if lag.from == lag.to {
            add(format!("lag {index}"), "from an activity to itself".into());
        }
        let waits = [Some(lag.min), lag.max, lag.closed.map(|c| c.0), lag.closed.map(|c| c.1)];
        for why in waits.into_iter().flatten().filter_map(|wait| wait_fault(problem, wait)) {
            add(format!("lag {index}"), why);
        }
    }
    for (index, hold) in problem.holds.iter().enumerate() {
        if unknown(hold.after) || unknown(hold.until) || hold.resource.0 >= problem.resources.len() {
            add(
                format!("hold {index}"),
                "an activity or the resource does not exist".into(),
            );
        }
    }
    for (index, due) in problem.dues.iter().enumerate() {
        if unknown(due.activity) || due.at.abs() > FARTHEST {
            add(
                format!("due date {index}"),
                "its activity does not exist, or its time is out of range".into(),
            );
        }
    }
    if let Some(previous) = &problem.previous
        && previous.placements.len() != problem.activities.len()
    {
        let (have, want) = (previous.placements.len(), problem.activities.len());
        add(
            "previous plan".into(),
            format!("{have} placements for {want} activities; give one or none for each"),
        );
    }
    found
}

fn activity_faults(problem: &Problem, activity: &Activity) -> Vec<String> {
    let mut why = Vec::new();
    if !(0..=FARTHEST).contains(&activity.duration) {
        why.push(format!("a duration of {} min; it must be 0 or more", activity.duration));
    }
    let may = if activity.among.is_empty() {
        problem.hands.len()
    } else {
        activity.among.len()
    };
    if activity.hands > may {
        why.push(format!("takes {} hands; {may} may do it", activity.hands));
    }
    let pinned = activity.pin.iter().flat_map(|pin| &pin.hands);
    if activity
        .among
        .iter()
        .chain(pinned)
        .any(|hand| hand.0 >= problem.hands.len())
    {
        why.push(format!(
            "names a hand that does not exist; there are {}",
            problem.hands.len()
        ));
    }
    if let Some(pin) = &activity.pin {
        let ascending = pin.hands.windows(2).all(|pair| pair[0] < pair[1]);
        if !pin.hands.is_empty() && (pin.hands.len() != activity.hands || !ascending) {
            why.push(format!(
                "pinned to {} hands; it takes {}, ascending",
                pin.hands.len(),
                activity.hands
            ));
        }
    }
    if activity
        .uses
        .iter()
        .any(|used| used.resource.0 >= problem.resources.len())
    {
        why.push(format!(
            "uses a resource that does not exist; there are {}",
            problem.resources.len()
        ));
    }
    if let Some(disorder) = disorder(&activity.start_windows) {
        why.push(format!("its start windows: {disorder}"));
    }
    if activity
        .product
        .is_some_and(|product| product.0 >= problem.clean_up_min.len())
    {
        why.push(format!(
            "its product does not exist; there are {}",
            problem.clean_up_min.len()
        ));
    }
    if let Some((_, Effect::Coat { wet })) = activity.room {
        why.extend(wait_fault(problem, wet));
        if matches!(wet, Wait::Minutes(minutes) if minutes < 0) {
            why.push("wet for less than no time".into());
        }
    }
    why
}

fn disorder(spans: &[Span]) -> Option<String> {
    if let Some(span) = spans
        .iter()
        .find(|span| span.from >= span.to || span.to.abs() > FARTHEST || span.from.abs() > FARTHEST)
    {
        return Some(format!("{}..{} is empty or out of range", span.from, span.to));
    }
    let pair = spans.windows(2).find(|pair| pair[0].to > pair[1].from)?;
    Some(format!(
        "{}..{} and {}..{} overlap or are out of order",
        pair[0].from, pair[0].to, pair[1].from, pair[1].to
    ))
}

fn wait_fault(problem: &Problem, wait: Wait) -> Option<String> {
    match wait {
        Wait::Minutes(minutes) if minutes.abs() > FARTHEST => Some(format!("a wait of {minutes} min is out of range")),
        Wait::Progress { clock, .. } if clock.0 >= problem.clocks.len() => {
            Some(format!("its clock does not exist; there are {}", problem.clocks.len()))
        }
        Wait::Minutes(_) | Wait::Progress { .. } => None,
    }
}
