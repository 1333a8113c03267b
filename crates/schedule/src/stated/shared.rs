//! What activities share: resources, and hands with their hours.

use super::hours::hands_there;
use super::order::Order;
use super::{Stated, narrow};
use crate::board::Board;
use crate::compiled::Compiled;
use crate::learn::{ALWAYS, Cumulative, Task};
use crate::model::{Breaks, Minute, Span};

impl Stated<'_> {
    pub(super) fn resources(&mut self, of: &Compiled<'_>, board: Option<&Board<'_>>) {
        for (index, resource) in of.problem.resources.iter().enumerate() {
            let mut tasks = Vec::new();
            for (at, activity) in of.problem.activities.iter().enumerate() {
                let need: u32 = activity
                    .uses
                    .iter()
                    .filter(|u| u.resource.0 == index)
                    .map(|u| u.amount)
                    .sum();
                if need > 0 && !self.is_out(at) {
                    let task = Task {
                        start: self.starts[at],
                        length: self.length(activity),
                        need: narrow(need.into()),
                    };
                    tasks.push((at, task));
                }
            }
            let most = resource.most();
            let levels: Vec<(Minute, i64)> = match board {
                Some(board) => board.free_of(index).collect(),
                None => resource
                    .capacity
                    .iter()
                    .map(|&(from, amount)| (from, i64::from(amount)))
                    .collect(),
            };
            self.capacity(tasks, i64::from(most), &levels, of.problem.horizon);
        }
    }

    /// All hands together, and each hand for what only that hand may do.
    pub(super) fn hands(&mut self, of: &Compiled<'_>, board: Option<&Board<'_>>) {
        let n_hands = of.problem.hands.len();
        if n_hands == 0 {
            return;
        }
        let hours_differ = of
            .calendars
            .windows(2)
            .any(|pair| !alike(&pair[0].periods, &pair[1].periods));
        let mut together = Vec::new();
        let mut alone: Vec<Vec<(usize, Task)>> = vec![Vec::new(); n_hands];
        for (index, activity) in of.problem.activities.iter().enumerate() {
            if activity.hands == 0 || self.is_out(index) {
                continue;
            }
            let begun = activity.pin.as_ref().is_some_and(|pin| pin.begun);
            let task = Task {
                start: self.starts[index],
                length: self.length(activity),
                need: narrow(i64::try_from(activity.hands).unwrap_or(1)),
            };
            let outside_hours = begun && self.is_exact;
            self.is_exact &= !outside_hours && (activity.among.is_empty() || n_hands == 1);
            // Split work keeps its hand while that hand is away: it must not count against those who are there.
            if !begun && activity.breaks == Breaks::Within {
                together.push((index, task));
            }
            if let [team] = of.teams_of[index][..] {
                for &hand in &of.teams[team].hands {
                    alone[hand].push((index, Task { need: 1, ..task }));
                }
            }
        }
        self.is_exact &= n_hands == 1 || !hours_differ;
        self.energy(of, board, &together);
        if n_hands > 1 {
            let whole = i64::try_from(n_hands).unwrap_or(1);
            let levels = hands_there(of, board, whole);
            self.capacity(together, whole, &levels, of.problem.horizon);
        }
        for tasks in alone {
            if tasks.len() > 1 {
                self.pairs(&tasks);
                let tasks = tasks.into_iter().map(|(_, task)| task).collect();
                self.engine.cumulative(Cumulative::new(tasks, 1, Vec::new()));
            }
        }
    }

    /// Of two that exclude each other one comes first: asked as a question, which says more than two start times do.
    fn pairs(&mut self, tasks: &[(usize, Task)]) {
        self.n_pairs += tasks.len() * tasks.len() / 2;
        if self.n_pairs > self.most_orders {
            self.orders_settle = false;
            return;
        }
        for (at, &(first, one)) in tasks.iter().enumerate() {
            for &(second, other) in &tasks[at + 1..] {
                if one.length == 0 || other.length == 0 {
                    continue;
                }
                let lit = match self.orders.order((first, one.length), (second, other.length)) {
                    Order::First => ALWAYS,
                    Order::Second => {
                        self.engine.arc(other.start, one.start, other.length, ALWAYS);
                        continue;
                    }
                    // Whoever asked before has said at least as much of both answers.
                    Order::Open if self.orders.known(first, second).is_some() => continue,
                    Order::Open => {
                        let lit = self.engine.question();
                        self.orders.keep(first, second, lit);
                        lit
                    }
                };
                self.engine.arc(one.start, other.start, one.length, lit);
                if lit != ALWAYS {
                    self.engine.arc(other.start, one.start, other.length, lit.not());
                }
            }
        }
    }

    /// A capacity which changes with time: the largest, less what is missing of it wherever there is less.
    fn capacity(&mut self, tasks: Vec<(usize, Task)>, most: i64, levels: &[(Minute, i64)], horizon: Minute) {
        // Part of a grid unit without the whole capacity counts only where all of the unit does.
        let mut missing = Vec::new();
        for (index, &(from, amount)) in levels.iter().enumerate() {
            let to = levels.get(index + 1).map_or(horizon + self.grid, |&(next, _)| next);
            let (from, to) = (self.at(from.max(self.origin) + self.grid - 1), self.at(to));
            if amount < most && from < to {
                missing.push((from, to, narrow(most - amount)));
            }
        }
        if most == 1 {
            self.pairs(&tasks);
        } else {
            self.orders_settle = false;
        }
        let tasks: Vec<Task> = tasks.into_iter().map(|(_, task)| task).collect();
        for task in &tasks {
            let too_much = |&&(_, _, amount): &&(i32, i32, i32)| amount + task.need > narrow(most);
            let shut = missing.iter().filter(too_much);
            let shut = shut.map(|&(from, to, _)| (from - task.length + 1, to - 1));
            self.engine.forbid(task.start, shut);
        }
        let needed: i64 = tasks.iter().map(|task| i64::from(task.need)).sum();
        if needed > most || !missing.is_empty() {
            let mut base: Vec<(i32, i32)> = Vec::with_capacity(2 * missing.len());
            for (from, to, amount) in missing {
                base.pop_if(|last| last.0 == from);
                base.extend([(from, amount), (to, 0)]);
            }
            self.engine.cumulative(Cumulative::new(tasks, narrow(most), base));
        }
    }
}

/// Whether wherever both sets of periods have one, it is the same: hands may then be told apart at the end.
fn alike(a: &[Span], b: &[Span]) -> bool {
    a.iter().all(|x| b.iter().all(|y| !x.overlaps(*y) || x == y))
}
