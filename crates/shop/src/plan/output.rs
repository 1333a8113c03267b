//! The plan as it goes out: the contract's JSON, with the moments and sums that a screen or a paper shows.
//!
//! Everything here is worked out; nothing that reads a plan does arithmetic on it. Sums are whole minor units inside and
//! plain decimal numbers outside; moments are RFC 3339 with the shop's offset at that moment.

use jiff::ZonedDateTime;
use jiff::civil::Date;
use quantity::{Currency, Money, UnitSystem};
use serde::{Serialize, Serializer};

use crate::model::NINETY;

/// A sum of money that knows its currency; goes out as a decimal number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sum {
    /// The sum in minor units.
    pub money: Money,
    /// What it is counted in.
    pub currency: Currency,
}

impl Sum {
    /// This much of this currency.
    pub fn new(money: Money, currency: Currency) -> Self {
        Sum { money, currency }
    }

    /// In whole units of the currency, for JSON.
    #[expect(
        clippy::cast_precision_loss,
        reason = "a sum of money stays far below 2^53 minor units"
    )]
    fn major(self) -> f64 {
        self.money.minor() as f64 / self.currency.minor_per_one() as f64
    }

    /// As a person reads it.
    pub fn show(self) -> String {
        self.money.show(self.currency)
    }
}

impl Serialize for Sum {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.major())
    }
}

fn moment<S: Serializer>(moment: &ZonedDateTime, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&rfc3339(moment))
}

fn moment_or_null<S: Serializer>(moment: &Option<ZonedDateTime>, serializer: S) -> Result<S::Ok, S::Error> {
    match moment {
        Some(moment) => serializer.serialize_some(&rfc3339(moment)),
        None => serializer.serialize_none(),
    }
}

/// A moment as RFC 3339 with its offset, to the second.
pub fn rfc3339(moment: &ZonedDateTime) -> String {
    moment.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string()
}

/// A whole plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plan {
    /// Every piece that was planned, in the order given.
    pub pieces: Vec<PlannedPiece>,
    /// The schedule as a whole.
    pub schedule: ScheduleSummary,
    /// The day sheets, first day first; days without work are left out.
    pub days: Vec<Day>,
    /// What to have, and what of it to buy.
    pub shopping: Vec<ToHave>,
    /// Discs, tape, rags and the like: what to have, and what of it to buy.
    pub supplies: Vec<SupplyToHave>,
    /// The sellers to go to for it, where prices are known of any.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trips: Vec<Trip>,
    /// Every caution once.
    pub cautions: Vec<Caution>,
    /// What was taken for granted, in plain words.
    pub assumed: Vec<String>,
    /// The shop's name, units, currency and time zone, and the air that was planned with.
    pub shop: PlannedShop,
}

/// The shop that a plan was made in.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlannedShop {
    /// Its name.
    pub name: String,
    /// `imperial` or `metric`.
    pub units: &'static str,
    /// The same, to show quantities with.
    #[serde(skip)]
    pub unit_system: UnitSystem,
    /// ISO 4217.
    pub currency: String,
    /// IANA time zone.
    pub zone_id: String,
    /// Names of the hands, in the order that blocks count them.
    pub hands: Vec<String>,
    /// Each room's air over the plan's days.
    pub air: Vec<RoomAir>,
}

/// The air of one room over the days of the plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RoomAir {
    /// The room.
    pub room: String,
    /// Its air every few hours.
    pub readings: Vec<AirPoint>,
}

/// The air of a room at one moment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AirPoint {
    /// When.
    #[serde(serialize_with = "moment")]
    pub at: ZonedDateTime,
    /// °C.
    pub temperature_c: f64,
    /// 0 to 1.
    pub humidity: f64,
    /// How far the air stands above its dew point, K.
    pub dew_point_margin_k: f64,
}

/// One piece of a plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlannedPiece {
    /// Its id in the shop.
    pub id: String,
    /// Its name.
    pub name: String,
    /// How many alike.
    pub count: u32,
    /// Area of all its zones together, m².
    pub area_m2: f64,
    /// Standard error of that area, m².
    pub area_se_m2: f64,
    /// Its zones.
    pub zones: Vec<PlannedZone>,
    /// When it is put together and can be handled.
    #[serde(serialize_with = "moment")]
    pub ready: ZonedDateTime,
    /// When its finish has its full hardness.
    #[serde(serialize_with = "moment")]
    pub cured: ZonedDateTime,
    /// The end of the day it is wanted by.
    #[serde(serialize_with = "moment_or_null")]
    pub due: Option<ZonedDateTime>,
    /// What it costs and what to ask for it.
    pub money: PieceMoney,
    /// Steps of the piece as a whole, such as refitting, that belong to no one zone.
    pub closing: Vec<PlannedStep>,
}

