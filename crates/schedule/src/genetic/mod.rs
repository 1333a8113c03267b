//! Search over plain projects: two populations, one pushed to the beginning and one to the end, bred into each other;
//! then a walk on from the best.
//!
//! A child takes from its mother the stretch of time in which she uses the resources best, and the order of everything
//! else from its father; it is generated in the other direction of time than its parents, so every pass is also half a
//! round of forward–backward improvement (after Debels and Vanhoucke 2007). By chance it is generated serially or in
//! parallel: which of the two suits differs from project to project. A child that cannot take its place in the
//! population is given up as soon as that is known.

mod crossing;
mod disturbing;
mod order;
#[cfg(test)]
mod tests;
mod wander;

use crate::chance::Chance;
use crate::improve::improve;
use crate::passes::{NEVER, Passes, Timetable};
use crate::project::{Net, Project};

/// Children that a father has with each generation; the best of them may take a place in the other population.
const CHILDREN: usize = 2;
/// How many others join those who were found before.
const NEWCOMERS: usize = 6;

/// Breeding until the schedules are used up, the bound is met or `is_over`.
pub(crate) struct Breeding<'a> {
    passes: Passes<'a>,
    chance: Chance,
    /// By direction: made forward, made backward; each in its own direction of time.
    members: [Vec<Timetable>; 2],
    /// In forward time.
    best: Timetable,
    direction: usize,
    /// Where the walk stands: a timetable in the direction of time given.
    here: Option<(usize, Timetable)>,
    bound: i32,
    /// Priorities of the schedule to be made next, the lowest first.
    keys: Vec<i32>,
    waiting: Vec<u32>,
    /// Schedules after which the members of this season stop breeding, and after which it ends; `None` between seasons.
    season: Option<[u64; 2]>,
    /// Members of each population in this season.
    size: usize,
    seasons: u32,
    /// Found before, to be the first members of the next season.
    elders: Vec<Timetable>,
}

impl<'a> Breeding<'a> {
    pub(crate) fn new(of: &'a Project, seed: u64) -> Self {
        Self {
            passes: Passes::new(of),
            chance: Chance::new(seed),
            members: [Vec::new(), Vec::new()],
            best: Timetable {
                start: Vec::new(),
                length: NEVER,
            },
            direction: 0,
            here: None,
            bound: of.bound(),
            keys: vec![0; of.n],
            waiting: vec![0; of.n],
            season: None,
            size: 0,
            seasons: 0,
            elders: Vec::new(),
        }
    }

    /// Takes in timetables found before, as the first members of the next season; how many others join them is theirs to
    /// say.
    pub(crate) fn begin_with(&mut self, elders: &[Timetable]) {
        self.elders = elders.to_vec();
    }

    /// Works until so many passes are made in all, the bound is met or `is_over`.
    ///
    /// `planned` is how many are to be bred: it sets the size of the populations. Once they are made, the best is
    /// wandered on from. Where nobody knows (`u64::MAX`), seasons follow each other, each four times as long
    /// as the one before, all with new members.
    pub(crate) fn advance(&mut self, until: u64, planned: u64, is_over: &dyn Fn() -> bool) {
        if self.season.is_none() && planned != u64::MAX && self.made() >= planned {
            self.wander(until, is_over);
            return;
        }
        while self.goes_on(until, is_over) {
            let [breeding, over] = match self.season {
                Some(season) => season,
                None => self.begin_season(planned),
            };
            while self.members[0].len() < self.size && self.goes_on(until, is_over) {
                self.newcomer();
            }
            while self.goes_on(breeding.min(until), is_over) {
                self.generation(self.direction, breeding.min(until));
                self.direction = 1 - self.direction;
            }
            if self.goes_on(over.min(until), is_over) {
                self.wander(over.min(until), is_over);
            }
            if self.made() >= over {
                self.season = None;
            }
        }
    }

    fn begin_season(&mut self, planned: u64) -> [u64; 2] {
        let length = if planned == u64::MAX {
            2_000 << (2 * self.seasons.min(10))
        } else {
            planned.saturating_sub(self.made()).max(1)
        };
        self.seasons += 1;
        self.members = [Vec::new(), Vec::new()];
        self.direction = 0;
        // Where the number is known, the walk follows when all is bred.
        let breeding = if planned == u64::MAX { length / 4 * 3 } else { length };
        let season = [self.made() + breeding, self.made() + length];
        self.size = match self.join() {
            0 => population(length),
            elders => elders + NEWCOMERS,
        };
        self.season = Some(season);
        season
    }

