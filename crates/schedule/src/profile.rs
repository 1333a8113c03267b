//! What is free of a resource over time: a staircase that activities cut into.

use crate::model::{Minute, Resource, Span};

/// Free amount from each breakpoint until the next; the last holds for ever.
#[derive(Debug, Clone)]
pub(crate) struct Profile {
    steps: Vec<(Minute, i64)>,
}

impl Profile {
    pub(crate) fn new(resource: &Resource) -> Self {
        let mut steps = vec![(Minute::MIN, 0)];
        for &(from, amount) in &resource.capacity {
            match steps.last_mut() {
                Some(last) if last.0 == from => last.1 = i64::from(amount),
                _ => steps.push((from, i64::from(amount))),
            }
        }
        Self { steps }
    }

    /// The free amount from each breakpoint on.
    pub(crate) fn steps(&self) -> impl Iterator<Item = (Minute, i64)> {
        self.steps.iter().copied()
    }

    /// Index of the step that holds at `minute`.
    fn at(&self, minute: Minute) -> usize {
        self.steps
            .partition_point(|&(from, _)| from <= minute)
            .saturating_sub(1)
    }

    /// The first minute in `[from, to)` at which less than `amount` is free, and the first after it at which enough is.
    pub(crate) fn shortage(&self, from: Minute, to: Minute, amount: i64) -> Option<(Minute, Option<Minute>)> {
        if from >= to {
            return None;
        }
        let mut step = self.at(from);
        while step < self.steps.len() && self.steps[step].0 < to {
            if self.steps[step].1 < amount {
                let short = self.steps[step].0.max(from);
                let again = self.steps[step..]
                    .iter()
                    .find(|&&(_, free)| free >= amount)
                    .map(|&(minute, _)| minute);
                return Some((short, again));
            }
            step += 1;
        }
        None
    }

    /// Stretches in `[from, to)` at which less than `amount` is free.
    pub(crate) fn short(&self, from: Minute, to: Minute, amount: i64) -> impl Iterator<Item = Span> {
        let first = self.at(from);
        let steps = self.steps[first..].iter().enumerate();
        let near = steps.take_while(move |(_, step)| step.0 < to);
        near.filter(move |(_, step)| step.1 < amount).map(move |(place, step)| {
            let end = self.steps.get(first + place + 1).map_or(Minute::MAX / 4, |next| next.0);
            Span::new(step.0.max(Minute::MIN / 4), end)
        })
    }

    /// Takes `amount` in `[from, to)`; a negative amount gives it back.
    pub(crate) fn take(&mut self, from: Minute, to: Minute, amount: i64) {
        if from >= to || amount == 0 {
            return;
        }
        let first = self.cut(from);
        let last = self.cut(to);
        for step in &mut self.steps[first..last] {
            step.1 -= amount;
        }
        // Steps that no longer differ are joined, lest the staircase grow with every change of mind.
        self.join(last);
        self.join(first);
    }

    fn cut(&mut self, minute: Minute) -> usize {
        let step = self.at(minute);
        if self.steps[step].0 == minute {
            return step;
        }
        let free = self.steps[step].1;
        self.steps.insert(step + 1, (minute, free));
        step + 1
    }

    fn join(&mut self, step: usize) {
        if step > 0 && step < self.steps.len() && self.steps[step - 1].1 == self.steps[step].1 {
            self.steps.remove(step);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Profile;
    use crate::model::Resource;

    #[test]
    fn what_is_taken_is_missing_until_given_back() {
        let mut profile = Profile::new(&Resource::constant("rack", 3));
        profile.take(10, 20, 2);
        profile.take(15, 30, 1);
        assert_eq!(profile.shortage(0, 100, 1), Some((15, Some(20))));
        assert_eq!(profile.shortage(0, 12, 2), Some((10, Some(20))));
        assert_eq!(profile.shortage(20, 100, 2), None);
        profile.take(10, 20, -2);
        profile.take(15, 30, -1);
        assert_eq!(profile.shortage(0, 100, 3), None);
        assert_eq!(profile.steps.len(), 1);
    }

    #[test]
    fn capacity_follows_its_steps() {
        let resource = Resource {
            name: "heater".into(),
            capacity: vec![(0, 1), (50, 0), (80, 2)],
        };
        let profile = Profile::new(&resource);
        assert_eq!(profile.shortage(40, 60, 1), Some((50, Some(80))));
        assert_eq!(profile.shortage(-5, 3, 1), Some((-5, Some(0))));
        assert_eq!(profile.shortage(0, 10, 3), Some((0, None)));
    }
}
