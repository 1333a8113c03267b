//! The use case: pieces in, a dated plan out.
//!
//! The data's way is one line: form and dimensions → take-off → found build-up and wish → finishing schedules, one chosen
//! a zone → quantities, minutes, cautions → activities → calendar → day sheets, shopping, price. Nothing flows back but
//! the log. The moment `now` and the effort with its seed are arguments, so that the same shop gives the same plan.

mod air;
mod bench_log;
mod buy;
mod calendar;
mod cautions;
mod check;
mod choose;
mod conflict;
mod consequence;
mod contract;
mod dated;
mod dimensions;
pub(crate) mod drying;
mod failure;
mod form;
mod hide;
mod kept;
mod measure;
mod mix;
mod moved;
mod moving;
mod output;
mod own;
mod pace;
mod price;
mod problem;
mod risk;
mod solve;
mod steps;
mod supplies;
mod told;
mod whole;
mod work;

use jiff::Timestamp;
use jiff::tz::TimeZone;

use self::air::ShopAir;
use self::bench_log::BenchLog;
use self::calendar::PlanClock;
use self::dated::Dating;
use self::pace::Paces;
use self::solve::Solved;
use self::work::WorkPiece;
use crate::model::{Piece, Shop};

pub use self::buy::typical_offers;
pub use self::check::{Checked, check_steps};
pub use self::consequence::consequences;
pub use self::dimensions::{FurtherDimension, NextMeasure, further_of, next_measure};
pub use self::failure::{InFile, NoPlan, PlanFailure, PlanRefusal};
pub use self::form::{FormRefused, form_of, further_dimensions};
pub use self::kept::KeptPlan;
pub use self::measure::surfaces_of;
pub use self::moved::{Moved, ReadyMoved};
pub use self::moving::{NotMoved, may_begin_at};
pub use self::output::{
    AirPoint, Amount, Because, BuildUp, Can, Caution, Day, DayBlock, GuessRisk, IfItIs, Late, Layer, Level, Mixes,
    Pace, Pack, PieceMoney, Plan, PlannedPiece, PlannedShop, PlannedStep, PlannedZone, Progress, RoomAir, SafeSchedule,
    ScheduleChoice, ScheduleSummary, Sum, SupplyToHave, Test, ToHave, Trip, UsedUp, Wait, WentOn, WouldHappen, rfc3339,
};
pub use self::own::{Judged, Lapsed, OwnSchedule, judge, written};
pub use self::pace::{Learned, LearnedAmount, LearnedOperation, learned};
pub use self::solve::{Effort, PreviousStarts};
pub use self::told::bought_for_words;

/// Plans every piece of the shop that still wants work.
///
/// The plan's first moment is the shop's own, or `now`.
///
/// # Errors
/// What of the pieces cannot be used, or which wish no schedule meets and what would free it.
pub fn plan(shop: &Shop, now: Timestamp, effort: Effort) -> Result<Plan, PlanFailure> {
    Planning::new(shop, now, effort).run(None)
}

/// Plans again after a slip: what is begun or done stays as the log says, nothing else begins before `now`, and steps that the
/// slip does not touch stay where `previous` had them unless moving them is worth it.
///
/// # Errors
/// As [`plan`].
pub fn replan(shop: &Shop, now: Timestamp, effort: Effort, previous: &PreviousStarts) -> Result<Plan, PlanFailure> {
    Planning::new(shop, now, effort).run(Some((now, previous)))
}

/// The piece as it is planned: with the zones that its form proposes where the user named none.
pub fn with_zones(piece: &Piece) -> Piece {
    whole::with_default_zones(piece, &mut Vec::new())
}

struct Planning<'p> {
    shop: &'p Shop,
    clock: PlanClock,
    air: ShopAir,
    log: BenchLog,
    paces: Paces,
    effort: Effort,
    assumed: Vec<String>,
}

impl<'p> Planning<'p> {
    fn new(shop: &'p Shop, now: Timestamp, effort: Effort) -> Self {
        let mut assumed = Vec::new();
        let zone = TimeZone::get(&shop.settings.zone_id).unwrap_or(TimeZone::UTC);
        let first = shop
            .settings
            .starts
            .and_then(|starts| zone.to_ambiguous_timestamp(starts).compatible().ok())
            .unwrap_or(now);
        if shop.settings.zone_id == "UTC" {
            assumed.push("the shop's clock is UTC, as no time zone was given".to_owned());
        }
        let clock = PlanClock::starting_at(&first.to_zoned_datetime(zone));
        let air = ShopAir::of(&shop.settings, &clock);
        let log = BenchLog::read(&shop.log, &clock);
        Planning {
            shop,
            clock,
            air,
            log,
            paces: Paces::of(shop),
            effort,
            assumed,
        }
    }

    fn run(mut self, previous: Option<(Timestamp, &PreviousStarts)>) -> Result<Plan, PlanFailure> {
        let work = self.work()?;
        let pieces: Vec<&WorkPiece> = work.iter().map(|(piece, _)| piece).collect();
        let work_pieces: Vec<WorkPiece> = pieces.into_iter().cloned().collect();
        let solved = solve::solve(
            &solve::Solving {
                shop: self.shop,
                work: &work_pieces,
                clock: &self.clock,
                air: &self.air,
                log: &self.log,
                effort: self.effort,
            },
            previous,
        )?;
        self.assumed.extend(solved.assumed.iter().cloned());
        self.assemble(
            &work_pieces,
            work.into_iter().map(|(_, facts)| facts).collect(),
            &solved,
        )
    }

