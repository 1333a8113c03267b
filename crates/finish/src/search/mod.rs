//! The search: a label-setting shortest path in several measures over surface states.
//!
//! A label is a state reached, with what it took in money, hands, time and breath. Labels are taken in lexicographic order, so
//! that none taken is dominated later; a label that another at the same state beats in every measure is dropped, and nothing else is:
//! **every nondominated schedule is found**, to the minute and the thousandth. Wear is a matter of the last state alone and joins the
//! comparison there.
//!
//! What leads on from a state (a [`Stretch`](moves::Stretch)) is worked out once for the state and reused by every label that comes to it.

mod hash;
mod moves;
mod path;
mod perform;
mod spent;

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::act::Act;
use crate::bench::Bench;
use crate::object::at_end;
use crate::rule::Hits;
use crate::search::hash::StateMap;
use crate::search::moves::{Moves, Stretch};
use crate::step::WaitKind;
use crate::surface::{Key, Surface};
use crate::wants::Way;

pub(crate) use path::Path;
pub(crate) use perform::perform;
pub(crate) use spent::Spent;

/// Labels after which the search stops and takes what it has; twelve times what the worst of a thousand random zones needs.
const MOST_LABELS: usize = 60_000;
/// Steps of one schedule.
const MOST_STEPS: u16 = 60;

/// How bold the search may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Boldness {
    /// Only what the tables are sure of.
    Sure,
    /// Also what a test patch must decide.
    WithTestPatch,
}

/// All nondominated paths, in a fixed order. Also the rules that barred the way where it ended.
pub(crate) struct Found {
    pub(crate) paths: Vec<Path>,
    pub(crate) barred: Hits,
}

/// A state reached by one path.
struct Label {
    surface: Surface,
    way: Way,
    spent: Spent,
    steps: u16,
    /// The list of labels at the same state.
    front: usize,
    /// The label it came from, and by which stretch from there.
    came: Option<(usize, usize, usize)>,
}

/// The labels that stand at one state, by what they took.
type Front = Vec<Spent>;

/// What a state is and what leads on from it.
struct LeadsOn {
    /// Whether the wish is met here.
    is_end: bool,
    stretches: Vec<Stretch>,
}

/// Which goals are looked for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Goals {
    Nondominated,
    Any,
}

struct Search<'a, 'b> {
    bench: &'a Bench<'b>,
    wanted: Goals,
    moves: Moves<'a, 'b>,
    labels: Vec<Label>,
    queue: BinaryHeap<Reverse<(Spent, usize)>>,
    fronts: Vec<Front>,
    front_of: StateMap<(Key, Way), usize>,
    /// What leads on, by exact state.
    leads_on: Vec<LeadsOn>,
    leads_on_of: StateMap<(Surface, Way), usize>,
    goals: Vec<usize>,
}

/// Searches from the zone as found.
pub(crate) fn search(bench: &Bench<'_>, boldness: Boldness) -> Found {
    Search::run(bench, boldness, Goals::Nondominated).finish()
}

/// Some path, the first that comes to the wish: whether there is a way at all. Quick, since no state is looked at twice.
pub(crate) fn reach(bench: &Bench<'_>) -> Option<Path> {
    [Boldness::Sure, Boldness::WithTestPatch]
        .into_iter()
        .find_map(|boldness| Search::run(bench, boldness, Goals::Any).finish().paths.pop())
}

impl<'a, 'b> Search<'a, 'b> {
    fn run(bench: &'a Bench<'b>, boldness: Boldness, wanted: Goals) -> Self {
        let mut search = Self::from_the_zone(bench, boldness, wanted);
        while let Some(Reverse((_, idx))) = search.queue.pop() {
            let enough = wanted == Goals::Any && !search.goals.is_empty();
            if enough || search.labels.len() > MOST_LABELS {
                break;
            }
            search.expand(idx);
        }
        search
    }

