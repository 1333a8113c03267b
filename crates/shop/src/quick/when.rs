//! When is it dry? A class in an air: touch, recoat, cure, the margin above the dew point, and whether to coat at all.

use climate::{Air, AirError, Room};
use quantity::{Humidity, Temperature};
use serde::Serialize;
use trade::FinishClass;

use crate::plan::drying;

/// The answer to *when?*; lengths of time in this air.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct When {
    /// The class.
    pub class: FinishClass,
    /// Minutes until dry to the touch.
    pub touch_min: u32,
    /// Minutes until the next coat.
    pub recoat_min: u32,
    /// Minutes after which the next coat needs a scuff first; `None` where it never does.
    pub recoat_max_min: Option<u32>,
    /// Days until fully cured.
    pub cure_d: f64,
    /// How many times as long as in the reference air drying takes.
    pub slowdown: f64,
    /// How far the air stands above its dew point, K.
    pub dew_point_margin_k: f64,
    /// Why it should not be put on in this air; empty when it may.
    pub unfit: Vec<String>,
}

/// How long a coat of `class` takes in this air.
///
/// # Errors
/// The air's own error where temperature or humidity lie outside what air can be.
pub fn when(class: FinishClass, temperature: Temperature, humidity: Humidity) -> Result<When, AirError> {
    let air = Air::new(temperature, humidity)?;
    let room = Room::steady(air);
    let model = drying::model_of(class);
    let waits = drying::waits_of(class);
    let here = |reference_min: u32| drying::in_room(&room, model, 0, reference_min);
    let cure_min = drying::in_room(&room, drying::cure_model_of(class), 0, waits.cure_min);
    let unfit = drying::window_of(class)
        .unfit(air, model)
        .iter()
        .map(ToString::to_string)
        .collect();
    Ok(When {
        class,
        touch_min: here(waits.touch_min),
        recoat_min: here(waits.recoat_min),
        recoat_max_min: waits.recoat_max_min.map(here),
        cure_d: (f64::from(cure_min) / 1440.0 * 10.0).round() / 10.0,
        slowdown: (model.slowdown(air) * 100.0).round() / 100.0,
        dew_point_margin_k: (air.dew_margin_k() * 10.0).round() / 10.0,
        unfit,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cold_garage_takes_longer_than_a_warm_shop() {
        let class = FinishClass::WaterborneAcrylicEnamel;
        let warm = when(class, Temperature::from_c(25.0), Humidity::from_fraction(0.5)).unwrap();
        let cold = when(class, Temperature::from_c(12.0), Humidity::from_fraction(0.7)).unwrap();
        assert!(cold.recoat_min > 2 * warm.recoat_min, "{cold:?} {warm:?}");
        assert!((warm.slowdown - 1.0).abs() < 1e-9);
        assert!(warm.unfit.is_empty());
    }

    #[test]
    fn self_levelling_acrylic_takes_its_next_coat_after_about_two_hours() {
        let answer = when(
            FinishClass::WaterborneAcrylicEnamel,
            Temperature::from_c(25.0),
            Humidity::from_fraction(0.5),
        )
        .unwrap();
        assert!(
            (100..=140).contains(&answer.recoat_min),
            "common practice: {} min",
            answer.recoat_min
        );
        assert!(
            (20.0..=30.0).contains(&answer.cure_d),
            "about three weeks: {} d",
            answer.cure_d
        );
    }

    #[test]
    fn frost_is_refused_with_its_reason() {
        let answer = when(
            FinishClass::WaterborneAcrylicEnamel,
            Temperature::from_c(2.0),
            Humidity::from_fraction(0.5),
        )
        .unwrap();
        assert!(
            answer.unfit.iter().any(|reason| reason.contains("at least")),
            "{answer:?}"
        );
    }
}
