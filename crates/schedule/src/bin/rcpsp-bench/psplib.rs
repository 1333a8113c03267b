//! PSPLIB single-mode files: precedence, durations and needs, capacities; and plain job-shop files (one line a job,
//! machine and minutes in turn, after a line of counts).

use crate::instance::{Instance, numbers};
use schedule::{Activity, ActivityId, Lag, Problem, Resource, ResourceId, Use, Wait};

pub(crate) fn read(text: &str, name: String) -> Result<Instance, String> {
    let lines: Vec<&str> = text.lines().collect();
    let section = |head: &str, skip: usize| {
        let at = lines
            .iter()
            .position(|line| line.starts_with(head))
            .ok_or_else(|| format!("no section {head}"))?;
        Ok::<_, String>(lines[at + skip..].iter().take_while(|line| !line.starts_with('*')))
    };
    let mut problem = Problem::default();
    for line in section("REQUESTS", 3)? {
        let row = numbers(line);
        let [_, _, duration, needs @ ..] = &row[..] else {
            return Err(format!("a short line of requests: {line}"));
        };
        let mut activity = Activity::unattended(row[0].to_string(), *duration);
        for (resource, &need) in needs.iter().enumerate().filter(|(_, need)| **need > 0) {
            let amount = u32::try_from(need).map_err(|_| format!("a need of {need}"))?;
            activity.uses.push(Use {
                resource: ResourceId(resource),
                amount,
            });
        }
        problem.horizon += *duration;
        problem.add(activity);
    }
    for line in section("PRECEDENCE", 2)? {
        let row = numbers(line);
        let [from, _, _, after @ ..] = &row[..] else {
            return Err(format!("a short line of successors: {line}"));
        };
        for to in after {
            let id = |number: i64| {
                usize::try_from(number - 1)
                    .map(ActivityId)
                    .map_err(|_| format!("job {number}"))
            };
            problem.lags.push(Lag::after(id(*from)?, id(*to)?, Wait::Minutes(0)));
        }
    }
    let capacities: Vec<i64> = section("RESOURCEAVAIL", 2)?
        .next()
        .map(|line| numbers(line))
        .unwrap_or_default();
    for (index, capacity) in capacities.into_iter().enumerate() {
        let amount = u32::try_from(capacity).map_err(|_| format!("a capacity of {capacity}"))?;
        problem
            .resources
            .push(Resource::constant(format!("R{}", index + 1), amount));
    }
    Ok(Instance {
        name,
        problem,
        critical_path: None,
    })
}

pub(crate) fn read_job_shop(text: &str, name: String) -> Result<Instance, String> {
    let mut lines = text.lines().map(numbers).filter(|row| !row.is_empty());
    let counts = lines.next().ok_or("no line of counts")?;
    let mut problem = Problem::default();
    let machines = counts.get(1).copied().unwrap_or(0);
    for machine in 0..machines {
        problem
            .resources
            .push(Resource::constant(format!("machine {machine}"), 1));
    }
    for (job, row) in lines.enumerate() {
        let mut before: Option<ActivityId> = None;
        for (turn, pair) in row.chunks_exact(2).enumerate() {
            let machine = usize::try_from(pair[0]).map_err(|_| format!("machine {}", pair[0]))?;
            let mut activity = Activity::unattended(format!("{job}.{turn}"), pair[1]);
            activity.uses.push(Use {
                resource: ResourceId(machine),
                amount: 1,
            });
            problem.horizon += pair[1];
            let id = problem.add(activity);
            if let Some(before) = before {
                problem.lags.push(Lag::after(before, id, Wait::Minutes(0)));
            }
            before = Some(id);
        }
    }
    Ok(Instance {
        name,
        problem,
        critical_path: None,
    })
}