    /// The work on every piece that still wants any.
    fn work(&mut self) -> Result<Vec<(WorkPiece, whole::PieceFacts)>, PlanFailure> {
        let mut refusals = Vec::new();
        let mut no_plans = Vec::new();
        let mut work = Vec::new();
        let wanted: Vec<&Piece> = self
            .shop
            .pieces
            .iter()
            .filter(|piece| piece.stage.wants_work())
            .collect();
        for piece in wanted {
            let piece = whole::with_default_zones(piece, &mut self.assumed);
            match whole::plan_piece(self.shop, &piece, &self.air) {
                Ok((mut piece, facts)) => {
                    self.paces.apply(&mut piece);
                    self.assumed.extend(facts.assumed.iter().cloned());
                    work.push((piece, facts));
                }
                Err(PlanFailure::Refused(more)) => refusals.extend(more),
                Err(PlanFailure::NoSchedule(more)) => no_plans.extend(more),
            }
        }
        if !refusals.is_empty() {
            Err(PlanFailure::Refused(refusals))
        } else if !no_plans.is_empty() {
            Err(PlanFailure::NoSchedule(no_plans))
        } else {
            Ok(work)
        }
    }

    fn assemble(
        mut self,
        work: &[WorkPiece],
        facts: Vec<whole::PieceFacts>,
        solved: &Solved,
    ) -> Result<Plan, PlanFailure> {
        let mut work = work.to_vec();
        let starts_min = dated::starts(&work, &solved.places, &solved.placements);
        let cautions = cautions::of(self.shop, &mut work, &facts, &starts_min);
        let dating = Dating {
            shop: self.shop,
            work: &work,
            clock: &self.clock,
            clocks: &solved.clocks,
            log: &self.log,
            places: &solved.places,
            placements: &solved.placements,
        };
        let bought = buy::shopping(self.shop, &work, &starts_min, &self.clock)
            .map_err(|refused| no_price(&work[0], &refused))?;
        self.assumed.extend(bought.assumed);
        let supplies = supplies::to_have(self.shop, &work).map_err(|refused| no_price(&work[0], &refused))?;
        self.assumed.extend(supplies.assumed);
        let mut pieces = Vec::new();
        let mut last_min = 0;
        for (piece_idx, (piece, facts)) in work.iter().zip(&facts).enumerate() {
            let dated = dating.piece(piece_idx);
            last_min = last_min.max(dated.ready_min);
            let money = price::of(self.shop, piece, facts, self.paces.log_sd(piece))
                .map_err(|refused| no_price(piece, &refused))?;
            let zones = piece.zones.iter().zip(dated.zones).zip(&facts.consents);
            let zones = zones.map(|((zone, steps), consents)| PlannedZone {
                own: zone.own,
                risks: zone.risks.clone(),
                safe: zone.safe.clone(),
                overruled: consents.iter().map(|consent| went_on(consent, zone)).collect(),
                name: zone.name.clone(),
                area_m2: thousandths(zone.area_m2),
                substrate: zone.substrate.clone(),
                schedules: zone.schedules.clone(),
                build_up: zone.build_up.clone(),
                steps,
            });
            pieces.push(PlannedPiece {
                id: piece.id.clone(),
                name: piece.name.clone(),
                count: piece.count,
                area_m2: thousandths(piece.area_m2),
                area_se_m2: thousandths(piece.area_se_m2),
                zones: zones.collect(),
                ready: self.clock.moment(dated.ready_min),
                cured: self.clock.moment(dated.cured_min),
                due: piece
                    .due
                    .and_then(|due| self.clock.end_of(due))
                    .map(|end| self.clock.moment(end)),
                money,
                closing: dated.whole,
            });
        }
        let days = dating.days();
        let schedule = solved.summary(&work, &self.clock);
        self.assumed.push(price::assumed(&self.shop.settings));
        let shop = self.planned_shop(last_min);
        Ok(Plan {
            pieces,
            schedule,
            days,
            shopping: bought.list,
            supplies: supplies.list,
            trips: bought.trips,
            cautions,
            assumed: dedup(self.assumed),
            shop,
        })
    }

    fn planned_shop(&self, last_min: i64) -> PlannedShop {
        let settings = &self.shop.settings;
        PlannedShop {
            name: settings.name.clone(),
            units: match settings.units {
                quantity::UnitSystem::Imperial => "imperial",
                quantity::UnitSystem::Metric => "metric",
            },
            unit_system: settings.units,
            currency: settings.currency.code().to_owned(),
            zone_id: settings.zone_id.clone(),
            hands: settings.hands.iter().map(|hand| hand.name.clone()).collect(),
            air: self.air.shown(settings, &self.clock, last_min),
        }
    }
}

fn went_on(consent: &steps::Consent, zone: &work::WorkZone) -> WentOn {
    let said = &consent.consent;
    WentOn {
        rule: said.rule.clone(),
        step: zone.steps.get(consent.step_idx).map(|step| step.id.clone()),
        text: cautions::went_on(consent),
        source: consent.finding.source.clone(),
        reason: said.reason.clone(),
        by: said.by.clone(),
        on: said.on,
    }
}

fn no_price(piece: &WorkPiece, refused: &money::Refused) -> PlanFailure {
    PlanFailure::Refused(vec![PlanRefusal {
        piece: piece.name.clone(),
        zone: None,
        field: format!("piece \"{}\", its price", piece.name),
        found: "an amount that cannot be reckoned with".to_owned(),
        limit: refused.to_string(),
        right: "smaller amounts for paid, wage and overhead".to_owned(),
        in_file: None,
    }])
}

/// Keeps the first of each, in order.
fn dedup(texts: Vec<String>) -> Vec<String> {
    let mut seen = std::collections::BTreeSet::new();
    texts.into_iter().filter(|text| seen.insert(text.clone())).collect()
}

fn thousandths(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0
}
