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
    /// What is taken in any case: how much from which time on, ascending.
    base: Vec<(i32, i32)>,
    /// When each task is certainly at work, and the bounds of its start, as they were when last looked at.
    parts: Vec<(i32, i32)>,
    seen: Vec<(i32, i32)>,
    /// Where tasks are certainly at work, with what is taken in any case.
    profile: Vec<Stretch>,
    /// Not all tasks have been held against the profile.
    is_new: bool,
    events: Vec<(i32, i32)>,
    because: Vec<Lit>,
}

#[derive(Debug, Clone, Copy)]
struct Stretch {
    from: i32,
    to: i32,
    height: i32,
}

impl Cumulative {
    /// Tasks within a capacity of which `base` is taken in any case: how much from which time on, ascending. Where that
    /// alone leaves too little for a task is for the caller to keep it from.
    pub(crate) fn new(mut tasks: Vec<Task>, capacity: i32, base: Vec<(i32, i32)>) -> Self {
        tasks.retain(|task| task.length > 0 && task.need > 0);
        tasks.sort_by_key(|task| std::cmp::Reverse(task.need));
        Self {
            // Nothing is known of them yet.
            parts: vec![(i32::MIN, i32::MIN); tasks.len()],
            seen: vec![(i32::MIN, i32::MIN); tasks.len()],
            tasks,
            capacity,
            base,
            ..Self::default()
        }
    }

    pub(super) fn variables(&self) -> impl Iterator<Item = u32> {
        self.tasks.iter().map(|task| task.start)
    }

    pub(super) fn propagate(&mut self, engine: &mut Engine<'_>) -> Result<(), Clash> {
        if self.note_parts(engine) {
            self.build();
            self.is_new = true;
        }
        let highest = self.profile.iter().copied().max_by_key(|stretch| stretch.height);
        if let Some(highest) = highest.filter(|highest| highest.height > self.capacity) {
            let at = i32::midpoint(highest.from, highest.to - 1);
            self.because.clear();
            self.taken_at(engine, at, None, self.capacity);
            return engine.clash_of(&self.because);
        }
        let highest = highest.map_or(0, |highest| highest.height);
        for index in 0..self.tasks.len() {
            let task = self.tasks[index];
            if highest + task.need <= self.capacity {
                // The rest need less. What they are like is not noted: the profile is new before it matters.
                break;
            }
            let bounds = (engine.least(task.start), engine.most(task.start));
            if bounds.0 == bounds.1 || (!self.is_new && bounds == self.seen[index]) {
                continue;
            }
            self.seen[index] = (i32::MIN, i32::MIN);
            self.push_later(engine, task)?;
            self.push_earlier(engine, task)?;
            self.seen[index] = (engine.least(task.start), engine.most(task.start));
        }
        self.is_new = false;
        Ok(())
    }

    /// Notes when each task is certainly at work; false if that is as it was.
    fn note_parts(&mut self, engine: &Engine<'_>) -> bool {
        let mut is_new = false;
        for (task, known) in self.tasks.iter().zip(&mut self.parts) {
            let (from, to) = (engine.most(task.start), engine.least(task.start) + task.length);
            let part = if from < to { (from, to) } else { (0, 0) };
            is_new |= *known != part;
            *known = part;
        }
        is_new
    }

    /// Builds the profile from the parts.
    fn build(&mut self) {
        self.events.clear();
        for (task, &(from, to)) in self.tasks.iter().zip(&self.parts) {
            if from < to {
                self.events.push((from, task.need));
                self.events.push((to, -task.need));
            }
        }
        self.events.sort_unstable();
        self.profile.clear();
        let (mut height, mut since) = (0, 0);
        for &(at, change) in &self.events {
            if at > since && height > 0 {
                stack(
                    &mut self.profile,
                    &self.base,
                    Stretch {
                        from: since,
                        to: at,
                        height,
                    },
                );
            }
            since = at;
            height += change;
        }
    }

    /// What is taken at a time in any case.
    fn base_at(&self, at: i32) -> i32 {
        let steps = self.base.partition_point(|&(from, _)| from <= at);
        steps.checked_sub(1).map_or(0, |step| self.base[step].1)
    }

    /// Adds to the explanation tasks certainly at work at `at`, until they need more than `limit`.
    fn taken_at(&mut self, engine: &Engine<'_>, at: i32, except: Option<u32>, limit: i32) {
        let mut taken = self.base_at(at);
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

/// Adds a stretch of tasks at work, on top of what is taken there in any case.
fn stack(profile: &mut Vec<Stretch>, base: &[(i32, i32)], tasks: Stretch) {
    let mut next = base.partition_point(|&(from, _)| from <= tasks.from);
    let mut taken = next.checked_sub(1).map_or(0, |step| base[step].1);
    let mut from = tasks.from;
    while from < tasks.to {
        let step = base.get(next).filter(|step| step.0 < tasks.to);
        let to = step.map_or(tasks.to, |step| step.0);
        let height = tasks.height + taken;
        profile.push(Stretch { from, to, height });
        taken = step.map_or(0, |step| step.1);
        from = to;
        next += 1;
    }
}
