//! The search: a label-setting shortest path in several measures over surface states.
//!
//! A label is a state reached, with what it took in money, hands, time and breath. Labels are taken in lexicographic order, so
//! that none taken is dominated later; a label that another at the same state beats in every measure is dropped. Wear is a matter of
//! the last state alone and joins the comparison there. Where only one move is open the label walks on without being stored.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashMap};
use std::hash::{BuildHasherDefault, Hasher};

use trade::{Material, Operation, PrepClass};

use crate::act::Act;
use crate::bench::Bench;
use crate::effect::apply;
use crate::effort::{Effort, effort};
use crate::object::{at_end, object, wear};
use crate::remedy::{Move, remedies};
use crate::rule::{Hits, RuleId};
use crate::step::WaitKind;
use crate::surface::{Key, Residue, Surface};
use crate::wants::{Way, last_things, wants};

/// Labels after which the search stops and takes what it has; far beyond what ordinary zones need.
const MOST_LABELS: usize = 60_000;
/// Steps before the step: how deep objections are followed.
const DEEPEST: u8 = 7;
/// Steps of one schedule.
const MOST_STEPS: u16 = 60;

/// What a path took so far. Money in thousandths of a minor unit, exposure in thousandths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Spent {
    pub(crate) elapsed_min: u32,
    pub(crate) hands_on_min: u32,
    pub(crate) cost: u64,
    pub(crate) materials: u64,
    pub(crate) exposure: u64,
}

impl Spent {
    /// Whether this is nowhere worse than the other.
    pub(crate) const fn is_as_good_as(&self, other: &Spent) -> bool {
        self.elapsed_min <= other.elapsed_min
            && self.hands_on_min <= other.hands_on_min
            && self.cost <= other.cost
            && self.exposure <= other.exposure
    }
}

/// Differences at one state that nobody at the bench would choose by; they do not keep two paths apart. The absolute part is for
/// small jobs, the shares for large ones. In the order of [`Spent`]: minutes, minutes, thousandths of a minor unit, thousandths.
const SLACK: Spent = Spent {
    elapsed_min: 30,
    hands_on_min: 2,
    cost: 100_000,
    materials: 0,
    exposure: 4_000,
};
/// One part in so many, of elapsed and hands-on time and of cost.
const SLACK_PART: u64 = 40;
/// The same for exposure, which is known less well.
const SLACK_PART_EXPOSURE: u64 = 10;

impl Spent {
    /// Whether this stands for the other: nowhere worse by more than the slack, and not beaten by it.
    fn is_near_enough(&self, other: &Spent) -> bool {
        let part = |least: u64, value: u64, part: u64| value + least.max(value / part);
        let time = |least: u32, value: u32| part(u64::from(least), u64::from(value), SLACK_PART);
        let near = u64::from(self.elapsed_min) <= time(SLACK.elapsed_min, other.elapsed_min)
            && u64::from(self.hands_on_min) <= time(SLACK.hands_on_min, other.hands_on_min)
            && self.cost <= part(SLACK.cost, other.cost, SLACK_PART)
            && self.exposure <= part(SLACK.exposure, other.exposure, SLACK_PART_EXPOSURE);
        near && (self.is_as_good_as(other) || !other.is_as_good_as(self))
    }
}

/// A finished path.
#[derive(Debug, Clone)]
pub(crate) struct Path {
    pub(crate) acts: Vec<Act>,
    pub(crate) spent: Spent,
    pub(crate) wear: u8,
    pub(crate) elapsed_min: u32,
    pub(crate) cured_min: u32,
    pub(crate) keeps_old_finish: bool,
    /// Whether it takes isocyanate, formaldehyde or caustic: fine for those equipped for it, not what to offer first.
    pub(crate) harsh: bool,
    /// Whether the finish that gives the look stands on the shelf.
    pub(crate) on_shelf: bool,
}

