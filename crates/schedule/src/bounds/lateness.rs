//! A bound on weighted lateness: one hand that works as fast as all together, may lay down and take up work at will, and
//! needs no room.
//!
//! What leads up to a due activity is one job. For each set of jobs there is a minute before which not all of it can be
//! done, by heads and hours; in any plan the jobs are done in some order, and the last of a set pays for that minute and
//! the tail after it. The cheapest order over all sets (after Held and Karp 1962, here with calendars) is a bound.
//! Activities that serve several dates are counted for one of them.

use super::pool::Pool;
use super::tails::Tails;
use crate::compiled::Compiled;
use crate::earliest::place;
use crate::model::{Due, Minute};

/// Jobs that are shared out together; more are taken in turns, each turn with all the hours for itself.
const TOGETHER: usize = 12;
/// So many heads are tried, evenly chosen.
const MOST_HEADS: usize = 16;

/// What leads up to one due activity.
#[derive(Debug)]
struct Job<'a> {
    activity: usize,
    dues: Vec<&'a Due>,
    /// It ends no earlier than this, whatever else there is.
    head: Minute,
    /// `(head, minutes of hands)` of what leads up to it.
    work: Vec<(Minute, i64)>,
    /// From the end of that to its start at the least.
    tail: Minute,
}

/// The least weighted lateness of any plan.
pub(super) fn bound(of: &Compiled<'_>, spans: &[(Minute, Minute)], pool: &Pool) -> i64 {
    let jobs = jobs(of, spans);
    jobs.chunks(TOGETHER).map(|jobs| cheapest(of, jobs, pool)).sum()
}

fn jobs<'a>(of: &Compiled<'a>, spans: &[(Minute, Minute)]) -> Vec<Job<'a>> {
    let mut jobs: Vec<Job<'_>> = Vec::new();
    for due in &of.problem.dues {
        if let Some(job) = jobs.iter_mut().find(|job| job.activity == due.activity.0) {
            job.dues.push(due);
            continue;
        }
        jobs.push(Job {
            activity: due.activity.0,
            dues: vec![due],
            head: spans[due.activity.0].1,
            work: Vec::new(),
            tail: 0,
        });
    }
    let mut taken = vec![false; spans.len()];
    for job in &mut jobs {
        let tails = Tails::to_start_of(of, job.activity);
        let mut tail = Minute::MAX;
        for (index, activity) in of.problem.activities.iter().enumerate() {
            // What is pinned may stand outside all hours.
            let is_free = activity.pin.is_none() && activity.hands > 0 && activity.duration > 0;
            let Some(after) = tails.of[index].filter(|_| is_free && !taken[index]) else {
                continue;
            };
            taken[index] = true;
            tail = tail.min(after);
            let work = activity.duration * i64::try_from(activity.hands).unwrap_or(0);
            job.work.push((spans[index].0, work));
        }
        job.tail = if job.work.is_empty() { 0 } else { tail };
    }
    jobs
}

/// The least that these jobs cost together, with nothing else to be done.
fn cheapest(of: &Compiled<'_>, jobs: &[Job<'_>], pool: &Pool) -> i64 {
    let work = work_from(jobs);
    let mut least = vec![i64::MAX; 1 << jobs.len()];
    least[0] = 0;
    for set in 1..least.len() {
        let members = || (0..jobs.len()).filter(|job| set & (1 << job) != 0);
        let done = work.iter().map(|(head, work)| {
            let work: i64 = members().map(|job| work[job]).sum();
            if work == 0 {
                Minute::MIN / 4
            } else {
                pool.done_from(*head, work)
            }
        });
        let done = done.max().unwrap_or(Minute::MIN / 4);
        for last in members() {
            let before = least[set & !(1 << last)];
            least[set] = least[set].min(before + cost(of, &jobs[last], done));
        }
    }
    least[least.len() - 1]
}

