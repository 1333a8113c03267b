//! What an act uses up beside its material: discs and sheets, rags, tape, thinner, what washes the brush.
//!
//! The amounts are those of `takeoff::quantities`; what is decided here is which sanding step of the trade's table an act is, and how
//! often it wipes. Prices are the shelf's where it has any, else typical ones to rank by.

use std::sync::LazyLock;

use quantity::{Area, Length, Range};
use serde::Deserialize;
use takeoff::quantities::{Share, abrasive, brush_wash, rags, tack_rags, tape, with_area_error};
use trade::abrasives::{SandingStep, SandingTool};
use trade::finish_rows::Group;
use trade::methods::Method;
use trade::{FinishClass, Grit, Material, Operation, PrepClass, Supply, SupplyKind, wash_of};

use crate::act::Act;
use crate::amount::{Amount, tool};
use crate::bench::{Bench, rows};
use crate::surface::Surface;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PriceRow {
    supply: String,
    price_minor: f64,
    #[expect(dead_code, reason = "what one is, for the reader of the table")]
    of: String,
    #[expect(dead_code, reason = "for the reader of the table")]
    status: trade::Status,
}

static PRICES: LazyLock<Vec<(SupplyKind, f64)>> = LazyLock::new(|| {
    rows::<PriceRow>(include_str!("../data/supply_prices.csv"))
        .iter()
        .map(|row| {
            let kind = SupplyKind::parse(&row.supply).expect("the crate's tests read every embedded table");
            (kind, row.price_minor)
        })
        .collect()
});

/// A typical price of one of its unit (piece, metre, millilitre), minor units: to rank by where no shop's price is known
/// (common practice).
#[must_use]
pub fn typical_supply_price_minor(supply: Supply) -> f64 {
    match supply {
        Supply::Liquid(material) => crate::bench::typical_price_minor_per_l(material) / 1000.0,
        Supply::Ware(kind, _) => PRICES
            .iter()
            .find(|(listed, _)| *listed == kind)
            .map_or(0.0, |(_, price)| *price),
    }
}

/// Area that levelling goes over round each filled place, m² (common practice: ten centimetres square).
const LEVELLED_M2: f64 = 0.01;

/// Gives every supply that an act uses up to `take`, in its own unit.
pub(crate) fn each_supply(
    act: &Act,
    amount: &Amount,
    before: &Surface,
    bench: &Bench<'_>,
    mut take: impl FnMut(Supply, Range<f64>),
) {
    let area = Area::from_m2(bench.zone.area_m2);
    let mut of_area = |supply: Supply, amount: Range<f64>| {
        if amount.high > 0.0 {
            take(supply, with_area_error(amount, bench.area_error));
        }
    };
    if let Some((kind, step, grit)) = abrading(act, before, bench) {
        let places = [Share {
            area: Area::from_m2(LEVELLED_M2 * f64::from(bench.places_to_fill())),
            detail: takeoff::Detail::Flat,
        }];
        let shares: &[Share] = if act.op == Operation::Level {
            &places
        } else {
            &bench.shares
        };
        if let Some(need) = abrasive(shares, grit, step.row()) {
            let larger = if kind == SupplyKind::Disc && bench.limits.disc_share > 0.0 {
                bench.limits.disc_share
            } else {
                1.0
            };
            of_area(Supply::Ware(kind, Some(grit)), need.worn * (1.0 / larger));
        }
    }
    if act.prep_class() == Some(PrepClass::TackCloth) {
        of_area(Supply::Ware(SupplyKind::TackRag, None), tack_rags(area));
    }
    let wiped = rags(area, wipes(act));
    of_area(Supply::Ware(SupplyKind::Rag, None), wiped.map(f64::from));
    if act.op == Operation::Mask {
        let masked = tape(Length::from_m(bench.zone.edge_m));
        take(Supply::Ware(SupplyKind::Tape, None), masked.map(|length| length.m()));
    }
    if let (Some(class), Some(method)) = (act.finish(), tool(act, bench)) {
        if amount.thinner_ml.high > 0.0 {
            take(thinner_of(class), amount.thinner_ml);
        }
        let wash = brush_wash(method).map(|volume| volume.ml());
        if let Some(with) = wash_of(&class.row().clean_up).filter(|_| wash.high > 0.0) {
            take(with, wash);
        }
    }
}

/// What the supplies of an act cost, minor units, likely amounts.
pub(crate) fn cost_minor(act: &Act, amount: &Amount, before: &Surface, bench: &Bench<'_>) -> f64 {
    let mut sum = 0.0;
    each_supply(act, amount, before, bench, |supply, amount| {
        sum += amount.typical * bench.supply_price(supply);
    });
    sum
}

/// What thins a class is what washes its brush; a class that washes in water is thinned with water, which costs nothing and is
/// counted as what it is: nothing to buy.
fn thinner_of(class: FinishClass) -> Supply {
    wash_of(&class.row().clean_up).unwrap_or(Supply::Ware(SupplyKind::Water, None))
}

/// How often an act wipes the whole zone with rags: on and off counts twice.
fn wipes(act: &Act) -> u8 {
    match act.op {
        Operation::Clean
        | Operation::Rinse
        | Operation::Neutralise
        | Operation::Bleach
        | Operation::Scrape
        | Operation::Glaze => 1,
        Operation::Dewax | Operation::Stain | Operation::Oil | Operation::Wax => 2,
        _ if act.method == Some(Method::Pad) => 1,
        _ => 0,
    }
}