/// What a piece costs and what to ask for it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceMoney {
    /// ISO 4217.
    pub currency: String,
    /// Materials used.
    pub materials: Sum,
    /// Bench hours at the shop's wage.
    pub labour: Sum,
    /// Rent, power and tools over these hours.
    pub overhead: Sum,
    /// What the piece cost us.
    pub purchase: Sum,
    /// All of these.
    pub total: Sum,
    /// What to ask.
    pub price: Sum,
    /// The price that covers cost and margin one time in ten.
    pub price_p10: Sum,
    /// The price that covers cost and margin nine times in ten.
    pub price_p90: Sum,
    /// The chance that the price does not cover the cost, 0 to 1.
    pub loss_chance: f64,
    /// The most to pay for a piece that is ours to sell, at this price; absent for a commission.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_to_pay: Option<Sum>,
}

/// One zone of a planned piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlannedZone {
    /// Its name.
    pub name: String,
    /// Area over all pieces alike, m².
    pub area_m2: f64,
    /// What it is made of, in words.
    pub substrate: String,
    /// Every good schedule, the chosen one marked.
    pub schedules: Vec<ScheduleChoice>,
    /// The layers before and after, substrate outwards.
    pub build_up: BuildUp,
    /// The steps of the chosen schedule in order.
    pub steps: Vec<PlannedStep>,
    /// Whether the steps are the user's own; absent where they were derived.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub own: bool,
    /// The warnings that the user goes on in spite of.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub overruled: Vec<WentOn>,
    /// What a wrong guess at each found layer that was told by tests would do, the outermost first; absent where nothing was guessed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub risks: Vec<GuessRisk>,
    /// The schedule of the zone that holds whatever the guessed layers are; absent where nothing was guessed or none holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub safe: Option<SafeSchedule>,
}

/// A schedule that holds whatever the guessed layers of its zone are.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SafeSchedule {
    /// Its key among the zone's schedules.
    pub key: String,
    /// What it is called.
    pub words: String,
}

/// What a wrong guess at a found layer would do to the planned schedule.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GuessRisk {
    /// The layer, from 0 at the substrate.
    pub layer: usize,
    /// The class that it is planned as.
    pub planned_as: String,
    /// The same in words.
    pub planned_as_words: String,
    /// How probable that class is, 0 to 1.
    pub chance: f64,
    /// How probable it is that the layer is a class over which something goes wrong, 0 to 1.
    pub fails: f64,
    /// What doing it over costs on the mean: chance times cost, summed over the classes over which something goes wrong.
    pub expected: Sum,
    /// Whether nothing goes wrong over any class that it may well be.
    pub holds_whatever_it_is: bool,
    /// Every other class that it may well be, likeliest first.
    pub others: Vec<IfItIs>,
}

/// What happens if a layer is of this class after all.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct IfItIs {
    /// The class.
    pub class: String,
    /// Its name in words.
    pub words: String,
    /// How probable it is, 0 to 1.
    pub chance: f64,
    /// What goes wrong over it; nothing where the schedule holds.
    pub happens: Vec<WouldHappen>,
    /// What it costs to take it all off again and do it right.
    pub redo: Option<Sum>,
    /// Minutes of work that takes.
    pub redo_hands_on_min: Option<u32>,
    /// The test that would tell the two apart; `None` where they answer alike.
    pub test: Option<Test>,
}

/// A finding over a class that was not planned for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WouldHappen {
    /// The rule.
    pub rule: String,
    /// `stop` or `warn`.
    pub severity: &'static str,
    /// What goes wrong.
    pub message: String,
    /// The steps it goes wrong at, in words and numbered from 1; `None` for the end.
    pub at: Option<String>,
    /// Why.
    pub why: String,
    /// What to do about it.
    #[serde(rename = "do")]
    pub do_: String,
    /// The source of the rule.
    pub source: String,
}

/// A look, a touch or a spot test.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Test {
    /// Its id.
    pub id: &'static str,
    /// What it is called.
    pub words: &'static str,
    /// How it is done, with its caution.
    pub how: &'static str,
}

