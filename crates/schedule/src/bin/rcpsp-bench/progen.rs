//! ProGen/max files: start-to-start lags of either sign, durations and needs, capacities.

use crate::instance::{Instance, numbers};
use schedule::{Activity, ActivityId, Lag, Point, Problem, Resource, ResourceId, Use, Wait};

pub(crate) fn read(text: &str, name: String) -> Result<Instance, String> {
    let lines: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).collect();
    let counts = numbers(lines.first().ok_or("an empty file")?);
    let n = counts
        .first()
        .and_then(|&n| usize::try_from(n + 2).ok())
        .ok_or("no count of activities")?;
    if lines.len() < 2 * n + 2 {
        return Err(format!("{} lines for {n} activities", lines.len()));
    }
    let mut problem = Problem::default();
    for line in &lines[1 + n..=2 * n] {
        let row = numbers(line);
        let [id, _, duration, needs @ ..] = &row[..] else {
            return Err(format!("a short line: {line}"));
        };
        let mut activity = Activity::unattended(id.to_string(), *duration);
        for (resource, &need) in needs.iter().enumerate().filter(|(_, need)| **need > 0) {
            let amount = u32::try_from(need).map_err(|_| format!("a need of {need}"))?;
            activity.uses.push(Use {
                resource: ResourceId(resource),
                amount,
            });
        }
        problem.add(activity);
    }
    let mut arcs = Vec::new();
    for line in &lines[1..=n] {
        let plain: String = line.chars().map(|c| if "[]".contains(c) { ' ' } else { c }).collect();
        let row = numbers(&plain);
        let [from, _, count, rest @ ..] = &row[..] else {
            return Err(format!("a short line: {line}"));
        };
        let count = usize::try_from(*count).map_err(|_| format!("a count of {count}"))?;
        let (to, weights) = rest
            .split_at_checked(count)
            .ok_or_else(|| format!("a short line: {line}"))?;
        for (&to, &weight) in to.iter().zip(weights) {
            let id = |number: i64| usize::try_from(number).map_err(|_| format!("activity {number}"));
            arcs.push((id(*from)?, id(to)?, weight));
        }
    }
    for (index, activity) in problem.activities.iter().enumerate() {
        let longest = arcs
            .iter()
            .filter(|arc| arc.0 == index)
            .map(|arc| arc.2)
            .max()
            .unwrap_or(0);
        problem.horizon += activity.duration.max(longest);
    }
    for &(from, to, weight) in &arcs {
        problem.lags.push(Lag {
            from_point: Point::Start,
            ..Lag::after(ActivityId(from), ActivityId(to), Wait::Minutes(weight))
        });
    }
    for (index, capacity) in numbers(lines[2 * n + 1]).into_iter().enumerate() {
        let amount = u32::try_from(capacity).map_err(|_| format!("a capacity of {capacity}"))?;
        problem
            .resources
            .push(Resource::constant(format!("R{}", index + 1), amount));
    }
    let critical_path = longest_path(&problem, &arcs);
    Ok(Instance {
        name,
        problem,
        critical_path,
    })
}

/// The end of the longest path, or nothing if there is a circle of positive length.
fn longest_path(problem: &Problem, arcs: &[(usize, usize, i64)]) -> Option<i64> {
    let mut start = vec![0; problem.activities.len()];
    for _ in 0..=start.len() {
        let mut changed = false;
        for &(from, to, weight) in arcs {
            if start[to] < start[from] + weight {
                start[to] = start[from] + weight;
                changed = true;
            }
        }
        if !changed {
            return start.iter().zip(&problem.activities).map(|(s, a)| s + a.duration).max();
        }
    }
    None
}
