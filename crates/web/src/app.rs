//! What the pages share: the shop in memory with its store behind it, the plan of the moment, and the clock.
//!
//! Every request takes its turn at the [`Desk`]. A change is first made to the shop in memory, then written to the store, then the plan
//! is made anew the next time a page wants it. The clock is a function, so that a test or the demo brings its own.

use std::sync::{Arc, Mutex, PoisonError, RwLock};

use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use shop::bench;
use shop::change::{Change, Way};
use shop::model::{MarkKind, Piece, Settings, Shop};
use shop::plan::{Effort, KeptPlan, Moved, NoPlan, Plan, PlanFailure, PreviousStarts};
use store::{Store, StoreError, Told};

use crate::error::PageError;

/// A change of the shop that is made before anything else is done with it.
pub type Opening = Box<dyn FnOnce(&mut Shop) + Send>;

/// How many times as many schedules are tried where the first search finds none.
const HARDER: u64 = 20;
/// But at least so many schedules.
const HARD_ENOUGH: u64 = 3_000;

/// At least so many schedules are tried around a step that is moved by hand.
const ENOUGH_TO_MOVE: u64 = 1_200;

/// Tells the moment.
pub type Clock = Arc<dyn Fn() -> Timestamp + Send + Sync>;

/// All that a page needs; cheap to clone.
#[derive(Clone)]
pub struct App {
    inner: Arc<Inner>,
}

struct Inner {
    desk: Mutex<Desk>,
    /// The settings as last kept, for pages that need nothing else and shall not wait for a plan.
    front: RwLock<Settings>,
    clock: Clock,
    pairing: Mutex<Option<Pairing>>,
}

/// How phones on the same network are let in: by an address that each opens once, and the word of their cookie from then on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pairing {
    /// This machine's address on its network, such as `http://192.168.1.5:4180`.
    pub address: String,
    /// The words of the addresses that are still to be opened, the next one last; each is good once.
    pub invitations: Vec<String>,
    /// The word that a paired phone keeps.
    pub pass: String,
}

impl Pairing {
    /// The address that the next phone opens; `None` once all were used.
    #[must_use]
    pub fn next_address(&self) -> Option<String> {
        let word = self.invitations.last()?;
        Some(format!("{}/pair/{word}", self.address))
    }
}

