//! From work to a scheduling problem: steps become activities, waits become lags on the room's drying clocks.
//!
//! This is the one place where furniture and the scheduler meet. A step that throws dust and a coat that is wet exclude
//! one another in their room; what comes off a piece comes off first and goes back last, once it is hard; a coat is put
//! on only while the room's air allows its class.

use std::collections::BTreeMap;

use climate::DryModel;
use schedule::{
    Activity, ActivityId, Breaks, Clock, ClockId, Due, Effect, Hand, Lag, Minute, Pin, Problem, ProductId, RoomId,
    Span, Wait,
};
use trade::finish_rows::Carrier;
use trade::{FinishClass, Operation};

use super::air::ShopAir;
use super::bench_log::{BenchLog, Said};
use super::calendar::{PlanClock, Stretch, working_stretches};
use super::drying;
use super::work::{WaitKind, WorkPiece, WorkStep, WorkWait};
use crate::model::Shop;

/// Progress of a drying clock in one minute of the reference air: fine enough that a wait of weeks is right to the minute.
pub(crate) const PROGRESS_PER_MIN: i64 = 10_000;
/// Starts lie on whole minutes: a cleaner that works three to five minutes leaves no room for rounder ones.
const GRID_MIN: Minute = 1;
/// The longest pause, a meal included, that still counts as one session at the bench.
const SAME_SESSION_MIN: Minute = 240;
/// Work shorter than this is not laid down at a break.
const SPLIT_ABOVE_MIN: u32 = 90;
const MODELS: [DryModel; 4] = [
    DryModel::Solvent,
    DryModel::Waterborne,
    DryModel::Oxidative,
    DryModel::Reactive,
];

/// Where an activity of the problem comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StepPlace {
    /// The opening step of a piece.
    Opening { piece_idx: usize },
    /// A step of a zone.
    Zone {
        piece_idx: usize,
        zone_idx: usize,
        step_idx: usize,
    },
    /// The closing step of a piece.
    Closing { piece_idx: usize },
}

/// A problem, and the way back from its activities to the steps.
pub(crate) struct Posed {
    pub(crate) problem: Problem,
    pub(crate) places: Vec<StepPlace>,
    /// Coats that the room's air never allows within the plan, by room and class; they are planned all the same.
    pub(crate) never_fit: Vec<(usize, FinishClass)>,
    /// Ids of steps between which the longest wait was over before now.
    pub(crate) missed: Vec<(String, String)>,
}

/// What a problem is posed from.
pub(crate) struct Posing<'p> {
    pub(crate) shop: &'p Shop,
    pub(crate) work: &'p [WorkPiece],
    pub(crate) clock: &'p PlanClock,
    pub(crate) air: &'p ShopAir,
    pub(crate) log: &'p BenchLog,
    /// Nothing that is not begun starts before this minute.
    pub(crate) not_before: Minute,
    /// Nothing ends after this minute.
    pub(crate) horizon: Minute,
}

impl Posing<'_> {
    /// Poses the problem.
    pub(crate) fn pose(&self) -> Posed {
        let stretches: Vec<Vec<Stretch>> = (0..self.shop.settings.hands.len())
            .map(|hand_idx| working_stretches(&self.shop.settings, hand_idx, self.clock, self.horizon))
            .collect();
        let mut builder = Builder {
            posing: self,
            problem: Problem {
                not_before: self.not_before,
                horizon: self.horizon,
                grid: GRID_MIN,
                hands: self.hands(&stretches),
                clocks: self.clocks(),
                ..Problem::default()
            },
            places: Vec::new(),
            products: BTreeMap::new(),
            open_air: BTreeMap::new(),
            longest_min: stretches
                .iter()
                .flatten()
                .map(|(from, to)| to - from)
                .max()
                .unwrap_or(0),
            stretches,
            is_at_work: false,
            missed: Vec::new(),
        };
        for (piece_idx, piece) in self.work.iter().enumerate() {
            builder.piece(piece_idx, piece);
        }
        let never_fit = builder
            .open_air
            .iter()
            .filter(|(_, spans)| spans.is_none())
            .map(|(key, _)| *key)
            .collect();
        let name = |activity: &ActivityId| builder.problem.activities[activity.0].name.clone();
        let missed = builder
            .missed
            .iter()
            .map(|(earlier, later)| (name(earlier), name(later)))
            .collect();
        Posed {
            problem: builder.problem,
            places: builder.places,
            never_fit,
            missed,
        }
    }

    fn hands(&self, stretches: &[Vec<Stretch>]) -> Vec<Hand> {
        self.shop
            .settings
            .hands
            .iter()
            .zip(stretches)
            .map(|(hand, stretches)| Hand {
                name: hand.name.clone(),
                periods: stretches.iter().map(|(from, to)| Span::new(*from, *to)).collect(),
            })
            .collect()
    }

    /// Four clocks a room, one for each way of drying.
    fn clocks(&self) -> Vec<Clock> {
        let first = self.log.earliest();
        let mut clocks = Vec::new();
        for room_idx in 0..self.shop.settings.rooms.len() {
            for model in MODELS {
                let rates = self.air.room(room_idx).rates(model, first, self.horizon);
                clocks.push(Clock::new(
                    rates.iter().map(|rate| (rate.from_min, units(rate.rate))).collect(),
                ));
            }
        }
        clocks
    }
}