impl Path {
    /// The measures of a path that ends on this surface; its acts are still to come.
    fn at(surface: &Surface, spent: Spent, bench: &Bench<'_>) -> Self {
        Self {
            acts: Vec::new(),
            spent,
            wear: wear(surface, bench),
            elapsed_min: after_last(surface, spent, bench, |figures| figures.light_min),
            cured_min: after_last(surface, spent, bench, |figures| figures.cure_min),
            keeps_old_finish: surface.has_found_layers(),
            harsh: false,
            on_shelf: surface.planned_layers().any(|layer| {
                crate::bench::gives_look(bench.wish.look, layer.class)
                    && bench.product(Material::Finish(layer.class)).is_some()
            }),
        }
    }

    fn with(mut self, acts: Vec<Act>, bench: &Bench<'_>) -> Self {
        self.harsh = acts.iter().any(|act| is_harsh(act, bench));
        self.acts = acts;
        self
    }

    /// The path of these acts with their waits as they stand; minutes and materials are reckoned anew.
    pub(crate) fn of(mut acts: Vec<Act>, bench: &Bench<'_>) -> Self {
        let mut surface = Surface::found(bench);
        let mut spent = Spent::default();
        for act in &mut acts {
            act.hands_on_min = 0;
            let taken = effort(act, &surface, bench);
            act.hands_on_min = taken.hands_on_min;
            surface = apply(&surface, act, taken.hands_on_min, bench);
            spent.add(&spent_on(&taken, act.wait_min, bench));
        }
        Self::at(&surface, spent, bench).with(acts, bench)
    }

    /// Whether this path is nowhere worse than the other in the five measures, nor buys what the other has on the shelf.
    pub(crate) const fn is_as_good_as(&self, other: &Path) -> bool {
        self.elapsed_min <= other.elapsed_min
            && self.spent.hands_on_min <= other.spent.hands_on_min
            && self.spent.cost <= other.spent.cost
            && self.spent.exposure <= other.spent.exposure
            && self.wear >= other.wear
            && (self.on_shelf || !other.on_shelf)
    }
}

/// How bold the search may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Boldness {
    /// Only what the tables are sure of.
    Sure,
    /// Also what a test patch must decide.
    WithTestPatch,
}

struct Label {
    surface: Surface,
    way: Way,
    spent: Spent,
    parent: Option<usize>,
    trail: Vec<Act>,
    /// Minutes by which the last act of the parent waits longer.
    longer_min: u32,
    steps: u16,
}

/// All nondominated paths, in a fixed order. Also the rules that barred the way where it ended.
pub(crate) struct Found {
    pub(crate) paths: Vec<Path>,
    pub(crate) barred: Hits,
}

/// A plain multiplicative hash: states are hashed often, and nobody attacks them.
#[derive(Default)]
struct StateHasher(u64);

impl Hasher for StateHasher {
    fn finish(&self) -> u64 {
        self.0
    }

    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0u8; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.mix(u64::from_le_bytes(word));
        }
    }

    fn write_u8(&mut self, byte: u8) {
        self.mix(u64::from(byte));
    }

    fn write_u16(&mut self, word: u16) {
        self.mix(u64::from(word));
    }

    fn write_u32(&mut self, word: u32) {
        self.mix(u64::from(word));
    }

    fn write_isize(&mut self, word: isize) {
        self.mix(word.cast_unsigned() as u64);
    }
}

impl StateHasher {
    const fn mix(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(5) ^ word).wrapping_mul(0x517c_c1b7_2722_0a95);
    }
}

type Fronts = HashMap<(Key, Way), Vec<Spent>, BuildHasherDefault<StateHasher>>;

struct Search<'a, 'b> {
    bench: &'a Bench<'b>,
    boldness: Boldness,
    labels: Vec<Label>,
    queue: BinaryHeap<Reverse<(Spent, usize)>>,
    fronts: Fronts,
    goals: Vec<(usize, Spent, Surface)>,
    barred: Hits,
    acts: Vec<Act>,
    moves: Vec<Move>,
    /// Acts already followed up at the state in hand.
    tried: Vec<Act>,
}

