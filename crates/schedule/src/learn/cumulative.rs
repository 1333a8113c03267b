//! Tasks that share a capacity: what is certainly taken at each time (the time-table), and what it pushes aside.
//!
//! A task whose latest start lies before its earliest end is certainly at work between the two. Where these parts add
//! up to more than the capacity there is a clash; where one more task would, it is pushed beyond, a point at a time,
//! with only as many tasks in the explanation as it takes (after Schutt, Feydy, Stuckey and Wallace 2011).

use super::{Clash, Engine, Lit};

/// A task of fixed length and need.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Task {
    pub(crate) start: u32,
    pub(crate) length: i32,
    pub(crate) need: i32,
}

/// The tasks of one capacity.
#[derive(Debug, Default)]
pub(crate) struct Cumulative {
    tasks: Vec<Task>,
    capacity: i32,
    /// Changes of what is taken in any case, ascending by time, and how much it is after each.
    base: Vec<(i32, i32)>,
    base_after: Vec<i32>,
    events: Vec<(i32, i32)>,
    profile: Vec<Stretch>,
    because: Vec<Lit>,
}

#[derive(Debug, Clone, Copy)]
struct Stretch {
    from: i32,
    to: i32,
    height: i32,
}

impl Cumulative {
    /// Tasks within a capacity of which `base` is taken in any case: changes of it, ascending by time.
    pub(crate) fn new(mut tasks: Vec<Task>, capacity: i32, base: Vec<(i32, i32)>) -> Self {
        tasks.retain(|task| task.length > 0 && task.need > 0);
        tasks.sort_by_key(|task| std::cmp::Reverse(task.need));
        Self {
            tasks,
            capacity,
            base_after: base
                .iter()
                .scan(0, |taken, &(_, change)| {
                    *taken += change;
                    Some(*taken)
                })
                .collect(),
            base,
            ..Self::default()
        }
    }

    pub(super) fn variables(&self) -> impl Iterator<Item = u32> {
        self.tasks.iter().map(|task| task.start)
    }

    pub(super) fn propagate(&mut self, engine: &mut Engine<'_>) -> Result<(), Clash> {
        self.build(engine);
        let Some(highest) = self.profile.iter().copied().max_by_key(|stretch| stretch.height) else {
            return Ok(());
        };
        if highest.height > self.capacity {
            let at = i32::midpoint(highest.from, highest.to - 1);
            self.because.clear();
            self.taken_at(engine, at, None, self.capacity);
            return engine.clash_of(&self.because);
        }
        for index in 0..self.tasks.len() {
            let task = self.tasks[index];
            if highest.height + task.need <= self.capacity {
                // The rest need less.
                break;
            }
            self.push_later(engine, task)?;
            self.push_earlier(engine, task)?;
        }
        Ok(())
    }

    fn build(&mut self, engine: &Engine<'_>) {
        self.events.clear();
        for task in &self.tasks {
            let (from, to) = (engine.most(task.start), engine.least(task.start) + task.length);
            if from < to {
                self.events.push((from, task.need));
                self.events.push((to, -task.need));
            }
        }
        self.events.sort_unstable();
        self.profile.clear();
        let (mut height, mut since) = (0, 0);
        let (mut of_base, mut of_tasks) = (self.base.iter().peekable(), self.events.iter().peekable());
        loop {
            let first = match (of_base.peek(), of_tasks.peek()) {
                (Some(base), Some(task)) if base.0 <= task.0 => of_base.next(),
                (_, Some(_)) => of_tasks.next(),
                (Some(_), None) => of_base.next(),
                (None, None) => None,
            };
            let Some(&(at, change)) = first else { break };
            if at > since && height > 0 {
                self.profile.push(Stretch {
                    from: since,
                    to: at,
                    height,
                });
            }
            since = at;
            height += change;
        }
    }

    /// Adds to the explanation tasks certainly at work at `at`, until they need more than `limit`.
    fn taken_at(&mut self, engine: &Engine<'_>, at: i32, except: Option<u32>, limit: i32) {
        let steps = self.base.partition_point(|&(from, _)| from <= at);
        let mut taken = steps.checked_sub(1).map_or(0, |step| self.base_after[step]);
        if taken > limit {
            return;
        }
        for task in &self.tasks {
            if Some(task.start) != except
                && engine.most(task.start) <= at
                && at < engine.least(task.start) + task.length
            {
                self.because.push(Lit::at_least(task.start, at - task.length + 1));
                self.because.push(Lit::at_most(task.start, at));
                taken += task.need;
                if taken > limit {
                    return;
                }
            }
        }
    }

    fn push_later(&mut self, engine: &mut Engine<'_>, task: Task) -> Result<(), Clash> {
        let (least, most) = (engine.least(task.start), engine.most(task.start));
        let own = (most, least + task.length);
        let mut start = least;
        let mut at = self.profile.partition_point(|stretch| stretch.to <= start);
        while let Some(&stretch) = self.profile.get(at) {
            if stretch.from >= start + task.length {
                break;
            }
            let is_own = own.0 <= stretch.from && stretch.to <= own.1;
            if is_own || stretch.height + task.need <= self.capacity {
                at += 1;
                continue;
            }
            let point = (stretch.to - 1).min(start + task.length - 1);
            self.because.clear();
            self.because.push(Lit::at_least(task.start, point - task.length + 1));
            self.taken_at(engine, point, Some(task.start), self.capacity - task.need);
            engine.raise_because(Lit::at_least(task.start, point + 1), &self.because)?;
            start = point + 1;
            if stretch.to <= start {
                at += 1;
            }
        }
        Ok(())
    }

    fn push_earlier(&mut self, engine: &mut Engine<'_>, task: Task) -> Result<(), Clash> {
        let (least, most) = (engine.least(task.start), engine.most(task.start));
        let own = (most, least + task.length);
        let mut start = most;
        let mut at = self
            .profile
            .partition_point(|stretch| stretch.from < start + task.length);
        while at > 0 {
            let stretch = self.profile[at - 1];
            if stretch.to <= start {
                break;
            }
            let is_own = own.0 <= stretch.from && stretch.to <= own.1;
            if is_own || stretch.height + task.need <= self.capacity {
                at -= 1;
                continue;
            }
            let point = stretch.from.max(start);
            self.because.clear();
            self.because.push(Lit::at_most(task.start, point));
            self.taken_at(engine, point, Some(task.start), self.capacity - task.need);
            engine.raise_because(Lit::at_most(task.start, point - task.length), &self.because)?;
            start = point - task.length;
            if stretch.from >= start + task.length {
                at -= 1;
            }
        }
        Ok(())
    }
}