/// A warning that the user goes on in spite of.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WentOn {
    /// The rule that warns.
    pub rule: String,
    /// The id of the step it warns of; the last one's where it is the end that it warns of.
    pub step: Option<String>,
    /// All of it in one sentence or two.
    pub text: String,
    /// The source of the rule.
    pub source: String,
    /// Why the user goes on.
    pub reason: String,
    /// Who said so.
    pub by: String,
    /// When.
    pub on: Date,
}

/// The layers of a zone before and after.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BuildUp {
    /// What is there now, substrate outwards.
    pub found: Vec<Layer>,
    /// How many of the found layers stay.
    pub kept: usize,
    /// What goes on, from today's surface outwards.
    pub planned: Vec<Layer>,
}

/// One layer of a build-up.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Layer {
    /// Its class, or `None` where nobody knows.
    pub class: Option<String>,
    /// Its name in words.
    pub words: String,
    /// How many coats.
    pub coats: u8,
    /// Dry film of all its coats, µm.
    pub dry_film_um: f64,
    /// Its colour, `#rrggbb`, if it has one.
    pub colour: Option<String>,
}

/// One good schedule of a zone, and what it trades.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ScheduleChoice {
    /// Names this schedule among those of the zone, now and in the next plan.
    pub key: String,
    /// What it is best at.
    pub best_at: Vec<String>,
    /// Materials and bench hours together.
    pub cost: Sum,
    /// Minutes of work.
    pub hands_on_min: u32,
    /// Hours from beginning to dry, working round the clock.
    pub elapsed_h: f64,
    /// How much its finish bears, 1 to 5.
    pub wear: f64,
    /// What the worker breathes and touches, 0 for nothing.
    pub exposure: f64,
    /// Whether it is the one that was planned.
    pub chosen: bool,
    /// Its operations in order, in words.
    pub outline: Vec<String>,
}

/// One step of a plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlannedStep {
    /// Names the step in this plan and in the next.
    pub id: String,
    /// The operation.
    pub operation: String,
    /// The material class, if any.
    pub material: Option<String>,
    /// The product of the shelf that it is done with, if any.
    pub product: Option<String>,
    /// The grit, if any.
    pub grit: Option<String>,
    /// Which coat, if it is one.
    pub coat: Option<u8>,
    /// Minutes of work.
    pub hands_on_min: u32,
    /// Where they come from when the shop's log has taught them; `None` for the table's.
    pub pace: Option<Pace>,
    /// How much of the material is likely, mL.
    pub quantity_ml: Option<f64>,
    /// The same with its least and its most, and what it was reckoned from.
    pub quantity: Option<Amount>,
    /// How much it really took, where somebody said so, mL.
    pub took_ml: Option<f64>,
    /// How it is mixed, where it does not keep once mixed or opened on the board.
    pub mixes: Option<Mixes>,
    /// What else the step uses up.
    pub supplies: Vec<UsedUp>,
    /// The wait after it.
    pub wait: Option<Wait>,
    /// When hands begin.
    #[serde(serialize_with = "moment")]
    pub starts: ZonedDateTime,
    /// When hands end.
    #[serde(serialize_with = "moment")]
    pub ends: ZonedDateTime,
    /// When its wait is over in this room's air.
    #[serde(serialize_with = "moment_or_null")]
    pub wait_ends: Option<ZonedDateTime>,
    /// Until when dust would stick to what it put on; `None` for what leaves nothing wet.
    #[serde(serialize_with = "moment_or_null")]
    pub wet_ends: Option<ZonedDateTime>,
    /// Whose hands, counted from 0.
    pub hand: usize,
    /// Why it is there.
    pub because: Vec<Because>,
    /// Cautions that hold at this step.
    pub cautions: Vec<String>,
    /// The step in one line for a person.
    pub words: String,
    /// Whether the log says that it is begun or done.
    pub progress: Progress,
}

/// The shop's own minutes of a step, learned from its log.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Pace {
    /// What the table says, minutes.
    pub table_min: u32,
    /// What the plan reckons with, as a factor on these.
    pub factor: f64,
    /// One in twenty is quicker, minutes.
    pub low_min: u32,
    /// One in twenty is slower, minutes.
    pub high_min: u32,
    /// How many times this operation is in the log.
    pub logged: usize,
    /// How many steps of all kinds the log holds.
    pub logged_in_all: usize,
}