/// A rate as whole units a minute, at least one so that no clock stands still for ever.
fn units(rate: f64) -> i64 {
    super::air::whole_minutes(rate * 10_000.0).max(1)
}

/// Which clock runs a way of drying in a room.
fn clock_idx(room_idx: usize, model: DryModel) -> usize {
    room_idx * MODELS.len() + MODELS.iter().position(|known| *known == model).unwrap_or(0)
}

/// The minute at which a wait that begins at `begun` ends, by the clocks of the problem: what the plan shows is what the
/// scheduler kept.
pub(crate) fn dried_at(
    clocks: &[Clock],
    room_idx: usize,
    model: Option<DryModel>,
    begun: Minute,
    reference_min: u32,
) -> Minute {
    match model.and_then(|model| clocks.get(clock_idx(room_idx, model))) {
        None => begun + i64::from(reference_min),
        Some(clock) => clock.done_at(begun, i64::from(reference_min) * PROGRESS_PER_MIN),
    }
}

/// Until so many minutes of the reference air are dried.
fn dried(room_idx: usize, model: Option<DryModel>, reference_min: u32) -> Wait {
    match model {
        None => Wait::Minutes(i64::from(reference_min)),
        Some(model) => Wait::Progress {
            clock: ClockId(clock_idx(room_idx, model)),
            progress: i64::from(reference_min) * PROGRESS_PER_MIN,
        },
    }
}

struct Builder<'p> {
    posing: &'p Posing<'p>,
    problem: Problem,
    places: Vec<StepPlace>,
    products: BTreeMap<(FinishClass, Option<String>), ProductId>,
    /// When the air of a room allows a class; `None` where it never does while anybody works.
    open_air: BTreeMap<(usize, FinishClass), Option<Vec<Span>>>,
    stretches: Vec<Vec<Stretch>>,
    longest_min: Minute,
    /// Whether hands are on a step that is begun and not done.
    is_at_work: bool,
    /// Pairs of steps between which the longest wait was missed.
    missed: Vec<(ActivityId, ActivityId)>,
}

