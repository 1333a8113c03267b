//! The shop: its hands, hours, rooms and rates, its shelf, its pieces and its log.

use jiff::civil::DateTime;
use quantity::{Currency, Minutes, Money, Range, UnitSystem};
use serde::{Deserialize, Serialize};

use super::equipment::Equipment;
use super::hours::Hours;
use super::log::Mark;
use super::piece::Piece;
use super::prices::Seller;
use super::room::Room;
use super::shelf::ShelfProduct;
use super::supply::ShelfSupply;
use super::weighting::Prefer;

/// One pair of hands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Hand {
    /// What they are called on the day sheet.
    pub name: String,
    /// Their own hours; `None` for the shop's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hours: Option<Hours>,
}

/// A stretch of time in which hands are not at the bench although their hours say so.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Block {
    /// Whose time, counted from 0; `None` for everybody's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hand: Option<usize>,
    /// When it begins, on the shop's clock.
    pub from: DateTime,
    /// When it ends, on the shop's clock.
    pub to: DateTime,
    /// Why, if anybody said.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub why: String,
}

/// Machines that some ways of working need.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tools {
    /// A spray gun; spray cans need none.
    pub spray_gun: bool,
    /// A sanding machine with extraction.
    pub sander: bool,
    /// A heat gun or an infra-red heater.
    pub heat_gun: bool,
}

impl Default for Tools {
    /// A sanding machine, and nothing else.
    fn default() -> Self {
        Tools {
            spray_gun: false,
            sander: true,
            heat_gun: false,
        }
    }
}

/// Which of a range of amounts is bought: what is likely, or enough for the worst that is ordinarily met.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BuyFor {
    /// The likely amount: the least money in cans, now and then a second trip.
    #[default]
    Likely,
    /// The high amount: no second trip, more left over.
    High,
}

impl BuyFor {
    /// The words of plan files.
    pub const WORDS: [(&'static str, BuyFor); 2] = [("likely", BuyFor::Likely), ("high", BuyFor::High)];

    /// Its word in plan files and in the JSON.
    pub fn word(self) -> &'static str {
        match self {
            BuyFor::Likely => "likely",
            BuyFor::High => "high",
        }
    }

    /// The figure of a range that is bought.
    pub fn of(self, amount: Range<f64>) -> f64 {
        match self {
            BuyFor::Likely => amount.typical,
            BuyFor::High => amount.high,
        }
    }
}

/// What the shop is and how it works; every entry has a default.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Settings {
    /// What the shop is called.
    pub name: String,
    /// How results are shown.
    pub units: UnitSystem,
    /// What money is counted in.
    pub currency: Currency,
    /// IANA time zone.
    pub zone_id: String,
    /// The plan's first moment on the shop's clock; `None` for now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub starts: Option<DateTime>,
    /// The hands at the bench; at least one.
    pub hands: Vec<Hand>,
    /// When they work.
    pub hours: Hours,
    /// Time taken out of these hours.
    #[serde(default)]
    pub blocks: Vec<Block>,
    /// What an hour of bench work must earn.
    pub wage_per_h: Money,
    /// Rent, power and tools, an hour of bench work.
    pub overhead_per_h: Money,
    /// What is kept of a price after cost (0–0.9).
    pub margin: f64,
    /// The rooms; at least one, the first is where a piece stands unless it says otherwise.
    pub rooms: Vec<Room>,
    /// What the default choice among schedules leans to.
    #[serde(default)]
    pub prefer: Prefer,
    /// The machines it has.
    #[serde(default)]
    pub tools: Tools,
    /// Which of a range of amounts it buys for.
    #[serde(default)]
    pub buy_for: BuyFor,
    /// What its brushes, its gun and its sanding machine are like.
    #[serde(default)]
    pub equipment: Equipment,
    /// Where it buys, at what prices.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sellers: Vec<Seller>,
    /// After a slip, a step that could stay where it was planned is moved only if that saves more lateness than this
    /// (0 to 7 days); a minute late of a client's piece counts as two.
    #[serde(default = "usual_worth_moving")]
    pub worth_moving: Minutes,
}

/// An hour: what is told and laid out for the week is not upset for minutes.
fn usual_worth_moving() -> Minutes {
    Settings::USUAL_WORTH_MOVING
}

impl Settings {
    /// What moving one step must save, unless the shop says otherwise.
    pub const USUAL_WORTH_MOVING: Minutes = Minutes::from_whole_hours(1);
    /// The most that a shop can ask a move to save.
    pub const MOST_WORTH_MOVING: Minutes = Minutes::from_whole_days(7);
}

impl Default for Settings {
    /// One pair of hands in a heated room, Monday to Friday, in US dollars and imperial measure, on the clock of UTC.
    fn default() -> Self {
        Settings {
            name: "our shop".to_owned(),
            units: UnitSystem::Imperial,
            currency: Currency::USD,
            zone_id: "UTC".to_owned(),
            starts: None,
            hands: vec![Hand {
                name: "you".to_owned(),
                hours: None,
            }],
            hours: Hours::default(),
            blocks: Vec::new(),
            wage_per_h: Money::from_minor(2800),
            overhead_per_h: Money::from_minor(450),
            margin: 0.20,
            rooms: vec![Room::default()],
            prefer: Prefer::default(),
            tools: Tools::default(),
            buy_for: BuyFor::default(),
            equipment: Equipment::default(),
            sellers: Vec::new(),
            worth_moving: Settings::USUAL_WORTH_MOVING,
        }
    }
}

/// The whole shop.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Shop {
    /// What it is and how it works.
    pub settings: Settings,
    /// What stands on its shelf.
    #[serde(default)]
    pub shelf: Vec<ShelfProduct>,
    /// What it holds of discs, tape, rags and the like.
    #[serde(default)]
    pub supplies: Vec<ShelfSupply>,
    /// What it has taken in.
    #[serde(default)]
    pub pieces: Vec<Piece>,
    /// What really happened.
    #[serde(default)]
    pub log: Vec<Mark>,
}

impl Shop {
    /// The piece of this id.
    pub fn piece(&self, id: &str) -> Option<&Piece> {
        self.pieces.iter().find(|piece| piece.id == id)
    }

    /// The piece of this id, to change it.
    pub fn piece_mut(&mut self, id: &str) -> Option<&mut Piece> {
        self.pieces.iter_mut().find(|piece| piece.id == id)
    }

    /// The product of this name.
    pub fn product(&self, name: &str) -> Option<&ShelfProduct> {
        self.shelf.iter().find(|product| product.name == name)
    }

    /// An id for a new piece of this name that no other piece has.
    pub fn free_id(&self, name: &str) -> String {
        let wanted = super::piece::slug(name);
        let mut id = wanted.clone();
        let mut turn = 2;
        while self.pieces.iter().any(|piece| piece.id == id) {
            id = format!("{wanted}-{turn}");
            turn += 1;
        }
        id
    }
}