impl App {
    /// The pages of the shop in `store`.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(store: Store, clock: Clock, effort: Effort) -> Result<Self, StoreError> {
        Self::with_pairing(store, clock, effort, None)
    }

    /// As [`App::new`], open to phones that were paired.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn with_pairing(
        store: Store,
        clock: Clock,
        effort: Effort,
        pairing: Option<Pairing>,
    ) -> Result<Self, StoreError> {
        Self::opened(store, clock, effort, pairing, None)
    }

    /// As [`App::new`]; the shop is changed and kept by `opening` the first time that a page wants more of it than its settings.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn furnished(store: Store, clock: Clock, effort: Effort, opening: Opening) -> Result<Self, StoreError> {
        Self::opened(store, clock, effort, None, Some(opening))
    }

    fn opened(
        store: Store,
        clock: Clock,
        effort: Effort,
        pairing: Option<Pairing>,
        opening: Option<Opening>,
    ) -> Result<Self, StoreError> {
        let shop = store.load()?;
        let kept = store.kept_plan()?;
        let front = RwLock::new(shop.settings.clone());
        let desk = Desk {
            // Nothing was changed since the plan was made: it is made again as of the moment that it was made at.
            as_of: kept.as_ref().filter(|kept| kept.is_of(&shop)).map(|kept| kept.made_at),
            previous: kept.map(|kept| kept.starts).unwrap_or_default(),
            store,
            shop,
            opening,
            effort,
            earlier: PreviousStarts::default(),
            latest: None,
            standing: None,
            moved: None,
            goal: None,
            is_stepping: false,
        };
        Ok(App {
            inner: Arc::new(Inner {
                desk: Mutex::new(desk),
                front,
                clock,
                pairing: Mutex::new(pairing),
            }),
        })
    }

    /// The moment.
    pub(crate) fn now(&self) -> Timestamp {
        (self.inner.clock)()
    }

    /// Whether a request that carries this pass may come in from another device.
    pub(crate) fn is_paired(&self, pass: Option<&str>) -> bool {
        match (self.pairing().as_ref(), pass) {
            (Some(pairing), Some(pass)) => pairing.pass == pass,
            _ => false,
        }
    }

    /// Uses an invitation up, and gives the pass that the phone keeps; the next phone needs the next invitation.
    pub(crate) fn pair(&self, word: &str) -> Option<String> {
        let mut pairing = self.pairing();
        let open = pairing
            .as_mut()
            .filter(|pairing| pairing.invitations.last().is_some_and(|next| next == word))?;
        open.invitations.pop();
        Some(open.pass.clone())
    }

    /// The address that the next phone opens, where phones are let in at all.
    pub(crate) fn invitation(&self) -> Option<String> {
        self.pairing().as_ref().and_then(Pairing::next_address)
    }

    fn pairing(&self) -> std::sync::MutexGuard<'_, Option<Pairing>> {
        self.inner.pairing.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The settings as last kept.
    pub(crate) fn settings(&self) -> Settings {
        self.inner.front.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Takes a turn at the desk, off the threads that answer requests: a plan takes its time.
    pub(crate) async fn at_desk<T, F>(&self, turn: F) -> Result<T, PageError>
    where
        T: Send + 'static,
        F: FnOnce(&mut Desk, Timestamp) -> Result<T, PageError> + Send + 'static,
    {
        let app = self.clone();
        tokio::task::spawn_blocking(move || {
            let now = app.now();
            let mut desk = app.inner.desk.lock().unwrap_or_else(PoisonError::into_inner);
            desk.open()?;
            let before = desk.shop.clone();
            let turned = turn(&mut desk, now);
            desk.remember(&before, now)?;
            let mut front = app.inner.front.write().unwrap_or_else(PoisonError::into_inner);
            if *front != desk.shop.settings {
                front.clone_from(&desk.shop.settings);
            }
            turned
        })
        .await
        .map_err(|fault| PageError::fault(&fault))?
    }

    /// Makes the plan now, so that the first page that wants it need not wait.
    pub async fn warm_up(&self) {
        let warmed = self
            .at_desk(|desk, now| {
                desk.standing(now);
                Ok(())
            })
            .await;
        if warmed.is_err() {
            tracing::warn!("the first plan could not be made ahead of its page");
        }
    }
}

/// The shop, its store, and what was last planned.
pub(crate) struct Desk {
    pub(crate) store: Store,
    pub(crate) shop: Shop,
    opening: Option<Opening>,
    effort: Effort,
    previous: PreviousStarts,
    /// Where the steps stood in the plan before that.
    earlier: PreviousStarts,
    /// The plan that was made last, although the shop may have changed since.
    latest: Option<Arc<Standing>>,
    /// The moment that the next plan is made as of, where it is not the present one.
    as_of: Option<Timestamp>,
    standing: Option<Arc<Standing>>,
    /// What the change before the present plan moved.
    moved: Option<Moved>,
    /// Where the steps are to go back to, where a change was taken back.
    goal: Option<PreviousStarts>,
    /// Whether the turn takes a change back or makes it again, which is no change of its own.
    is_stepping: bool,
}

/// How things stand: the plan of all pieces that can be planned, and what bars the others.
#[derive(Debug, Clone, Default)]
pub(crate) struct Standing {
    pub(crate) plan: Option<Plan>,
    pub(crate) bars: Vec<Bar>,
}

/// What keeps a piece, or the whole calendar, out of the plan.
#[derive(Debug, Clone)]
pub(crate) struct Bar {
    /// The piece's name; `None` where it is nobody's in particular.
    pub(crate) piece: Option<String>,
    /// What stands in the way.
    pub(crate) what: String,
    /// Why, one finding each.
    pub(crate) why: Vec<String>,
    /// What would free it, each enough by itself.
    pub(crate) frees: Vec<String>,
}