/// Searches from the zone as found.
pub(crate) fn search(bench: &Bench<'_>, boldness: Boldness) -> Found {
    let mut search = Search {
        bench,
        boldness,
        labels: Vec::new(),
        queue: BinaryHeap::new(),
        fronts: Fronts::default(),
        goals: Vec::new(),
        barred: Hits::default(),
        acts: Vec::new(),
        moves: Vec::new(),
        tried: Vec::new(),
    };
    let start = Surface::found(bench);
    for way in Way::EVERY {
        let applies = if way == Way::Keep {
            !bench.wish.strip || !start.has_found_layers()
        } else {
            start.has_found_layers()
        };
        if applies {
            search.add(Label {
                surface: start,
                way,
                spent: Spent::default(),
                parent: None,
                trail: Vec::new(),
                longer_min: 0,
                steps: 0,
            });
        }
    }
    while let Some(Reverse((_, idx))) = search.queue.pop() {
        if search.labels.len() > MOST_LABELS {
            break;
        }
        search.expand(idx);
    }
    search.finish()
}

impl Search<'_, '_> {
    /// Stores a label unless a better one stands at its state.
    fn add(&mut self, label: Label) {
        let front = self
            .fronts
            .entry((label.surface.key(self.bench), label.way))
            .or_default();
        if front.iter().any(|spent| spent.is_near_enough(&label.spent)) {
            return;
        }
        front.retain(|spent| !label.spent.is_as_good_as(spent));
        front.push(label.spent);
        let idx = self.labels.len();
        self.queue.push(Reverse((label.spent, idx)));
        self.labels.push(label);
    }

    fn is_beaten(&self, label: &Label) -> bool {
        let front = self.fronts.get(&(label.surface.key(self.bench), label.way));
        front.is_some_and(|front| {
            front
                .iter()
                .any(|spent| *spent != label.spent && spent.is_as_good_as(&label.spent))
        })
    }

    fn expand(&mut self, idx: usize) {
        if self.is_beaten(&self.labels[idx]) {
            return;
        }
        let (surface, way, spent, steps) = {
            let label = &self.labels[idx];
            (label.surface, label.way, label.spent, label.steps)
        };
        self.note_goal(idx, &surface, spent);
        let moves = self.moves_from(&surface, way);
        for next in moves {
            if let Some(label) = self.walk(idx, next, surface, way, spent, steps) {
                self.add(label);
            }
        }
    }

    fn note_goal(&mut self, idx: usize, surface: &Surface, spent: Spent) {
        let ends = at_end(surface, self.bench).serious();
        if ends.is_empty() {
            self.goals.push((idx, spent, *surface));
        }
    }

    /// Takes one move, then every further move while it is the only one and no goal is reached.
    fn walk(
        &mut self,
        parent: usize,
        first: Move,
        from: Surface,
        from_way: Way,
        spent: Spent,
        steps: u16,
    ) -> Option<Label> {
        let mut label = Label {
            surface: from,
            way: from_way,
            spent,
            parent: Some(parent),
            trail: Vec::new(),
            longer_min: 0,
            steps,
        };
        self.take(&mut label, first)?;
        loop {
            if label.steps > MOST_STEPS {
                return None;
            }
            if at_end(&label.surface, self.bench).serious().is_empty() {
                return Some(label);
            }
            let moves = self.moves_from(&label.surface, label.way);
            match moves[..] {
                [only] => self.take(&mut label, only)?,
                [] => return None,
                _ => return Some(label),
            }
        }
    }

