//! Tasks that share hours: what has to be done between two times must find room there, and what no longer fits before
//! the rest comes after it.
//!
//! Time is counted in work: how much could be done before a start and before an end. Breaks and what is taken already
//! then take no time at all, and hours of any shape look like one machine that never stops. On it the rules of one
//! machine hold: a set that takes more than lies between its earliest start and its latest end is a clash, and (only
//! for tasks that come one at a time) whatever cannot end before a set does starts once the set is done (edge finding,
//! after Carlier and Pinson 1990 and Nuijten 1994).

mod growing;
#[cfg(test)]
mod tests;

use super::hours::Hours;
use super::{Clash, Engine, Lit, Task};
use growing::Growing;

/// Tasks, and the hours in which they are done.
#[derive(Debug, Default)]
pub(crate) struct Energy {
    tasks: Vec<Task>,
    hours: Hours,
    /// No two of them are done at once.
    alone: bool,
    /// Bounds of each start as they were when last looked at.
    seen: Vec<(i32, i32)>,
    /// Each task in units of work: before its earliest start, before its latest end, its own.
    spans: Vec<Span>,
    /// The same the way it is just looked at, by earliest start.
    order: Vec<(Span, usize)>,
    /// Which of them lie elsewhere than when last looked at.
    is_new: Vec<bool>,
    by_end: Vec<(i32, usize)>,
    set: Growing,
    /// For each of `order`: the work of the set from there on, and by when it is done at the earliest.
    suffix: Vec<(i32, i32)>,
    because: Vec<Lit>,
    /// It came to a clash last time: not everything has been looked at.
    is_cut_short: bool,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Span {
    from: i32,
    to: i32,
    work: i32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Forward,
    Backward,
}

impl Energy {
    /// Tasks that are done within these hours; one at a time if `alone`.
    pub(crate) fn new(mut tasks: Vec<Task>, hours: Hours, alone: bool) -> Self {
        tasks.retain(|task| task.length > 0 && task.need > 0);
        Self {
            seen: vec![(i32::MAX, i32::MIN); tasks.len()],
            spans: vec![Span::default(); tasks.len()],
            is_new: vec![false; tasks.len()],
            suffix: vec![(0, 0); tasks.len()],
            tasks,
            hours,
            alone,
            ..Self::default()
        }
    }

    pub(super) fn variables(&self) -> impl Iterator<Item = u32> {
        self.tasks.iter().map(|task| task.start)
    }

    pub(super) fn propagate(&mut self, engine: &mut Engine<'_>) -> Result<(), Clash> {
        if !self.look(engine) {
            return Ok(());
        }
        self.is_cut_short = true;
        self.go(engine, Way::Forward)?;
        if self.alone {
            self.go(engine, Way::Backward)?;
        }
        self.is_cut_short = false;
        Ok(())
    }

    /// Notes where each task lies in units of work; false if all is as it was.
    fn look(&mut self, engine: &Engine<'_>) -> bool {
        let mut is_any = false;
        for (at, task) in self.tasks.iter().enumerate() {
            let bounds = (engine.least(task.start), engine.most(task.start));
            if bounds != self.seen[at] {
                self.seen[at] = bounds;
                let new = Span {
                    from: self.hours.before(bounds.0),
                    to: self.hours.before(bounds.1 + task.length),
                    work: task.need * task.length,
                };
                self.is_new[at] = self.is_cut_short || self.spans[at] != new;
                self.spans[at] = new;
            } else {
                self.is_new[at] = self.is_cut_short;
            }
            is_any |= self.is_new[at];
        }
        is_any
    }

    /// Looks at each block: tasks of which no time is clear. What lies in different blocks never gets in each other's way.
    fn go(&mut self, engine: &mut Engine<'_>, way: Way) -> Result<(), Clash> {
        self.order.clear();
        self.order
            .extend(self.spans.iter().zip(0..).map(|(&span, at)| match way {
                Way::Forward => (span, at),
                Way::Backward => {
                    let (from, to) = (-span.to, -span.from);
                    (Span { from, to, ..span }, at)
                }
            }));
        self.order.sort_unstable();
        let mut begin = 0;
        while begin < self.order.len() {
            let mut to = i32::MIN;
            let mut is_new = false;
            let mut end = begin;
            while let Some((span, index)) = self.order.get(end).filter(|(span, _)| end == begin || span.from < to) {
                to = to.max(span.to);
                is_new |= self.is_new[*index];
                end += 1;
            }
            if is_new {
                self.block(engine, way, (begin, end))?;
            }
            begin = end;
        }
        Ok(())
    }

    /// One block. Its sets grow by what ends next; only where one leaves little is it looked at closely.
    fn block(&mut self, engine: &mut Engine<'_>, way: Way, block: (usize, usize)) -> Result<(), Clash> {
        let mut by_end = std::mem::take(&mut self.by_end);
        by_end.clear();
        by_end.extend((block.0..block.1).map(|at| (self.order[at].0.to, at)));
        by_end.sort_unstable();
        let order = &self.order[block.0..block.1];
        self.set.clear(order.iter().map(|(span, _)| span.work));
        let mut result = Ok(());
        for (place, &(end, at)) in by_end.iter().enumerate() {
            let span = self.order[at].0;
            self.set.add(at - block.0, span.from, span.work);
            let grows = by_end.get(place + 1).is_some_and(|next| next.0 == end);
            let done = self.set.done();
            if !grows && (end < done || (self.alone && self.may_push(block, done, end - done))) {
                result = self.until(engine, way, block, end);
            }
            if result.is_err() {
                break;
            }
        }
        self.by_end = by_end;
        result
    }

