//! The shopping list: what the plan needs, what stands on the shelf, which cans to buy.

use quantity::Volume;

use super::lines::{Page, left, right};
use crate::plan::{Plan, bought_for_words};

/// Sets the list; cans to buy first.
pub(crate) fn write(page: &mut Page, plan: &Plan) {
    page.heading("TO BUY AND TO HAVE", "");
    let units = plan.shop.unit_system;
    if let Some(first) = plan.shopping.first() {
        page.hanging("  ", bought_for_words(first.bought_for));
    }
    for item in &plan.shopping {
        let name = match &item.colour {
            Some(colour) => format!("{}, {colour}", item.words),
            None => item.words.clone(),
        };
        let need = format!("need {}", Volume::from_ml(item.need_ml).show(units));
        let shelf = if item.on_shelf_ml > 0.0 {
            format!(", {} on the shelf", Volume::from_ml(item.on_shelf_ml).show(units))
        } else {
            String::new()
        };
        page.spread(&format!("  {name}"), &format!("{need}{shelf}"));
        page.hanging("      ", &item.range_words(units));
        for can in &item.buy {
            let size = Volume::from_ml(can.size_ml).show(units);
            let at = can
                .seller
                .as_ref()
                .map(|seller| format!(", {seller}"))
                .unwrap_or_default();
            page.line(&format!(
                "      buy {}{}",
                left(&format!("{} × {size}{at}", can.count), 40),
                right(&can.price.show(), 12)
            ));
        }
    }
    for trip in &plan.trips {
        page.spread(
            &format!(
                "  At {}: cans {}, the way {}",
                trip.seller,
                trip.cans.show(),
                trip.way.show()
            ),
            &trip.together.show(),
        );
    }
    supplies(page, plan);
}

/// Discs, tape, rags and the like.
fn supplies(page: &mut Page, plan: &Plan) {
    let units = plan.shop.unit_system;
    if plan.supplies.is_empty() {
        return;
    }
    page.subheading("supplies", "");
    for item in &plan.supplies {
        let shelf = if item.on_shelf > 0.0 {
            format!("; there: {}", item.amount_words(item.on_shelf, units))
        } else {
            String::new()
        };
        let price = if item.is_priced { "" } else { "; no price known" };
        page.hanging(
            "  ",
            &format!(
                "{} ({}){shelf}{price}",
                item.amount_words(item.need, units),
                item.range_words(units)
            ),
        );
        for pack in &item.buy {
            page.line(&format!(
                "      buy {}{}",
                left(&format!("{} × {}", pack.count, pack.name), 40),
                right(&pack.price.show(), 12)
            ));
        }
    }
}