    fn take(&self, label: &mut Label, next: Move) -> Option<()> {
        match next {
            Move::Do(act) => {
                let (after, done, more) = perform(&label.surface, act, self.bench);
                if after == label.surface {
                    return None;
                }
                label.surface = after;
                label.trail.push(done);
                label.steps += 1;
                label.spent.add(&more);
                if label.way != Way::Keep && !after.has_found_layers() {
                    label.way = Way::Keep;
                }
            }
            Move::WaitUntil(until_min) => {
                let longer_min = until_min.saturating_sub(label.surface.top_age_min);
                let cures = label
                    .surface
                    .planned_top()
                    .is_some_and(|top| until_min >= self.bench.figures(top.class).light_min);
                match label.trail.last_mut() {
                    Some(act) => {
                        act.wait_min += longer_min;
                        if cures {
                            act.wait_kind = WaitKind::Cure;
                        }
                    }
                    None => label.longer_min += longer_min,
                }
                label.surface.pass(longer_min);
                label.spent.elapsed_min += longer_min;
            }
        }
        Some(())
    }

    fn moves_from(&mut self, surface: &Surface, way: Way) -> Vec<Move> {
        let mut acts = std::mem::take(&mut self.acts);
        acts.clear();
        wants(surface, way, self.bench, &mut acts);
        if acts.is_empty() {
            let missing = at_end(surface, self.bench).serious();
            acts.extend(missing.iter().find_map(|rule| last_things(rule, surface)));
        }
        let mut moves = std::mem::take(&mut self.moves);
        moves.clear();
        self.tried.clear();
        for act in &acts {
            self.enable(act, surface, DEEPEST, &mut moves);
        }
        let result = moves.clone();
        self.acts = acts;
        self.moves = moves;
        result
    }

    /// Adds the act if nothing objects, else what would remove the first objection.
    fn enable(&mut self, act: &Act, surface: &Surface, depth: u8, into: &mut Vec<Move>) {
        if self.tried.contains(act) {
            return;
        }
        self.tried.push(*act);
        let hits = object(surface, act, self.bench);
        let mut bars = hits.serious();
        bars.add_if(
            self.boldness == Boldness::Sure && hits.has(RuleId::TryAPatchFirst),
            RuleId::TryAPatchFirst,
        );
        if bars.is_empty() {
            let next = Move::Do(*act);
            if !into.contains(&next) {
                into.push(next);
            }
            return;
        }
        if depth == 0 {
            return;
        }
        let mut ways = Vec::with_capacity(4);
        remedies(act, bars, surface, self.bench, &mut ways);
        let before = into.len();
        for way in ways.iter().copied() {
            match way {
                Move::Do(first) if first != *act => self.enable(&first, surface, depth - 1, into),
                Move::Do(_) => {}
                Move::WaitUntil(_) => {
                    if !into.contains(&way) && !surface.keyed {
                        into.push(way);
                    }
                }
            }
        }
        if into.len() == before && ways.is_empty() {
            self.barred = self.barred.union(bars);
        }
    }

    fn finish(self) -> Found {
        let bench = self.bench;
        let mut paths: Vec<Path> = Vec::new();
        for (idx, spent, surface) in &self.goals {
            let path = Path::at(surface, *spent, bench);
            if paths.iter().any(|other| other.is_as_good_as(&path)) {
                continue;
            }
            paths.retain(|other| !path.is_as_good_as(other));
            paths.push(path.with(self.trail(*idx), bench));
        }
        Found {
            paths,
            barred: self.barred,
        }
    }

    /// The acts from the start to a label.
    fn trail(&self, idx: usize) -> Vec<Act> {
        let mut parts: Vec<&Label> = Vec::new();
        let mut at = Some(idx);
        while let Some(here) = at {
            parts.push(&self.labels[here]);
            at = self.labels[here].parent;
        }
        let mut acts: Vec<Act> = Vec::new();
        for label in parts.iter().rev() {
            if let Some(last) = acts.last_mut().filter(|_| label.longer_min > 0) {
                last.wait_min += label.longer_min;
                last.wait_kind = WaitKind::Cure;
            }
            acts.extend(&label.trail);
        }
        acts
    }
}