impl Standing {
    pub(crate) fn bars_of<'s>(&'s self, piece: &'s str) -> impl Iterator<Item = &'s Bar> {
        self.bars.iter().filter(move |bar| bar.piece.as_deref() == Some(piece))
    }
}

impl Desk {
    /// Makes the change that the shop opens with, if it is still to be made.
    fn open(&mut self) -> Result<(), PageError> {
        if let Some(opening) = self.opening.take() {
            opening(&mut self.shop);
            self.store.save(&self.shop)?;
        }
        Ok(())
    }

    /// The plan of the moment, made if the shop has changed since the last one.
    pub(crate) fn standing(&mut self, now: Timestamp) -> Arc<Standing> {
        if let Some(standing) = &self.standing {
            return Arc::clone(standing);
        }
        let made_at = self.as_of.take().unwrap_or(now);
        let towards = self.goal.take();
        let standing = self.make(made_at, towards.as_ref().unwrap_or(&self.previous));
        self.adopt(standing, made_at)
    }

    /// Takes these as how things stand from now on, and keeps where the steps are over a restart.
    pub(crate) fn adopt(&mut self, standing: Standing, made_at: Timestamp) -> Arc<Standing> {
        let standing = Arc::new(standing);
        if let Some(plan) = &standing.plan {
            self.moved = (!self.previous.steps.is_empty()).then(|| Moved::between(&self.previous, plan));
            let kept = KeptPlan::of(plan, &self.shop, made_at);
            if let Err(error) = self.store.keep_plan(&kept) {
                tracing::warn!(%error, "the plan was not kept, and may be laid out anew after a restart");
            }
            self.earlier = std::mem::replace(&mut self.previous, kept.starts);
            self.latest = Some(Arc::clone(&standing));
        }
        self.standing = Some(Arc::clone(&standing));
        standing
    }

    /// Plans anew from this moment on the next time anybody asks.
    pub(crate) fn plan_again(&mut self) {
        self.standing = None;
        self.as_of = None;
    }

    /// Plans anew the next time anybody asks, as if nothing had been laid out before.
    pub(crate) fn plan_anew(&mut self) {
        self.plan_again();
        self.goal = Some(PreviousStarts::default());
    }

    /// What the last change moved, once the plan was made after it.
    pub(crate) fn moved(&self) -> Option<&Moved> {
        self.moved.as_ref()
    }

    /// Keeps what a turn at the desk changed, so that it can be taken back.
    fn remember(&mut self, before: &Shop, now: Timestamp) -> Result<(), PageError> {
        if *before == self.shop || self.is_stepping {
            self.is_stepping = false;
            return Ok(());
        }
        // Where a plan was made after the change already, the one before it says where the steps stood.
        let starts = if self.standing.is_none() {
            &self.previous
        } else {
            &self.earlier
        };
        let name_of = |id: &str| self.latest.as_ref().and_then(|standing| name_of(standing, id));
        if let Some(change) = Change::between(before, &self.shop, now, starts.clone(), &name_of) {
            self.store.remember(&change)?;
        }
        Ok(())
    }

    /// What can be taken back, the last change first.
    pub(crate) fn changes(&self) -> Result<Vec<Told>, PageError> {
        Ok(self.store.changes()?)
    }

    /// What was taken back and can be made again, the next one first.
    pub(crate) fn taken_back(&self) -> Result<Vec<Told>, PageError> {
        Ok(self.store.taken_back()?)
    }

    /// Takes the last change back, or makes the one taken back last again; nothing if it is another one by now, as after a second tap.
    pub(crate) fn step(&mut self, id: i64, way: Way) -> Result<(), PageError> {
        let told = match way {
            Way::Back => self.changes()?,
            Way::Again => self.taken_back()?,
        };
        if told.first().is_none_or(|told| told.id != id) {
            return Ok(());
        }
        let change = self.store.change(id)?.ok_or(PageError::NotFound("change"))?;
        for piece in change.takes_away(way) {
            if !self.store.photographs(piece)?.is_empty() {
                return Err(PageError::Refused(format!(
                    "{}: the piece has photographs by now, and they would go with it for good; take it out of the shop on its own page",
                    change.words
                )));
            }
        }
        let mut shop = self.shop.clone();
        change
            .go(&mut shop, way)
            .map_err(|outdated| PageError::Refused(outdated.to_string()))?;
        self.store.went(id, way, &shop)?;
        self.shop = shop;
        self.is_stepping = true;
        if way == Way::Back {
            self.goal = Some(change.starts).filter(|starts| !starts.steps.is_empty());
        }
        self.plan_again();
        Ok(())
    }