    /// The best timetable, in forward time.
    pub(crate) fn best(&self) -> &Timetable {
        &self.best
    }

    /// Where the walk stands, in forward time.
    pub(crate) fn here(&self) -> Option<Timetable> {
        let (direction, here) = self.here.as_ref()?;
        Some(self.turned(*direction, here))
    }

    /// Schedules made so far: starts assigned, over the number of activities.
    pub(crate) fn made(&self) -> u64 {
        self.passes.made()
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

    fn goes_on(&self, schedules: u64, is_over: &dyn Fn() -> bool) -> bool {
        self.best.length > self.bound && self.made() < schedules && !is_over()
    }

    fn note(&mut self, direction: usize, member: &Timetable) {
        if member.length < self.best.length {
            self.best = self.turned(direction, member);
        }
    }

    /// A timetable in forward time, from its own direction; or the other way round.
    fn turned(&self, direction: usize, table: &Timetable) -> Timetable {
        let mut turned = table.clone();
        if direction == 1 {
            for (start, length) in turned.start.iter_mut().zip(&self.passes.of.length) {
                *start = table.length - *start - length;
            }
        }
        turned
    }

    fn net(&self, direction: usize) -> &'a Net {
        let of = self.passes.of;
        if direction == 0 { &of.forward } else { &of.backward }
    }

    /// The elders become members; how many they are.
    fn join(&mut self) -> usize {
        let elders = std::mem::take(&mut self.elders);
        let n = elders.len();
        for elder in elders {
            self.improved(elder);
        }
        n
    }

    /// A member of both populations, pushed to the end and to the beginning.
    fn improved(&mut self, mut member: Timetable) {
        let mut spare = Timetable::default();
        improve(&mut self.passes, &mut member, &mut spare);
        self.note(1, &spare);
        self.note(0, &member);
        self.members[1].push(spare);
        self.members[0].push(member);
    }

    /// A first member of both populations: in parallel by the longest way to the end, with a lean of chance, improved.
    fn newcomer(&mut self) {
        let of = self.passes.of;
        let sharpness = 0.2 + 0.8 * self.chance.part();
        for at in 0..of.n {
            let lean = self.chance.part() * (1.0 - sharpness) * 2.0 + 1.0;
            self.keys[at] = -scale(of.forward.tail[at], lean);
        }
        let mut member = Timetable::default();
        self.passes.parallel(&of.forward, &self.keys, NEVER, &mut member);
        self.note(0, &member);
        self.improved(member);
    }

    /// Every member fathers children into the other population.
    fn generation(&mut self, direction: usize, schedules: u64) {
        let mut child = Timetable::default();
        for father in 0..self.members[direction].len() {
            let mut elder = Timetable {
                start: Vec::new(),
                length: NEVER,
            };
            let rival = self.members[1 - direction][father].length;
            for _ in 0..CHILDREN {
                if self.made() >= schedules || self.best.length <= self.bound {
                    return;
                }
                let mother = self.tournament(direction, father);
                self.cross(direction, father, mother);
                self.make(1 - direction, rival.min(elder.length), &mut child);
                if child.length < elder.length {
                    std::mem::swap(&mut elder, &mut child);
                }
            }
            if elder.length <= rival {
                self.members[1 - direction][father] = elder;
            }
        }
    }

    /// A schedule by the keys, serially or in parallel by chance.
    fn make(&mut self, direction: usize, limit: i32, into: &mut Timetable) {
        let net = self.net(direction);
        if self.chance.once_in(2) {
            self.passes.parallel(net, &self.keys, limit, into);
        } else {
            let order = self.in_order(net);
            self.passes.pass(net, &order, limit, None, into);
        }
        self.note(direction, into);
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
}

/// Members of each population for so many schedules.
fn population(schedules: u64) -> usize {
    match schedules {
        0..=1_500 => 17,
        1_501..=3_500 => 40,
        3_501..=8_000 => 50,
        8_001..=20_000 => 80,
        _ => 200,
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