    /// Whether one that is not in the set and could start before the set is done takes longer than what is left.
    fn may_push(&self, block: (usize, usize), done: i32, left: i32) -> bool {
        let is_before = |(span, _): &(Span, usize)| span.from < done;
        self.set.longest_out(block.1 - block.0) > left
            && self
                .set
                .longest_out(self.order[block.0..block.1].partition_point(is_before))
                > left
    }

    /// The set of all of a block that ends by `end`, and every part of it that begins later.
    fn until(&mut self, engine: &mut Engine<'_>, way: Way, block: (usize, usize), end: i32) -> Result<(), Clash> {
        let (mut work, mut done) = (0, i32::MIN / 2);
        for at in (block.0..block.1).rev() {
            let span = self.order[at].0;
            if span.to <= end {
                work += span.work;
                done = done.max(span.from + work);
                if span.from + work > end {
                    self.explain(way, (at, block.1), end, end - work + 1, None);
                    return engine.clash_of(&self.because);
                }
            }
            self.suffix[at] = (work, done);
        }
        // The largest `from + work` of the set so far, with its place.
        let mut largest: Option<(i32, usize)> = None;
        for at in block.0..block.1 {
            let (span, index) = self.order[at];
            if span.from >= end {
                break;
            }
            let (work, later) = self.suffix[at];
            if span.to <= end {
                if largest.is_none_or(|(known, _)| known < span.from + work) {
                    largest = Some((span.from + work, at));
                }
            } else if let Some((_, from)) = largest.filter(|(known, _)| known + span.work > end) {
                if done > span.from {
                    self.push(engine, way, (from, block.1), end, index, done)?;
                }
            } else if later > span.from && span.from + span.work + work > end {
                self.push(engine, way, (at, block.1), end, index, later)?;
            }
        }
        Ok(())
    }

    /// One task comes after the set `(from, end)`, which is done at `done` at the earliest.
    fn push(
        &mut self,
        engine: &mut Engine<'_>,
        way: Way,
        set: (usize, usize),
        end: i32,
        index: usize,
        done: i32,
    ) -> Result<(), Clash> {
        let pushed = self.after(way, index, self.begins(way, done));
        if engine.holds(pushed) {
            return Ok(());
        }
        let in_set = |&at: &usize| self.order[at].0.to <= end;
        let work: i32 = (set.0..set.1).filter(in_set).map(|at| self.order[at].0.work).sum();
        let own = self.tasks[index].length * self.tasks[index].need;
        // The part of the set that is done last.
        let reaches = |&at: &usize| in_set(&at) && self.order[at].0.from + self.suffix[at].0 == done;
        let Some(last) = (set.0..set.1).find(reaches) else {
            return Ok(());
        };
        self.explain(way, set, end, end - work - own + 1, Some((last, index)));
        engine.raise_because(pushed, &self.because)
    }

    /// All of the set are done between `from` and `end`; with a pushed task, that is as well not before `from`, and the
    /// set's part from `last` on begins as late as it does.
    fn explain(&mut self, way: Way, set: (usize, usize), end: i32, from: i32, pushed: Option<(usize, usize)>) {
        let mut because = std::mem::take(&mut self.because);
        because.clear();
        let begin = pushed.map(|(last, _)| self.order[last].0.from);
        let (least, least_of_last) = (
            self.begins(way, from),
            self.begins(way, begin.unwrap_or(from).max(from)),
        );
        let ends = self.ends(way, end);
        for at in set.0..set.1 {
            let (span, index) = self.order[at];
            if span.to > end {
                continue;
            }
            let in_last = pushed.is_some_and(|(last, _)| at >= last);
            because.push(self.after(way, index, if in_last { least_of_last } else { least }));
            because.push(self.by(way, index, ends));
        }
        if let Some((_, index)) = pushed {
            because.push(self.after(way, index, least));
        }
        self.because = because;
    }

    /// When so much is done (backward: is left).
    fn begins(&self, way: Way, work: i32) -> i32 {
        match way {
            Way::Forward => self.hours.first(work),
            Way::Backward => self.hours.last(-work),
        }
    }

    /// Until when no more than so much is done (backward: is left).
    fn ends(&self, way: Way, work: i32) -> i32 {
        match way {
            Way::Forward => self.hours.last(work),
            Way::Backward => self.hours.first(-work),
        }
    }

    /// A task begins at a time or later (backward: is over by then).
    fn after(&self, way: Way, index: usize, time: i32) -> Lit {
        let task = self.tasks[index];
        match way {
            Way::Forward => Lit::at_least(task.start, time),
            Way::Backward => Lit::at_most(task.start, time - task.length),
        }
    }

    /// A task is over by a time (backward: begins no sooner).
    fn by(&self, way: Way, index: usize, time: i32) -> Lit {
        let task = self.tasks[index];
        match way {
            Way::Forward => Lit::at_most(task.start, time - task.length),
            Way::Backward => Lit::at_least(task.start, time),
        }
    }
}
