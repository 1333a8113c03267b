//! Search over plain projects: two populations, one pushed to the beginning and one to the end, bred into each other.
//!
//! A child takes from its mother the stretch of time in which she uses the resources best, and the order of everything
//! else from its father; it is generated in the other direction of time than its parents, so every pass is also half a
//! round of forward–backward improvement (after Debels and Vanhoucke 2007).

use crate::chance::Chance;
use crate::improve::improve;
use crate::number::{index, small};
use crate::project::{Net, Passes, Project, Timetable};

/// A member: its timetable in its own direction of time.
type Member = Timetable;

/// Breeding until the schedules are used up, the bound is met or `is_over`.
pub(crate) struct Breeding<'a> {
    passes: Passes<'a>,
    chance: Chance,
    /// By direction: made forward, made backward.
    members: [Vec<Member>; 2],
    best: Timetable,
    direction: usize,
    bound: i32,
    keys: Vec<i32>,
    heap: Vec<(i32, u32)>,
    waiting: Vec<u32>,
    use_at: Vec<i64>,
}

impl<'a> Breeding<'a> {
    pub(crate) fn new(of: &'a Project, seed: u64) -> Self {
        Self {
            passes: Passes::new(of),
            chance: Chance::new(seed),
            members: [Vec::new(), Vec::new()],
            best: Timetable {
                start: Vec::new(),
                length: i32::MAX,
            },
            direction: 0,
            bound: of.bound(),
            keys: vec![0; of.n],
            heap: Vec::new(),
            waiting: vec![0; of.n],
            use_at: Vec::new(),
        }
    }

    /// Works until so many passes are made in all, the bound is met or `is_over`.
    ///
    /// `planned` is how many there are going to be: it sets the size of the populations and how long they breed before
    /// the best is wandered on from.
    pub(crate) fn advance(&mut self, until: u64, planned: u64, is_over: &dyn Fn() -> bool) {
        let size = population(planned);
        let mut spare = Timetable::default();
        while self.members[0].len() < size && self.goes_on(until, is_over) {
            let mut member = Timetable::default();
            self.sample(&mut member);
            improve(&mut self.passes, &mut member, &mut spare);
            self.note(0, &member);
            self.members[1].push(spare.clone());
            self.members[0].push(member);
        }
        let bred = if planned == u64::MAX { until } else { planned / 5 * 3 };
        while self.goes_on(bred.min(until), is_over) {
            self.generation(self.direction, bred.min(until));
            self.direction = 1 - self.direction;
        }
        if self.goes_on(until, is_over) {
            self.wander(until, is_over);
        }
    }

    /// The best timetable, in forward time.
    pub(crate) fn best(&self) -> &Timetable {
        &self.best
    }

    /// Passes made so far.
    pub(crate) fn made(&self) -> u64 {
        self.passes.made
    }

    /// No schedule is shorter.
    pub(crate) fn bound(&self) -> i32 {
        self.bound
    }

    /// Takes in a schedule found elsewhere.
    pub(crate) fn learn_of(&mut self, start: &[i32], length: i32) {
        if length < self.best.length {
            self.best = Timetable {
                start: start.to_vec(),
                length,
            };
            if let Some(first) = self.members[0].first_mut() {
                first.clone_from(&self.best);
            }
        }
    }

    /// Walks on from the best: one stretch of time reordered, generated in the other direction, kept if not worse.
    fn wander(&mut self, until: u64, is_over: &dyn Fn() -> bool) {
        let of = self.passes.of;
        let mut direction = 0;
        let mut here = self.best.clone();
        let mut next = Timetable::default();
        while self.goes_on(until, is_over) {
            let wide = here.length / 16 + 2;
            let from = i32::try_from(self.chance.below(index(here.length.into()))).unwrap_or(0) - wide / 2;
            let stir = wide / 2 + 1;
            for at in 0..of.n {
                let end = here.start[at] + of.length[at];
                let middle = end - of.length[at] / 2;
                self.keys[at] = -end;
                if middle > from && middle <= from + wide {
                    let by = i32::try_from(self.chance.below(index(i64::from(2 * stir + 1)))).unwrap_or(0);
                    self.keys[at] += by - stir;
                }
            }
            let net = if direction == 0 { &of.backward } else { &of.forward };
            let order = self.in_order(net);
            self.passes.pass(net, &order, &mut next);
            self.note(1 - direction, &next);
            if next.length <= here.length {
                std::mem::swap(&mut here, &mut next);
                direction = 1 - direction;
            }
        }
    }

    fn goes_on(&self, schedules: u64, is_over: &dyn Fn() -> bool) -> bool {
        self.best.length > self.bound && self.passes.made < schedules && !is_over()
    }

    fn note(&mut self, direction: usize, member: &Member) {
        if member.length < self.best.length {
            self.best = member.clone();
            if direction == 1 {
                let of = self.passes.of;
                for (start, length) in self.best.start.iter_mut().zip(&of.length) {
                    *start = member.length - *start - length;
                }
            }
        }
    }

    /// A first schedule: by latest start, with a lean of chance.
    fn sample(&mut self, into: &mut Timetable) {
        let of = self.passes.of;
        let sharpness = 0.2 + 0.8 * self.chance.part();
        for at in 0..of.n {
            let lean = self.chance.part() * (1.0 - sharpness) * 6.0 + 1.0;
            self.keys[at] = -scale(of.tail[at], lean);
        }
        let order = self.in_order(&of.forward);
        self.passes.pass(&of.forward, &order, into);
    }

