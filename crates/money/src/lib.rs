//! Cost, quote, payback, learned rates and the cans to buy.
//!
//! All amounts are whole minor units; what varies is log-normal, and its chances are integrated, not sampled. The crate
//! knows no calendar and no web: times are minutes of hands-on work, ages are days from now.
//!
//! | question | answer |
//! | --- | --- |
//! | What does this piece cost? | [`Cost::of`], [`material_by_volume`], [`material_by_count`] |
//! | What must I charge, and what can go wrong? | [`quote`] |
//! | What may I pay for it? | [`most_to_pay`] |
//! | When has the machine paid for itself? | [`payback`], [`straight_line_depreciation`] |
//! | How long will it really take? | [`Rates::learn`], [`Rates::of`], [`Rates::total`] |
//! | Which cans shall I buy? | [`cheapest_cans`] |
//! | What goes to the tax office? | [`self_employment_tax`], [`mileage`] |
//!
//! A bench bought for 35, 6 h 40 min of work at 28.00 an hour with 4.50 overhead, and 12 fl oz out of a quart for 24.00.
//! By hand: materials 24 × 12/32 = 9.00, labour 28 × 400/60 = 186.67, overhead 4.50 × 400/60 = 30.00, together with the
//! purchase 260.67; at a margin of 40 % the price is 260.67 / 0.6 = 434.45.
//!
//! ```
//! use money::{Estimate, HourlyRates, Job, Pricing, material_by_volume, quote};
//! use quantity::{BasisPoints, Currency, Minutes, Money, Volume};
//!
//! let usd = |typed: &str| Money::parse(typed, Currency::USD);
//! let clear = material_by_volume(usd("24.00")?, Volume::parse("1 qt")?, Volume::parse("12 fl oz")?)?;
//! let job = Job {
//!     materials: Estimate::new(clear, 0.15),
//!     hands_on: Estimate::new(Minutes::parse("6 h 40")?, 0.25),
//!     purchase: usd("35")?,
//!     rates: HourlyRates { wage: usd("28")?, overhead: usd("4.50")? },
//! };
//! let quote = quote(&job, Pricing::Margin(BasisPoints::parse("40 %")?))?;
//! assert_eq!(quote.cost.materials, usd("9.00")?);
//! assert_eq!(quote.cost.labour, usd("186.67")?);
//! assert_eq!(quote.cost.overhead, usd("30.00")?);
//! assert_eq!(quote.total, usd("260.67")?);
//! assert_eq!(quote.price, usd("434.45")?);
//! // The chance that the work takes so much longer that even 434.45 is too little:
//! assert!(quote.loss_chance < 0.02);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cans;
mod cost;
mod equipment;
mod estimate;
mod margin;
mod normal;
mod purchase;
mod quote;
mod rates;
mod refused;
mod self_employment;
mod spread;

pub use cans::{Bought, Cans, Need, Offer, ShelfCan, Shop, ShoppingList, Taken, Wanted, cheapest_cans};
pub use cost::{Cost, HourlyRates, for_time, material_by_count, material_by_volume};
pub use equipment::{Machine, Payback, payback, straight_line_depreciation};
pub use estimate::{Estimate, log_sd_of};
pub use margin::{margin_of, markup_of, price_from_margin, price_from_markup};
pub use purchase::{MostToPay, Resale, most_to_pay};
pub use quote::{Job, Pricing, Quote, quote};
pub use rates::{Logged, Rate, Rates};
pub use refused::Refused;
pub use self_employment::{SelfEmploymentTax, mileage, self_employment_tax};
