//! A room of the shop: its air, its size, and what a thermometer in it said.

use jiff::Timestamp;
use quantity::{Humidity, Temperature, Volume};
use serde::{Deserialize, Serialize};

use super::spell::Spell;

/// One reading of a room's air, measured or forecast.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// When it holds from.
    pub at: Timestamp,
    /// Air temperature.
    pub temperature: Temperature,
    /// Relative humidity.
    pub humidity: Humidity,
}

/// A room that pieces stand in, work happens in and coats dry in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Room {
    /// What the shop calls it.
    pub name: String,
    /// Temperature when no reading covers the moment.
    pub temperature: Temperature,
    /// Relative humidity when no reading covers the moment.
    pub humidity: Humidity,
    /// Volume of air.
    pub volume: Volume,
    /// Room volumes of fresh air an hour (0–60).
    pub air_changes_per_h: f64,
    /// Readings in rising order of time, at any step.
    #[serde(default)]
    pub readings: Vec<Reading>,
    /// Stretches of time in which its air is expected to be other than usual or than its readings say.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub spells: Vec<Spell>,
    /// Name of the file that the readings came from, for writing the shop out again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub readings_file: Option<String>,
}

impl Default for Room {
    /// A heated room of 20 °C and 50 %, 50 m³, one air change an hour: the reference climate of the class figures.
    fn default() -> Self {
        Room {
            name: "shop".to_owned(),
            temperature: Temperature::from_c(20.0),
            humidity: Humidity::from_fraction(0.5),
            volume: Volume::from_m3(50.0),
            air_changes_per_h: 1.0,
            readings: Vec::new(),
            spells: Vec::new(),
            readings_file: None,
        }
    }
}
