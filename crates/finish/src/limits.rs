//! What the shop brings: its tools, its air, its prices, its own products.

use serde::{Deserialize, Serialize};
use trade::methods::Method;
use trade::{FinishClass, Material, Supply};

/// A product of the shelf whose label overrides the class's figures. `None` leaves the class's figure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Product {
    /// Its name.
    pub name: String,
    /// Its class.
    pub class: Material,
    /// Spread, m²/L.
    pub spread_m2_per_l: Option<f64>,
    /// Solids by volume, 0 to 1.
    #[serde(default)]
    pub volume_solids: Option<f64>,
    /// Thinner that the label asks for, as a share of the product's own volume.
    #[serde(default)]
    pub thinner_share: Option<f64>,
    /// Dry to touch, minutes.
    pub touch_min: Option<u32>,
    /// Shortest recoat, minutes.
    pub recoat_min_min: Option<u32>,
    /// Longest recoat without scuffing, minutes.
    pub recoat_max_min: Option<u32>,
    /// Full cure, minutes.
    pub full_cure_min: Option<u32>,
    /// Number of coats.
    pub coats: Option<u8>,
    /// Price, minor units a litre.
    pub price_minor_per_l: Option<i64>,
}

/// The best air the room will offer while the work goes on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RoomAir {
    /// Warmest it gets, °C.
    pub warmest_c: f64,
    /// Driest it gets, relative humidity 0 to 1.
    pub driest_rh: f64,
}

/// How many coats hide what is below; from the crate `colour` or from trial.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct CoatsToHide {
    /// Over the surface as found.
    pub over_found: u8,
    /// Over a primer.
    pub over_primer: u8,
}

/// What the planner may reckon with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Limits {
    /// Whether the shop has a spray gun. Spray cans need none.
    pub has_spray_gun: bool,
    /// With what coats are put on by hand where a schedule says brush: brush, pad or roller.
    #[serde(default = "brush")]
    pub by_hand: Method,
    /// What the spray gun is.
    #[serde(default = "low_pressure_gun")]
    pub sprayer: Method,
    /// What stays in the gun each time, mL; what such a gun usually keeps where not given.
    #[serde(default)]
    pub cup_loss_ml: Option<f64>,
    /// How much longer a disc of the sanding machine lasts than the usual one; 1 or so.
    #[serde(default = "usual_disc")]
    pub disc_share: f64,
    /// Whether it has a sanding machine with extraction.
    pub has_sander: bool,
    /// Whether it has a heat gun or infra-red heater.
    pub has_heat: bool,
    /// The room's best air; any class may be used where not given.
    pub air: Option<RoomAir>,
    /// What a minute of bench work costs, minor units.
    pub labour_minor_per_min: f64,
    /// Prices by class, minor units a litre; the table of this crate for those not listed.
    pub prices: Vec<(Material, i64)>,
    /// The shop's own prices of supplies, minor units a piece, metre or millilitre; the table of this crate for those not listed.
    #[serde(default)]
    pub supply_prices: Vec<(Supply, f64)>,
    /// Products of the shelf. The first of a class is used unless the wish names another.
    pub products: Vec<Product>,
    /// Coats that hide the old colour under paint; the class's usual number where not given.
    pub coats_to_hide: Option<CoatsToHide>,
    /// The same for single classes whose can on the shelf says how it hides; over `coats_to_hide`.
    #[serde(default)]
    pub coats_to_hide_with: Vec<(FinishClass, CoatsToHide)>,
    /// Classes the shop will not use.
    pub never: Vec<FinishClass>,
}

const fn brush() -> Method {
    Method::Brush
}

const fn low_pressure_gun() -> Method {
    Method::Hvlp
}

const fn usual_disc() -> f64 {
    1.0
}

impl Default for Limits {
    /// One person with a sander, no spray gun, no heat gun; 0.50 a minute.
    fn default() -> Self {
        Self {
            has_spray_gun: false,
            by_hand: brush(),
            sprayer: low_pressure_gun(),
            cup_loss_ml: None,
            disc_share: usual_disc(),
            has_sander: true,
            has_heat: false,
            air: None,
            labour_minor_per_min: 50.0,
            prices: Vec::new(),
            supply_prices: Vec::new(),
            products: Vec::new(),
            coats_to_hide: None,
            coats_to_hide_with: Vec::new(),
            never: Vec::new(),
        }
    }
}