/// How much of its material a step takes, as it comes from the can.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Amount {
    /// If all goes well, mL.
    pub low_ml: f64,
    /// To reckon with, mL.
    pub likely_ml: f64,
    /// To have at hand, mL.
    pub high_ml: f64,
    /// Thinner to go into it, likely, mL; 0 for none.
    pub thinner_ml: f64,
    /// What it was reckoned from.
    pub basis: String,
}

/// How the material of a step is mixed, so that no more stands mixed than can be put on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Mixes {
    /// How many mixes, all alike.
    pub count: u32,
    /// In each, ready to use, mL.
    pub each_ml: f64,
    /// Of the base in each, mL; all of it where the label gives no ratio.
    pub base_ml: f64,
    /// Of hardener in each, mL; `None` where the label gives no ratio.
    pub hardener_ml: Option<f64>,
    /// Of thinner in each, mL.
    pub thinner_ml: f64,
    /// How long a mix stays usable, minutes.
    pub pot_life_min: i64,
}

/// Something that a step uses up beside its own material.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct UsedUp {
    /// Its id: `disc-p120`, `rag`, `mineral-spirits`.
    pub id: String,
    /// Its name in words.
    pub words: String,
    /// `piece`, `m` or `ml`.
    pub unit: &'static str,
    /// If all goes well, shares of one counted.
    pub low: f64,
    /// To reckon with.
    pub likely: f64,
    /// To have at hand.
    pub high: f64,
}

/// How far a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Progress {
    /// Not begun.
    #[default]
    Planned,
    /// Hands are on it.
    Begun,
    /// Hands are off it.
    Done,
}

/// A wait after a step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Wait {
    /// `dwell`, `set`, `dry`, `recoat` or `cure`.
    pub kind: String,
    /// At least this long in the reference climate, minutes.
    pub min_min: u32,
    /// At most this long, minutes; `None` for no limit.
    pub max_min: Option<u32>,
}

/// Why a step is there.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Because {
    /// The rule.
    pub rule: String,
    /// In words.
    pub text: String,
    /// Its source.
    pub source: String,
}

/// The schedule as a whole.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ScheduleSummary {
    /// The first moment of the plan.
    #[serde(serialize_with = "moment")]
    pub starts: ZonedDateTime,
    /// When the last hand leaves the last step.
    #[serde(serialize_with = "moment")]
    pub ends: ZonedDateTime,
    /// Minutes of work, all steps.
    pub bench_min: u32,
    /// What the scheduler minimised, in its own whole units.
    pub objective: i64,
    /// No schedule can have a smaller one.
    pub bound: i64,
    /// Whether this one is proved to be the best.
    pub proved: bool,
    /// Pieces that miss their day.
    pub late: Vec<Late>,
    /// How good the schedule is, in one sentence.
    pub words: String,
}

/// A piece that misses its day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Late {
    /// The piece.
    pub piece: String,
    /// By how many hours.
    pub by_h: f64,
}

/// One day at the bench.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Day {
    /// The day on the shop's calendar.
    pub date: Date,
    /// What hands do, in order.
    pub blocks: Vec<DayBlock>,
    /// Minutes of working hours that day that no hand fills.
    pub free_min: u32,
}

/// One stretch of work.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DayBlock {
    /// Whose hands, counted from 0.
    pub hand: usize,
    /// The step's id.
    pub step: String,
    /// The piece's name.
    pub piece: String,
    /// The zone's name; empty for the piece as a whole.
    pub zone: String,
    /// When it begins.
    #[serde(serialize_with = "moment")]
    pub from: ZonedDateTime,
    /// When it ends.
    #[serde(serialize_with = "moment")]
    pub to: ZonedDateTime,
    /// The step in one line.
    pub words: String,
}

/// A material that the plan needs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToHave {
    /// The class.
    pub class: String,
    /// Its name in words.
    pub words: String,
    /// The colour it is needed in, `#rrggbb`, if that matters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
    /// How much to have, mL: the likely amount or the most, whichever the shop buys for.
    pub need_ml: f64,
    /// What it takes if all goes well, mL.
    pub low_ml: f64,
    /// What it is likely to take, mL.
    pub likely_ml: f64,
    /// The most that it ordinarily takes, mL.
    pub high_ml: f64,
    /// Which of these `need_ml` is: `likely` or `high`.
    pub bought_for: &'static str,
    /// How much of it stands on the shelf, mL.
    pub on_shelf_ml: f64,
    /// Which cans to buy.
    pub buy: Vec<Can>,
}