    /// Plans every piece; one that cannot be planned is left out and told of, so that it does not bar the others.
    pub(crate) fn make(&self, now: Timestamp, before: &PreviousStarts) -> Standing {
        let mut shop = self.shop.clone();
        let mut bars = Vec::new();
        loop {
            match self.plan(&shop, now, before) {
                Ok(plan) => {
                    return Standing { plan: Some(plan), bars };
                }
                Err(failure) => {
                    let more = bars_of(&failure);
                    let before = shop.pieces.len();
                    shop.pieces
                        .retain(|piece| !more.iter().any(|bar| bar.piece.as_ref() == Some(&piece.name)));
                    bars.extend(more);
                    if shop.pieces.len() == before {
                        return Standing { plan: None, bars };
                    }
                }
            }
        }
    }

    /// Plans, and tries far harder before it says that the calendar has no room.
    fn plan(&self, shop: &Shop, now: Timestamp, before: &PreviousStarts) -> Result<Plan, PlanFailure> {
        let planned = self.plan_with(shop, now, self.effort, before);
        match &planned {
            Err(PlanFailure::NoSchedule(reasons))
                if reasons.iter().any(|reason| matches!(reason, NoPlan::Calendar { .. })) =>
            {
                let harder = Effort {
                    schedules: self.effort.schedules.saturating_mul(HARDER).max(HARD_ENOUGH),
                    ..self.effort
                };
                self.plan_with(shop, now, harder, before)
            }
            _ => planned,
        }
    }

    fn plan_with(
        &self,
        shop: &Shop,
        now: Timestamp,
        effort: Effort,
        before: &PreviousStarts,
    ) -> Result<Plan, PlanFailure> {
        let begins_later = self.first_moment().is_some_and(|first| first >= now);
        if before.steps.is_empty() && (begins_later || shop.settings.starts.is_none()) {
            shop::plan::plan(shop, now, effort)
        } else {
            let effort = if before.steps.is_empty() {
                effort
            } else {
                effort.for_replan()
            };
            shop::plan::replan(shop, now, effort, before)
        }
    }

    /// The moment that the settings let the plan begin at.
    fn first_moment(&self) -> Option<Timestamp> {
        let starts = self.shop.settings.starts?;
        self.time_zone().to_ambiguous_timestamp(starts).compatible().ok()
    }

    /// Moves a step to a moment where everything else can be laid out around it; else nothing is changed, and what stands against it is
    /// given in words.
    pub(crate) fn move_step(&mut self, step: &str, to: Timestamp, now: Timestamp) -> Result<Option<String>, PageError> {
        let standing = self.standing(now);
        let plan = standing.plan.as_ref().ok_or(PageError::NotFound("plan"))?;
        let mut planned = self.shop.clone();
        planned
            .pieces
            .retain(|piece| plan.pieces.iter().any(|planned| planned.id == piece.id));
        if let Err(not_moved) = shop::plan::may_begin_at(&planned, now, self.effort, step, to) {
            return Ok(Some(not_moved.to_string()));
        }
        bench::mark(&mut self.shop, plan, step, MarkKind::Pinned { to }, now)?;
        planned.log.clone_from(&self.shop.log);
        let effort = Effort {
            schedules: self.effort.schedules.max(ENOUGH_TO_MOVE),
            ..self.effort
        };
        // A plan around the step was found with nothing held; where none is found near the present one, everything may move.
        let near = self.plan_with(&planned, now, effort, &self.previous);
        let found = near.or_else(|_| self.plan_with(&planned, now, effort, &PreviousStarts::default()));
        let moved = match (found, self.shop.log.last()) {
            (Ok(plan), Some(mark)) => {
                self.store.add_mark(mark)?;
                Standing {
                    plan: Some(plan),
                    bars: standing.bars.clone(),
                }
            }
            (failed, _) => {
                self.shop.log.pop();
                let why = failed.err().map_or_else(Vec::new, |failure| bars_of(&failure));
                let why: Vec<String> = why.into_iter().flat_map(|bar| bar.why).collect();
                return Ok(Some(format!(
                    "no plan was found with the step there: {}; another time may do",
                    why.join("; ")
                )));
            }
        };
        self.adopt(moved, now);
        Ok(None)
    }

