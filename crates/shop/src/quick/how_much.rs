//! How much do I need? A form, three numbers, a class and coats: area, quantity and cans.

use money::{Need, Shop as PaintShop, Wanted, cheapest_cans};
use quantity::{Currency, UnitSystem, Volume};
use serde::Serialize;
use takeoff::quantities::{Coating, Share, coat_volume, with_area_error};
use takeoff::take_off;
use trade::methods::Method;
use trade::{FinishClass, Material};

use crate::model::FormSaid;
use crate::plan::{Can, FormRefused, Sum, form_of, typical_offers};

/// The answer to *how much?*
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HowMuch {
    /// The class.
    pub class: FinishClass,
    /// Coats.
    pub coats: u8,
    /// Area that is ordinarily finished on such a piece, m².
    pub area_m2: f64,
    /// Standard error of that area, m².
    pub area_se_m2: f64,
    /// What it takes if all goes well, mL: the widest spread, with what is unsure of the area.
    pub low_ml: f64,
    /// What to plan with, mL.
    pub need_ml: f64,
    /// What to have at hand, mL: the least spread, what stays in the brush, what is unsure of the area.
    pub high_ml: f64,
    /// The cheapest cans that hold it, at typical prices.
    pub buy: Vec<Can>,
    /// What these cost.
    pub cost: Sum,
}

impl HowMuch {
    /// In nine cases of ten the true area lies within so much of [`HowMuch::area_m2`].
    pub fn area_within_m2(&self) -> f64 {
        crate::model::NINETY * self.area_se_m2
    }
}

/// How much of `class` so many coats on this form take, brushed.
///
/// # Errors
/// A size that no furniture has.
pub fn how_much(
    form: &FormSaid,
    class: FinishClass,
    coats: u8,
    units: UnitSystem,
    currency: Currency,
) -> Result<HowMuch, FormRefused> {
    let measured = take_off(&form_of(form)?);
    let (area_m2, area_se_m2) = (measured.area().m2(), measured.area_se().m2());
    let usual = measured.surfaces.iter().filter(|surface| surface.usual);
    let shares: Vec<Share> = usual.map(Share::from).collect();
    let brushed = coat_volume(&shares, &Coating::of(class, Method::Brush, coats)).product;
    let takes = with_area_error(brushed.map(|volume| volume.ml()), area_se_m2 / area_m2);
    let need_ml = takes.typical;
    let offers = typical_offers(Material::Finish(class), units);
    let wanted = Wanted {
        material: class.label().to_owned(),
        needs: vec![Need {
            volume: Volume::from_ml(need_ml),
            in_days: 0,
        }],
        shelf: Vec::new(),
        offers: offers.clone(),
        least_useful: Volume::ZERO,
    };
    let refused = |refused: money::Refused| FormRefused {
        found: format!("{need_ml:.0} mL"),
        limit: refused.to_string(),
        right: "a smaller form or fewer coats".to_owned(),
    };
    let bought = cheapest_cans(&[wanted], &[PaintShop::default()]).map_err(refused)?;
    let cans = bought.materials.iter().flat_map(|material| &material.cans);
    let buy = cans.filter_map(|cans| {
        let offer = offers.get(cans.offer)?;
        let price = Sum::new(offer.price.times(cans.count).ok()?, currency);
        Some(Can {
            size_ml: tenths(offer.size.ml()),
            count: u32::try_from(cans.count).ok()?,
            price,
            seller: None,
        })
    });
    Ok(HowMuch {
        class,
        coats,
        area_m2: thousandths(area_m2),
        area_se_m2: thousandths(area_se_m2),
        low_ml: tenths(takes.low),
        need_ml: tenths(need_ml),
        high_ml: tenths(takes.high),
        buy: buy.collect(),
        cost: Sum::new(bought.total, currency),
    })
}

fn tenths(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}

fn thousandths(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0
}

#[cfg(test)]
mod tests {
    use quantity::Length;

    use super::*;
    use crate::model::FormKind;

    fn case(width_in: f64, depth_in: f64, height_in: f64) -> FormSaid {
        FormSaid::of(FormKind::Case, [width_in, depth_in, height_in].map(Length::from_inches))
    }

    fn pints(form: &FormSaid) -> f64 {
        let answer = how_much(
            form,
            FinishClass::WaterborneAcrylicEnamel,
            2,
            UnitSystem::Imperial,
            Currency::USD,
        )
        .unwrap();
        assert!(
            answer.low_ml < answer.need_ml && answer.need_ml < answer.high_ml,
            "{answer:?}"
        );
        Volume::from_ml(answer.need_ml).us_pints()
    }

    #[test]
    fn a_dresser_takes_about_a_pint_and_a_bedside_cabinet_a_quarter_of_one() {
        // Common practice, within 25 %.
        let dresser = pints(&case(48.0, 18.0, 32.0));
        assert!((0.75..=1.25).contains(&dresser), "{dresser} pints");
        let bedside = pints(&case(16.0, 14.0, 22.0));
        assert!((0.1875..=0.3125).contains(&bedside), "{bedside} pints");
    }

    #[test]
    fn the_cans_hold_the_need() {
        let form = case(48.0, 18.0, 32.0);
        let answer = how_much(
            &form,
            FinishClass::WaterborneAcrylicEnamel,
            3,
            UnitSystem::Metric,
            Currency::USD,
        )
        .unwrap();
        let held: f64 = answer.buy.iter().map(|can| can.size_ml * f64::from(can.count)).sum();
        assert!(held >= answer.need_ml - 0.1);
        let paid: i64 = answer.buy.iter().map(|can| can.price.money.minor()).sum();
        assert_eq!(paid, answer.cost.money.minor());
    }

    #[test]
    fn a_barn_is_refused() {
        let refused = how_much(
            &case(1000.0, 18.0, 32.0),
            FinishClass::MilkPaint,
            1,
            UnitSystem::Metric,
            Currency::USD,
        );
        assert!(refused.unwrap_err().limit.contains("width"));
    }
}
