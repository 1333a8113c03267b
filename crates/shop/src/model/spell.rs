//! A cold snap, a wet week: a stretch of time in which a room's air is other than usual, or than its readings foretold.

use jiff::civil::DateTime;
use quantity::{Humidity, Temperature, UnitSystem};
use serde::{Deserialize, Serialize};

/// A stretch of time in which somebody expects other air in a room; where two overlap, the later said holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Spell {
    /// When it begins, on the shop's clock.
    pub from: DateTime,
    /// When it ends, on the shop's clock.
    pub to: DateTime,
    /// Air temperature meanwhile; `None` for what it would be anyway.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Temperature>,
    /// Relative humidity meanwhile; `None` for what it would be anyway.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<Humidity>,
}

impl Spell {
    /// The coldest that a room is said to be: what plan files take for a room too.
    pub const COLDEST_C: f64 = -40.0;
    /// The warmest.
    pub const WARMEST_C: f64 = 60.0;
    /// The longest that it lasts, days: a change of season is for the room's usual air.
    pub const LONGEST_DAYS: i32 = 92;
    /// More of them than this no room has.
    pub const MOST: usize = 50;

    /// What stands against it, if anything: the entry, what is allowed, and what would be right.
    ///
    /// # Errors
    /// It ends before it begins, lasts too long, says nothing of the air, or says what air cannot be.
    pub fn check(&self) -> Result<(), (&'static str, String, &'static str)> {
        let length = self.from.until(self.to);
        if self.to <= self.from {
            return Err(("to", "it ends after it begins".to_owned(), "a later end"));
        }
        if length.is_ok_and(|length| length.get_days() > Self::LONGEST_DAYS) {
            let limit = format!("it lasts {} days at most", Self::LONGEST_DAYS);
            return Err((
                "to",
                limit,
                "another usual temperature of the room for what lasts longer",
            ));
        }
        if self.temperature.is_none() && self.humidity.is_none() {
            let limit = "the air is colder, warmer, wetter or drier than usual".to_owned();
            return Err(("temperature", limit, "a temperature, a humidity, or both"));
        }
        let is_air = |temperature: Temperature| (Self::COLDEST_C..=Self::WARMEST_C).contains(&temperature.c());
        if !self.temperature.is_none_or(is_air) {
            let limit = "a room is between -40 °C and 60 °C".to_owned();
            return Err(("temperature", limit, "such as 41 °F or 5 °C"));
        }
        let is_share = |humidity: Humidity| (0.01..=1.0).contains(&humidity.fraction());
        if !self.humidity.is_none_or(is_share) {
            return Err(("humidity", "1 % to 100 %".to_owned(), "such as 85 %"));
        }
        Ok(())
    }

    /// `41 °F and 85 %`, as the shop counts.
    pub fn air(&self, units: UnitSystem) -> String {
        let humidity = self.humidity.map(|humidity| humidity.to_string());
        let temperature = self.temperature.map(|temperature| temperature.show(units));
        let said: Vec<String> = temperature.into_iter().chain(humidity).collect();
        said.join(" and ")
    }
}
