//! The shopping list: what the plan needs, what stands on the shelf, which cans to buy.

use quantity::Volume;

use super::lines::{Page, left, right};
use crate::plan::Plan;

/// Sets the list; cans to buy first.
pub(crate) fn write(page: &mut Page, plan: &Plan) {
    page.heading("TO BUY AND TO HAVE", "");
    let units = plan.shop.unit_system;
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
        for can in &item.buy {
            let size = Volume::from_ml(can.size_ml).show(units);
            page.line(&format!(
                "      buy {}{}",
                left(&format!("{} × {size}", can.count), 40),
                right(&can.price.show(), 12)
            ));
        }
    }
}