    /// Activities by key, the lowest first, but none before what it comes after.
    fn in_order(&mut self, net: &Net) -> Vec<u32> {
        let n = self.passes.of.n;
        let mut order = Vec::with_capacity(n);
        self.heap.clear();
        for at in 0..n {
            self.waiting[at] = small(net.before[at].len());
            if self.waiting[at] == 0 {
                push(&mut self.heap, (self.keys[at], small(at)));
            }
        }
        while let Some((_, at)) = pop(&mut self.heap) {
            order.push(at);
            for &to in &net.after[at as usize] {
                self.waiting[to as usize] -= 1;
                if self.waiting[to as usize] == 0 {
                    push(&mut self.heap, (self.keys[to as usize], to));
                }
            }
        }
        order
    }

    /// Every member fathers children into the other population.
    fn generation(&mut self, direction: usize, schedules: u64) {
        let size = self.members[direction].len();
        let mut child = Timetable::default();
        for father in 0..size {
            let mut elder = Timetable {
                start: Vec::new(),
                length: i32::MAX,
            };
            for _ in 0..2 {
                if self.passes.made >= schedules || self.best.length <= self.bound {
                    return;
                }
                let mother = self.tournament(direction, father);
                self.cross(direction, father, mother);
                let of = self.passes.of;
                let net = if direction == 0 { &of.backward } else { &of.forward };
                let order = self.in_order(net);
                self.passes.pass(net, &order, &mut child);
                self.note(1 - direction, &child);
                if child.length < elder.length {
                    std::mem::swap(&mut elder, &mut child);
                }
            }
            let rival = &mut self.members[1 - direction][father];
            if elder.length <= rival.length {
                std::mem::swap(rival, &mut elder);
            }
        }
    }

    /// The shorter of two by chance.
    fn tournament(&mut self, direction: usize, except: usize) -> usize {
        let size = self.members[direction].len();
        let (one, other) = (self.chance.below(size), self.chance.below(size));
        let length = |at: usize| self.members[direction][at].length;
        if one == except || (other != except && length(other) < length(one)) {
            other
        } else {
            one
        }
    }

    /// Sets the keys of a child, for generation in the other direction.
    fn cross(&mut self, direction: usize, father: usize, mother: usize) {
        let of = self.passes.of;
        let length = self.members[direction][mother].length;
        let (from, to) = self.best_stretch(direction, mother);
        let (father, mother) = (&self.members[direction][father], &self.members[direction][mother]);
        let far = 4 * of.longest;
        let end = |table: &Timetable, at: usize| table.start[at] + of.length[at];
        let shift = father.length - length;
        let similar = father.length == mother.length && father.start == mother.start;
        for at in 0..of.n {
            // Keys count from the end backwards: what ends last is generated first.
            let (hers, his) = (end(mother, at), end(father, at) - shift);
            self.keys[at] = if hers > from && hers <= to {
                -hers
            } else if his > to || (his > from && his * 2 > from + to) {
                -his - far
            } else {
                -his + far
            };
        }
        for at in (0..of.n).filter(|_| similar) {
            if self.chance.once_in(8) {
                let by = i32::try_from(self.chance.below(index(i64::from(length / 4)) + 2)).unwrap_or(0);
                self.keys[at] += by - length / 8;
            }
        }
    }

    /// Of a member's time, a stretch of a length by chance in which it uses the resources best.
    fn best_stretch(&mut self, direction: usize, mother: usize) -> (i32, i32) {
        let of = self.passes.of;
        let table = &self.members[direction][mother];
        let span = index(table.length.into());
        self.use_at.clear();
        self.use_at.resize(span + 2, 0);
        for at in 0..of.n {
            let start = index(table.start[at].into());
            let load: i64 = of.amounts[at]
                .iter()
                .zip(&of.capacities)
                .map(|(&a, &c)| 1000 * i64::from(a) / i64::from(c.max(1)))
                .sum();
            self.use_at[start] += load;
            self.use_at[start + index(of.length[at].into())] -= load;
        }
        let mut running = 0;
        let mut total = vec![0_i64; span + 1];
        for minute in 0..span {
            running += self.use_at[minute];
            total[minute + 1] = total[minute] + running;
        }
        let wide = (span / 4 + self.chance.below(span / 2 + 1)).clamp(1, span);
        let mut best = (i64::MIN, 0);
        for _ in 0..4 {
            let from = self.chance.below(span - wide + 1);
            let worth = total[from + wide] - total[from];
            if worth > best.0 {
                best = (worth, from);
            }
        }
        let as_time = |minute: usize| i32::try_from(minute).unwrap_or(i32::MAX);
        (as_time(best.1), as_time(best.1 + wide))
    }
}

/// Members of each population for so many schedules.
fn population(schedules: u64) -> usize {
    match schedules {
        0..=1_500 => 40,
        1_501..=8_000 => 100,
        8_001..=80_000 => 400,
        _ => 800,
    }
}

fn scale(value: i32, by: f64) -> i32 {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a path length times a number near one stays small"
    )]
    let scaled = (f64::from(value) * by * 16.0) as i32;
    scaled
}

fn push(heap: &mut Vec<(i32, u32)>, item: (i32, u32)) {
    heap.push(item);
    let mut at = heap.len() - 1;
    while at > 0 && heap[at] < heap[(at - 1) / 2] {
        heap.swap(at, (at - 1) / 2);
        at = (at - 1) / 2;
    }
}

fn pop(heap: &mut Vec<(i32, u32)>) -> Option<(i32, u32)> {
    let last = heap.pop()?;
    let Some(&top) = heap.first() else { return Some(last) };
    heap[0] = last;
    let mut at = 0;
    loop {
        let mut least = at;
        for child in [2 * at + 1, 2 * at + 2] {
            if child < heap.len() && heap[child] < heap[least] {
                least = child;
            }
        }
        if least == at {
            return Some(top);
        }
        heap.swap(at, least);
        at = least;
    }
}