impl Builder<'_> {
    fn piece(&mut self, piece_idx: usize, piece: &WorkPiece) {
        let room_idx = piece.room_idx;
        let opening = piece
            .opening
            .as_ref()
            .map(|step| self.step(StepPlace::Opening { piece_idx }, step, room_idx));
        let mut lasts = Vec::new();
        for (zone_idx, zone) in piece.zones.iter().enumerate() {
            let mut before: Option<(ActivityId, &WorkStep)> = None;
            for (step_idx, step) in zone.steps.iter().enumerate() {
                let activity = self.step(
                    StepPlace::Zone {
                        piece_idx,
                        zone_idx,
                        step_idx,
                    },
                    step,
                    room_idx,
                );
                match before {
                    Some((earlier, earlier_step)) => self.wait_between(earlier, earlier_step, activity, room_idx),
                    None => {
                        if let Some(opening) = opening {
                            self.hold_back(Lag::after(opening, activity, Wait::default()));
                        }
                    }
                }
                before = Some((activity, step));
            }
            if let Some((last, step)) = before {
                lasts.push((last, step, zone.handle_min, zone.cure_model));
            }
        }
        let closing = self.step(StepPlace::Closing { piece_idx }, &piece.closing, room_idx);
        if let Some(opening) = opening {
            self.hold_back(Lag::after(opening, closing, Wait::default()));
        }
        for (last, step, handle_min, model) in lasts {
            // A zone that ends in a coat must be hard enough to handle; any other last wait is the step's own.
            self.after_tacky(step, closing);
            if step.coats_with().is_none() {
                let own = step.wait.filter(|wait| wait.kind != WaitKind::Cure);
                let wait = own.map_or(Wait::default(), |wait| dried(room_idx, wait.model, wait.min_min));
                self.hold_back(Lag::after(last, closing, wait));
            }
            self.hold_back(Lag::after(last, closing, dried(room_idx, Some(model), handle_min)));
        }
        if let Some(due) = piece.due.and_then(|due| self.posing.clock.end_of(due)) {
            self.problem.dues.push(Due {
                activity: closing,
                at: due,
                weight: piece.due_weight,
            });
        }
    }

    fn step(&mut self, place: StepPlace, step: &WorkStep, room_idx: usize) -> ActivityId {
        let said = self.posing.log.of(&step.id);
        let duration = self.duration(step, said);
        let mut activity = Activity::new(step.id.clone(), duration);
        let is_long = step.coats_with().is_none() && step.hands_on_min > SPLIT_ABOVE_MIN;
        if is_long || duration > self.longest_min {
            activity.breaks = Breaks::Split;
        }
        activity.room = self.effect(step, room_idx);
        if let Some(class) = step.coats_with() {
            activity.product = Some(self.product(class, step.colour.clone()));
            if let Some(spans) = self.open_air(room_idx, class) {
                activity.start_windows = spans;
            }
        }
        activity.pin = self.pin(said, duration);
        if let Some(pin) = &activity.pin {
            activity.start_windows.clear();
            if pin.begun {
                // What happened, happened: it takes nobody's hands any more, and dust that flew has settled.
                activity.breaks = Breaks::Within;
                activity.room = activity.room.filter(|(_, effect)| *effect != Effect::Dust);
                activity.hands = usize::from(said.done.is_none() && !self.is_at_work);
                self.is_at_work |= said.done.is_none();
            }
        }
        self.places.push(place);
        self.problem.add(activity)
    }

    /// Minutes of work: as planned and said, and for what is begun and not done at least until now.
    fn duration(&self, step: &WorkStep, said: Said) -> Minute {
        let planned = i64::from(step.hands_on_min.max(1)) + i64::from(said.more_min);
        match (said.begun, said.done) {
            (Some(begun), Some(done)) => (done - begun).max(1),
            (Some(begun), None) => planned.max(self.posing.not_before - begun),
            _ => planned,
        }
    }

    fn pin(&self, said: Said, duration: Minute) -> Option<Pin> {
        let at = |start: Minute, begun: bool| {
            Some(Pin {
                start,
                hands: Vec::new(),
                begun,
            })
        };
        match (said.begun, said.done, said.pinned) {
            (Some(begun), _, _) => at(begun, true),
            (None, Some(done), _) => at(done - duration, true),
            (None, None, Some(pinned)) if pinned >= self.posing.not_before => at(pinned, false),
            _ => None,
        }
    }

    /// Adds a lag, unless what it holds back has begun already.
    fn hold_back(&mut self, lag: Lag) {
        let has_begun = self.problem.activities[lag.to.0]
            .pin
            .as_ref()
            .is_some_and(|pin| pin.begun);
        if !has_begun {
            self.problem.lags.push(lag);
        }
    }

    fn effect(&self, step: &WorkStep, room_idx: usize) -> Option<(RoomId, Effect)> {
        if step.operation.is_dusty() {
            return Some((RoomId(room_idx), Effect::Dust));
        }
        let class = step.coats_with()?;
        Some((
            RoomId(room_idx),
            Effect::Coat {
                wet: dried(room_idx, Some(drying::model_of(class)), step.wet_min),
            },
        ))
    }

    fn product(&mut self, class: FinishClass, colour: Option<String>) -> ProductId {
        let next = ProductId(self.products.len());
        let product = *self.products.entry((class, colour)).or_insert(next);
        if product == next && self.problem.clean_up_min.len() == next.0 {
            // Rinsing a brush under the tap against washing it out in solvent twice: common practice.
            self.problem
                .clean_up_min
                .push(if class.row().carrier == Carrier::Water { 5 } else { 10 });
        }
        product
    }

    /// The wait between two steps of a zone.
    fn wait_between(&mut self, earlier: ActivityId, step: &WorkStep, later: ActivityId, room_idx: usize) {
        self.after_tacky(step, later);
        let mut lag = Lag::after(earlier, later, Wait::default());
        if let Some(WorkWait {
            min_min,
            max_min,
            or_after_min,
            model,
            ..
        }) = step.wait
        {
            lag.min = dried(room_idx, model, min_min);
            let max_min = max_min.map(|max_min| max_min.max(min_min));
            match (max_min, or_after_min) {
                (Some(max_min), Some(after_min)) if after_min > max_min => {
                    lag.closed = Some((dried(room_idx, model, max_min), dried(room_idx, model, after_min)));
                }
                (Some(_), Some(_)) | (None, _) => {}
                (Some(max_min), None) => lag.max = Some(dried(room_idx, model, max_min)),
            }
        }
        if step.operation == Operation::DustOff && self.fits_one_period(earlier, later) {
            // What was wiped clean is coated in the same session; until tomorrow it is dusty again (common practice).
            lag.max = Some(Wait::Minutes(SAME_SESSION_MIN));
        }
        if self.has_passed(&lag) {
            lag.max = None;
            self.missed.push((earlier, later));
        }
        self.hold_back(lag);
    }

    /// Whether the longest wait of a lag can be kept no more, since what it runs from is done: it is over, or it will be before
    /// anybody is at the bench again.
    fn has_passed(&self, lag: &Lag) -> bool {
        let from = &self.problem.activities[lag.from.0];
        let Some(pin) = from.pin.as_ref().filter(|pin| pin.begun) else {
            return false;
        };
        let ended = pin.start + from.duration;
        let until = match lag.max {
            None => return false,
            Some(Wait::Minutes(minutes)) => ended + minutes,
            Some(Wait::Progress { clock, progress }) => self
                .problem
                .clocks
                .get(clock.0)
                .map_or(ended, |clock| clock.done_at(ended, progress)),
        };
        let length = self.problem.activities[lag.to.0].duration.min(self.longest_min);
        let may_start = |stretch: &Stretch| {
            let start = stretch.0.max(self.posing.not_before);
            start <= until && start + length <= stretch.1
        };
        !self.stretches.iter().flatten().any(may_start)
    }

    /// Whether two activities one after the other fit the longest working period, with half an hour to spare.
    fn fits_one_period(&self, earlier: ActivityId, later: ActivityId) -> bool {
        let length = |activity: ActivityId| self.problem.activities[activity.0].duration;
        length(earlier) + length(later) + 30 <= self.longest_min
    }

    /// What was said to be tacky holds the next step back.
    fn after_tacky(&mut self, step: &WorkStep, later: ActivityId) {
        if let Some(until) = self.posing.log.of(&step.id).tacky_until {
            let activity = &mut self.problem.activities[later.0];
            activity.release = activity.release.max(until);
        }
    }

    /// When the air of a room allows a class: nothing where it always does.
    fn open_air(&mut self, room_idx: usize, class: FinishClass) -> Option<Vec<Span>> {
        let posing = self.posing;
        let stretches = &self.stretches;
        let spans = self.open_air.entry((room_idx, class)).or_insert_with(|| {
            let spans = open_spans(posing, room_idx, class);
            let is_of_use = |span: &Span| {
                stretches
                    .iter()
                    .flatten()
                    .any(|(from, to)| span.overlaps(Span::new(*from, *to)))
            };
            if spans.iter().any(is_of_use) { Some(spans) } else { None }
        });
        match spans {
            Some(spans) if spans.len() == 1 && spans[0].from <= 0 && spans[0].to >= posing.horizon => None,
            Some(spans) => Some(spans.clone()),
            None => None,
        }
    }
}

/// Hour by hour: when a class may be put on in a room.
fn open_spans(posing: &Posing<'_>, room_idx: usize, class: FinishClass) -> Vec<Span> {
    let room = posing.air.room(room_idx);
    let (window, model) = (drying::window_of(class), drying::model_of(class));
    if room.is_steady() {
        return if window.is_open(room.air_at(0), model) {
            vec![Span::new(0, posing.horizon)]
        } else {
            Vec::new()
        };
    }
    let mut spans: Vec<Span> = Vec::new();
    let mut at = 0;
    while at < posing.horizon {
        let to = (at + 60).min(posing.horizon);
        if window.is_open(room.air_at(at + 30), model) {
            match spans.last_mut() {
                Some(last) if last.to == at => last.to = to,
                _ => spans.push(Span::new(at, to)),
            }
        }
        at = to;
    }
    spans
}