/// Which step of the trade's sanding table an abrasive act is, with what, and its grit.
fn abrading(act: &Act, before: &Surface, bench: &Bench<'_>) -> Option<(SupplyKind, SandingStep, Grit)> {
    let grit = act.grit?;
    let step = match act.op {
        Operation::StripSand => SandingStep::StripPaint,
        Operation::Level => SandingStep::LevelFiller,
        Operation::Sand if before.is_bare() => bare(grit, bench),
        Operation::Sand | Operation::Scuff => scuff(before, bench),
        _ => return None,
    };
    let kind = match step.row().tool {
        _ if act.wet => SupplyKind::Sheet,
        SandingTool::Orbital | SandingTool::OrbitalThenHand if bench.limits.has_sander => SupplyKind::Disc,
        SandingTool::Orbital | SandingTool::OrbitalThenHand | SandingTool::HandBlock | SandingTool::WetHand => {
            SupplyKind::Sheet
        }
        SandingTool::Pad => SupplyKind::Pad,
    };
    Some((kind, step, grit))
}

/// Sanding bare wood: level first, then towards what goes on it.
fn bare(grit: Grit, bench: &Bench<'_>) -> SandingStep {
    use crate::wish::Look;
    match bench.wish.look {
        _ if grit <= Grit::P120 => SandingStep::LevelBare,
        Look::Paint | Look::Metallic => SandingStep::BareBeforePrimer,
        Look::Stain => SandingStep::BareBeforeStain,
        Look::Clear | Look::Wax => SandingStep::BareBeforeClear,
    }
}

fn scuff(before: &Surface, bench: &Bench<'_>) -> SandingStep {
    let found_lacquer = |class: FinishClass| {
        matches!(
            class,
            FinishClass::NitrocelluloseLacquer | FinishClass::PrecatalysedLacquer
        )
    };
    match (before.planned_top(), before.top()) {
        (Some(top), _) if matches!(top.class.row().group, Group::Primer | Group::Sealer) => SandingStep::BetweenPrimer,
        (Some(_), _) => SandingStep::BetweenCoats,
        _ if bench.metal => SandingStep::ScuffMetal,
        (None, Some(top)) if found_lacquer(top.class) => SandingStep::ScuffLacquer,
        _ => SandingStep::ScuffGloss,
    }
}

impl Bench<'_> {
    /// The price of one unit of a supply, minor units: the shop's own, else a typical one.
    fn supply_price(&self, supply: Supply) -> f64 {
        let own = self.limits.supply_prices.iter().find(|(priced, _)| *priced == supply);
        match (own, supply) {
            (Some((_, price)), _) => *price,
            (None, Supply::Liquid(Material::Prep(class))) => self.prep_price_per_ml(class),
            (None, _) => typical_supply_price_minor(supply),
        }
    }

    /// How many places are filled.
    fn places_to_fill(&self) -> u32 {
        let filled = self.zone.defects.iter().filter(|defect| !defect.kind.is_loose());
        filled.map(|defect| defect.count).fold(0, u32::saturating_add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Limits, Look, Wish, Zone};
    use trade::{Species, Substrate};

    fn used(act: &Act, zone: &Zone) -> Vec<(String, f64)> {
        let (wish, limits) = (Wish::of(Look::Clear), Limits::default());
        let bench = Bench::new(zone, &wish, &limits);
        let before = Surface::found(&bench);
        let mut used = Vec::new();
        let amount = crate::amount::amount(act, &before, &bench);
        each_supply(act, &amount, &before, &bench, |supply, amount| {
            used.push((supply.id(), amount.typical));
        });
        used
    }

    #[test]
    fn every_kind_has_a_typical_price() {
        assert!(
            SupplyKind::EVERY
                .iter()
                .all(|kind| PRICES.iter().any(|(listed, _)| listed == kind))
        );
    }

    #[test]
    fn a_sanded_top_wears_discs_by_its_area_and_detail() {
        let mut zone = Zone::bare("top", Substrate::Solid(Species::Beech));
        zone.area_m2 = 3.0;
        // 3 m² with 5 % for the edges of flat work, on discs that last 1.5 m² on bare wood before a clear film.
        let sand = Act::abrade(Operation::Sand, Grit::P150, false);
        assert_eq!(used(&sand, &zone), [("disc-p150".to_owned(), 3.0 * 1.05 / 1.5)]);
        let wet = Act::abrade(Operation::Sand, Grit::P150, true);
        assert_eq!(used(&wet, &zone)[0].0, "sheet-p150");
    }

    #[test]
    fn an_oil_takes_rags_and_its_brush_spirits() {
        let zone = Zone::bare("top", Substrate::Solid(Species::Beech));
        let oil = Act::coat(Operation::Oil, FinishClass::DryingOil, Method::Pad);
        assert_eq!(
            used(&oil, &zone),
            [("rag".to_owned(), 2.0), ("mineral-spirits".to_owned(), 50.0)]
        );
        let enamel = Act::coat(Operation::Paint, FinishClass::WaterborneAcrylicEnamel, Method::Brush);
        assert!(used(&enamel, &zone).is_empty(), "water washes it");
    }
}
