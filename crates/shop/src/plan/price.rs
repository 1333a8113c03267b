//! What a piece costs and what to ask for it: the seam to the money crate.

use money::{Estimate, HourlyRates, Job, Pricing, Quote, Refused, Resale, most_to_pay, quote};
use quantity::{BasisPoints, Minutes, Money};

use super::output::{GuessRisk, PieceMoney, Sum};
use super::whole::PieceFacts;
use super::work::WorkPiece;
use crate::model::{Settings, Shop};

/// How sure a planned quantity of material is, as the standard deviation of its logarithm (common practice).
const MATERIALS_LOG_SD: f64 = 0.15;
/// How sure a planned time of work is before the log has taught better (common practice: a third over, a quarter under).
const HANDS_ON_LOG_SD: f64 = 0.25;
/// How sure a hoped-for sale is (common practice).
const SALE_LOG_SD: f64 = 0.15;
/// The chance of a loss that is borne when the most to pay is reckoned.
const LOSS_BORNE: f64 = 0.10;

/// Works out a piece's cost, price and risk. `learned_log_sd` is how sure its minutes are by the log, where that holds enough.
///
/// # Errors
/// An amount that does not fit, in words for the user.
pub(crate) fn of(
    shop: &Shop,
    piece: &WorkPiece,
    facts: &PieceFacts,
    learned_log_sd: Option<f64>,
) -> Result<PieceMoney, Refused> {
    let settings = &shop.settings;
    let hands_on: i64 = piece.steps().map(|step| i64::from(step.hands_on_min)).sum();
    let materials = piece
        .zones
        .iter()
        .map(|zone| zone.materials.minor())
        .fold(0, i64::saturating_add);
    let job = Job {
        materials: Estimate::new(Money::from_minor(materials), MATERIALS_LOG_SD),
        hands_on: Estimate::new(Minutes::new(hands_on), learned_log_sd.unwrap_or(HANDS_ON_LOG_SD)),
        purchase: facts.paid,
        rates: HourlyRates {
            wage: settings.wage_per_h,
            overhead: settings.overhead_per_h,
        },
    };
    let margin = BasisPoints::from_fraction(settings.margin);
    let quoted = quote(&job, Pricing::Margin(margin))?;
    let most = match (facts.is_for_sale, facts.sells_for) {
        (true, Some(sale)) => {
            let resale = Resale {
                sale: Estimate::new(sale, SALE_LOG_SD),
                selling_share: BasisPoints::ZERO,
                selling_cost: Money::ZERO,
                margin,
                loss_chance: LOSS_BORNE,
            };
            Some(most_to_pay(&job, &resale)?.amount)
        }
        _ => None,
    };
    let loss_chance = with_wrong_guesses(&job, &quoted, piece)?;
    let sum = |money: Money| Sum::new(money, settings.currency);
    Ok(PieceMoney {
        currency: settings.currency.code().to_owned(),
        materials: sum(quoted.cost.materials),
        labour: sum(quoted.cost.labour),
        overhead: sum(quoted.cost.overhead),
        purchase: sum(quoted.cost.purchase),
        total: sum(quoted.total),
        price: sum(quoted.price),
        price_p10: sum(quoted.price_p10),
        price_p90: sum(quoted.price_p90),
        loss_chance: (loss_chance * 10_000.0).round() / 10_000.0,
        most_to_pay: most.map(sum),
    })
}

/// The chance of a loss at the price asked, the chances of wrong guesses at found finishes in it.
///
/// Where a guess is wrong, the zone is done over, and that is paid out of the same price; where no way leads on from the failed finish,
/// the piece is counted as a loss. The guesses are independent of each other. That more than one of them is wrong is rare, and then the
/// loss is taken as that of one of them, in proportion to their chances: `P = Π(1 - f) p₀ + (1 - Π(1 - f)) Σ c p / Σ c`, with `f` the
/// chance that a layer's guess fails, `c` the chance of each class over which it does, `p` the chance of a loss when that is done over
/// and `p₀` where nothing is.
fn with_wrong_guesses(job: &Job, quoted: &Quote, piece: &WorkPiece) -> Result<f64, Refused> {
    let risks: Vec<&GuessRisk> = piece.zones.iter().flat_map(|zone| &zone.risks).collect();
    let all_right: f64 = risks.iter().map(|risk| 1.0 - risk.fails.clamp(0.0, 1.0)).product();
    let (mut chance, mut lost) = (0.0, 0.0);
    let others = risks.iter().flat_map(|risk| &risk.others);
    for other in others.filter(|other| !other.happens.is_empty()) {
        let loss = match other.redo {
            None => 1.0,
            Some(redo) => {
                let over = Job {
                    purchase: job.purchase.plus(redo.money)?,
                    ..*job
                };
                quote(&over, Pricing::Asked(quoted.price))?.loss_chance
            }
        };
        chance += other.chance;
        lost += other.chance * loss;
    }
    if chance <= 0.0 {
        return Ok(quoted.loss_chance);
    }
    Ok(all_right * quoted.loss_chance + (1.0 - all_right) * lost / chance)
}

/// What the prices take for granted.
pub(crate) fn assumed(settings: &Settings) -> String {
    format!(
        "prices keep {:.0} % of themselves over cost; an hour of bench work counts {} and {} of rent, power and tools",
        settings.margin * 100.0,
        settings.wage_per_h.show(settings.currency),
        settings.overhead_per_h.show(settings.currency)
    )
}