impl Spent {
    pub(crate) fn add(&mut self, more: &Spent) {
        self.elapsed_min += more.elapsed_min;
        self.hands_on_min += more.hands_on_min;
        self.cost += more.cost;
        self.materials += more.materials;
        self.exposure += more.exposure;
    }
}

fn is_harsh(act: &Act, bench: &Bench<'_>) -> bool {
    let figures = act.finish().map(|class| bench.figures(class));
    act.prep_class() == Some(PrepClass::CausticStripper)
        || figures.is_some_and(|figures| figures.isocyanate || figures.formaldehyde)
}

/// Elapsed time when the last coat has come to a further state, given its figures.
fn after_last(
    surface: &Surface,
    spent: Spent,
    bench: &Bench<'_>,
    until: impl Fn(&crate::bench::Figures) -> u32,
) -> u32 {
    let slowest = surface.planned_top().map_or(0, |top| until(bench.figures(top.class)));
    spent.elapsed_min + slowest.saturating_sub(surface.top_age_min)
}

/// Does an act: the surface after it and after the wait it needs, the act with its minutes and wait, and what it took.
pub(crate) fn perform(before: &Surface, act: Act, bench: &Bench<'_>) -> (Surface, Act, Spent) {
    let taken = effort(&act, before, bench);
    let worked = apply(before, &act, taken.hands_on_min, bench);
    let (wait_kind, wait_min) = wait_after(&act, &worked, bench);
    let mut after = worked;
    after.pass(wait_min);
    let mut done = act;
    done.hands_on_min = taken.hands_on_min;
    done.wait_kind = wait_kind;
    done.wait_min = wait_min;
    (after, done, spent_on(&taken, wait_min, bench))
}

/// An effort and the wait after it in the measures of the search.
fn spent_on(taken: &Effort, wait_min: u32, bench: &Bench<'_>) -> Spent {
    let materials = thousandths(taken.materials_minor);
    let labour = thousandths(taken.exact_min * bench.limits.labour_minor_per_min);
    Spent {
        elapsed_min: taken.hands_on_min + wait_min,
        hands_on_min: taken.hands_on_min,
        cost: materials + labour,
        materials,
        exposure: thousandths(taken.exposure),
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the range of the type"
)]
fn thousandths(value: f64) -> u64 {
    (value * 1000.0).round().clamp(0.0, 1e15) as u64
}

/// The wait that what was just done needs before anything else is sensible.
fn wait_after(act: &Act, worked: &Surface, bench: &Bench<'_>) -> (WaitKind, u32) {
    if let Some(class) = act
        .prep_class()
        .filter(|_| matches!(act.op, Operation::StripChemical | Operation::Bleach))
    {
        return (WaitKind::Dwell, dwell_min(class));
    }
    if worked.residue == Residue::Cleaner && act.op == Operation::Clean {
        return (WaitKind::Dwell, act.prep_class().map_or(0, dwell_min));
    }
    if worked.softened > 0 || worked.residue != Residue::None {
        return (WaitKind::Dwell, 0);
    }
    if act.is_full_coat() {
        let recoat_min = act.finish().map_or(0, |class| bench.figures(class).recoat_min);
        return (WaitKind::Recoat, recoat_min);
    }
    let left = |clock: crate::surface::Clock| clock.need_min.saturating_sub(clock.age_min);
    let (drying, setting) = (left(worked.drying), left(worked.setting));
    let kind = if setting > drying { WaitKind::Set } else { WaitKind::Dry };
    (kind, drying.max(setting))
}

/// Dwell of a preparation material at the table's usual figure, minutes.
pub(crate) fn dwell_min(class: PrepClass) -> u32 {
    class
        .row()
        .dwell_min
        .map_or(0, |dwell| crate::effort::whole_minutes(dwell.typical))
}