    fn from_the_zone(bench: &'a Bench<'b>, boldness: Boldness, wanted: Goals) -> Self {
        let mut search = Search {
            bench,
            wanted,
            moves: Moves::new(bench, boldness),
            labels: Vec::new(),
            queue: BinaryHeap::new(),
            fronts: Vec::new(),
            front_of: StateMap::default(),
            leads_on: Vec::new(),
            leads_on_of: StateMap::default(),
            goals: Vec::new(),
        };
        let start = Surface::found(bench);
        for way in Way::EVERY {
            let applies = if way == Way::Keep {
                !bench.wish.strip || !start.has_found_layers()
            } else {
                start.has_found_layers()
            };
            if applies {
                search.add(start, way, Spent::default(), 0, None);
            }
        }
        search
    }
}

impl Search<'_, '_> {
    /// Stores a label unless one as good stands at its state.
    fn add(&mut self, surface: Surface, way: Way, spent: Spent, steps: u16, came: Option<(usize, usize, usize)>) {
        let fronts = &mut self.fronts;
        let front = *self.front_of.entry((surface.key(self.bench), way)).or_insert_with(|| {
            fronts.push(Front::new());
            fronts.len() - 1
        });
        let standing = &mut self.fronts[front];
        let seen = self.wanted == Goals::Any && !standing.is_empty();
        if seen || standing.iter().any(|other| other.is_as_good_as(&spent)) {
            return;
        }
        standing.retain(|other| !spent.is_as_good_as(other));
        standing.push(spent);
        let idx = self.labels.len();
        self.queue.push(Reverse((spent, idx)));
        self.labels.push(Label {
            surface,
            way,
            spent,
            steps,
            front,
            came,
        });
    }

    fn expand(&mut self, idx: usize) {
        let Label {
            surface,
            way,
            spent,
            steps,
            front,
            ..
        } = self.labels[idx];
        // Beaten since it was stored: its place in the front is gone.
        if !self.fronts[front].contains(&spent) {
            return;
        }
        let from = self.leads_on_from(&surface, way);
        if self.leads_on[from].is_end {
            self.goals.push(idx);
        }
        for at in 0..self.leads_on[from].stretches.len() {
            let stretch = &self.leads_on[from].stretches[at];
            let mut total = spent;
            total.add(&stretch.spent);
            let (ends_on, way, steps) = (stretch.ends_on, stretch.way, steps + stretch.steps);
            if steps <= MOST_STEPS {
                self.add(ends_on, way, total, steps, Some((idx, from, at)));
            }
        }
    }

    /// What leads on from a state, worked out at its first label.
    fn leads_on_from(&mut self, surface: &Surface, way: Way) -> usize {
        let state = surface.settled(self.bench);
        if let Some(known) = self.leads_on_of.get(&(state, way)) {
            return *known;
        }
        self.leads_on.push(LeadsOn {
            is_end: at_end(&state, self.bench).serious().is_empty(),
            stretches: self.moves.stretches(&state, way),
        });
        let idx = self.leads_on.len() - 1;
        self.leads_on_of.insert((state, way), idx);
        idx
    }

    fn finish(self) -> Found {
        let bench = self.bench;
        let mut best: Vec<(usize, Path)> = Vec::new();
        for idx in &self.goals {
            let label = &self.labels[*idx];
            let path = Path::at(&label.surface, label.spent, bench);
            if best.iter().any(|(_, other)| other.is_as_good_as(&path)) {
                continue;
            }
            best.retain(|(_, other)| !path.is_as_good_as(other));
            best.push((*idx, path));
        }
        Found {
            paths: best
                .into_iter()
                .map(|(idx, path)| path.with(self.acts_to(idx), bench))
                .collect(),
            barred: self.moves.barred,
        }
    }

    /// The acts from the start to a label.
    fn acts_to(&self, idx: usize) -> Vec<Act> {
        let mut stretches: Vec<&Stretch> = Vec::new();
        let mut at = idx;
        while let Some((parent, from, taken)) = self.labels[at].came {
            stretches.push(&self.leads_on[from].stretches[taken]);
            at = parent;
        }
        let mut acts: Vec<Act> = Vec::new();
        for stretch in stretches.iter().rev() {
            if let Some(last) = acts.last_mut().filter(|_| stretch.longer_min > 0) {
                last.wait_min += stretch.longer_min;
                last.wait_kind = WaitKind::Cure;
            }
            acts.extend(&stretch.acts);
        }
        acts
    }
}