/// Cans of one size to buy.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Can {
    /// What one holds, mL.
    pub size_ml: f64,
    /// How many.
    pub count: u32,
    /// What they cost together.
    pub price: Sum,
    /// Where to buy them, if that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seller: Option<String>,
}

/// One seller to go to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Trip {
    /// Who.
    pub seller: String,
    /// What all cans bought there cost.
    pub cans: Sum,
    /// What the way there costs.
    pub way: Sum,
    /// Both together.
    pub together: Sum,
}

/// A supply that the plan uses up, over all pieces together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SupplyToHave {
    /// Its id: `disc-p120`, `tape`, `rag`.
    pub id: String,
    /// Its name in words.
    pub words: String,
    /// `piece`, `m` or `ml`; all amounts are in it.
    pub unit: &'static str,
    /// How much to have: the likely amount or the most, whichever the shop buys for. Pieces are whole.
    pub need: f64,
    /// What it takes if all goes well.
    pub low: f64,
    /// What it is likely to take.
    pub likely: f64,
    /// The most that it ordinarily takes.
    pub high: f64,
    /// Which of these `need` is: `likely` or `high`.
    pub bought_for: &'static str,
    /// How much of it the shop holds.
    pub on_shelf: f64,
    /// Which packs to buy.
    pub buy: Vec<Pack>,
    /// Whether the shop knows a price of it.
    pub is_priced: bool,
    /// Whether it must be got although nobody here knows its packs or its price.
    pub is_short: bool,
}

/// Packs of one kind to buy.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pack {
    /// What the shop calls it.
    pub name: String,
    /// What one holds, in the supply's unit.
    pub holds: f64,
    /// How many.
    pub count: u32,
    /// What they cost together.
    pub price: Sum,
}

/// A caution.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Caution {
    /// Its id.
    pub id: String,
    /// How grave.
    pub level: Level,
    /// In words.
    pub text: String,
    /// Its source.
    pub source: String,
    /// The pieces that it concerns.
    pub pieces: Vec<String>,
}

/// How grave a caution is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// Nothing may be done before it is met.
    Stop,
    /// It can hurt.
    Warn,
    /// Good to know.
    Note,
}

impl PlannedPiece {
    /// In nine cases of ten the true area lies within so much of [`PlannedPiece::area_m2`].
    pub fn area_within_m2(&self) -> f64 {
        NINETY * self.area_se_m2
    }
}

impl Plan {
    /// Every step of the plan with its piece and its zone, in the order of pieces and zones; closing steps last.
    pub fn steps(&self) -> impl Iterator<Item = (&PlannedPiece, Option<&PlannedZone>, &PlannedStep)> {
        self.pieces.iter().flat_map(|piece| {
            let zones = piece
                .zones
                .iter()
                .flat_map(move |zone| zone.steps.iter().map(move |step| (piece, Some(zone), step)));
            zones.chain(piece.closing.iter().map(move |step| (piece, None, step)))
        })
    }

    /// What is to be bought, seller by seller: each with what is bought there, and at the end what is bought anywhere.
    pub fn shopping_by_seller(&self) -> Vec<(Option<&Trip>, Vec<ToHave>)> {
        let at = |seller: Option<&str>| -> Vec<ToHave> {
            let lines = self.shopping.iter().filter_map(|line| {
                let buy: Vec<Can> = line
                    .buy
                    .iter()
                    .filter(|can| can.seller.as_deref() == seller)
                    .cloned()
                    .collect();
                (!buy.is_empty()).then(|| ToHave { buy, ..line.clone() })
            });
            lines.collect()
        };
        let trips = self.trips.iter().map(|trip| (Some(trip), at(Some(&trip.seller))));
        let anywhere = std::iter::once((None, at(None)));
        trips.chain(anywhere).filter(|(_, lines)| !lines.is_empty()).collect()
    }

    /// The step of this id.
    pub fn step(&self, id: &str) -> Option<&PlannedStep> {
        self.steps().map(|(_, _, step)| step).find(|step| step.id == id)
    }

    /// The contract's JSON.
    ///
    /// # Errors
    /// Never in practice: every part serialises; the error is passed on rather than hidden.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        super::contract::json(self)
    }
}