/// For each of some heads, the work of each job that cannot begin before it.
fn work_from(jobs: &[Job<'_>]) -> Vec<(Minute, Vec<i64>)> {
    let mut heads: Vec<Minute> = jobs.iter().flat_map(|job| &job.work).map(|work| work.0).collect();
    heads.sort_unstable();
    heads.dedup();
    let some = heads.iter().step_by(heads.len().div_ceil(MOST_HEADS).max(1));
    some.map(|&head| {
        let from = |job: &Job<'_>| job.work.iter().filter(|work| work.0 >= head).map(|work| work.1).sum();
        (head, jobs.iter().map(from).collect())
    })
    .collect()
}

/// What a job costs at the least if all that leads up to it is not done before a minute.
fn cost(of: &Compiled<'_>, job: &Job<'_>, done: Minute) -> i64 {
    let end = if job.work.is_empty() {
        job.head
    } else {
        let placed = place(of, job.activity, done + job.tail);
        job.head.max(placed.map_or(of.problem.horizon, |(_, end)| end))
    };
    let late = |due: &&Due| i64::from(due.weight) * (end - due.at).max(0);
    job.dues.iter().map(late).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::earliest::spans;
    use crate::model::{Activity, ActivityId, Hand, Lag, Problem, Span, Wait};

    /// Two pieces: 60 of work each, and a closing step of 10 that follows after 100.
    fn problem() -> Problem {
        let mut problem = Problem {
            horizon: 10_000,
            hands: vec![Hand {
                name: "you".into(),
                periods: vec![Span::new(0, 100), Span::new(200, 300), Span::new(400, 500)],
            }],
            ..Problem::default()
        };
        for weight in [1, 3] {
            let work = problem.add(Activity::new("work", 60));
            let close = problem.add(Activity::new("close", 10));
            problem.lags.push(Lag::after(work, close, Wait::Minutes(100)));
            problem.dues.push(Due {
                activity: close,
                at: 0,
                weight,
            });
        }
        problem
    }

    fn bound_of(problem: &Problem) -> i64 {
        let of = Compiled::new(problem);
        bound(&of, &spans(&of).unwrap(), &Pool::of_hands(&of))
    }

    /// By hand: the heavier first is done at 60, closed from 200 to 210: 3 × 210. The other is done at 220 (40 before the
    /// break, 20 after), and 100 later nobody is there until 400: closed at 410. The other way round is 210 + 3 × 410.
    #[test]
    fn the_heavier_goes_first_and_the_other_waits() {
        assert_eq!(bound_of(&problem()), 3 * 210 + 410);
    }

    /// By hand: the heavier one's work begins at 250 at the earliest and is done at 410 (50 before the break, 10 after); 100
    /// later the hours are over, so it ends at the horizon. The lighter is then done at 60 and closed at 210.
    #[test]
    fn a_head_counts_before_and_after() {
        let mut problem = problem();
        problem.activities[2].release = 250;
        problem.hands[0].periods.push(Span::new(600, 700));
        assert_eq!(bound_of(&problem), 3 * 610 + 210);
    }

    /// By hand: alone each ends at 210 at the earliest, whatever the order says; 4 × 10 late against 200.
    #[test]
    fn what_is_due_later_is_late_by_less() {
        let mut problem = problem();
        problem.dues.iter_mut().for_each(|due| due.at = 200);
        problem.hands[0].periods = vec![Span::new(0, 120), Span::new(200, 220), Span::new(220, 300)];
        // Both are done by 120, and both could close from 200 on or 220 on.
        assert_eq!(bound_of(&problem), 3 * 10 + 30);
    }

    #[test]
    fn a_due_with_nothing_before_it_costs_what_it_costs_alone() {
        let mut problem = problem();
        problem.lags.clear();
        problem.dues[0].activity = ActivityId(0);
        problem.dues[1].activity = ActivityId(0);
        assert_eq!(bound_of(&problem), 4 * 60);
    }
}