    /// The shop's clock.
    pub(crate) fn time_zone(&self) -> TimeZone {
        TimeZone::get(&self.shop.settings.zone_id).unwrap_or(TimeZone::UTC)
    }

    /// The moment on the shop's clock.
    pub(crate) fn zoned(&self, now: Timestamp) -> ZonedDateTime {
        now.to_zoned_datetime(self.time_zone())
    }

    /// The piece of this id.
    pub(crate) fn piece(&self, id: &str) -> Result<&Piece, PageError> {
        self.shop.piece(id).ok_or(PageError::NotFound("piece"))
    }

    /// Writes a piece that was changed in memory.
    pub(crate) fn keep_piece(&mut self, id: &str) -> Result<(), PageError> {
        let piece = self.shop.piece(id).ok_or(PageError::NotFound("piece"))?;
        self.store.save_piece(piece)?;
        self.plan_again();
        Ok(())
    }

    /// Writes the settings that were changed in memory.
    pub(crate) fn keep_settings(&mut self) -> Result<(), PageError> {
        self.store.save_settings(&self.shop.settings)?;
        self.plan_again();
        Ok(())
    }

    /// Writes the supplies that were changed in memory.
    pub(crate) fn keep_supplies(&mut self) -> Result<(), PageError> {
        self.store.save_supplies(&self.shop.supplies)?;
        self.plan_again();
        Ok(())
    }

    /// Writes the shelf that was changed in memory.
    pub(crate) fn keep_shelf(&mut self) -> Result<(), PageError> {
        self.store.save_shelf(&self.shop.shelf)?;
        self.plan_again();
        Ok(())
    }
}

/// A step in words, by its id.
pub(crate) fn name_of(standing: &Standing, id: &str) -> Option<String> {
    let plan = standing.plan.as_ref()?;
    let (piece, zone, step) = plan.steps().find(|(_, _, step)| step.id == id)?;
    Some(match zone {
        Some(zone) => format!("{}, {}: {}", piece.name, zone.name, step.words),
        None => format!("{}: {}", piece.name, step.words),
    })
}

fn bars_of(failure: &PlanFailure) -> Vec<Bar> {
    match failure {
        PlanFailure::Refused(refusals) => refusals
            .iter()
            .map(|refusal| Bar {
                piece: Some(refusal.piece.clone()),
                what: match &refusal.zone {
                    Some(zone) => format!("{zone}: {} is {}", refusal.field, refusal.found),
                    None => format!("{} is {}", refusal.field, refusal.found),
                },
                why: vec![refusal.limit.clone()],
                frees: vec![refusal.right.clone()],
            })
            .collect(),
        PlanFailure::NoSchedule(reasons) => reasons.iter().map(bar_of).collect(),
    }
}

fn bar_of(reason: &NoPlan) -> Bar {
    match reason {
        NoPlan::Zone { piece, no_schedule } => Bar {
            piece: Some(piece.clone()),
            what: format!(
                "{}: {} stands against {}",
                no_schedule.zone, no_schedule.wish, no_schedule.against
            ),
            why: no_schedule
                .findings
                .iter()
                .map(|finding| format!("{} {}", finding.message, finding.why))
                .collect(),
            frees: no_schedule
                .releases
                .iter()
                .map(|release| release.change.clone())
                .collect(),
        },
        NoPlan::Calendar { demands, releases } => Bar {
            piece: None,
            what: "the steps have no dates that keep everything that is asked".to_owned(),
            why: demands.clone(),
            frees: releases.clone(),
        },
    }
}
